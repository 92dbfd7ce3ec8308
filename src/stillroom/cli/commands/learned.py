"""``stillroom learned``: what past days taught, beside the book's figures."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import click

from stillroom.cli.kept import database, kept
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, heading, say
from stillroom.learning.learn import LEAST_RUNS
from stillroom.learning.pace import WORTH
from stillroom.learning.record import learned_from
from stillroom.learning.said import groups
from stillroom.methods.learned import Factor, Learned, Share
from stillroom.smallholding.invented import WORDS, is_invented


@click.command(name="learned")
@click.option("--kitchen", default="", metavar="NAME", help="Only days in this one.")
@database
@as_json
def command(kitchen: str, db: str, json_: bool) -> None:
    """List what past days taught: minutes, yields, seals, sets, counts."""
    with kept(db) as records:
        learned = learned_from(records.ledger, kitchen=kitchen)
        invented = is_invented(records.ledger)
    if json_:
        print_json(_as_json(learned))
        return
    if invented:
        say(WORDS)
    say(
        f"The book's figure counts like {WORTH} runs of yours, and stands alone while "
        f"there are fewer than {LEAST_RUNS}. A run far from all the others is drawn "
        "nearer to them first. stillroom plan DAY.toml --db FILE plans with these; "
        "--as-published plans without."
    )
    for group in groups(learned):
        heading(group.title)
        say(group.note)
        if not group.lines:
            say(f"Not enough yet: {LEAST_RUNS} are needed.")
        columns(
            [
                (f"{n.of} {n.what}".strip(), n.own, f"book {n.book}", n.rests_on)
                for n in group.lines
            ]
        )


def _as_json(learned: Learned) -> dict[str, Any]:
    return {
        "worth_runs": WORTH,
        "least_runs": LEAST_RUNS,
        "steps": [
            {"product": product, "step": step, **_factor(factor)}
            for (product, step), factor in sorted(learned.steps.items())
        ],
        "slow_day": None
        if learned.slow_day is None
        else _rounded(asdict(learned.slow_day)),
        "yields": _by_name("product", learned.yields),
        "seals": None if learned.seals is None else _share(learned.seals),
        "seals_of": [
            {"product": p, **_share(s)} for p, s in sorted(learned.seals_of.items())
        ],
        "sets_of": [
            {"product": p, **_share(s)} for p, s in sorted(learned.sets_of.items())
        ],
        "counts": _by_name("thing", learned.shrink),
    }


def _by_name(key: str, factors: Any) -> list[dict[str, Any]]:
    return [{key: name, **_factor(f)} for name, f in sorted(factors.items())]


def _factor(factor: Factor) -> dict[str, Any]:
    return _rounded(asdict(factor))


def _share(share: Share) -> dict[str, Any]:
    said = asdict(share)
    del said["a"], said["b"]
    return _rounded({"mean": share.mean, **said})


def _rounded(values: dict[str, Any]) -> dict[str, Any]:
    return {k: round(v, 4) if isinstance(v, float) else v for k, v in values.items()}
