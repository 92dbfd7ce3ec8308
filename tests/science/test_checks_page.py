from pathlib import Path

from scripts.checks import page

PAGE = Path(__file__).parents[2] / "docs" / "checks.md"


def test_the_page_of_checks_is_current():
    written = PAGE.read_text(encoding="utf-8")
    assert written == page(), "run: python scripts/checks.py"


def test_the_page_names_what_is_left_out():
    assert "Rows that are not asserted" in page()
    assert "tc_above20" in page()
