"""The sheet on paper says what the plan says, and prints what was typed as typed."""

import datetime as dt
import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from stillroom.cli.commands.sheet import command
from stillroom.methods.kitchen import Canner, CannerKind
from stillroom.paper.press import PaperError, press
from stillroom.paper.sheets import Again, day_sheet_pdf, day_sheet_rows
from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Want as PromisedBy
from stillroom.planning.sentence import how_good
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import Caution, Refused, Unreadable
from tests.kitchens import day, kitchen, stores
from tests.programs import pdf_to_text

TO_TEXT = pdf_to_text()


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """The demo day, which is invented."""
    planned = plan_the_day(read_day(demo_day_text()), seconds=0.2)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    return planned


@pytest.fixture(scope="module")
def rows(plan: DayPlan) -> dict:
    return day_sheet_rows(plan)


def text_of(pdf: bytes, tmp_path: Path) -> str:
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf)
    assert TO_TEXT
    read = subprocess.run(
        [TO_TEXT, "-layout", str(file), "-"], capture_output=True, text=True, check=True
    )
    return read.stdout


def test_every_step_of_the_plan_is_somebodys_line_once(plan: DayPlan, rows: dict):
    sheet = day_sheet(plan.problem, plan.answer.timetable)
    printed = sum(len(p["lines"]) for p in rows["people"])
    printed += len(rows["alone"]) + len(rows["near"])
    assert printed == len(sheet.entries)
    for person in rows["people"]:
        mine = [e for e in sheet.entries if e.who == person["name"]]
        assert [line["what"] for line in person["lines"]] == [e.what for e in mine]
        assert [line["from"] for line in person["lines"]] == [
            sheet.clock(e.start_min) for e in mine
        ]


def test_the_sentence_counts_what_is_planned(plan: DayPlan, rows: dict):
    jars = sum(batch.jars for batch in plan.batches)
    loads = len(plan.answer.timetable.loads)
    assert rows["sentence"].startswith(f"{jars} jars in {loads} canner loads, done by ")
    assert "No plan for this kitchen can end" in rows["sentence"]


def test_the_paper_says_what_is_late_as_the_screen_does(plan: DayPlan):
    """Who reads the paper alone must know of a promise that is missed."""
    loads = plan.answer.timetable.loads
    last = max(loads, key=lambda load: load.out_min)
    (first, *_), early = last.jars, min(load.out_min for load in loads)
    batch = next(b for b in plan.problem.batches if b.id == first[0])
    wanted = PromisedBy(product=batch.product, by_min=early - 30)
    problem = replace(plan.problem, wants=(wanted,), done_by_min=last.out_min - 60)
    said = day_sheet_rows(replace(plan, problem=problem))["sentence"]
    told = how_good(replace(plan, problem=problem))
    (late,) = re.findall(r"Late: [^.]+\.", said)
    assert "wanted by" in late
    assert late in told
    assert re.search(r"Done at \d+:\d\d, 1 h[^.]* after you wanted\.", said)
    assert "Late" not in day_sheet_rows(plan)["sentence"]


def test_every_load_has_its_published_process_and_source(plan: DayPlan, rows: dict):
    assert len(rows["loads"]) == len(plan.answer.timetable.loads)
    for load in rows["loads"]:
        process = rows["processes"][load["mark"] - 1]
        assert process.startswith(f"{load['minutes']} min")
    for batch in plan.batches:
        assert any(batch.process.source in process for process in rows["processes"])


def test_a_pressure_load_is_printed_with_its_own_rules(plan: DayPlan):
    """The demo day's processes, turned into pressure ones: no lid is to come off."""
    under = tuple(
        replace(
            batch,
            process=replace(batch.process, method="dial-gauge", pressure_psi=12.0),
        )
        for batch in plan.batches
    )
    assert plan.problem is not None
    processes = tuple(replace(p, pressure_psi=12.0) for p in plan.problem.processes)
    problem = replace(plan.problem, processes=processes)
    rows = day_sheet_rows(replace(plan, batches=under, problem=problem))
    signs = [line["until"] for p in rows["people"] for line in p["lines"]]
    assert not any("lid off" in sign or "over the lids" in sign for sign in signs)
    for sign in ("lid locked, vent open", "no pressure left and the vent open"):
        assert sum(each.startswith(sign) for each in signs) == len(rows["loads"])
    lit = [line for line in rows["alone"] if line["what"].startswith("Light the")]
    # nothing is locked before its jars are in
    assert {line["until"] for line in lit} == {"2 to 3 inches (5 to 8 cm) of hot water"}
    assert all(" min at 12 psi, published for" in line for line in rows["processes"])
    assert len(rows["clock_rules"]) == 1
    assert "pressure is lost" in rows["clock_rules"][0]
    assert "full boil" not in rows["clock_rules"][0]
    assert "When no pressure is left, open the vent" in rows["clock_rules"][0]
    assert rows["clock_rules"][0].count("leaflet 01600949; Pacific Northwest") == 2


def test_seals_have_their_latest_hour_on_paper_too(plan: DayPlan, rows: dict):
    """It stood on the page and in the terminal: a lid that failed has 24 h."""
    (seals,) = (task for task in plan.after_tasks if "every seal" in task.what)
    assert seals.until is not None
    (line,) = (line for line in rows["afterwards"] if "every seal" in line)
    last = f"{seals.until:%A} {seals.until.day} {seals.until:%B, %-H:%M}"
    assert f", by {last} at the latest, {seals.who}: " in line
    (ticked,) = (line for line in rows["afterwards"] if "every load processed" in line)
    assert "at the latest" not in ticked


def test_batches_made_alike_share_a_recipe_and_none_is_left_out(
    plan: DayPlan, rows: dict
):
    named = [batch["id"] for recipe in rows["recipes"] for batch in recipe["batches"]]
    assert sorted(named) == sorted(batch.id for batch in plan.batches)
    assert len(rows["recipes"]) == len({b.procedure.id for b in plan.batches})
    plum = next(r for r in rows["recipes"] if r["title"].startswith("Plum jelly"))
    parts = {p["name"]: p["quantity"] for p in plum["parts"]}
    # Univ. of Wisconsin Extension B2909: 5 cups juice, 1 box pectin, 7 cups sugar
    assert parts == {
        "plum juice": "5 cups",
        "sugar": "7 cups",
        "regular powdered pectin": "1 package",
    }


def test_a_batch_that_takes_another_thing_has_a_recipe_of_its_own(plan: DayPlan):
    """Two batches of tomatoes, one with lemon juice and one with citric acid."""
    first, *others = plan.batches
    pectin, *rest = sorted(first.parts, key=lambda part: part.role != "pectin")
    bulk = replace(first, parts=(replace(pectin, name="bulk pectin"), *rest))
    recipes = day_sheet_rows(replace(plan, batches=(bulk, *others)))["recipes"]
    (of_it,) = (r for r in recipes if any(b["id"] == first.id for b in r["batches"]))
    assert [b["id"] for b in of_it["batches"]] == [first.id]
    names = {part["name"] for part in of_it["parts"]}
    assert "bulk pectin" in names
    assert not any("bulk pectin" in str(r) for r in recipes if r is not of_it)


def test_shopping_evening_and_cautions_are_all_there(plan: DayPlan, rows: dict):
    assert [line["what"] for line in rows["shopping"]] == [
        purchase.name for purchase in plan.shopping
    ]
    assert len(rows["evening_before"]) == len(plan.evening_before)
    for row, line in zip(rows["evening_before"], plan.evening_before, strict=True):
        assert row == f"{row.split()[0]} Tilda: {line}"
    assert len(rows["afterwards"]) == len(plan.after_tasks) > 0
    assert len(rows["cautions"]) == len(plan.cautions)
    assert all(caution["by"] for caution in rows["cautions"])


def test_the_pdf_is_tagged_and_the_same_each_time(plan: DayPlan):
    made = day_sheet_pdf(plan)
    assert made.startswith(b"%PDF-1.7")
    assert b"/StructTreeRoot" in made
    assert b"/Lang" in made
    assert made == day_sheet_pdf(plan)
    assert made != day_sheet_pdf(plan, page="a4")


@pytest.mark.skipif(TO_TEXT is None, reason="poppler's pdftotext is not here")
def test_what_was_typed_is_printed_as_typed(plan: DayPlan, tmp_path: Path):
    """A name that looks like a program of the printer's is a name."""
    typed = '#panic("x") *bold* $x$ \\ <b> @ref // — ½ é'
    named = replace(
        plan,
        day=replace(plan.day, name=typed),
        cautions=(Caution(typed, typed),),
        evening_before=(typed,),
    )
    text = text_of(day_sheet_pdf(named), tmp_path)
    assert text.count(typed) >= 4


@pytest.mark.parametrize(
    "name", ["日本 jam", "🍒 day", "a bell\x07", "عيد", " ", "x" * 300]
)
def test_a_name_in_any_letters_still_prints(plan: DayPlan, name: str):
    named = replace(plan, day=replace(plan.day, name=name))
    assert day_sheet_pdf(named).startswith(b"%PDF")


@pytest.mark.skipif(TO_TEXT is None, reason="poppler's pdftotext is not here")
def test_the_paper_holds_what_the_rows_hold(plan: DayPlan, rows: dict, tmp_path: Path):
    text = text_of(day_sheet_pdf(plan), tmp_path)
    assert rows["title"] in text
    assert "an invented example" in text
    for person in rows["people"]:
        assert person["name"] in text
    for load in rows["loads"]:
        assert load["name"].capitalize() in text
    assert rows["shopping"][0]["buy"] in text
    assert "The evening before" in text
    assert "Take care" in text


def test_a_rest_that_was_planned_again_has_no_load_that_is_out(
    plan: DayPlan, rows: dict
):
    loads = sorted(plan.answer.timetable.loads, key=lambda load: load.out_min)
    rest = day_sheet_rows(plan, again=Again(minute=loads[0].out_min, at="10:17"))
    assert len(rest["loads"]) == len(rows["loads"]) - 1
    assert rest["since"].startswith("Planned again at 10:17: what was over by then is")
    assert rows["since"] == ""
    assert press("day.typ", rest).startswith(b"%PDF")


def test_where_nothing_is_proven_of_a_day_nothing_is_said_of_its_best(plan: DayPlan):
    """No plan of it can end before it begins."""
    nothing = replace(plan.answer, lower_bound_min=0, proven=False)
    said = day_sheet_rows(replace(plan, answer=nothing))["sentence"]
    assert said.endswith(f"done by {clock_time('07:30', nothing.finish_min)}.")
    assert "can end" in day_sheet_rows(plan)["sentence"]


@pytest.mark.skipif(TO_TEXT is None, reason="poppler's pdftotext is not here")
def test_each_page_of_somebodys_steps_says_whose_they_are(
    plan: DayPlan, rows: dict, tmp_path: Path
):
    """The second page of a column hung on the wall without a name."""
    pages = text_of(day_sheet_pdf(plan), tmp_path).split("\f")
    steps = [page for page in pages if "From – to" in page]
    whose = [f"What {person['name']} does" for person in rows["people"]]
    whose += ["What goes on by itself", "What whoever is near does"]
    assert len(steps) > len(whose)
    for page in steps:
        heads = sum(page.count(head) for head in whose)
        assert heads == page.count("From – to")


def test_a_day_without_a_timetable_is_refused_with_what_would_help(plan: DayPlan):
    clash = NoPlan(
        clashes=("the jars need 3 h", "the day ends at 9:00"),
        minimal=True,
        would_help=("end the day at 11:00",),
    )
    with pytest.raises(
        Refused, match=r"need 3 h; the day ends .* end the day at 11:00"
    ):
        day_sheet_pdf(replace(plan, answer=clash))


def test_a_day_without_a_batch_is_refused(plan: DayPlan):
    empty = replace(plan, batches=(), problem=None, answer=None)
    with pytest.raises(Refused, match=r"no batch to print .* say in the day file"):
        day_sheet_pdf(empty)


def test_a_template_that_is_wrong_is_a_mistake_of_the_program():
    with pytest.raises(PaperError, match=r"day\.typ does not compile"):
        press("day.typ", {"title": "nothing else"})


def test_the_command_writes_the_sheet(tmp_path: Path):
    day = tmp_path / "day.toml"
    day.write_text(demo_day_text())
    done = CliRunner().invoke(command, [str(day), "--seconds", "0.5", "--page", "a4"])
    assert done.exit_code == 0, done.output
    assert f"The day sheet is in {tmp_path / 'day.pdf'}." in done.output
    assert (tmp_path / "day.pdf").read_bytes().startswith(b"%PDF")
    assert {p.name for p in tmp_path.iterdir()} == {"day.toml", "day.pdf"}


@pytest.mark.parametrize(
    ("out", "said"),
    [
        (".", "is a folder: give the file in it"),
        ("nowhere/day.pdf", "there is no folder"),
        ("day.toml", "is there already, is no PDF, and was left as it is"),
    ],
)
def test_a_place_that_cannot_be_written_is_said_before_the_search(
    tmp_path: Path, out: str, said: str
):
    day = tmp_path / "day.toml"
    day.write_text(demo_day_text())
    asked = [str(day), "--out", str(tmp_path / out), "--seconds", "3600"]
    done = CliRunner().invoke(command, asked)
    assert isinstance(done.exception, Unreadable)
    assert said in str(done.exception)
    assert day.read_text() == demo_day_text()


def test_a_missing_day_file_is_said(tmp_path: Path):
    done = CliRunner().invoke(command, [str(tmp_path / "no.toml")])
    assert isinstance(done.exception, Unreadable)
    assert "no.toml" in str(done.exception)


@pytest.fixture(scope="module")
def beans_and_tomatoes() -> dict:
    """Beans under pressure beside tomatoes in boiling water, with acid in each jar."""
    canners = (
        Canner(
            name="gauge canner",
            kind=CannerKind.WEIGHTED_GAUGE,
            stands_on=("front left",),
            places={"pint": 8},
        ),
        *kitchen().canners,
    )
    today = day(
        Want(product="green beans", jars=8, jar="pint"),
        Want(product="crushed tomatoes", jars=7, jar="quart"),
        shelf=(
            Lot(name="beans", what="green beans", mass_kg=4.6),
            Lot(name="tomatoes", what="tomatoes", mass_kg=10.5),
            *stores(),
        ),
        kitchen=kitchen(canners=canners),
    )
    planned = plan_the_day(today, seconds=0.2)
    assert isinstance(planned, DayPlan)
    return day_sheet_rows(planned)


def test_a_recipe_by_the_jar_is_told_in_jars_and_its_acid_by_the_jar(
    beans_and_tomatoes: dict,
):
    """Seven quarts: "14 tbsp, into each jar" was seven times the acid of a jar."""
    recipes = {r["batches"][0]["id"]: r for r in beans_and_tomatoes["recipes"]}
    tomatoes = recipes["crushed tomatoes 1"]
    assert tomatoes["made"] == "7 quart jars in a pot"
    (acid,) = [p for p in tomatoes["parts"] if p["name"] == "bottled lemon juice"]
    assert acid["quantity"] == "14 tbsp"
    assert acid["prep"] == "2 tbsp into each jar"


def test_a_recipe_by_the_pound_is_told_in_pounds():
    """Twelve pounds of apples were headed "12 quart jars in a pot", and dry are two."""
    today = day(
        Want(product="dried apples", jars=2, jar="quart"),
        Want(product="frozen green beans", jars=6, jar="pint"),
        shelf=(
            Lot(name="apples", what="apples", mass_kg=5.5),
            Lot(name="beans", what="green beans", mass_kg=4.0),
            *stores(),
        ),
    )
    planned = plan_the_day(today, seconds=0.2)
    assert isinstance(planned, DayPlan)
    rows = day_sheet_rows(planned)
    made = {r["batches"][0]["id"]: r["made"] for r in rows["recipes"]}
    assert made == {"dried apples 1": "12 lb", "frozen green beans 1": "6 pints"}


def test_a_part_is_named_once_and_what_is_optional_is_if_wanted(
    beans_and_tomatoes: dict,
):
    """It said "11 cups water, boiling water" and "8 tsp salt, (if wanted)"."""
    recipes = {r["batches"][0]["id"]: r for r in beans_and_tomatoes["recipes"]}
    preps = {p["name"]: p["prep"] for p in recipes["green beans 1"]["parts"]}
    assert preps["salt"] == "if wanted"
    assert preps["water"] == "boiling"


def test_what_boils_gently_is_not_told_to_boil_hard(beans_and_tomatoes: dict):
    said = [line for r in beans_and_tomatoes["recipes"] for line in r["how"]]
    assert "5 min at a gentle boil." in said
    assert not any("hard" in line.lower() for line in said)


def test_a_load_has_its_pressure_beside_its_minutes(beans_and_tomatoes: dict):
    loads = {load["canner"]: load for load in beans_and_tomatoes["loads"]}
    assert loads["gauge canner"]["pressed"] == " at 15 psi"
    assert loads["canner"]["pressed"] == ""
    near = {line["what"]: line["until"] for line in beans_and_tomatoes["near"]}
    assert near["Close the vent; at 15 psi the clock starts"].startswith(
        "the clock starts at 15 psi; if the pressure falls"
    )
    alone = {line["what"] for line in beans_and_tomatoes["alone"]}
    assert not alone & set(near)
    assert {
        "Vent: 10 min of steady steam",
        "No pressure left: open the vent, wait 10 min",
        "Fire off, lid off: jars stay in, 5 min at least",
    } <= set(near)
    (off,) = [what for what in near if what.startswith("Fire off: do not touch, ")]
    assert int(off.split()[-2]) >= 30  # pints, published; a plan may lift them later
    assert beans_and_tomatoes["pressed"]


def test_every_process_has_its_line_at_the_canners(beans_and_tomatoes: dict):
    """Those in boiling water were left out, and "Fire off" came out of nowhere."""
    near = [line["what"] for line in beans_and_tomatoes["near"]]
    loads = beans_and_tomatoes["loads"]
    wanted = {f"Process {load['minutes']} min{load['pressed']}" for load in loads}
    assert "" in {load["pressed"] for load in loads}
    assert wanted == {what for what in near if what.startswith("Process")}


def test_how_long_a_pressure_canner_rests_is_told_once(beans_and_tomatoes: dict):
    """ "40 min before the first jar", then "10 min more", read as 50."""
    near = [line["what"] for line in beans_and_tomatoes["near"]]
    (rule,) = [said for said in beans_and_tomatoes["clock_rules"] if "psi" in said]
    shut = int(re.search(r"never with water, (\d+) min by the plan", rule)[1])
    (off,) = [what for what in near if what.startswith("Fire off: do not touch, ")]
    assert shut <= int(off.split()[-2])  # a plan may lift them later
    assert shut >= 30
    assert "wait 10 min more" in rule
    assert "before the first jar" not in rule


def test_a_long_process_has_two_inches_over_the_lids(beans_and_tomatoes: dict):
    """USDA Guide 1: 2 inches where a process is longer than 30 min."""
    lines = [line for p in beans_and_tomatoes["people"] for line in p["lines"]]
    (lowered,) = [line for line in lines if line["what"] == "Lower 7 jars"]
    assert lowered["until"].startswith("2 inches (5 cm) of water over the lids")


def test_what_is_left_out_is_on_the_sheet_with_what_becomes_of_its_fruit():
    """The counter takes one batch of two: what is pinned up says so as well."""
    berries = Lot(
        name="berries",
        what="strawberries",
        mass_kg=4.0,
        use_by=dt.date(2026, 8, 23),
    )
    today = day(
        Want(product="strawberry jam", jars=18, jar="half-pint"),
        shelf=(berries, *stores()),
        kitchen=kitchen(counter_places=10),
    )
    planned = plan_the_day(today, seconds=0.2)
    assert isinstance(planned, DayPlan)
    (line,) = day_sheet_rows(planned)["unmet"]
    assert line.startswith("strawberry jam 2: 9 half-pint jars. ")
    assert "Instead: Freeze berries today" in line


def test_what_is_due_in_another_year_says_so_on_paper():
    beans = Lot(name="beans", what="green beans", mass_kg=4.6)
    today = day(
        Want(product="frozen green beans", jars=6, jar="pint"),
        shelf=(beans, *stores()),
    )
    planned = plan_the_day(today, seconds=0.0)
    assert isinstance(planned, DayPlan)
    due = [t for t in day_sheet_rows(planned)["afterwards"] if "Use up" in t]
    assert len(due) == 1
    assert f" {today.date.year + 1}, " in due[0]


def test_a_cup_has_its_grams_beside_it_on_paper(plan: DayPlan, rows: dict):
    """The page of a batch said what its sugar weighs, and the sheet had cups alone."""
    parts = [part for recipe in rows["recipes"] for part in recipe["parts"]]
    sugar = [part for part in parts if part["name"] == "sugar"]
    assert sugar
    assert all(part["weighs"].endswith("g") for part in sugar)
    assert all("(6 mm) of headspace" in " ".join(r["how"]) for r in rows["recipes"])


def test_a_card_of_who_writes_metric_has_litres_and_what_is_printed():
    cook = replace(kitchen(), metric=True)
    jelly = (Want(product="plum jelly", jars=8, jar="half-pint"),)
    one = day(*jelly, kitchen=cook)
    plan = plan_the_day(one, seconds=0.2)
    assert isinstance(plan, DayPlan)
    (card,) = day_sheet_rows(plan)["recipes"]
    parts = {part["name"]: (part["quantity"], part["weighs"]) for part in card["parts"]}
    assert parts["plum juice"] == ("1.18 L (5 cups)", "1.24 kg")
    assert parts["sugar"] == ("1.4 kg (7 cups)", "")
    assert parts["regular powdered pectin"] == ("1 package", "50 g")
    assert any("1.18 L" in batch["from"] for batch in card["batches"])
