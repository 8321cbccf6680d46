"""In a real browser: what was typed stays until it is taken, each key press counts, and silence is told."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from paged import chromium, css, pressed, served, text_of, until
from sordino.cli.new import STARTER, bundled
from sordino.units import parse

LENGTH, WIDTH, EDGE = "#f-box-way_in-length", "#f-box-way_in-width", ".handle[data-field='length']"
LEAVING = """const end = new Event('beforeunload', { cancelable: true });
    dispatchEvent(end);
    return end.defaultPrevented"""


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path / "profile")
    yield found
    found.quit()


def keys(browser: webdriver.Chrome, *pressed_: str, control: bool = False) -> None:
    chain = ActionChains(browser, duration=0)
    if control:
        chain.key_down(Keys.CONTROL).send_keys(*pressed_).key_up(Keys.CONTROL)
    else:
        chain.send_keys(*pressed_)
    chain.perform()


def typed(browser: webdriver.Chrome, field: str, words: str) -> None:
    css(browser, field).click()
    keys(browser, "a", control=True)
    keys(browser, words)


def value(browser: webdriver.Chrome, field: str) -> str:
    return str(browser.execute_script("return document.querySelector(arguments[0]).value", field))


def metres(browser: webdriver.Chrome) -> float:
    """The length as the project has it."""
    return parse(str(css(browser, LENGTH).get_attribute("value")), "length")


def test_nothing_is_lost_and_nothing_is_silent(browser: webdriver.Chrome, tmp_path: Path) -> None:
    """One visit: a refused text, twenty presses, a drag, a text being written, and a program that ends."""
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    with served(path, tmp_path) as booth:
        browser.get(booth.first)
        browser.get(f"{booth.base}/box/way-in")
        first, invalid = metres(browser), f"{LENGTH}[aria-invalid='true']"
        refused_stays(browser, path, invalid)
        typed(browser, LENGTH, f"{first + 0.1:.2f} m")
        until(lambda: not browser.find_elements(By.CSS_SELECTOR, invalid))
        assert not browser.execute_script(LEAVING)
        twenty_presses(browser)
        dragged(browser)
        browser.get(f"{booth.base}/file")
        written(browser, path)
        browser.get(f"{booth.base}/box/way-in")
        css(browser, LENGTH)
        kept = booth.page.unsaved
    until(lambda: "does not answer" in text_of(browser, "#elsewhere"))
    typed(browser, WIDTH, "0.77 m")
    assert value(browser, WIDTH) == "0.77 m"
    assert kept.desk.text == path.read_text("utf-8")


def refused_stays(browser: webdriver.Chrome, path: Path, invalid: str) -> None:
    """Through a change of another field and through saving, which says so; leaving asks first."""
    typed(browser, LENGTH, "abc")
    css(browser, invalid)
    typed(browser, WIDTH, "0.51 m")
    until(lambda: browser.find_elements(By.ID, "unsaved"))
    pressed(browser, "Save")
    until(lambda: 'width = "0.51 m"' in path.read_text("utf-8"))
    until(lambda: "Not with it, see there:" in text_of(browser, "#said"))
    assert value(browser, LENGTH) == "abc"
    assert "does not start with a number" in text_of(browser, f"{LENGTH}-more")
    assert browser.execute_script(LEAVING)


def twenty_presses(browser: webdriver.Chrome) -> None:
    """All of them arrive, answers under way or not; each run of them is one step to undo."""
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, ".htmx-request, #section.stale"))
    time.sleep(1.2)  # what is typed and what is pressed within a second of it would be one step
    before = metres(browser)
    css(browser, EDGE)
    browser.execute_script("document.querySelector(arguments[0]).focus()", EDGE)
    keys(browser, *[Keys.ARROW_RIGHT] * 9)
    time.sleep(0.3)
    keys(browser, *[Keys.ARROW_RIGHT] * 11)
    until(lambda: metres(browser) == pytest.approx(before + 0.2))
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "#section.stale"))
    assert metres(browser) == pytest.approx(before + 0.2)
    assert browser.execute_script("return document.activeElement.dataset.field") == "length"
    pressed(browser, "Undo")
    until(lambda: metres(browser) < before + 0.1)
    if metres(browser) != pytest.approx(before):  # a busy machine has parted the two runs by over a second
        pressed(browser, "Undo")
    until(lambda: metres(browser) == pytest.approx(before))


def dragged(browser: webdriver.Chrome) -> None:
    """The project follows while the button is held; a size that can't be says why; let go early, nothing happened."""
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "#section.stale"))
    before, undo = metres(browser), css(browser, "[data-key='undo']").get_attribute("title")
    ActionChains(browser, duration=50).click_and_hold(css(browser, EDGE)).move_by_offset(40, 0).perform()
    until(lambda: metres(browser) > before)
    ActionChains(browser, duration=50).move_by_offset(-1000, 0).perform()
    until(lambda: ":" in text_of(browser, ".tape.why"))
    assert text_of(browser, "#said[data-kind='refused']") in text_of(browser, ".tape.why")
    keys(browser, Keys.ESCAPE)
    until(lambda: metres(browser) == pytest.approx(before))
    until(lambda: css(browser, "[data-key='undo']").get_attribute("title") == undo)
    ActionChains(browser).release().perform()


def written(browser: webdriver.Chrome, path: Path) -> None:
    """Ctrl+Z in a text takes back what was written there; saving takes the text first."""
    css(browser, "#text")
    browser.execute_script("const at = document.getElementById('text'); at.focus(); at.setSelectionRange(0, 0)")
    number = css(browser, "#page").get_attribute("data-number")
    keys(browser, "# one\n")
    assert browser.execute_script(LEAVING)
    keys(browser, "z", control=True)
    assert not value(browser, "#text").startswith("# one")
    assert css(browser, "#page").get_attribute("data-number") == number
    keys(browser, "# two\n")
    keys(browser, "s", control=True)
    until(lambda: path.read_text("utf-8").startswith("# two\n"))
    until(lambda: "Saved in booth.toml" in text_of(browser, "#said"))
    assert not browser.execute_script(LEAVING)
