"""In a real browser: a change kept as a variant and worked with, and a test stated, without touching the file."""

from __future__ import annotations

import tomllib
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from paged import chromium, css, pressed, served, text_of, until, violations
from sordino.cli.new import STARTER, bundled
from sordino.web.project import edit

LENGTH = ("box", "way-in", "length")


def test_a_variant_and_a_test_are_made_by_hand(tmp_path: Path) -> None:
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    browser = chromium(tmp_path / "profile")
    try:
        with served(path, tmp_path) as loft:
            desk = loft.page.desk
            desk.change(edit.with_value(desk.text, LENGTH, "1.20 m"), "way-in length: 1.20 m", "", desk.number)
            browser.get(loft.first)
            browser.get(f"{loft.base}/compare")
            css(browser, "[id^='keep-name']").send_keys("Longer box")
            pressed(browser, "Keep it, and take the project back")
            css(browser, "#variant-longer-box summary").click()
            desk.change(edit.with_value(desk.text, ("title",), "Renewed"), "another title", "", desk.number)
            until(lambda: text_of(browser, "h1") == "Renewed")
            assert css(browser, "#variant-longer-box").get_attribute("open")
            assert not violations(browser)
            assert edit.value_at(tomllib.loads(desk.text), LENGTH) == "1.00 m"
            css(browser, "input[name='with'][value='longer-box']")
            css(browser, "#variant-longer-box form[action='/variant/open'] button").click()
            css(browser, "#variant-before-longer-box")
            assert edit.value_at(tomllib.loads(desk.text), LENGTH) == "1.20 m"

            browser.get(f"{loft.base}/measure")
            pressed(browser, "How much air does a run carry?")
            Select(css(browser, "[name='place:run']")).select_by_index(1)
            if browser.find_elements(By.CSS_SELECTOR, "[name='place:mode'][required]"):
                Select(css(browser, "[name='place:mode']")).select_by_index(1)
            css(browser, "[name='bag.volume']").send_keys("120 L")
            pressed(browser, "Keep it and read it")
            assert "times" in text_of(browser, "p.alarm")
            assert css(browser, "[name='bag.volume']").get_attribute("value") == "120 L"
            css(browser, "[name='bag.times']").send_keys("4.1 4.0 4.3")
            assert not violations(browser)
            pressed(browser, "Keep it and read it")
            css(browser, "#gave .lead")
            assert browser.current_url.endswith("/measure?test=air-flow")
            assert not violations(browser)
            until(lambda: tomllib.loads(desk.text)["test"]["air-flow"]["bag"]["times"] == ["4.1 s", "4.0 s", "4.3 s"])
    finally:
        browser.quit()
