"""The whole job in a real browser, on the program as it is started: from an empty folder to a book and a saved file."""

from __future__ import annotations

import base64
import difflib
import io
import tomllib
import wave
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select

from paged import chromium, css, opened, pressed, text_of, until
from sordino.units import parse

TIGHT = {"spare-length": "0.4 m", "spare-width": "0.5 m", "spare-height": "0.4 m"}
"""Room for boxes that are too short to be good."""
LENGTH = "#f-box-room_in-length"
RATED = "#f-mover-fan-sound-rated"
NOTE = "# bought on 3 May, the label says 45 dBA\n"
OTHER = """
# the other way round: a longer box on the way out
[variant.long-way-out.box.room-out]
length = "600 mm" # what the joists leave
"""


@pytest.fixture
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path_factory.mktemp("profile"))
    yield found
    found.quit()


def typed(browser: webdriver.Chrome, selector: str, words: str) -> None:
    """Type over what a field holds."""
    css(browser, selector).click()
    keys = ActionChains(browser, duration=0).key_down(Keys.CONTROL).send_keys("a").key_up(Keys.CONTROL)
    keys.send_keys(words).perform()


def at_rest(browser: webdriver.Chrome) -> None:
    """Until nothing is on its way and every box is known on the usual grid."""
    busy = ".htmx-request, .later.stale"
    until(lambda: css(browser, "#page").get_attribute("data-waiting") == "0", 90.0)
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, busy), 90.0)


def moved(browser: webdriver.Chrome, act: Callable[[], object]) -> float:
    """The box's length in m once something has been done to it."""
    before = css(browser, LENGTH).get_attribute("value")
    act()
    until(lambda: css(browser, LENGTH).get_attribute("value") not in (before, ""))
    return parse(str(css(browser, LENGTH).get_attribute("value")), "length")


def state(browser: webdriver.Chrome) -> list[str]:
    """What the page says of the whole, of the room and of the box: verdict, findings, every field."""
    base = "/".join(browser.current_url.split("/")[:3])
    found: list[str] = []
    for at in ("/", "/room/room?mode=break", "/box/room-in"):
        browser.get(base + at)
        at_rest(browser)
        found.append(text_of(browser, "#verdict"))
        findings = browser.find_elements(By.CSS_SELECTOR, ".finding")
        found += [str(each.get_attribute("textContent")) for each in findings]
        fields = browser.find_elements(By.CSS_SELECTOR, "form.field [name=value]")
        found += [f"#{each.get_attribute('id')}: {each.get_attribute('value')}" for each in fields]
    return found


def glance(browser: webdriver.Chrome) -> str:
    """The words at the room in the drawing of the whole."""
    return str(css(browser, "a.thing[data-kind='room']").get_attribute("textContent"))


def recording() -> bytes:
    """Half a second of noise, 16 bits, as a recorder writes it."""
    noise = np.random.default_rng(5).integers(-9000, 9000, 24000, dtype=np.int16)
    file = io.BytesIO()
    with wave.open(file, "wb") as written:
        written.setnchannels(1)
        written.setsampwidth(2)
        written.setframerate(48000)
        written.writeframes(noise.tobytes())
    return file.getvalue()


def dropped(browser: webdriver.Chrome, name: str, content: bytes) -> None:
    """Let a file fall where recordings are taken."""
    script = """const bytes = Uint8Array.from(atob(arguments[1]), each => each.charCodeAt(0));
        const all = new DataTransfer(), zone = document.querySelector('.drop label');
        all.items.add(new File([bytes], arguments[0]));
        const event = new DragEvent('drop', {dataTransfer: all, bubbles: true, cancelable: true});
        zone.dispatchEvent(event)"""
    css(browser, ".drop label")
    browser.execute_script(script, name, base64.b64encode(content).decode())


def test_a_whole_job(browser: webdriver.Chrome, tmp_path: Path) -> None:
    """Questions, a room that fails, a box that makes it good, comparison, book, recording, and a file that is kept."""
    project, kept = tmp_path / "project", tmp_path / "kept"
    project.mkdir()
    kept.mkdir()
    file = project / "studio.toml"
    browser.execute_cdp_cmd("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(kept)})
    with opened(project) as address:
        browser.get(address)
        first = begun(browser, file)
        written = by_hand(browser, file)
        fails(browser)
        turns_good(browser)
        set_beside(browser)
        book_made(browser, kept)
        pressed(browser, "Measure")
        dropped(browser, "take 1.wav", recording())
        until(lambda: "Kept as take 1.wav" in text_of(browser, "#received"))
        assert (project / "take 1.wav").read_bytes() == recording()
        ActionChains(browser, duration=0).key_down(Keys.CONTROL).send_keys("s").key_up(Keys.CONTROL).perform()
        until(lambda: file.read_text("utf-8") != written)
        last, before = file.read_text("utf-8"), state(browser)
        browser.refresh()
        assert not browser.find_elements(By.CSS_SELECTOR, "#unsaved")
        assert state(browser) == before
    with opened(project, str(file)) as address:
        browser.get(address)
        assert state(browser) == before
    assert file.read_text("utf-8") == last
    assert NOTE in last
    assert OTHER in last
    length = tomllib.loads(last)["box"]["room-in"]["length"]
    assert f"{LENGTH}: {length}" in before
    assert changed_lines(first, written) == ["+" + row for row in (NOTE + OTHER).splitlines()]
    assert changed_lines(written, last) == [
        '-sound = { rated = "38 dBA", at = "1 m" } # better: outlet, inlet and casing = [eight octaves]',
        '+sound = { rated = "45 dBA", at = "1 m" } # better: outlet, inlet and casing = [eight octaves]',
        '-length = "320 mm"',
        f'+length = "{length}"',
    ]


def changed_lines(before: str, after: str) -> list[str]:
    rows = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [row for row in list(rows)[2:] if not row.startswith("@@")]


def begun(browser: webdriver.Chrome, file: Path) -> str:
    """Answer the questions and save the first plan, which is good."""
    typed(browser, "#title", "Attic booth")
    Select(css(browser, "#use1")).select_by_value("mixing")
    for id_, words in {"people1": "2", **TIGHT}.items():
        typed(browser, f"#{id_}", words)
    pressed(browser, "Make a first plan")
    until(lambda: text_of(browser, "h1") == "Attic booth")
    assert "Nothing is missed." in text_of(browser, "main")
    pressed(browser, "Save")
    until(file.exists)
    return file.read_text("utf-8")


def by_hand(browser: webdriver.Chrome, file: Path) -> str:
    """A comment and a variant put into the file by an editor; the page notices and takes them."""
    text = file.read_text("utf-8").replace("[mover.fan]\n", NOTE + "[mover.fan]\n") + OTHER
    file.write_text(text, encoding="utf-8")
    pressed(browser, "Take what the file says (Undo brings yours back)")
    pressed(browser, "Compare")
    until(lambda: "long-way-out" in text_of(browser, "main"))
    return text


def fails(browser: webdriver.Chrome) -> None:
    """The fan that was bought is louder than the one that was planned with: the room misses its target."""
    pressed(browser, "The whole")
    pressed(browser, "Fan")
    typed(browser, RATED, "45 dBA")
    until(lambda: "missed" in text_of(browser, "#verdict"))
    pressed(browser, "The whole")
    at_rest(browser)
    worst = css(browser, ".finding a")
    assert text_of(browser, ".finding .standing") == "likely missed, break"
    assert "likely missed" in glance(browser)
    assert "NC 2" in text_of(browser, ".finding .said")
    assert "through room-supply" in text_of(browser, ".finding .said")
    worst.click()
    until(lambda: text_of(browser, "h2").endswith("Room 1"))
    assert text_of(browser, ".side .finding .standing") == "likely missed, break"
    assert text_of(browser, "#h-sound").endswith(", break")


def turns_good(browser: webdriver.Chrome) -> None:
    """A longer box: first typed, then moved by an arrow key on its edge, then dragged, until nothing is missed."""
    pressed(browser, "room-in")
    typed(browser, LENGTH, "0.60 m")
    handle = ".handle[data-field='length']"
    until(lambda: css(browser, handle).get_attribute("aria-valuenow") == "0.6")
    browser.execute_script(f'document.querySelector("{handle}").focus()')
    press = ActionChains(browser, duration=0).send_keys(Keys.ARROW_RIGHT)
    assert moved(browser, press.perform) == pytest.approx(0.61)
    until(lambda: css(browser, handle).get_attribute("aria-valuenow") == "0.61")
    drag = ActionChains(browser, duration=50)
    assert moved(browser, drag.drag_and_drop_by_offset(css(browser, handle), 150, 0).perform) > 0.7
    pressed(browser, "The whole")
    at_rest(browser)
    assert "Nothing is missed." in text_of(browser, "main")
    assert "missed" not in text_of(browser, "#verdict")
    assert "missed" not in glance(browser)


def set_beside(browser: webdriver.Chrome) -> None:
    """What was saved, what is there now, and the variant."""
    pressed(browser, "Compare")
    css(browser, "input[name='saved']").click()
    css(browser, "input[value='long-way-out']").click()
    pressed(browser, "Set them side by side")
    columns = "#compared thead th[scope=col]"
    heads = until(lambda: [each.text for each in browser.find_elements(By.CSS_SELECTOR, columns)], 90.0)
    assert heads[1:] == ["as written", "as saved", "long-way-out"]
    rows = browser.find_elements(By.CSS_SELECTOR, "#compared tbody tr")
    assert [row.text.split(",")[0] for row in rows[:2]] == ["Room 1: noise", "Room 1: noise"]


def book_made(browser: webdriver.Chrome, kept: Path) -> None:
    """The book is made and downloaded, and what comes is a book."""
    pressed(browser, "Build")
    pressed(browser, "Make the book")
    until(lambda: "Done" in text_of(browser, "#job"), 120.0)
    pressed(browser, "Download the book")
    until((kept / "book.zip").exists)
    with zipfile.ZipFile(kept / "book.zip") as packed:
        names = packed.namelist()
        paper = next(name for name in names if name.endswith(".pdf"))
        pages = pypdfium2.PdfDocument(packed.read(paper))
    assert len(pages) > 1
    assert {name.rpartition(".")[2] for name in names} >= {"pdf", "dxf", "csv"}
