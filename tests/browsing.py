"""One browser for all tests that live on pages."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import pytest

from tests import debian

if TYPE_CHECKING:  # unit tests do not pay for it
    from playwright.sync_api import Browser, Page


def chromium() -> str | None:
    """Return where the browser is; None where there is none."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


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
    if why_not := debian.install("chromium", chromium):
        pytest.fail(f"The browser tests need chromium: {why_not}")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=15_000)  # a busy machine draws late, and not otherwise
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=flags)
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
