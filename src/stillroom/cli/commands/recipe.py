"""``stillroom recipe``: a keeper's own recipe, its class and its process."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from stillroom.book.procedures import procedure_for
from stillroom.cli.contracts import cautions_as_json
from stillroom.cli.options import as_json, elevation, print_json, read_elevation_m
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.writing import write_new
from stillroom.file_text import FileKind, bytes_of_file
from stillroom.in_a_list import any_of
from stillroom.measures import feet
from stillroom.methods.method import Yield
from stillroom.methods.own_class import Classed, ColdOnly, classed
from stillroom.methods.own_yield import HOLDS, expected_jars, weights
from stillroom.methods.recipe_file import new_recipe_text, read_recipe, write_recipe
from stillroom.methods.recipe_jsonld import export_recipe, import_recipe
from stillroom.refusal import ended, granted

_FILE = click.Path(path_type=Path)
PAGE = FileKind("saved page", "HTML", "save the page first")


@click.group(name="recipe")
def command() -> None:
    """Hold a recipe of your own against the rules of its class."""


@command.command()
@click.argument("file", type=_FILE)
def new(file: Path) -> None:
    """Write a commented recipe file to fill in; a file that is there is left alone."""
    write_new(file, new_recipe_text())
    click.echo(f"Wrote {file}. Fill it in, then: stillroom recipe check {file}")


@command.command()
@click.argument("file", type=_FILE)
@click.option("--jar", metavar="JAR", help="Another jar than the recipe names.")
@elevation
@as_json
@click.pass_context
def check(
    ctx: click.Context, file: Path, jar: str | None, elevation: str | None, json_: bool
) -> None:
    """Say which published process a recipe may borrow, or why it is stored cold."""
    own = read_recipe(file)
    if jar is not None:
        own = replace(own, jar=jar)
    height_ft = None if elevation is None else feet(read_elevation_m(elevation))
    answer = classed(own, elevation_ft=height_ft)
    expected = expected_jars(own, answer)
    if json_:
        print_json(_as_json(answer, expected))
    else:
        _print(answer, expected)
    if isinstance(answer, ColdOnly) and answer.questions:
        ctx.exit(2)


@command.command(name="import")
@click.argument("page", type=_FILE)
@click.option("--out", required=True, type=_FILE, help="The recipe file to write.")
def import_(page: Path, out: Path) -> None:
    """Read the recipe of a saved page or JSON-LD file; nothing is fetched."""
    imported = import_recipe(_page_text(page))
    write_new(out, write_recipe(imported.own, imported.questions))
    click.echo(f"Wrote {out}: {imported.own.title or 'a recipe without a title'}.")
    for question in imported.questions:
        bullet(f"{question.key}: {question.text}")
    click.echo(f"No process comes with a page. Next: stillroom recipe check {out}")


@command.command()
@click.argument("recipe")
@click.option("--out", required=True, type=_FILE, help="The JSON-LD file to write.")
def export(recipe: str, out: Path) -> None:
    """Write a recipe file, or a tested recipe of the book, as schema.org JSON-LD."""
    if recipe.lower().endswith(".toml") or Path(recipe).is_file():
        body = export_recipe(read_recipe(Path(recipe)))
    else:
        body = export_recipe(granted(procedure_for(recipe)))
    write_new(out, json.dumps(body, ensure_ascii=False, indent=2) + "\n")
    click.echo(f"Wrote {out}: {body['name']}.")


def _page_text(page: Path) -> str:
    """Return the text of a saved page; letters that are not UTF-8 are replaced."""
    content = bytes_of_file(page, PAGE)
    return content.decode("utf-8-sig", "replace")


def _print(answer: Classed | ColdOnly, expected: Yield | None) -> None:
    heading(answer.own.title or "A recipe without a title")
    if isinstance(answer, ColdOnly):
        if answer.reasons:
            say("Stored cold: no published process covers it.")
            for no in answer.reasons:
                bullet(f"{ended(no.reason)} Instead: {ended(no.instead)} ({no.source})")
        if answer.questions:
            say("Asked first; until it is answered there is no process:")
            for question in answer.questions:
                bullet(str(question))
        if answer.reasons:
            say(f"{answer.storage.text} ({answer.storage.source})")
    elif answer.process is not None:
        process = answer.process
        say(
            f"{process.total_min} min in a {process.method} canner, {process.jar} "
            f"jars, {process.band_ft}: the process published for {answer.product}."
        )
        say(f"From: {process.source}.")
    else:
        jars = any_of(answer.jars)
        say(
            f"It may borrow the process published for {answer.product}, in {jars} "
            "jars; give --elevation for the minutes."
        )
    if expected is not None:
        say(
            f"About {expected.likely:.1f} {expected.jar} jars "
            f"({expected.low:.1f} to {expected.high:.1f}): an estimate."
        )
    heading("Measured")
    columns(weights(answer.measured))
    heading("Why")
    columns(
        [[HOLDS[e.holds], e.about, f"{e.text} ({e.source})"] for e in answer.evidence]
    )
    if isinstance(answer, Classed):
        heading("Cautions")
        for caution in answer.cautions:
            bullet(str(caution))


def _as_json(answer: Classed | ColdOnly, expected: Yield | None) -> dict[str, Any]:
    """Return the contract of ``recipe check --json``."""
    if isinstance(answer, ColdOnly):
        of_answer = _cold_as_json(answer)
    else:
        of_answer = _classed_as_json(answer, expected)
    return {
        "title": answer.own.title,
        "kind": answer.own.kind,
        "jar": answer.own.jar,
        **of_answer,
        "ingredients": [
            {
                "name": i.given.name,
                "quantity": i.given.quantity,
                "role": i.role,
                "mass_g": None if i.mass_kg is None else round(i.mass_kg * 1000, 1),
                "source": None if i.source is None else i.source.text,
                "how_known": None if i.source is None else i.source.how_known,
            }
            for i in answer.measured.ingredients
        ],
        "evidence": [
            {
                "about": e.about,
                "text": e.text,
                "holds": e.holds,
                "source": e.source.text,
                "how_known": e.source.how_known,
            }
            for e in answer.evidence
        ],
    }


def _cold_as_json(answer: ColdOnly) -> dict[str, Any]:
    return {
        "answer": "asked" if answer.questions else "cold",
        "product": None,
        "headspace_in": None,
        "process": None,
        "expected": None,
        "reasons": [
            {"reason": no.reason, "instead": no.instead, "source": no.source}
            for no in answer.reasons
        ],
        "questions": [
            {"key": q.key, "line": q.line, "text": q.text} for q in answer.questions
        ],
        "storage": {"text": answer.storage.text, "source": answer.storage.source},
        "cautions": [],
    }


def _classed_as_json(answer: Classed, expected: Yield | None) -> dict[str, Any]:
    process = answer.process
    return {
        "answer": "process",
        "product": answer.product,
        "headspace_in": answer.headspace_in,
        "process": None
        if process is None
        else {
            "minutes": process.minutes,
            "method": process.method,
            "elevation_band_ft": [process.elevation_low_ft, process.elevation_high_ft],
            "source": process.source,
            "how_known": process.how_known,
        },
        "expected": None
        if expected is None
        else {
            "likely": round(expected.likely, 2),
            "low": round(expected.low, 2),
            "high": round(expected.high, 2),
            "basis": expected.basis,
        },
        "reasons": [],
        "questions": [],
        "storage": None,
        "cautions": cautions_as_json(answer.cautions),
    }
