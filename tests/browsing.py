"""One browser for all tests that live on pages."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:  # unit tests do not pay for it
    from playwright.sync_api import Browser, Page

HOW_TO_GET_CHROMIUM = (
    "The browser tests need chromium: apt-get install chromium (or your system's way)"
)


def _chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None and os.geteuid() == 0 and shutil.which("apt-get"):
        install = ["apt-get", "install", "-y", "--no-install-recommends", "chromium"]
        subprocess.run(["apt-get", "update"], capture_output=True, check=False)
        subprocess.run(install, capture_output=True, check=False)
        found = shutil.which("chromium")
    if found is None:
        pytest.fail(HOW_TO_GET_CHROMIUM)
    return found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    flags = [
        "--headless",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ]
    if os.geteuid() == 0:
        flags.append("--no-sandbox")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=15_000)  # a busy machine draws late, and not otherwise
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=_chromium(), args=flags)
        yield browser
        browser.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open pages of a given size; any script error or refused style fails the test."""
    wrong: list[str] = []
    contexts = []

    def open_(width: int = 1280, height: int = 900, **options: object) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height},
            **options,  # type: ignore[arg-type]
        )
        contexts.append(context)
        context.set_default_timeout(15_000)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on(
            "console",
            lambda message: (
                wrong.append(message.text)
                if "Content Security Policy" in message.text
                else None
            ),
        )
        return page

    yield open_
    for context in contexts:
        context.close()
    assert wrong == []
