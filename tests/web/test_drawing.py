"""The sheet: nothing covers anything, nothing is lost, minutes are heights."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from stillroom.planning.words.entries import Ink
from stillroom.planning.words.lanes import Block, Lane, LaneKind
from stillroom.planning.words.sheet import Sheet
from stillroom.web.drawing import (
    LINE_PX,
    MOST_PX,
    draw,
    minutes_css,
    runs,
    side_by_side,
)


def block(start: int, end: int, ink: Ink = Ink.HANDS, batch: str = "a") -> Block:
    return Block(
        start_min=start, end_min=end, title=f"{start}-{end}", detail="", ink=ink,
        batch=batch,
    )  # fmt: skip


def sheet(*blocks: Block, starts_at: str = "07:40") -> Sheet:
    lane = Lane(name="Marit", kind=LaneKind.PERSON, blocks=blocks)
    last = max(b.end_min for b in blocks)
    return Sheet(
        starts_at=starts_at, lanes=(lane,), entries=(), first_min=0, last_min=last
    )


blocks = st.lists(
    st.builds(
        lambda start, length, ink, batch: block(start, start + length, ink, batch),
        st.integers(0, 120),
        st.integers(1, 40),
        st.sampled_from(Ink),
        st.sampled_from("ab"),
    ),
    min_size=1,
    max_size=12,
)


@given(blocks)
def test_no_block_covers_another_and_none_is_lost(given_blocks: list[Block]) -> None:
    placed = side_by_side(runs(given_blocks))
    drawn = [b for p in placed for b in p.run.blocks]
    assert sorted(drawn, key=repr) == sorted(given_blocks, key=repr)
    for i, one in enumerate(placed):
        assert 0 <= one.part < one.parts
        for other in placed[i + 1 :]:
            apart = (
                one.at_min + one.for_min <= other.at_min
                or other.at_min + other.for_min <= one.at_min
            )
            same_width = one.parts == other.parts and one.narrow == other.narrow
            assert apart or (same_width and one.part != other.part)


def test_a_card_has_its_headspace_and_no_batch_twice() -> None:
    fill = replace(block(0, 9), room="1 in headspace in each", detail="packed loose")
    assert runs((fill,))[0].details == "1 in headspace in each · packed loose"
    bare = replace(fill, detail=fill.batch)
    assert runs((bare,))[0].details == "1 in headspace in each"
    assert runs((replace(bare, room=""),))[0].details == fill.batch


@given(blocks)
def test_minutes_are_heights_and_the_shortest_run_holds_a_line(
    given_blocks: list[Block],
) -> None:
    drawing = draw(sheet(*given_blocks))
    (column,) = drawing.columns
    for placed in column.placed:
        assert placed.for_min == placed.run.end_min - placed.run.start_min
        assert placed.for_min * drawing.minute_px >= LINE_PX
        assert 0 <= placed.at_min <= placed.at_min + placed.for_min <= drawing.minutes
    assert drawing.minute_px <= MOST_PX


def test_short_blocks_of_one_batch_and_ink_are_drawn_as_one() -> None:
    sugar, boil, skim = (block(s, e, Ink.HELD) for s, e in ((3, 5), (5, 6), (6, 8)))
    other = block(8, 10, Ink.HELD, batch="b")
    watch = block(10, 12, Ink.WATCH, batch="b")
    joined = runs([skim, boil, sugar, other, watch])
    assert [run.blocks for run in joined] == [(sugar, boil, skim), (other,), (watch,)]


def test_the_sheet_begins_and_ends_on_half_hours_of_the_clock() -> None:
    drawing = draw(sheet(block(5, 45)))  # 7:45 to 8:25
    assert [(m.at_min, m.text, m.full_hour) for m in drawing.marks] == [
        (0, "7:30", False),
        (30, "8:00", True),
        (60, "8:30", False),
    ]
    assert drawing.columns[0].placed[0].at_min == 15


def test_the_marks_of_a_night_name_it_once() -> None:
    lane = Lane(name="Marit", kind=LaneKind.PERSON, blocks=(block(40, 190),))
    late = Sheet(
        starts_at="22:40", lanes=(lane,), entries=(), first_min=40, last_min=190
    )
    assert [m.text for m in draw(late).marks] == [
        "23:00", "23:30", "0:00 (next day)", "0:30", "1:00", "1:30", "2:00",
    ]  # fmt: skip
    assert late.from_to(85, 95) == "0:05–0:15 (next day)"


def test_a_narrow_screen_gets_the_chosen_person_or_the_first() -> None:
    lanes = tuple(
        Lane(name=name, kind=LaneKind.PERSON, blocks=(block(0, 9),))
        for name in ("Marit", "Jory")
    )
    whole = Sheet(starts_at="08:00", lanes=lanes, entries=(), first_min=0, last_min=9)
    for who, chosen in (("Jory", "Jory"), ("nobody", "Marit"), ("", "Marit")):
        columns = draw(whole, who=who).columns
        assert [c.lane.name for c in columns if c.chosen] == [chosen]


def test_every_minute_of_a_day_has_its_class() -> None:
    css = minutes_css()
    for rule in (".at-0{", ".at-1440{", ".for-1{", ".for-1440{", ".minute-24{"):
        assert rule in css


def test_what_is_only_watched_leaves_room_to_what_is_done_beside_it() -> None:
    pot = block(0, 30, Ink.WATCH, batch="pot")
    jars = block(5, 12, batch="jars")
    sugar = block(40, 60, batch="sugar")
    stirred = block(45, 70, Ink.WATCH, batch="pot")
    placed = side_by_side(runs([pot, jars, sugar, stirred]))
    found = {p.run.blocks[0].batch + str(p.at_min): (p.part, p.narrow) for p in placed}
    assert found == {
        "pot0": (0, 0),
        "jars5": (1, 0),
        "sugar40": (0, 1),
        "pot45": (1, 1),
    }


@given(blocks)
def test_words_that_reach_below_a_block_meet_no_other(given_blocks: list[Block]):
    (column,) = draw(sheet(*given_blocks)).columns
    for one in column.placed:
        end = one.at_min + one.for_min
        for other in column.placed:
            beside = (one.parts, one.narrow) == (other.parts, other.narrow)
            if other.at_min >= end and not (beside and other.part != one.part):
                assert end + one.hangs_min <= other.at_min


def test_a_minute_alone_has_room_for_all_its_words():
    words = "Boil hard 1 min by the clock, stir all the time"
    alone = replace(block(10, 11, Ink.HELD, batch="sour cherry jelly 2"), title=words)
    drawing = draw(sheet(alone, block(20, 40)))
    one = drawing.columns[0].placed[0]
    assert one.hangs_min > 0
    assert (one.for_min + one.hangs_min) * drawing.minute_px >= one.words_px
    close = draw(sheet(alone, replace(block(11, 40), batch="b")))
    assert close.columns[0].placed[0].hangs_min == 0


def test_what_cannot_be_left_is_read_whole_where_nothing_is_free_below():
    words = "Sugar in, back to a full boil, boil hard 1 min, off the fire, skim, stir"
    held = replace(block(0, 5, Ink.HELD, batch="sour cherry jelly 2"), title=words)
    drawing = draw(sheet(held, block(5, 40)))
    one = drawing.columns[0].placed[0]
    assert one.hangs_min == 0
    assert one.for_min * drawing.minute_px >= one.words_px
