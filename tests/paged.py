"""The page for tests: served in a thread on a free port or by the program itself, and a real browser on it."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn
from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException, WebDriverException
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from starlette.testclient import TestClient

from sordino.web.app import application
from sordino.web.views.page import Page

KEY = "a-key-for-tests"
FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"),
)
PATIENCE = 20.0
AXE = Path(__file__).parent / "web" / "axe" / "axe.min.js"


def client(path: Path | None, folder: Path) -> TestClient:
    """A page without a server, its key already taken."""
    app = application(path, folder, KEY)
    found = TestClient(app, base_url="http://127.0.0.1")
    assert found.get("/", params={"key": KEY}, follow_redirects=False).status_code == 303
    found.get("/", headers={"hx-request": "true"})  # so that views come at once
    return found


def page_of(found: TestClient) -> Page:
    """What lies behind a page."""
    page: Page = found.app.state.page  # type: ignore[attr-defined]
    return page


@dataclass(frozen=True, kw_only=True, slots=True)
class Served:
    """A page that is served, and what lies behind it."""

    base: str
    page: Page

    @property
    def first(self) -> str:
        """The address as the program prints it."""
        return f"{self.base}/?key={KEY}"


@contextlib.contextmanager
def served(path: Path | None, folder: Path) -> Iterator[Served]:
    """A project's page on loopback."""
    app = application(path, folder, KEY)
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none", timeout_graceful_shutdown=1))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [door]}, daemon=True)
        thread.start()
        until(lambda: server.started)
        yield Served(base=f"http://127.0.0.1:{door.getsockname()[1]}", page=app.state.page)
        server.should_exit = True
        thread.join(5)


@contextlib.contextmanager
def opened(folder: Path, *words: str, **environment: str) -> Iterator[str]:
    """`sordino open` as a program of its own in a folder; the address that it prints."""
    command = (sys.executable, "-c", "from sordino.cli.main import main; main()", "open", *words, "--no-browser")
    surroundings = os.environ | environment
    with subprocess.Popen(command, cwd=folder, env=surroundings, stdout=subprocess.PIPE, text=True) as program:
        try:
            assert program.stdout is not None, "it is asked to speak"
            yield program.stdout.readline().split()[-1]
        finally:
            program.send_signal(signal.SIGINT)
            program.wait(15)


def chromium(profile: Path) -> webdriver.Chrome:
    """A browser with a profile of its own; a plain word if it is not there."""
    program, driver = shutil.which("chromium"), shutil.which("chromedriver")
    if program is None or driver is None:
        raise RuntimeError("the browser tests need chromium and chromium-driver: run make test, or install both")
    options = webdriver.ChromeOptions()
    options.binary_location = program
    for flag in (*FLAGS, "--window-size=1440,1000", f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(options=options, service=Service(driver))


def until(holds: Callable[[], Any], seconds: float = PATIENCE) -> Any:
    """What `holds` gives once it is true; an AssertionError if that never comes."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        with contextlib.suppress(WebDriverException, StaleElementReferenceException):
            if found := holds():
                return found
        time.sleep(0.02)
    raise AssertionError("it never came to that")


def css(browser: webdriver.Chrome, selector: str) -> WebElement:
    """The first element that a selector finds, once it is there."""
    found: WebElement = until(lambda: browser.find_elements(By.CSS_SELECTOR, selector))[0]
    return found


def text_of(browser: webdriver.Chrome, selector: str) -> str:
    """The words in an element."""
    return str(until(lambda: css(browser, selector).text))


def pressed(browser: webdriver.Chrome, words: str) -> None:
    """Press the button or link of that name, once it can be."""
    at = f"//button[normalize-space()='{words}' and not(@disabled)] | //a[normalize-space()='{words}']"

    def press() -> bool:
        found = browser.find_elements(By.XPATH, at)
        if found:
            found[0].click()
        return bool(found)

    until(press)


def requested(browser: webdriver.Chrome) -> list[str]:
    """Addresses that the pages asked for; the browser's own tabs aside."""
    entries: list[dict[str, str]] = browser.get_log("performance")  # type: ignore[no-untyped-call]
    told = [json.loads(entry["message"])["message"] for entry in entries]
    sent = [each["params"] for each in told if each["method"] == "Network.requestWillBeSent"]
    mine = [each for each in sent if not each.get("documentURL", "").startswith("chrome")]
    urls = [str(each["request"]["url"]) for each in mine]
    return [url for url in urls if not url.startswith(("data:", "blob:", "chrome"))]


def violations(browser: webdriver.Chrome) -> list[str]:
    """What an accessibility checker calls serious or critical in what is shown."""
    browser.execute_script(AXE.read_text(encoding="utf-8"))
    script = "const end = arguments[0]; axe.run().then(told => end(told.violations))"
    found: list[dict[str, Any]] = browser.execute_async_script(script)
    return [
        f"{each['id']}: {each['nodes'][0]['html'][:200]}" for each in found if each["impact"] in ("serious", "critical")
    ]
