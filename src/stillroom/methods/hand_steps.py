"""Steps of hands alone, and what becomes of boxes that go into the cold."""

from __future__ import annotations

from dataclasses import replace

from stillroom.jar_count import counted
from stillroom.measures import depth
from stillroom.methods import handling as hand
from stillroom.methods.method import Checked, Filling, Recipe, Station
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Caution

FILL_BOX_MIN = (1.0, 0.7)
"""Minutes to begin with, and for each box."""
LABEL_BOX_MIN = (1.0, 0.3)
WASH_BOX_MIN = (1.0, 0.3)


def by_hand(
    id: str,
    verb: str,
    end_sign: str,
    minutes: int,
    *,
    skill: Skill = Skill.COLD,
    note: str = "",
    caution: str = "",
    in_pot: bool = False,
    put_up: bool = False,
) -> Step:
    """Return a step that hands do at their own pace."""
    return Step(
        id=id,
        verb=verb,
        end_sign=end_sign,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=skill,
        in_pot=in_pot,
        put_up=put_up,
        note=note,
        caution=caution,
    )


def standing(
    id: str, verb: str, end_sign: str, minutes: int, basis: str, *, note: str = ""
) -> Step:
    """Return a time in which it stands and nobody is needed."""
    return Step(
        id=id,
        verb=verb,
        end_sign=end_sign,
        duration_min=minutes,
        basis=basis,
        note=note,
    )


def through_the_mill(kilos: float, *, sieve: bool = False) -> tuple[Step, Step]:
    """Put soft food through the mill, or by hand through a sieve, and wash that."""
    tool = "sieve" if sieve else "mill"
    minutes = hand.for_count(hand.SIEVE_MIN if sieve else hand.MILL_MIN, kilos)
    mill = by_hand(
        "mill",
        f"Put it through the {tool}",
        "skins and seeds left behind",
        minutes,
        skill=Skill.KNIFE,
        in_pot=True,
    )
    wash = by_hand("wash_mill", f"Wash the {tool}", "", hand.WASH_MILL_MIN)
    return (
        replace(mill, on_mill=True),
        replace(wash, on_mill=True, rinse_min=hand.RINSE_MILL_MIN),
    )


def wash_boxes(filling: Filling) -> Step:
    """Wash the boxes: nothing is boiled that goes into the cold."""
    return by_hand(
        "wash_boxes",
        f"Wash {counted(filling.jars, f'{filling.jar} box')}",
        "clean and dry",
        hand.for_count(WASH_BOX_MIN, filling.jars),
        note="jars only if they are made for the freezer: straight sides",
    )


def fill_boxes(filling: Filling, headspace_in: float, what: str) -> Step:
    """Fill cold food into boxes, with the room that freezing needs."""
    return by_hand(
        "fill",
        f"Fill {counted(filling.jars, f'{filling.jar} box')}",
        f"{depth(headspace_in)} headspace in each",
        hand.for_count(FILL_BOX_MIN, filling.jars),
        note=what,
        put_up=True,
        caution="Food grows as it freezes: too full and the lid lifts.",
    )


def label_boxes(
    filling: Filling, note: str, *, then: str = "into the freezer at once"
) -> Step:
    """Close, label and date the boxes, and say where they go."""
    return by_hand(
        "label",
        f"Close, label and date {counted(filling.jars, 'box')}; {then}",
        "name and date on each, a gap between them",
        hand.for_count(LABEL_BOX_MIN, filling.jars),
        note=note,
    )


def box_links() -> list[Link]:
    """Links among the steps of boxes."""
    return [
        Link(before="wash_boxes", after="fill"),
        Link(before="fill", after="label", at_most_min=20, why="it would warm up"),
    ]


def no_fire_needed(
    recipe: Recipe,
    station: Station,
    outlook: str,
    *cautions: Caution,
    needed_m3: float = 0.0,
) -> Checked:
    """Return the checks of work that a pot hardly limits."""
    return Checked(
        dissolved_m3=0.0,
        pot_needed_m3=needed_m3,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook=outlook,
        cautions=(*recipe.cautions, *cautions),
    )
