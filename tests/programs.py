"""
What the tests run beside Python, installed where that may be done; then what is tested.

`make test` runs it before the tests, which go side by side: two of them at once cannot
install a package.
"""

from __future__ import annotations

import os
import shutil
import sys

from tests import debian
from tests.browsing import chromium
from tests.records import postgres_server


def ready() -> list[str]:
    """Install what is missing; return what is not tested for want of it, in words."""
    lines = []
    if why_not := debian.install("chromium", chromium):
        lines.append(f"The browser tests will fail: {why_not}")
    if why_not := debian.install("poppler-utils", pdf_to_text):
        lines.append(f"The text of PDFs is not tested: {why_not}")
    given = os.environ.get(postgres_server.URL)
    if why_not := "" if given else postgres_server.install():
        lines.append(f"It was not installed: {why_not}")
    lines.append(postgres_server.missing() or "PostgreSQL is tested too.")
    return lines


def pdf_to_text() -> str | None:
    """Return where the program is that reads the text of a PDF."""
    return shutil.which("pdftotext")


if __name__ == "__main__":
    sys.stdout.write("\n".join(ready()) + "\n")
