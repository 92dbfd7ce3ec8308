"""
Twenty soft plum jellies, with powder, filled on a Tuesday at 15:10 (invented).

On Wednesday at nine it moves when tipped; on Friday afternoon it is still soft.
"""

from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile_write import write_day
from tests.cli.running import run
from tests.kitchens import CUP, day, stores

ASKED = ("remake", "--jars", "20", "--filled", "2026-09-01T15:10")


def test_wednesday_is_too_early():
    said = run(*ASKED, "--now", "2026-09-02T09:00")
    text = " ".join(said.out.split())
    assert text.startswith("18 h: too early. Look Fri 4 Sep, 15:10")
    assert "for the last time Tue 15 Sep" in text
    body = run(*ASKED, "--now", "2026-09-02T09:00", "--json").json
    assert body["do"] == "wait"
    assert body["remake"] is None


def test_friday_a_trial_cup_and_four_batches_of_what_is_left():
    body = run(
        *ASKED, "--now", "2026-09-04T16:00", "--elevation", "310m", "--json"
    ).json
    made = body["remake"]
    assert made["trial_cups"] == 1.0
    assert (made["batches"], made["cups_each"]) == (4, 4.75)
    trial = {i["name"]: (i["quantity"], i["unit"]) for i in made["trial_ingredients"]}
    assert trial["regular powdered pectin"] == (1.0, "tsp")  # 4 tsp to the quart
    amounts = {i["name"]: (i["quantity"], i["unit"]) for i in made["ingredients_each"]}
    assert amounts["sugar"] == (19 / 64, "cup")
    assert amounts["water"] == (19 / 32, "cup")
    assert amounts["lemon juice"] == (2.375, "tbsp")
    assert amounts["regular powdered pectin"] == (4.75, "tsp")
    assert made["boil_min"] == 0.5
    sugar = trial["sugar"][0] + made["batches"] * amounts["sugar"][0]
    assert sugar * 200 == 250  # grams in all
    assert made["jars"] == [20, 23]
    assert made["lids"] >= 23
    assert body["process_min"] == 10


def test_all_that_is_to_be_fetched_is_said_once_and_powder_by_her_own_spoon():
    friday = (*ASKED, "--now", "2026-09-04T16:00")
    said = " ".join(run(*friday, "--teaspoon", "3.1g").out.split())
    whole = (
        "In all: 1 1/4 cups sugar (250 g), 2 1/2 cups water, 1/2 cup + 2 tbsp bottled "
        "lemon juice and 20 tsp regular powdered pectin (62 g by your spoon)."
    )
    assert whole in said
    unweighed = " ".join(run(*friday).out.split())
    assert "20 tsp regular powdered pectin." in unweighed
    assert "by your spoon" not in unweighed
    assert run(*friday, "--teaspoon", "50g").code == 2


def test_sterilised_jars_are_asked_for_where_the_process_is_short():
    friday = (*ASKED, "--now", "2026-09-04T16:00")
    enough = "Jars need no sterilising"
    assert enough in run(*friday, "--elevation", "310m").out
    assert enough not in run(*friday, "--elevation", "300m").out  # 5 min there


def test_never_all_in_one_pot_and_never_old_lids():
    text = " ".join(run(*ASKED, "--now", "2026-09-04T16:00").out.split())
    assert "never all in one pot" in text
    assert "new lids; an old lid is never used again" in text
    assert "trial" in text
    assert "package" not in text  # spoons are never turned into boxes


def test_the_remake_can_enter_a_timetable(tmp_path):
    shelf = (
        Lot(name="soft plum jelly", what="soft jelly", volume_m3=20 * CUP),
        Lot(name="lemon juice", what="bottled lemon juice", volume_m3=2 * CUP),
        *stores(),
    )
    wanting = day(Want(product="remade jelly", jars=20, jar="half-pint"), shelf=shelf)
    file = tmp_path / "remake.toml"
    file.write_text(write_day(wanting), encoding="utf-8")
    plan = run("plan", str(file), "--seconds", "3", "--json").json
    assert len(plan["batches"]) == 5  # by the quart, as printed
    assert {load["process_min"] for load in plan["loads"]} == {10}
    assert all(s["id"] != "hard_boil" or s["end_min"] for s in plan["steps"])
    verbs = {s["verb"] for s in plan["steps"]}
    assert any(verb.startswith("Open 4 soft jars") for verb in verbs)
