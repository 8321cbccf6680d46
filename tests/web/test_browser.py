"""The page in a real browser: by mouse, by keyboard, in two tabs, while work goes on; and nothing leaves."""

from __future__ import annotations

import time
from collections.abc import Iterator
from statistics import median

import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from paged import KEY, Served, chromium, css, pressed, requested, served, text_of, until, violations
from sordino.assess.assessment import assess
from sordino.cli.new import EXAMPLE, bundled
from sordino.plan.project import read
from sordino.units import parse, show

VIEWS = ("/", "/room/practice", "/box/practice-supply", "/run/cool-reading", "/compare", "/build", "/measure", "/file")
BOX = "f-box-practice_supply-"


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path_factory.mktemp("profile"))
    yield found
    found.quit()


@pytest.fixture(scope="module")
def loft(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    path = tmp_path_factory.mktemp("loft") / "loft.toml"
    path.write_text(bundled(EXAMPLE), encoding="utf-8")
    assess(read(path))  # so that the fields are known, as on a second start
    with served(path, path.parent) as found:
        found.page.looked()  # so that the first view comes at once, whichever test is the first
        yield found


def number(browser: webdriver.Chrome) -> int:
    return int(str(css(browser, "#page").get_attribute("data-number")))


def typed(browser: webdriver.Chrome, id_: str, words: str) -> None:
    """Type over what a field holds, and wait for the page to have taken it."""
    field = css(browser, f"#{id_}")
    before = number(browser)  # of the view that has the field: the one that waits for it has none
    field.click()
    field.send_keys(Keys.CONTROL, "a")
    field.send_keys(words)
    until(lambda: number(browser) > before and css(browser, f"#{id_}").get_attribute("value") == words)


def test_a_failing_room_turns_good(browser: webdriver.Chrome, loft: Served) -> None:
    """The practice room is too loud in boost; what helps is tried, seen to help, and undone."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/room/practice")
    found = ".side .finding:first-child .standing"
    assert "missed, boost" in text_of(browser, found)
    assert text_of(browser, "#h-session").endswith(", boost")
    css(browser, ".side .finding:first-child .ask a").click()
    css(browser, "#cures [data-standing='met'] ~ span button").click()
    until(lambda: number(browser) > 1)
    told = text_of(browser, "#tried")
    assert "11 of 41, before it 11 of 40" in told
    assert "wet" in told.partition("What got worse")[2]
    assert css(browser, "#h-tried").rect["y"] > browser.execute_script("return scrollY")

    def good() -> bool:
        rows = [row.text for row in browser.find_elements(By.CSS_SELECTOR, ".side .finding")]
        return any("boost" in row and row.startswith(("met", "likely met")) and "NC" in row for row in rows)

    until(good)
    pressed(browser, "Take it back")
    until(lambda: "missed, boost" in text_of(browser, found))
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "#h-tried"))


def test_nothing_is_asked_of_any_other_place(browser: webdriver.Chrome, loft: Served) -> None:
    browser.get(loft.first)
    requested(browser)
    browser.get_log("browser")  # type: ignore[no-untyped-call]
    for at in VIEWS:
        browser.get(loft.base + at)
        until(lambda: not browser.find_elements(By.CSS_SELECTOR, ".htmx-request, .later.stale"))
    urls = requested(browser)
    assert len(urls) > 20
    assert [url for url in urls if not url.startswith(loft.base + "/")] == []
    errors = [entry for entry in browser.get_log("browser") if entry["level"] == "SEVERE"]  # type: ignore[no-untyped-call]
    assert errors == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_it_can_be_used_by_everyone(browser: webdriver.Chrome, loft: Served, theme: str) -> None:
    """An automated checker finds nothing serious, contrast included, in light and dark, wide and on a phone."""
    scheme = {"features": [{"name": "prefers-color-scheme", "value": theme}]}
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", scheme)
    wide = theme == "light"
    browser.set_window_size(1440 if wide else 500, 1000)
    browser.get(loft.first)
    for at in VIEWS:
        browser.get(loft.base + at)
        until(lambda: not browser.find_elements(By.CSS_SELECTOR, ".htmx-request, .later.stale"))
        assert violations(browser) == [], at
        across = browser.execute_script("return document.documentElement.scrollWidth - innerWidth")
        assert across <= 0, at
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    browser.set_window_size(1440, 1000)


def test_it_works_with_the_keyboard_alone(browser: webdriver.Chrome, loft: Served) -> None:
    """Tab reaches every control, shows where it is, and gets out of each again; typing and Ctrl+Z do the rest."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/run/cool-practice")
    reached = "a[href], button:not([disabled]), input:not([type=hidden]), select"
    script = f"return document.querySelectorAll('{reached}').length"
    count = int(browser.execute_script(script))
    seen: list[str] = []
    look = """const at = document.activeElement, style = getComputedStyle(at);
        return [at.outerHTML.slice(0, 300), at.matches(':focus-visible') && style.outlineStyle !== 'none'
        && parseFloat(style.outlineWidth) > 1]"""
    for _ in range(count + 5):
        ActionChains(browser, duration=0).send_keys(Keys.TAB).perform()
        html, visible = browser.execute_script(look)
        if html.startswith("<body"):
            break
        assert visible, html
        seen.append(html)
    assert len(set(seen)) >= count - 1
    browser.execute_script("document.getElementById('f-run-cool_practice-size').focus()")
    before = number(browser)
    keys = ActionChains(browser, duration=0)
    keys.key_down(Keys.CONTROL).send_keys("a").key_up(Keys.CONTROL).send_keys("250 mm").perform()
    until(lambda: number(browser) > before)
    keys = ActionChains(browser, duration=0)
    until(lambda: css(browser, "#f-run-cool_practice-size").get_attribute("value") == "250 mm")
    keys.key_down(Keys.CONTROL).send_keys("z").key_up(Keys.CONTROL).perform()
    until(lambda: css(browser, "#f-run-cool_practice-size").get_attribute("value") == "200 mm")


def test_two_tabs_do_not_overwrite_one_another(browser: webdriver.Chrome, loft: Served) -> None:
    """The second tab hears of what the first does; what it asks for of an older state waits for its word."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/box/practice-supply")
    first = browser.current_window_handle
    desk = loft.page.desk
    typed(browser, f"{BOX}length", "1.25 m")
    browser.switch_to.new_window("tab")
    browser.get(f"{loft.base}/box/practice-supply")
    assert css(browser, f"#{BOX}length").get_attribute("value") == "1.25 m"
    text = desk.text.replace("1.25 m", "1.15 m")
    desk.change(text, "made in another tab", "other", desk.number)
    css(browser, "button[data-key=undo]:not([disabled])")
    stale = """document.querySelectorAll('input[name=number]').forEach(each => { each.value = '1' });
        document.querySelector('button[data-key=undo]').click()"""
    browser.execute_script(stale)
    until(lambda: "Another tab was faster" in text_of(browser, "main"))
    assert desk.text == text
    browser.close()
    browser.switch_to.window(first)
    until(lambda: css(browser, f"#{BOX}length").get_attribute("value") == "1.15 m")


def test_it_answers_while_a_fine_field_is_solved(browser: webdriver.Chrome, loft: Served) -> None:
    """Progress, typing that echoes at once, and an end on demand."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/box/read-supply")
    pressed(browser, "Solve it on the fine grid")
    until(lambda: "Working on" in text_of(browser, "#job"))
    echo = """const end = arguments[0], start = performance.now();
        const field = document.getElementById('f-box-read_supply-length');
        field.focus(); field.value = '1.26 m'; requestAnimationFrame(() => end(performance.now() - start))"""
    assert median([float(browser.execute_async_script(echo)) for _ in range(5)]) < 100.0
    start = time.monotonic()
    pressed(browser, "Stop it")
    until(lambda: "Stopped" in text_of(browser, "#job"))
    assert time.monotonic() - start < 5.0
    job = loft.page.jobs.asked["fine"]
    until(lambda: job.process.poll() is not None)


def test_a_fine_field_is_shown_once_it_is_solved(browser: webdriver.Chrome, loft: Served) -> None:
    """On a short box, to its end."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/box/practice-supply")
    typed(browser, f"{BOX}length", "0.50 m")
    pressed(browser, "Solve it on the fine grid")
    until(lambda: "On the fine grid, cells of 25 mm" in text_of(browser, "#loss"), 60.0)


def test_an_edge_is_moved_by_key_and_by_drag(browser: webdriver.Chrome, loft: Served) -> None:
    """10 mm a press, the focus stays on the edge; a drag gives what a tape measure shows; neither leaves the bounds."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/box/practice-supply")
    length = f"#{BOX}length"
    handle = ".handle[data-field='length']"
    before = str(css(browser, length).get_attribute("value"))
    css(browser, handle)
    browser.execute_script(f'document.querySelector("{handle}").focus()')
    ActionChains(browser, duration=0).send_keys(Keys.ARROW_RIGHT).perform()
    until(lambda: css(browser, length).get_attribute("value") not in (before, ""))
    moved = str(css(browser, length).get_attribute("value"))
    assert parse(moved, "length") == pytest.approx(parse(before, "length") + 0.01)
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "#section.stale"))
    assert browser.execute_script("return document.activeElement.dataset.field") == "length"
    ActionChains(browser, duration=50).drag_and_drop_by_offset(css(browser, handle), 40, 0).perform()
    until(lambda: css(browser, length).get_attribute("value") not in (moved, ""))
    dragged = str(css(browser, length).get_attribute("value"))
    assert parse(dragged, "length") > parse(moved, "length") + 0.01
    assert dragged == show(round(parse(dragged, "length"), 3), "length", "metric")
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "#section.stale"))
    least = float(str(css(browser, handle).get_attribute("aria-valuemin")))
    typed(browser, f"{BOX}length", show(least + 0.012, "length", "metric"))
    until(lambda: float(str(css(browser, handle).get_attribute("aria-valuenow"))) < least + 0.02)
    browser.execute_script(f'document.querySelector("{handle}").focus()')
    ActionChains(browser, duration=0).send_keys(Keys.PAGE_DOWN).perform()
    until(lambda: css(browser, length).get_attribute("value") == show(least, "length", "metric"))


def test_units_are_switched_for_all_of_it(browser: webdriver.Chrome, loft: Served) -> None:
    browser.get(loft.first)
    pressed(browser, "Show inches")
    until(lambda: "cfm" in text_of(browser, "main"))
    assert KEY not in browser.current_url
    pressed(browser, "Undo")
    until(lambda: "cfm" not in text_of(browser, "main"))


def test_pieces_follow_the_width_of_the_window(browser: webdriver.Chrome, loft: Served) -> None:
    """What comes by itself is drawn anew once a window turns narrow, and again once it turns wide."""
    browser.get(loft.first)
    browser.get(f"{loft.base}/box/read-supply")
    for width, drawn in ((1200, "600"), (390, "340"), (1200, "600")):
        metrics = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
        browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
        for piece in ("#section", "#loss", "#field"):
            css(browser, f"{piece} svg[viewBox^='0 0 {drawn} ']")
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
