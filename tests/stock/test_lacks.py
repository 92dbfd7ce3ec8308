"""A process that was short, refused or unknown; a load on hold: what they bar."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.book.trouble import troubles_for
from stillroom.refusal import Refusal
from stillroom.stock.after import day_after, open_of
from stillroom.stock.choices import Choices
from stillroom.stock.commands import Hold, Label, Process
from stillroom.stock.cover import pantry_count
from stillroom.stock.discarding import REDO_WITHIN_H
from stillroom.stock.due import due_process
from stillroom.stock.events import Doubt, Hand, Seen, Way
from stillroom.stock.first import use_first
from stillroom.stock.lacks import (
    BEGUN_WITHIN_MIN,
    Lack,
    is_in_doubt,
    lack_of,
    lack_words,
)
from stillroom.stock.lotcode import printed
from stillroom.stock.making import check_missed, holds
from tests.stock.kitchen import Farm

MOUTHS = (Way.EATEN, Way.TASTED, Way.DRAWN)
OTHERS = (Way.SOLD, Way.GIVEN)


def put_up(
    what: str,
    *,
    jar: str = "quart",
    minutes: int | None = 40,
    canner: str = "boiling-water",
    pack: str | None = None,
    food: str = "",
    elevation_ft: float | None = 1017,
    **batch: object,
) -> Farm:
    """Eight jars, filled at 7:30 and out at 8:15; it is 9:00."""
    farm = Farm()
    due = due_process(what, jar, elevation_ft=elevation_ft, canner=canner, pack=pack)
    said = {"filled_at": "07:30", "out_at": "08:15", **batch}
    no = farm.made(
        f"8 {jar}s {what}, pantry",
        food=food,
        canner=canner,
        process_min=minutes,
        due_min=due.minutes,
        due_source=due.words,
        elevation_ft=elevation_ft,
        pack=pack or "",
        **said,
    )
    assert no is None
    return farm


def deeds(farm: Farm) -> set[str]:
    choices = open_of(farm.stock, farm.last, farm.at).choices
    assert isinstance(choices, Choices)
    return {trouble.do for trouble in choices.troubles}


def is_barred(farm: Farm, ways: tuple[Way, ...] = (*MOUTHS, *OTHERS)) -> bool:
    refused = [isinstance(farm.take(farm.last, "1", way), Refusal) for way in ways]
    assert len(set(refused)) == 1, dict(zip(ways, refused, strict=True))
    return refused[0]


@pytest.mark.parametrize(
    ("what", "jar"),
    [
        ("green beans", "quart"),
        ("pumpkin butter", "half-pint"),
        ("beans", "pint"),
        ("chicken soup", "quart"),
        ("spaghetti sauce without meat", "pint"),
        ("Mexican tomato sauce", "pint"),
    ],
)
def test_low_acid_food_out_of_boiling_water_counts_as_never_processed(what, jar):
    farm = put_up(what, jar=jar)
    farm.later(1)
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    lot = open_of(farm.stock, farm.last, farm.at)
    assert "counts as never" in lot.choices_of
    assert "no such process is published" in lot.process
    assert not lot.seals  # no lid says anything of it
    assert deeds(farm) == {"discard"}
    assert use_first(farm.stock, farm.at) == ()
    assert pantry_count(farm.stock, farm.last, farm.at) == (0, 0)
    assert is_barred(farm)
    for to in ("stand", "cellar shelf"):
        assert "counts as none" in farm.move(farm.last, to, "2").reason
    farm.move(farm.last, "refrigerator")
    assert "discard it untasted" in farm.take(farm.last, "1", Way.EATEN).instead
    assert farm.take(farm.last, "8", Way.SPOILED, why="no process") is None


@pytest.mark.parametrize(
    ("what", "jar"), [("green beans", "pint"), ("lemon curd", "half-pint")]
)
def test_what_is_to_be_discarded_is_not_told_to_be_frozen_in_the_same_breath(what, jar):
    farm = put_up(what, jar=jar, minutes=20)
    farm.later(1)
    lot = open_of(farm.stock, farm.last, farm.at)
    said = " ".join((*lot.held, *(t.advice for t in lot.choices.troubles)))
    assert "Discard it untasted, jars and all" in said
    assert "so it counts as none" in said
    for other in ("freeze", "refrigerate", "pressure canner", "fig"):
        assert other not in said.casefold()
    due = due_process(what, jar, elevation_ft=1017).words
    assert "published" in due  # it says why, and not what might have been done
    assert "freeze" not in due


def test_figs_that_were_never_processed_are_still_found_in_the_book():
    late, soon = troubles_for("figs never processed", food="low_acid")
    assert (late.do, soon.within_h) == ("discard", REDO_WITHIN_H)
    assert "figs" in late.cause


def test_low_acid_food_is_as_it_was_where_its_process_was_whole():
    farm = put_up("green beans", canner="dial-gauge", minutes=25, pack="raw")
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None


@pytest.fixture
def figs() -> Farm:
    """Figs with 40 of 55 min, out at 8:15; it is 9:00."""
    return put_up("figs", food="fruit")


def test_a_short_process_counts_as_none_from_the_first(figs: Farm):
    assert lack_of(figs.stock, figs.last) is Lack.SHORT
    lot = open_of(figs.stock, figs.last, figs.at)
    assert lot.choices_of == "Processed too short: counts as never"
    assert lot.choices.left(figs.at) == dt.timedelta(minutes=75)
    assert deeds(figs) == {"reprocess"}
    assert is_barred(figs)
    assert "40 min, too short" in figs.move(figs.last, "stand", "2").reason
    figs.later(2)
    assert deeds(figs) == {"discard"}
    (why,) = holds(figs.stock, figs.last)
    assert why == "its process was 40 min, and 55 min are due"


@pytest.mark.parametrize("what", ["quick fresh-pack dill pickles", "applesauce"])
def test_acid_food_that_was_processed_too_short_has_its_own_reason(what):
    farm = put_up(what, jar="pint", minutes=5, pack=None)
    assert lack_of(farm.stock, farm.last) is Lack.SHORT
    assert deeds(farm) == {"reprocess"}
    farm.later(2)
    choices = open_of(farm.stock, farm.last, farm.at).choices
    strict, ask = choices.troubles
    assert (strict.do, ask.do) == ("discard", "refrigerate")
    assert "low-acid" not in strict.then
    assert not open_of(farm.stock, farm.last, farm.at).all_to_discard
    assert is_barred(farm)
    assert "hold it in the refrigerator" in farm.move(farm.last, "stand", "2").instead
    assert farm.move(farm.last, "refrigerator") is None
    no = farm.take(farm.last, "1", Way.EATEN)
    assert "no source here says that it may be eaten, acid as it is" in no.reason
    assert "ask your extension service" in no.instead
    assert farm.take(farm.last, "8", Way.SPOILED, why="too short") is None


def test_a_short_process_of_jelly_has_the_hours_of_one_never_processed():
    farm = put_up("plum jelly", jar="half-pint", minutes=5, food="jelly")
    assert is_barred(farm)
    assert deeds(farm) == {"reprocess"}
    farm.later(2)
    assert deeds(farm) == {"freeze"}
    choices = open_of(farm.stock, farm.last, farm.at).choices
    assert choices.left(farm.at) == dt.timedelta(hours=20, minutes=30)
    farm.move(farm.last, "refrigerator")
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert is_barred(farm, OTHERS)


@pytest.mark.parametrize("doubt", list(Doubt))
def test_a_load_on_hold_is_eaten_from_nowhere_until_the_hold_is_taken_back(doubt):
    farm = put_up("plum jelly", jar="half-pint", minutes=10, food="jelly")
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.do(Hold(lot=farm.last, doubt=doubt, at=farm.at))
    held = farm.stock.sequence
    farm.later(27 * 24)
    farm.check(farm.last, 7)
    assert is_barred(farm)
    no = farm.take(farm.last, "1", Way.EATEN)
    assert "stillroom stock after" in no.instead
    assert "is on hold" in farm.move(farm.last, "stand", "2").reason
    farm.move(farm.last, "refrigerator", "2")
    no = farm.take(farm.last, "1", Way.EATEN, place="refrigerator")
    assert "is on hold" in no.reason
    farm.mend(held, "it was another load")
    assert farm.take(farm.last, "1", Way.EATEN, place="pantry") is None


def test_seals_unseen_and_a_soft_set_put_no_process_in_doubt():
    farm = put_up("plum jelly", jar="half-pint", minutes=10, food="jelly")
    assert not is_in_doubt(farm.stock, farm.last)
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.later(25)
    farm.check(farm.last, 7, seen=Seen.SOFT)
    assert not is_in_doubt(farm.stock, farm.last)
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_a_wrong_process_is_done_again_as_a_new_lot_within_its_hours(figs: Farm):
    old = figs.last
    again = {"food": "fruit", "filled_at": "09:05", "process_min": 55, "due_min": 55}
    figs.later(2)  # 11:00: booked later than it was done
    assert figs.made("7 quarts figs, pantry", (old, "7"), **again) is None
    assert lack_of(figs.stock, figs.last) is None
    assert figs.stock.balance(old) == 1
    late = again | {"filled_at": "", "out_at": ""}
    no = figs.made("1 quart figs, pantry", (old, "1"), **late)
    assert "too short" in no.reason


@pytest.mark.parametrize(
    ("what", "canner", "elevation_ft"),
    [
        ("bean stew", "boiling-water", 1017.0),
        ("green beans", "dial-gauge", 1017.0),  # in which pack was not said
        ("green beans", "dial-gauge", None),
        ("tomatoes", "boiling-water", 1017.0),
        ("figs", "boiling-water", None),
        ("crushed tomatoes", "boiling-water", None),  # acid by the dose in each jar
    ],
)
def test_what_is_not_known_to_be_acid_waits_until_it_is_known_what_is_due(
    what, canner, elevation_ft
):
    farm = put_up(what, canner=canner, elevation_ft=elevation_ft)
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN
    assert use_first(farm.stock, farm.at) == ()
    no = farm.take(farm.last, "1", Way.EATEN)
    assert "how many are due is not known" in no.reason
    process = open_of(farm.stock, farm.last, farm.at).process
    assert process.endswith("; how many are due is not known")
    knows_it = what != "bean stew"
    assert (f"stock complete {printed(farm.last)}" in no.instead) is knows_it
    assert ("book it anew" in no.instead) is not knows_it
    assert is_barred(farm)
    assert not check_missed(farm.stock, farm.last, farm.at + dt.timedelta(days=9))


def test_acid_food_whose_process_is_not_known_is_held_from_others_alone():
    farm = put_up("plum jelly", jar="half-pint", elevation_ft=None, food="jelly")
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    no = farm.take(farm.last, "1", Way.SOLD)
    assert "stock complete" in no.instead
    assert "seals" not in no.instead


@pytest.mark.parametrize(
    ("what", "jar", "said", "words"),
    [
        ("dilled beans", "quart", {}, "in quart jars, at 1,017 ft (310 m)"),
        ("plum jelly", "quart", {"elevation_ft": None}, "in quart jars;"),
        ("choice salsa", "quart", {}, "in quart jars"),
        ("plum jelly", "pint", {"canner": "dial-gauge"}, "in a dial-gauge canner"),
        ("sauerkraut", "quart", {"pack": "hot", "elevation_ft": 3500}, "hot pack, at"),
    ],
)
def test_acid_food_in_a_jar_that_no_table_of_it_has_counts_as_never_processed(
    what, jar, said, words
):
    """Five quarts of dilled beans stood on the list to eat, with a date of best."""
    farm = put_up(what, jar=jar, **said)
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    assert use_first(farm.stock, farm.at) == ()
    assert is_barred(farm)
    (hold,) = holds(farm.stock, farm.last)
    assert words in hold
    assert "no such process is published for it, so it counts as none" in hold


def test_acid_food_whose_jar_or_pack_was_not_said_may_have_its_process():
    for what, jar in (("plum jelly", "jar"), ("peaches", "quart")):
        farm = put_up(what, jar=jar)
        assert farm.stock.made(farm.last).batch.due_min is None, what
        assert lack_of(farm.stock, farm.last) is None, what


@pytest.mark.parametrize(
    ("what", "jar", "minutes", "elevation_ft", "lack"),
    [
        ("peach and plum jam", "pint", 1, 500, Lack.SHORT),
        ("peach and plum jam", "pint", 5, 500, None),
        ("peach and plum jam", "pint", 5, 1001, Lack.SHORT),
        ("peach and plum jam", "pint", 1, None, Lack.SHORT),
        ("peach and plum jam", "quart", 20, 500, Lack.REFUSED),
        ("peaches", "quart", 24, 500, Lack.SHORT),  # packed hot 25, raw 30
        ("peaches", "quart", 25, 500, None),
        ("peaches", "quart", 20, None, Lack.SHORT),  # pints have 20
    ],
)
def test_less_than_may_be_due_of_acid_food_is_short(
    what, jar, minutes, elevation_ft, lack
):
    """Jam of two fruits with a minute in the canner stood on the list to eat."""
    farm = put_up(what, jar=jar, minutes=minutes, elevation_ft=elevation_ft, food="jam")
    assert farm.stock.made(farm.last).batch.due_min is None
    assert lack_of(farm.stock, farm.last) is lack
    # what is due is not known, so it is on hold, and on no list of what to eat
    assert not use_first(farm.stock, farm.at)


@pytest.mark.parametrize(
    ("what", "minutes", "lack"),
    [
        *(("plum jelly", 4, Lack.SHORT), ("plum jelly", 5, None)),
        *(("peaches", 19, Lack.SHORT), ("peaches", 20, None)),
    ],
)
def test_what_is_shorter_than_all_that_is_printed_is_short_at_every_height(
    what, minutes, lack
):
    farm = put_up(what, jar="pint", minutes=minutes, elevation_ft=None, food="jelly")
    assert lack_of(farm.stock, farm.last) is lack
    assert is_barred(farm, MOUTHS) is (lack is Lack.SHORT)
    assert is_barred(farm, OTHERS)


def test_whole_jars_are_eaten_before_those_in_doubt_are_refused():
    farm = put_up("plum jelly", jar="half-pint", minutes=5, food="jelly")
    short = farm.last
    farm.made("4 half-pints plum jelly, pantry")
    assert farm.take("plum jelly", "1", Way.EATEN) is None
    assert farm.stock.balance(short) == 8
    assert farm.stock.balance(farm.last) == 3


def never() -> Farm:
    """Fig jam that was never put into a canner."""
    return put_up("fig jam", jar="pint", minutes=None, food="jam", out_at="")


def test_jars_that_saw_no_canner_are_told_neither_out_of_it_nor_to_be_looked_at():
    farm = never()
    (load,) = day_after(farm.stock, farm.at)
    assert load.out_at is None
    farm.later(48)
    assert not check_missed(farm.stock, farm.last, farm.at)
    assert not open_of(farm.stock, farm.last, farm.at).missed
    assert holds(farm.stock, farm.last) == (
        "it had no process: sealed is not processed",
    )


def test_a_hold_says_what_ends_it_and_no_lid_ends_a_doubt():
    farm = never()
    assert "seals" not in farm.take(farm.last, "1", Way.SOLD).instead
    assert "stillroom stock after" in farm.take(farm.last, "1", Way.SOLD).instead
    farm = put_up("plum jelly", jar="half-pint", minutes=10, food="jelly")
    assert "look at its seals" in farm.take(farm.last, "1", Way.SOLD).instead
    farm.do(Hold(lot=farm.last, doubt=Doubt.WATER_LOW, at=farm.at))
    no = farm.take(farm.last, "1", Way.SOLD)
    assert "no look at its seals" in no.instead
    assert "stillroom stock mend" in no.instead
    no = farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=farm.at))
    assert "what is in doubt gets no label" in no.instead
    farm.add("6 quart jars pears, pantry")
    assert "stock made" in farm.take(farm.last, "1", Way.SOLD).instead


@pytest.mark.parametrize("way", ["oven", "Dishwasher", "open kettle", "microwave oven"])
def test_what_is_never_a_process_makes_none_of_acid_food(way):
    farm = put_up("plum jelly", jar="half-pint", food="jelly", canner=way)
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    assert is_barred(farm)
    no = farm.move(farm.last, "stand", "2")
    assert f"had 40 min by {way}, which is no process" in no.reason
    farm.later(3)
    assert deeds(farm) == {"freeze"}
    farm.move(farm.last, "refrigerator")
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_what_only_no_table_here_is_of_waits_for_its_source_alone():
    farm = put_up("plum jelly", jar="half-pint", food="jelly", canner="steam canner")
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert farm.take(farm.last, "1", Way.SOLD).reason


@pytest.mark.parametrize(
    ("what", "jar", "canner", "typed", "words"),
    [
        ("green beans", "pint", "dial-gauge", "water bath", "a boiling-water canner"),
        ("plum jelly", "half-pint", "boiling-water", "oven", "by oven, which is no"),
    ],
)
def test_minutes_typed_in_late_are_of_their_own_canner(what, jar, canner, typed, words):
    pack = "raw" if what == "green beans" else None
    farm = put_up(what, jar=jar, canner=canner, minutes=None, pack=pack, out_at="")
    began = farm.at - dt.timedelta(minutes=80)
    told = Process(
        lot=farm.last,
        began=began,
        ended=began + dt.timedelta(minutes=60),
        who="Bram",
        canner=typed,
        at=farm.at,
    )
    assert farm.do(told) is None
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    assert words in "; ".join(holds(farm.stock, farm.last))
    assert is_barred(farm)


@pytest.mark.parametrize("canner", ["pressure canner", "the big old canner"])
def test_a_canner_that_may_be_one_under_pressure_is_asked_about(canner):
    farm = put_up("green beans", canner=canner, minutes=25, pack="raw")
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN
    assert is_barred(farm)
    assert "its canner and gauge" in farm.take(farm.last, "1", Way.EATEN).instead


@pytest.mark.parametrize("canner", ["", "water bath", "steam", "electric multi cooker"])
def test_one_that_is_not_under_a_tested_pressure_makes_no_process(canner):
    farm = put_up("green beans", canner=canner, minutes=25, pack="raw")
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED


@pytest.mark.parametrize(
    ("what", "eaten"),
    [
        *((n, True) for n in ("strawberry rhubarb jam", "Plum and sour cherry jelly")),
        *((n, False) for n in ("strawberry fig jam", "apple pear plum jam")),
        *((n, False) for n in ("white peach plum jam", "plum and jam")),
        ("apple and pear and plum jam", True),
        *((n, False) for n in ("strawberry rhubarb pie filling", "low sugar plum jam")),
        *((n, False) for n in ("strawberry basil jam", "granny's jam")),
    ],
)
def test_jam_of_several_acid_fruits_is_eaten_and_not_sold(what, eaten):
    farm = put_up(what, jar="half-pint", minutes=10)
    assert is_barred(farm, MOUTHS) is not eaten
    assert is_barred(farm, OTHERS)


def test_boiling_water_typed_in_late_is_not_held_to_the_minutes_under_pressure():
    farm = put_up("crushed tomatoes", minutes=None, canner="dial-gauge", pack="hot")
    due = farm.stock.made(farm.last).batch.due_min
    assert due is not None
    began = farm.at - dt.timedelta(minutes=60)
    typed = Process(
        lot=farm.last,
        began=began,
        ended=began + dt.timedelta(minutes=due + 1),
        who="Ada",
        canner="boiling-water",
        at=farm.at,
    )
    assert farm.do(typed) is None
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    assert "what was due was for a dial-gauge canner" in holds(farm.stock, farm.last)[0]


def stood_for(
    what: str, minutes: int | None, *, lost: int = 0, began: str = "09:00", run="run/x"
) -> Farm:
    """Jars of a run at the stove that stood closed for so long before their clock."""
    canner = "dial-gauge" if what == "green beans" else "boiling-water"
    farm = put_up(
        what,
        jar="pint",
        canner=canner,
        minutes=20 if what == "green beans" else 35,
        pack="raw" if what == "green beans" else None,
    )
    made = farm.stock.made(farm.last)
    assert made is not None
    batch = replace(
        made.batch, process_began=began, stood_min=minutes, times_lost=lost, run=run
    )
    stove = Farm()
    stove.later(16)
    stove.stock.apply(replace(made, batch=batch, occurred_at=stove.at))
    return stove


@pytest.mark.parametrize("lost", [0, 1])
@pytest.mark.parametrize(
    ("minutes", "said"),
    [(121, "2 h 1 min"), (690, "11 h 30 min"), (2890, "48 h 10 min")],
)
def test_low_acid_food_that_stood_filled_counts_as_never_processed(minutes, said, lost):
    farm = stood_for("green beans", minutes, lost=lost)
    assert lack_of(farm.stock, farm.last) is Lack.LATE
    opened = open_of(farm.stock, farm.last, farm.at)
    assert "processed too late" in opened.choices_of.lower()
    assert deeds(farm) == {"discard"}
    assert is_barred(farm)
    no = farm.move(farm.last, "stand", "2").reason
    assert f"begun {said} after it was filled: within 2 h is the limit" in no
    assert use_first(farm.stock, farm.at) == ()


@pytest.mark.parametrize("lost", [0, 1])
@pytest.mark.parametrize(
    ("what", "minutes"), [("green beans", 120), ("plums", 60), ("plums", 120)]
)
def test_what_was_begun_in_time_keeps_its_process(what, minutes, lost):
    farm = stood_for(what, minutes, lost=lost)
    assert lack_of(farm.stock, farm.last) is None


def test_acid_food_that_stood_filled_has_no_longer():
    # the 24 h of jars that did not seal are of jars that had their process
    farm = stood_for("plums", 121)
    assert lack_of(farm.stock, farm.last) is Lack.LATE
    assert "within 2 h is the limit" in lack_words(farm.stock, farm.last)
    assert deeds(farm) == {"discard", "refrigerate"}


@pytest.mark.parametrize(
    ("lost", "run", "lack"),
    [
        (0, "run/x", None),  # nobody was asked then: a tap may have come early
        (1, "run/x", Lack.LATE),
        (0, "", Lack.LATE),  # both hours typed by hand
    ],
)
def test_an_entry_of_before_is_held_to_what_it_says(lost, run, lack):
    farm = stood_for("green beans", None, lost=lost, began="10:30", run=run)
    assert lack_of(farm.stock, farm.last) is lack


def test_the_hours_of_a_process_begun_anew_are_those_of_the_book():
    assert REDO_WITHIN_H * 60 == BEGUN_WITHIN_MIN
