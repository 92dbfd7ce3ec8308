"""Write docs/sources.md anew from the tables of the book."""

from pathlib import Path

from stillroom.book.sources import sources_page

PAGE = Path(__file__).parents[1] / "docs" / "sources.md"

if __name__ == "__main__":
    PAGE.write_text(sources_page(), encoding="utf-8")
    print(f"wrote {PAGE.name}")
