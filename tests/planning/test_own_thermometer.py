"""A kitchen that knows its thermometer says where to stop on it, all day long."""

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.sheet import day_sheet
from tests.cli.running import run

# Wrenfold at 1,017 ft: water boils near 210.2 °F; this one reads 208.5 (invented).
DAY = (
    new_day_text()
    .replace('elevation = "2150 ft"', 'elevation = "1017 ft"')
    .replace('# thermometer_boils = "208.5 F"', 'thermometer_boils = "208.5 F"')
    .replace('product = "plum jelly"', 'product = "plum jelly, no added pectin"')
)


def end_signs(plan):
    sheet = day_sheet(plan.problem, plan.answer.timetable)
    return [entry.end_sign for entry in sheet.entries]


def test_every_boiled_down_batch_stops_by_her_own_boil():
    plan = plan_the_day(read_day(DAY), seconds=0.5)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    signs = [sign for sign in end_signs(plan) if "drops" in sign]
    assert signs
    for sign in signs:
        assert sign.startswith(
            "216.5 °F (102.5 °C) on your thermometer, "
            "the sheet test asked from 213 °F (101 °C) on, or two drops"
        )


def test_the_plan_says_it_before_the_day(tmp_path):
    file = tmp_path / "day.toml"
    file.write_text(DAY, encoding="utf-8")
    said = run("plan", str(file), "--seconds", "0.5")
    assert "On your thermometer that is 216.5 °F" in said.out
    assert "220" not in said.out  # never a target at this height
