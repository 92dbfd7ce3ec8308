"""
Write docs/checks.md: what the science is checked against, and how well it meets it.

``python scripts/checks.py`` writes the page; with ``--check`` it only says whether the
page is current.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "checks.md"
sys.path.insert(0, str(ROOT / "tests"))

from science.answers import (  # noqa: E402  # the answers live with the tests
    CONTEXT,
    Checked,
    checked,
    is_context,
    rows,
)

HEAD = """\
# What the science is checked against

Written by `python scripts/checks.py` from `tests/published/physics_checks.csv`; the
tests fail where it is not current. Errors and tolerances are in the unit of the row.
A share is the worst error over its tolerance. "L" was seen in print, "C" computed with
another implementation or by hand, "M" is from memory.
"""
_KNOWN = {"looked_up": "L", "computed": "C", "memory": "M"}


def page() -> str:
    """Text of docs/checks.md."""
    asserted = [row for row in rows() if not is_context(row)]
    tables: dict[tuple[str, str], list[Checked]] = defaultdict(list)
    for row in asserted:
        check = checked(row)
        tables[row["topic"], check.table].append(check)
    lines = [HEAD, f"{len(asserted)} rows are asserted, in {len(tables)} tables.\n"]
    for topic in dict.fromkeys(topic for topic, _ in tables):
        lines += [
            f"## {topic.capitalize()}\n",
            "| quantity | rows | worst error | tolerance | share | source |",
            "|---|---|---|---|---|---|",
        ]
        lines += [_line(checks) for (of, _), checks in tables.items() if of == topic]
        lines.append("")
    lines += ["## Rows that are not asserted\n"]
    lines += [f"- `{key}`: {reason}." for key, reason in sorted(CONTEXT.items())]
    lines += [
        "- Rows marked as traps or misprints, or printed as context only.",
        "",
    ]
    return "\n".join(lines)


def _line(checks: list[Checked]) -> str:
    error, allowed, share = max(
        (
            (abs(ours - printed), limit, part)
            for check in checks
            for printed, ours, limit, part in zip(
                check.printed, check.ours, check.allowed, check.shares(), strict=True
            )
        ),
        key=lambda found: found[2],
    )
    row = checks[0].row
    sources = dict.fromkeys(
        f"{check.row['source']} ({_KNOWN[check.row['how_known']]})" for check in checks
    )
    unit = row["unit"]
    # Rounding differs from machine to machine: what is exact is shown as exact.
    shown = "exact" if share < 1e-6 else f"{error:.2g} {unit}"
    limit = f"{allowed:.2g} {unit}" if allowed else "exact"
    quantity = row["quantity"].replace("|", "/")
    part = "0 %" if share < 1e-6 else f"{100 * share:.0f} %"
    return (
        f"| {quantity} | {len(checks)} | {shown} | {limit} | {part} "
        f"| {'; '.join(sources)} |"
    )


def main() -> int:
    """Write the page, or say whether it is current."""
    text = page()
    if "--check" in sys.argv[1:]:
        current = PAGE.is_file() and PAGE.read_text("utf-8") == text
        print("docs/checks.md is current" if current else "docs/checks.md is stale")
        return 0 if current else 1
    PAGE.write_text(text, "utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
