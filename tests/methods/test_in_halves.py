"""Long plain work that two may share."""

from dataclasses import replace

import pytest

from stillroom.methods.in_halves import in_halves
from stillroom.methods.method import Work
from stillroom.methods.step import Link, Skill, Spread, Step


def cut(**changes: object) -> Step:
    plain = Step(
        id="cut",
        verb="Cut",
        duration_min=21,
        spread=Spread(low=16, likely=21, high=32),
        attention_quarters=3,
        skill=Skill.KNIFE,
        note="7 lb pears",
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def work(step: Step, ready_after: str = "cook") -> Work:
    cook = Step(id="cook", verb="Cook", duration_min=30)
    return Work(
        steps=(step, cook),
        links=(Link(before="cut", after="cook", at_most_min=60, why="it browns"),),
        ready_after=ready_after,
        closed_wait_at_most_min=0,
    )


def test_two_halves_are_the_whole_and_both_come_before_what_follows():
    whole = cut(note="17 lb, kept from browning")
    halved = in_halves(work(whole), lambda step: True)
    one, other, cook = halved.steps
    assert (one.id, one.duration_min) == ("cut", 11)
    assert (other.id, other.duration_min) == ("cut_other_half", 10)
    assert one.verb == other.verb == "Cut: half of it"  # either may come first
    for half in (one, other):
        assert half.note == "in all 17 lb, kept from browning"
    assert one.spread is not None
    assert one.spread.low <= one.duration_min <= one.spread.high
    assert cook.duration_min == 30
    assert [(k.before, k.after, k.at_most_min) for k in halved.links] == [
        ("cut", "cook", 60),
        ("cut_other_half", "cook", 60),
    ]


@pytest.mark.parametrize(
    "step",
    [
        cut(duration_min=9),  # short
        cut(attention_quarters=2),  # watched, not worked at
        cut(skill=Skill.PAN),
        cut(in_pot=True),
        cut(on_mill=True),
        cut(same_hands="pan"),
        cut(critical=True),
    ],
)
def test_what_cannot_be_shared_stays_whole(step):
    assert in_halves(work(step), lambda step: True) == work(step)


def test_it_stays_whole_where_one_works_alone_or_it_closes_the_jars():
    assert in_halves(work(cut()), lambda step: False) == work(cut())
    closing = work(cut(), ready_after="cut")
    assert in_halves(closing, lambda step: True) == closing
