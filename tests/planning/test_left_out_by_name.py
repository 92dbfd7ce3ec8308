"""Batches that the day file leaves out by their names: `without` under [day]."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from stillroom.cli.main import cli
from stillroom.paper.sheets import day_sheet_pdf
from stillroom.planning.day import Want
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import check_day, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days.what_if import outcome_of
from stillroom.planning.sentence import first_sentence
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.nothing_made import nothing_made
from stillroom.refusal import Refused, Unreadable, granted
from tests.kitchens import day

JELLY = Want(product="plum jelly", jars=16, jar="half-pint")


def planned(*without: str) -> DayPlan:
    return granted(plan_the_day(day(JELLY, without=without), seconds=0.5))


def test_a_day_that_leaves_out_every_batch_says_so_and_what_to_do():
    plan = planned("plum jelly 1", "plum jelly 2")
    no = nothing_made(plan)
    assert "leaves out every batch that there is: plum jelly 1 and plum jelly 2" in (
        no.reason
    )
    assert "not made (`without` under [day])" in no.instead
    assert "leaves out every batch" in first_sentence(plan)
    assert outcome_of("x", plan.day, plan).why_not == no.reason
    with pytest.raises(Refused, match="leaves out every batch"):
        day_sheet_pdf(plan)


@pytest.mark.parametrize("command", ["plan", "why"])
def test_the_command_line_says_so_too(tmp_path: Path, command: str):
    file = tmp_path / "day.toml"
    file.write_text(write_day(day(JELLY, without=("plum jelly 1", "plum jelly 2"))))
    result = CliRunner().invoke(cli, [command, str(file), "--seconds", "0.5"])
    assert "leaves out every batch" in result.output
    assert (
        "Instead: take a name out of the batches that are not made (`without`"
        in result.output
    )


def test_a_number_that_the_day_does_not_come_to_is_told():
    """A smaller shelf makes fewer batches: that is no fault of the file."""
    plan = planned("plum jelly 2", "plum jelly 7")
    said = [c.text for c in plan.cautions if "leaves out" in c.text]
    assert said == [
        "your day file leaves out plum jelly 2",
        "your day file leaves out plum jelly 7, and this day has no such batch: it "
        "has plum jelly 1, plum jelly 2",
    ]
    assert [b.id for b in plan.batches] == ["plum jelly 1"]


def test_one_of_each_is_counted_in_the_words_for_one(tmp_path: Path):
    file = tmp_path / "day.toml"
    file.write_text(write_day(day(JELLY)))
    said = CliRunner().invoke(cli, ["day", "check", str(file)]).output
    assert "1 person, 7 lots, 1 want." in said


def text(without: str) -> str:
    plain = write_day(day(JELLY, without=("plum jelly 1",)))
    return plain.replace('without = "plum jelly 1"', f'without = "{without}"')


@pytest.mark.parametrize(
    ("without", "said"),
    [
        ("plum jely 2", '"plum jely 2" is no batch .*did you mean "plum jelly 2"'),
        ("plum jelly", '"plum jelly" is no batch .*did you mean "plum jelly 1"'),
        ("plum jelly 0", "is no batch of what is wanted"),
        ("plum jelly 1; zebra 3", r'"zebra 3" is no batch of what is wanted\. A batch'),
    ],
)
def test_a_name_of_nothing_that_is_wanted_is_a_fault(without: str, said: str):
    with pytest.raises(Unreadable, match=said) as caught:
        read_day(text(without))
    (fault,) = caught.value.faults
    assert fault.key == "day.without"
    assert fault.line is not None


def test_a_batch_may_be_called_by_the_name_of_the_want_or_of_the_book():
    want = Want(product="crab apple jelly", jars=8, jar="half-pint")
    for name in ("crab apple jelly 1", "crabapple jelly 1"):
        assert not check_day(write_day(day(want, without=(name,))))


def test_what_is_no_longer_wanted_is_no_longer_left_out():
    butter = Want(product="pear butter", jars=4, jar="pint")
    both = write_day(day(JELLY, butter, without=("plum jelly 2", "pear butter 1")))
    one = changed_day_text(both, "wants.plum jelly=nothing")
    assert read_day(one).without == ("pear butter 1",)
    none = write_day(day(JELLY, butter, without=("plum jelly 2",)))
    assert read_day(changed_day_text(none, "wants.plum jelly=nothing")).without == ()


def test_what_each_want_lacks_is_said_once(tmp_path: Path):
    """Two wants that cannot be met: the refusal below does not print them anew."""
    wants = (
        Want(product="plum jelly", jars=7, jar="quart"),
        Want(product="carrots", jars=4, jar="half-gallon"),
    )
    file = tmp_path / "day.toml"
    file.write_text(write_day(day(*wants)))
    result = CliRunner().invoke(cli, ["plan", str(file), "--seconds", "0.5"])
    assert result.exit_code == 3
    said = " ".join(result.output.split())
    assert said.count("not for quart") == 1
    assert "no batch can be made: what each want lacks is said above" in said
    as_json = CliRunner().invoke(cli, ["plan", str(file), "--seconds", "0.5", "--json"])
    assert "not for quart" in as_json.output
