"""How fast the page answers on the example, in one real browser: the only figures here that are seconds, not ratios.

All of it is measured in the page, from the moment at which the browser has a key press or a paint to the frame in which
the answer is drawn; a first paint counts from the start of the command, with the browser running. The sound fields of
the file as it is are known, those of what is typed are not. Tests hold no clock to any of this.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.resources import files
from pathlib import Path

from benchmarks import Row
from benchmarks.startup import compiling

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))  # the browser is theirs

from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains

from paged import chromium, css, opened, pressed, until

STARTS, LEAST = 3, 5
"""Starts of the program; fewest key presses that must go into a figure."""
MEDIAN, MOST, ECHO, PAINT = 300, 600, 100, 2.0
"""Goals: ms to an answer in the median and in 95 of 100 cases, ms to a letter shown, s to something shown."""
BOX, ROOM = "f-box-read_supply-length", "f-room-practice-length"
DIGITS = [
    *((3, str(digit)) for digit in range(1, 10)),
    (2, "3"),
    *((3, str(digit)) for digit in range(8, -1, -1)),
    (2, "4"),
]
"""Twenty key presses, each of which makes another length of 1.20 m: where in the field, and what."""
PAUSE, PATIENCE = 0.4, 60.0
"""Between key presses; the longest that an answer is waited for, s."""
WATCH = """
    window.told = {stall: 0};
    new PerformanceObserver(list => {
      for (const each of list.getEntries()) told.stall = Math.max(told.stall, each.duration);
    }).observe({type: 'longtask'});
    const drawn = (name, start) => requestAnimationFrame(() => setTimeout(() => {
      if (told.key === start) told[name] = performance.now() - start;
    }));
    document.addEventListener('keydown', event => {
      told = {stall: told.stall, key: event.timeStamp, number: document.getElementById('page').dataset.number};
    }, true);
    document.addEventListener('input', () => drawn('echo', told.key), true);
    new MutationObserver(() => {
      const page = document.getElementById('page'), loss = document.getElementById('loss');
      if (!told.key || page.dataset.number === told.number) return;
      if (!told.seen) { told.seen = true; drawn('answer', told.key); }
      if (!loss || told.curve || !loss.dataset.src.includes(`number=${page.dataset.number}&`)) return;
      if (loss.classList.contains('stale') || loss.underway) return;
      drawn('curve', told.key);
    }).observe(document.documentElement, {subtree: true, childList: true, attributes: true});
"""


def rows() -> Iterator[Row]:
    """First paint, then answers to key presses in peace, then letters shown while the machine works."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        folder, kept = Path(place) / "project", Path(place) / "kept"
        folder.mkdir()
        example = files("sordino.examples").joinpath("mill-loft.toml").read_text("utf-8")
        (folder / "loft.toml").write_text(example, "utf-8")
        environment = compiling(str(kept)) | {"PYTHONDONTWRITEBYTECODE": ""}
        command = [sys.executable, "-c", "from sordino.cli.main import main; main()", "assess", "loft.toml"]
        subprocess.run(command, cwd=folder, env=environment, capture_output=True, check=False)
        with browsing(Path(place) / "profile") as browser:
            yield from first_paints(browser, folder, environment)
            yield from answers(browser, folder, environment)


@contextmanager
def browsing(profile: Path) -> Iterator[webdriver.Chrome]:
    """A browser that is gone afterwards, its profile too."""
    browser = chromium(profile)
    browser.set_script_timeout(30)
    try:
        yield browser
    finally:
        browser.quit()
        shutil.rmtree(profile, ignore_errors=True)


def first_paints(browser: webdriver.Chrome, folder: Path, environment: dict[str, str]) -> Iterator[Row]:
    """From the start of the command to the first paint, and to the verdict."""
    painted, judged = zip(*(_start(browser, folder, environment) for _ in range(STARTS)), strict=True)
    yield Row("sordino open EXAMPLE, the browser running: to the first paint, s", max(painted), f"<= {PAINT:g}")
    yield Row("the same, to the verdict, s", statistics.median(judged), "none set")


def _start(browser: webdriver.Chrome, folder: Path, environment: dict[str, str]) -> tuple[float, float]:
    begin = time.time()
    with opened(folder, "loft.toml", **environment) as address:
        browser.get(address)
        css(browser, "#verdict")
        judged = time.time() - begin
        script = (
            "const [paint] = performance.getEntriesByName('first-contentful-paint'); return paint && paint.startTime"
        )
        paint = float(until(lambda: browser.execute_script(script)))
        origin = float(browser.execute_script("return performance.timeOrigin"))
    return (origin + paint) / 1000.0 - begin, judged


def answers(browser: webdriver.Chrome, folder: Path, environment: dict[str, str]) -> Iterator[Row]:
    """What a key press takes: in peace in a room and in a box, then while something is worked at."""
    with opened(folder, "loft.toml", **environment) as address:
        base = "/".join(address.split("/")[:3])
        browser.get(address)
        css(browser, "#verdict")
        room = lot(browser, f"{base}/room/practice", ROOM)
        yield from _answered("key press in a room's length to verdict and spectrum", room, "answer")
        box = lot(browser, f"{base}/box/read-supply", BOX)
        yield from _answered("key press in a box's length to the verdict", box, "answer")
        yield from _answered("the same, to the curve of what the box takes", box, "curve")
        pressed(browser, "Solve it on the fine grid")
        yield from _echoed("a fine field is solved", lot(browser, f"{base}/box/read-supply", BOX, working="fine"))
        browser.get(f"{base}/build")
        pressed(browser, "Make the book")
        yield from _echoed("the book is made", lot(browser, f"{base}/box/read-supply", BOX, working="book"))


def _answered(what: str, found: list[dict[str, float]], name: str) -> Iterator[Row]:
    times = sorted(each[name] for each in found)
    yield Row(f"{what}, median of {len(times)}, ms", statistics.median(times), f"<= {MEDIAN}")
    yield Row("the same, 95th percentile", statistics.quantiles(times, n=20, method="inclusive")[-1], f"<= {MOST}")


def _echoed(when: str, found: list[dict[str, float]]) -> Iterator[Row]:
    shown = max(each["echo"] for each in found)
    yield Row(f"while {when}: key press to its letter shown, longest of {len(found)}, ms", shown, f"<= {ECHO}")
    yield Row("the same, longest stall of the page", max(each["stall"] for each in found), f"<= {ECHO}")
    yield Row("the same, key press to the verdict, median", statistics.median(e["answer"] for e in found), "none set")


def lot(browser: webdriver.Chrome, at: str, field: str, working: str = "") -> list[dict[str, float]]:
    """What the page tells of twenty key presses in a field, or of those while something is worked at."""
    browser.get(at)
    css(browser, f"#{field}")
    until(lambda: not browser.find_elements("css selector", ".later.stale"), PATIENCE)
    _typed_over(browser, field, "1.20 m" if "box" in field else "3.20 m")
    browser.execute_script(WATCH)
    found = []
    for place, digit in DIGITS:
        if working and not browser.execute_async_script(WORKING, working):
            break
        browser.execute_script(
            f"const at = document.getElementById('{field}'); at.focus(); at.setSelectionRange({place}, {place + 1})"
        )
        ActionChains(browser, duration=0).send_keys(digit).perform()
        found.append(_told(browser, curve="box" in field and not working))
        time.sleep(PAUSE)
    if len(found) < (LEAST if working else len(DIGITS)):
        raise RuntimeError(f"what was to be worked at was done after {len(found)} key presses")
    return found


WORKING = """
    const [kind, end] = arguments;
    fetch(`/job/${kind}`).then(all => all.text()).then(all => end(all.includes('data-stand="running"')));
"""


def _typed_over(browser: webdriver.Chrome, field: str, words: str) -> None:
    number = css(browser, "#page").get_attribute("data-number")
    browser.execute_script(f"const at = document.getElementById('{field}'); at.focus(); at.select()")
    ActionChains(browser, duration=0).send_keys(words).perform()
    until(lambda: css(browser, "#page").get_attribute("data-number") != number)
    time.sleep(2.0 * PAUSE)


def _told(browser: webdriver.Chrome, curve: bool) -> dict[str, float]:
    """What was measured of the last key press, once all of it is there."""
    wanted = {"echo", "answer", *(("curve",) if curve else ())}

    def all_there() -> dict[str, float] | None:
        with suppress(AttributeError):
            told: dict[str, float] = browser.execute_script("return window.told")
            return told if wanted <= {*told} else None
        return None

    found: dict[str, float] = until(all_there, PATIENCE)
    return found
