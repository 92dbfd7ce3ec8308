"""What is done with jars whatever they hold: wash, heat, fill, wipe, close."""

from __future__ import annotations

from stillroom.book.jars import needs_sterile_jars, sterilise_jars_min
from stillroom.jar_count import counted, jars_said, plural
from stillroom.measures import depth
from stillroom.methods import handling as hand
from stillroom.methods.learned import Share
from stillroom.methods.method import Filling, Material
from stillroom.methods.step import Link, Skill, Step
from stillroom.methods.today import AirToday


def lids_for(jars: int) -> int:
    """
    Lids to set out: one a jar, and one in twenty to spare.

    >>> lids_for(39), lids_for(8), lids_for(0)
    (41, 9, 0)
    """
    return jars + to_spare(jars)


def to_spare(jars: int, seals: Share | None = None) -> int:
    """
    Jars, or lids, to set out beyond those that are filled.

    One in twenty; where her own seals were learned, enough on nineteen days in twenty.

    >>> to_spare(39), to_spare(8), to_spare(0)
    (2, 1, 0)
    """
    if seals is not None:
        return seals.enough(jars)
    return -(-jars // hand.SPARE_LID_ONE_IN)


def jar_materials(jar: str, jars: int) -> tuple[Material, ...]:
    """Jars and lids of a batch; spare lids are counted for the whole day."""
    return (
        Material(name=f"{jar} jars", count=jars),
        Material(name="lids", count=jars),
    )


HEAT_JARS = "heat_jars"
"""The step in which jars stand in hot water, or are boiled."""
_HOT_IN = {
    False: "in the canner's water or a basin from the kettle",
    True: "in a basin from the kettle, not in the pressure canner: its water is too "
    "low, and it may be at work",
}
"""Where jars are heated, by whether their canner is one for pressure."""


def before_filling(filling: Filling, air: AirToday) -> list[Step]:
    """Wash the jars, and heat them: boiled where the process is short."""
    jar, jars, process = filling.jar, filling.jars, filling.process
    wash = hand.for_count(hand.WASH_JARS_MIN, jars)
    nicks = "look for nicks with a fingertip"
    if process is None or needs_sterile_jars(process.minutes, process.pressure_psi):
        boil = sterilise_jars_min(air.elevation_ft)
        heat = Step(
            id=HEAT_JARS,
            verb=f"Boil {jars_said(jars, f'empty {jar}')} for {boil} min",
            end_sign=f"{boil} min at a full boil, water 1 inch above them",
            duration_min=boil + hand.HEAT_JARS_MIN,
            spread=hand.spread_of(boil + hand.HEAT_JARS_MIN),
            basis=f"published sterilising time, {hand.HEAT_JARS_MIN} min to the boil",
            burner_w=1_000.0,
            note="no process of 10 min or more follows, so the jars are sterilised; "
            f"{hand.HEAT_JARS_MIN} min to the boil are in it",
        )
    else:
        heat = Step(
            id=HEAT_JARS,
            verb=f"Stand {jars_said(jars, jar)} in hot water",
            end_sign="hot through when they are filled",
            duration_min=hand.HEAT_JARS_MIN,
            spread=hand.spread_of(hand.HEAT_JARS_MIN),
            basis=hand.BASIS,
            note=f"{_HOT_IN[process.pressure_psi is not None]}; one jar to spare",
        )
        nicks += "; the one to spare too"
    return [
        Step(
            id="wash_jars",
            verb=f"Wash {jars_said(jars, jar)}",
            end_sign="clean, no nick on any rim",
            duration_min=wash,
            spread=hand.spread_of(wash),
            basis=hand.BASIS,
            attention_quarters=3,
            skill=Skill.COLD,
            note=nicks,
        ),
        heat,
    ]


BOILING_SUGAR = "Boiling sugar sticks and burns. Hot food into hot jars only."
BOILING_FOOD = "Boiling hot: it scalds. Hot food into hot jars only."
BOILING_BRINE = "Boiling brine scalds. Hot jars only; cold glass cracks."


def fill_and_close(
    filling: Filling,
    headspace_in: float,
    *,
    gels: bool = False,
    sweet: bool = True,
    over_raw: bool = False,
) -> list[Step]:
    """
    Fill hot jars, wipe the rims, put the lids on.

    The food is ladled in boiling, ``sweet`` or not; ``over_raw`` its brine alone is,
    over what was packed cold.
    """
    caution, note = BOILING_SUGAR if sweet else BOILING_FOOD, "while it bubbles"
    if over_raw:
        caution, note = BOILING_BRINE, "the brine boiling, over what is packed"
    jar, jars = filling.jar, filling.jars
    fill = hand.for_count(hand.FILL_MIN, jars)
    close = hand.for_count(hand.WIPE_AND_LID_MIN, jars)
    return [
        Step(
            id="fill",
            verb=f"Fill {jars_said(jars, jar)}",
            end_sign=f"{depth(headspace_in)} headspace in each",
            duration_min=fill,
            spread=hand.spread_of(fill),
            basis=hand.BASIS,
            attention_quarters=4,
            skill=Skill.PAN,
            in_pot=True,
            put_up=True,
            critical=True,
            caution=caution,
            note="at once: it gels in the pot" if gels else note,
        ),
        Step(
            id="wipe_and_lid",
            verb=f"Wipe {counted(jars, 'rim')}, {plural(jars, 'lid')} on",
            end_sign="bands fingertip tight",
            duration_min=close,
            spread=hand.spread_of(close),
            basis=hand.BASIS,
            attention_quarters=3,
            skill=Skill.COLD,
            note="new lids; clean damp cloth",
        ),
    ]


def wash_pot() -> Step:
    """Wash the pot: it is not free before."""
    return Step(
        id="wash_pot",
        verb="Wash the pot",
        end_sign="clean and dry",
        duration_min=hand.WASH_POT_MIN,
        spread=hand.spread_of(hand.WASH_POT_MIN),
        rinse_min=hand.RINSE_POT_MIN,
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.COLD,
        in_pot=True,
    )


def jar_links() -> list[Link]:
    """Links among the steps of this file."""
    return [
        Link(before="wash_jars", after=HEAT_JARS),
        Link(
            before=HEAT_JARS,
            after="fill",
            at_most_min=hand.KEEP_JARS_HOT_MIN,
            why="jars are kept hot, not boiled dry",
        ),
        Link(
            before="fill",
            after="wipe_and_lid",
            at_most_min=2,
            why="jars are closed while they are hot",
        ),
        Link(before="fill", after="wash_pot"),
    ]
