"""What comes odd to the page, in a browser: names without end, a file that can't be used, answers in other units."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from paged import chromium, css, pressed, served, text_of, until, violations
from sordino.cli.new import STARTER, bundled
from sordino.web.app import templates
from sordino.web.views.page import Asked


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path_factory.mktemp("profile"))
    yield found
    found.quit()


def value(browser: webdriver.Chrome, name: str) -> str:
    return str(browser.find_element(By.ID, name).get_attribute("value"))


def test_questions_follow_units_and_rooms(browser: webdriver.Chrome, tmp_path: Path) -> None:
    with served(None, tmp_path) as new:
        browser.get(new.first)
        second = css(browser, '[data-room="2"]')
        assert not second.is_displayed()
        Select(css(browser, "#rooms")).select_by_visible_text("2")
        assert second.is_displayed()
        width = css(browser, "#room1-width")
        width.clear()
        width.send_keys("2.5 m")
        Select(css(browser, "#units")).select_by_value("inch")
        until(lambda: value(browser, "room1-length") == "10 ft 6 in")
        assert value(browser, "room1-width") == "8 ft 2 7/16 in"
        assert value(browser, "rooms") == "2"
        Select(css(browser, "#units")).select_by_value("metric")
        until(lambda: value(browser, "room1-length") == "3.2 m")
        assert value(browser, "room1-width") == "2.5 m"
        assert violations(browser) == []


def test_a_file_is_mended_with_names_without_end(browser: webdriver.Chrome, tmp_path: Path) -> None:
    """First it can't be used; once it can, nothing in it moves the page sideways, however long."""
    path, endless = tmp_path / "booth.toml", "W" * 120
    text = bundled(STARTER).replace("way-in", "way-in" + "x" * 110).replace('"Voice booth"', f'"{endless}"')
    path.write_text(text.replace('length = "1.00 m"', 'length = "1.00"', 1), encoding="utf-8")
    with served(path, tmp_path) as booth:
        browser.get(booth.first)
        assert "has no unit" in text_of(browser, "#faults")
        assert text_of(browser, "h1") == "booth.toml"
        assert violations(browser) == []
        script = "const at = arguments[0]; at.value = at.value.replace('\"1.00\"', '\"1.00 m\"')"
        browser.execute_script(script, css(browser, "#text"))
        pressed(browser, "Take this text")
        text_of(browser, "#verdict")
        assert booth.page.desk.text == text
        for wide in (1440, 390):
            size = {"width": wide, "height": 900, "deviceScaleFactor": 1, "mobile": wide < 640}
            browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
            for at in ("/", "/room/booth", f"/box/way-in{'x' * 110}"):
                browser.get(f"{booth.base}{at}")
                text_of(browser, "#verdict")
                assert browser.execute_script("return document.documentElement.scrollWidth") <= wide, (at, wide)


@pytest.mark.parametrize("count", [8, 9])
def test_ways_to_many_things_are_folded_by_kind(count: int) -> None:
    kind = templates().get_template("bits.html").module.kind  # type: ignore[attr-defined]
    keys = [f"box-{number}" for number in range(count)]
    made = str(kind("Boxes", "box", keys, None, Asked(at="/box/box-3")))
    assert made.count("<a ") == count
    assert made.count("aria-current") == 1
    assert ("<summary>Boxes (9): box-3</summary>" in made) == (count > 8)
