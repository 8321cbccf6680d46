"""The model in a real browser: fetched, turned by keys, cut open, taken away; words where it can't be shown."""

from __future__ import annotations

import json
import struct
import threading
import time
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

import sordino
from paged import chromium, until

PAGE = """<!doctype html><html lang="en" data-theme="light"><head><meta charset="utf-8"><title>Model</title>
<link rel="icon" href="data:,"><link rel="stylesheet" href="look.css"></head><body><main id="here">
<div class="view3d" data-glb="box.glb" data-name="the box"></div></main>
<script type="module" src="view3d.js"></script></body></html>"""


def glb() -> bytes:
    """A binary glTF file of a wedge, 1.2 m long (Khronos glTF 2.0, 4.4: header, JSON chunk, binary chunk)."""
    points = [(0, 0, 0), (1.2, 0, 0), (0, 0.5, 0), (0, 0, 0.4), (1.2, 0, 0.4), (0, 0.5, 0.4)]
    faces = [(0, 2, 1), (3, 4, 5), (0, 1, 4), (0, 4, 3), (0, 3, 5), (0, 5, 2), (1, 2, 5), (1, 5, 4)]
    binary = b"".join(struct.pack("<3f", *point) for point in points)
    binary += b"".join(struct.pack("<3H", *face) for face in faces)
    least, most = [0.0, 0.0, 0.0], [1.2, 0.5, 0.4]
    told = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "buffers": [{"byteLength": len(binary)}],
        "bufferViews": [
            {"buffer": 0, "byteLength": 72},
            {"buffer": 0, "byteOffset": 72, "byteLength": len(binary) - 72},
        ],
        "accessors": [
            {
                "bufferView": 0,
                "componentType": 5126,
                "count": 6,
                "type": "VEC3",
                "min": least,
                "max": most,
            },
            {"bufferView": 1, "componentType": 5123, "count": 24, "type": "SCALAR"},
        ],
    }
    text = json.dumps(told).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text + struct.pack("<I4s", len(binary), b"BIN\0") + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


class Quiet(SimpleHTTPRequestHandler):
    """Says nothing about what it serves."""

    def log_message(self, format: str, *args: object) -> None:
        """Nothing."""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder: Path = tmp_path_factory.mktemp("model")
    for name in ("look.css", "view3d.js", "three.min.js", "lettering.woff2"):
        (folder / name).write_bytes((resources.files(sordino) / "web" / "static" / name).read_bytes())
    (folder / "box.glb").write_bytes(glb())
    (folder / "page.html").write_text(PAGE, encoding="utf-8")
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_address[1]}/page.html"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    found = chromium(tmp_path_factory.mktemp("profile"))
    yield found
    found.quit()


def test_a_model_is_shown_turned_cut_and_taken_away(browser: webdriver.Chrome, address: str) -> None:
    browser.get(address)
    until(lambda: browser.find_elements(By.CSS_SELECTOR, ".view3d[data-shown='1'] canvas"))
    canvas = browser.find_element(By.CSS_SELECTOR, ".view3d canvas")
    assert "Arrow keys" in (canvas.get_attribute("aria-label") or "")
    first = settled(browser)
    canvas.send_keys(Keys.ARROW_LEFT)
    until(lambda: seen(browser) != first)
    turned = settled(browser)
    canvas.send_keys(Keys.HOME)
    until(lambda: seen(browser) != turned)
    slide = browser.find_element(By.CSS_SELECTOR, ".view3d-acts input")
    whole = settled(browser)
    slide.send_keys(Keys.PAGE_DOWN, Keys.PAGE_DOWN, Keys.PAGE_DOWN)
    until(lambda: seen(browser) != whole)
    names = [each.text for each in browser.find_elements(By.CSS_SELECTOR, ".view3d-acts button")]
    assert names == ["Turn left", "Turn right", "Tip up", "Tip down", "Nearer", "Farther", "As at first"]
    browser.execute_script("document.querySelector('.view3d').dataset.glb = 'nothing.glb'")
    until(lambda: "could not be fetched" in browser.find_element(By.CSS_SELECTOR, ".view3d").text)
    assert not browser.find_elements(By.CSS_SELECTOR, ".view3d-acts")
    log: Any = browser
    told = [entry["message"] for entry in log.get_log("browser") if entry["level"] == "SEVERE"]
    assert [message for message in told if "nothing.glb" not in message] == []


def seen(browser: webdriver.Chrome) -> bytes:
    return browser.find_element(By.CSS_SELECTOR, ".view3d").screenshot_as_png


def settled(browser: webdriver.Chrome) -> bytes:
    """What is seen once it no longer changes."""
    last = seen(browser)
    for _ in range(40):
        time.sleep(0.05)
        now = seen(browser)
        if now == last:
            return now
        last = now
    raise AssertionError("it never rests")


def test_words_stand_in_where_models_cannot_be_shown(browser: webdriver.Chrome, address: str) -> None:
    browser.get(address)
    until(lambda: browser.find_elements(By.CSS_SELECTOR, ".view3d[data-shown]"))
    browser.execute_script(
        "HTMLCanvasElement.prototype.getContext = () => null;"
        "document.getElementById('here').insertAdjacentHTML('beforeend',"
        ' \'<div class="view3d" id="second" data-glb="box.glb"></div>\')'
    )
    until(lambda: "shows no models" in browser.find_element(By.ID, "second").text)
