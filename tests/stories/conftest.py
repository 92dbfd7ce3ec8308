"""Stories that are lived on a phone have the browser of the pages' tests."""

from tests.web.conftest import browser, open_page

__all__ = ["browser", "open_page"]
