"""Pictures in a real browser: drawn for the window they are in, and answering to keys and to dragging."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from paged import Served, chromium, css, served, text_of, until
from sordino.cli.new import STARTER, bundled
from sordino.units import parse

WIDTH = ".handle[data-field='width']"
FIELD = "#f-box-way_in-width"
SHIFTS = """new PerformanceObserver(list => { for (const each of list.getEntries())
    window.shifted = (window.shifted || 0) + each.value }).observe({ type: "layout-shift", buffered: true })"""


@pytest.fixture(scope="module")
def booth(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    path = tmp_path_factory.mktemp("booth") / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    with served(path, path.parent) as found:
        yield found


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path / "profile")
    yield found
    found.quit()


def sized(browser: webdriver.Chrome, wide: int) -> None:
    metrics = {"width": wide, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)


def drawn_for(browser: webdriver.Chrome) -> float:
    """Width that the schematic is drawn for, px; while there is none something between the two."""
    found = browser.execute_script("return document.querySelector('svg.schematic')?.viewBox.baseVal.width")
    return float(found or 600.0)


def test_each_window_has_its_own_width(browser: webdriver.Chrome, booth: Served) -> None:
    """On the first visit already, after a change of width, and with another window of another width beside it."""
    sized(browser, 390)
    browser.get(booth.first)
    until(lambda: drawn_for(browser) < 400.0)
    assert browser.execute_script("return document.documentElement.scrollWidth") <= 390
    phone = browser.current_window_handle
    browser.switch_to.new_window("tab")
    sized(browser, 1440)
    browser.get(booth.base)
    until(lambda: drawn_for(browser) > 900.0)
    browser.switch_to.window(phone)
    browser.refresh()
    until(lambda: drawn_for(browser) < 400.0)
    sized(browser, 1440)
    until(lambda: drawn_for(browser) > 900.0)


def test_the_width_is_dragged_and_moved_by_key(browser: webdriver.Chrome, booth: Served) -> None:
    """A tape shows the size on the way, and what it shows is what the field then holds."""
    browser.get(booth.first)
    browser.get(f"{booth.base}/box/way-in")
    grip, before = css(browser, WIDTH), str(css(browser, FIELD).get_attribute("value"))
    browser.execute_script("arguments[0].scrollIntoView({ block: 'center' })", grip)
    ActionChains(browser, duration=50).click_and_hold(grip).move_by_offset(0, 30).perform()
    shown = text_of(browser, ".tape")
    assert parse(shown, "length") > parse(before, "length") + 0.02
    ActionChains(browser).release().perform()
    until(lambda: css(browser, FIELD).get_attribute("value") == shown)
    until(lambda: not browser.find_elements("css selector", ".tape, #section.stale"))
    browser.execute_script(f'document.querySelector("{WIDTH}").focus()')
    ActionChains(browser, duration=0).send_keys(Keys.ARROW_UP).perform()
    wanted = pytest.approx(parse(shown, "length") + 0.01, abs=6e-4)
    until(lambda: parse(str(css(browser, FIELD).get_attribute("value")), "length") == wanted)


@pytest.mark.parametrize("wide", [390, 1440])
def test_nothing_jumps_while_a_view_comes(browser: webdriver.Chrome, booth: Served, wide: int) -> None:
    """Less than 0.1 of layout shift, commonly called good (memory)."""
    browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": SHIFTS})
    sized(browser, wide)
    browser.get(booth.first)
    until(lambda: css(browser, "svg.schematic"))
    for at in ("/", "/box/way-in", "/room/booth"):
        browser.get(booth.base + at)
        until(lambda: not browser.find_elements("css selector", ".later:has(> .awaited), .later.stale"), 60.0)
        assert browser.execute_script("return window.shifted || 0") < 0.1, at
