"""``stillroom book``: what is published, all about one product, and who says so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

import click

from stillroom.book.about import About, Listed, about, list_products
from stillroom.book.procedures import Ingredient, Procedure, answered_procedures
from stillroom.book.process_table import Process, processes
from stillroom.book.sources import rows_by_how_known, source_uses
from stillroom.book.uncanned import WAYS_WITHOUT_A_CANNER
from stillroom.capital import capital
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.measures import POUND_KG, depth, mixed_number
from stillroom.methods.getting_juice import span
from stillroom.planning.which_batches.batch_words import until_words, yield_unit_words
from stillroom.refusal import Refusal, granted


@click.command(name="book")
@click.argument("product", required=False)
@click.option(
    "--sources", is_flag=True, help="Print who published what, and how it is known."
)
@as_json
def command(product: str | None, sources: bool, json_: bool) -> None:
    """List what is published, or all about one product."""
    if sources and product:
        raise click.UsageError("--sources is for the whole book: leave PRODUCT out")
    if sources:
        _sources(json_)
    elif product is None:
        _list(json_)
    else:
        page = granted(about(product))
        if json_:
            print_json(about_as_json(page))
        else:
            _print_about(page)


def about_as_json(page: About) -> dict[str, object]:
    """Return the contract of ``book PRODUCT --json``."""
    facts = page.facts
    no = page.product if isinstance(page.product, Refusal) else None
    return {
        "product": page.name,
        "no_process": no
        and {"reason": no.reason, "instead": no.instead, "source": no.source},
        "processes": [_process_as_json(row) for row in page.processes],
        "procedures": [_procedure_as_json(p) for p in page.procedures],
        "facts": facts
        and {
            "acid_class": facts.acid_class,
            "ph": facts.ph,
            "pectin_group": facts.pectin_group,
            "juice": facts.juice,
            "kg_per_7_quarts": facts.weights and facts.weights.kg_per_7_quarts,
            "kg_per_9_pints": facts.weights and facts.weights.kg_per_9_pints,
            "kg_per_unit": facts.weights and facts.weights.kg_per_unit,
            "unit": facts.weights and facts.weights.unit,
            "note": facts.note,
            "source": facts.source.text,
            "how_known": facts.source.how_known,
        },
        "storage": [
            {"what": f.what, "figure": f.figure, "text": f.text}
            | {"source": f.source.text, "how_known": f.source.how_known}
            for f in page.storage
        ],
        "freezing": [
            {"what": f.what, "figure": f.figure, "text": f.text}
            | {"source": f.source.text, "how_known": f.source.how_known}
            for f in page.freezing
        ],
        "yearly": [
            {"plan": y.plan, "per_person": y.per_person, "unit": y.unit}
            | {"note": y.note, "source": y.source.text}
            for y in page.yearly
        ],
        "cautions": [{"text": c.text, "source": c.source} for c in page.cautions],
    }


def _process_as_json(row: Process) -> dict[str, object]:
    return {
        "published_as": row.published_as,
        "method": row.method,
        "pack": row.pack,
        "jar": row.jar,
        "minutes": row.minutes,
        "pressure_psi": row.pressure_psi,
        "elevation_band_ft": [row.elevation_low_ft, row.elevation_high_ft],
        "headspace_in": row.headspace_in,
        "acidify": row.acidify or None,
        "source": row.source,
        "how_known": row.how_known,
    }


def _procedure_as_json(procedure: Procedure) -> dict[str, object]:
    return {
        "id": procedure.id,
        "title": procedure.title,
        "method": procedure.method,
        "keeping": procedure.keeping,
        "refused_because": procedure.refuse or None,
        "ingredients": [
            {
                "name": i.name,
                "quantity": str(i.quantity),
                "unit": i.unit,
                "per": i.per or None,
                "prep": i.prep,
            }
            for i in procedure.ingredients
        ],
        "printed_yield": [procedure.printed_yield_low, procedure.printed_yield_high],
        "yield_unit": procedure.yield_unit,
        "jars": list(procedure.jars),
        "source": procedure.source,
    }


def _list(json_: bool) -> None:
    found = list_products()
    if json_:
        print_json(
            {
                "products": [
                    {"name": p.name, "kind": p.kind, "rows": p.rows}
                    | {"recipes": p.recipes}
                    for p in found
                ],
                "processes": len(processes()),
                "procedures": len(answered_procedures()),
            }
        )
        return
    recipes = len(answered_procedures())
    say(
        f"{len(processes()):,} published process rows and {recipes} tested recipes, "
        f"for {len(found)} products. A number in brackets counts the tested "
        "recipes of one; `stillroom book PRODUCT` shows all about it."
    )
    for kind, of_kind in groupby(found, key=lambda one: one.kind):
        heading(kind.capitalize())
        say(", ".join(map(_listed, of_kind)))


def _listed(one: Listed) -> str:
    return f"{one.name} ({one.recipes})" if one.recipes else one.name


def _sources(json_: bool) -> None:
    counts = rows_by_how_known()
    uses = source_uses()
    if json_:
        print_json(
            {
                "tables": {name: dict(known) for name, known in counts.items()},
                "sources": [
                    {"source": u.source, "tables": dict(u.tables)}
                    | {"how_known": dict(u.how_known)}
                    for u in uses
                ],
            }
        )
        return
    total: dict[str, int] = {}
    for known in counts.values():
        for how, rows in known.items():
            total[how] = total.get(how, 0) + rows
    say(
        f"{sum(total.values()):,} rows rest on {len(uses)} sources: "
        + ", ".join(f"{rows:,} {_known(how)}" for how, rows in total.items())
        + ". No process is answered from a row that is only remembered."
    )
    heading("Tables")
    columns(
        [
            (name, ", ".join(f"{rows} {_known(how)}" for how, rows in known.items()))
            for name, known in counts.items()
        ]
    )
    heading("Sources")
    columns([(str(use.rows), use.source) for use in uses])


def _known(how: str) -> str:
    return {"memory": "from memory", "practice": "common practice"}.get(
        how, how.replace("_", " ")
    )


def _print_about(page: About) -> None:
    heading(capital(page.name))
    if isinstance(page.product, Refusal):
        say(f"No process: {page.product}")
    _print_processes(page.processes)
    for procedure in page.procedures:
        _print_procedure(procedure)
    _print_facts(page)
    if page.cautions:
        heading("Cautions")
        for caution in page.cautions:
            bullet(f"{caution.text} ({caution.source})")


def _print_processes(rows: Sequence[Process]) -> None:
    if not rows:
        return
    heading("Processes, as printed")

    def table(row: Process) -> tuple[str, str, str, str, int]:
        return row.published_as, row.method, row.pack, row.jar, row.option

    lines = []
    for (_, method, pack, jar, _), bands in groupby(rows, key=table):
        told = list(bands)
        times = "; ".join(f"{row.band_ft}: {_time(row)}" for row in told)
        lines.append((method, pack, jar, depth(told[0].headspace_in), times))
    columns(lines)
    for source in dict.fromkeys(f"{r.source} ({_known(r.how_known)})" for r in rows):
        bullet(source)
    for note in dict.fromkeys(row.note for row in rows if row.note):
        bullet(note)


def _time(row: Process) -> str:
    pressure = "" if row.pressure_psi is None else f" at {row.pressure_psi:g} psi"
    return f"{row.minutes} min{pressure}"


def _print_procedure(procedure: Procedure) -> None:
    heading(procedure.title)
    if procedure.refuse:
        say(f"For the record only: {procedure.refuse}.")
    columns([(_quantity(i), _named(i)) for i in procedure.ingredients])
    for told in (procedure.base_prep, procedure.order_of_adding):
        if told:
            say(f"{capital(told.rstrip('.'))}.")
    say(f"Until: {until_words(procedure)}.")
    low, high = procedure.printed_yield_low, procedure.printed_yield_high
    if low is not None and high is not None:
        printed = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        say(f"Printed yield: {printed} {yield_unit_words(procedure)}.")
    if procedure.keeping == "cold" and procedure.method not in WAYS_WITHOUT_A_CANNER:
        say("Kept cold: no process is published for it.")
    say(f"From: {procedure.source}.")


def _quantity(one: Ingredient) -> str:
    unit = "" if one.unit == "each" else f" {one.unit}"
    return f"{mixed_number(float(one.quantity))}{unit}"


def _named(one: Ingredient) -> str:
    per = f" to a {one.per}" if one.per else ""
    optional = " (optional)" if one.optional else ""
    return ", ".join(filter(None, (f"{one.name}{per}", one.prep))) + optional


def _print_facts(page: About) -> None:
    lines: list[tuple[str, str]] = []
    facts = page.facts
    if facts is not None:
        if facts.ph is not None:
            lines.append(("pH", span(facts.ph)))
        lines.append(("acid class", facts.acid_class))
        if facts.pectin_group:
            lines.append(("pectin group", facts.pectin_group))
        if facts.weights is not None:
            lines += _weight_lines(page)
        if facts.juice:
            lines.append(("juice", facts.juice))
        if facts.note:
            lines.append(("note", facts.note))
        lines.append(("source", f"{facts.source} ({_known(facts.source.how_known)})"))
    if page.jelly_juice is not None:
        line = page.jelly_juice
        lines.append(
            (
                "jelly juice",
                f"{span(line.water_cups_per_lb)} cup of water to a pound, simmered "
                f"{span(line.simmer_min)} min; {span(line.sugar_cups_per_cup)} cup "
                f"of sugar to a cup of juice ({line.source})",
            )
        )
    if lines:
        heading("Facts")
        columns(lines)
    for title, found in (("Storage", page.storage), ("Freezing", page.freezing)):
        if found:
            heading(title)
            columns([(f.what, _told(f.figure, f.text, str(f.source))) for f in found])
    if page.yearly:
        heading("For a year, one person")
        columns(
            [
                (y.plan, f"{y.per_person:g} {y.unit}", _told(y.food, y.note))
                for y in page.yearly
            ]
        )


def _weight_lines(page: About) -> Iterable[tuple[str, str]]:
    weights = page.facts.weights if page.facts is not None else None
    if weights is None:
        return
    if weights.kg_per_unit:
        yields = f": {weights.yield_per_unit}" if weights.yield_per_unit else ""
        yield weights.unit, f"{_pounds(weights.kg_per_unit)}{yields}"
    if weights.kg_per_7_quarts:
        yield "7 quarts take", _pounds(weights.kg_per_7_quarts)
    if weights.kg_per_9_pints:
        yield "9 pints take", _pounds(weights.kg_per_9_pints)


def _pounds(mass_kg: float) -> str:
    return f"{mass_kg / float(POUND_KG):g} lb ({mass_kg:.1f} kg)"


def _told(*parts: str) -> str:
    return "; ".join(dict.fromkeys(part for part in parts if part))
