import datetime as dt
import threading
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.records.days import Records, open_records
from stillroom.records.ledger import Entry, MovedOn

NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)


def entry(body: str = "{}", at: dt.datetime = NOON) -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=at)


def test_a_stream_not_yet_begun_is_empty(records: Records):
    assert records.ledger.read("run/x") == ()
    assert records.ledger.last("run/x") == 0
    assert records.ledger.latest("run/x") is None


def test_entries_come_back_in_order_with_what_was_written(records: Records):
    assert records.ledger.append("run/x", [entry('{"n":1}'), entry('{"n":2}')], after=0)
    records.ledger.append("run/x", [entry('{"n":3}')], after=2)
    found = records.ledger.read("run/x")
    assert [(e.sequence, e.body) for e in found] == [
        (1, '{"n":1}'),
        (2, '{"n":2}'),
        (3, '{"n":3}'),
    ]
    assert {(e.kind, e.version, e.occurred_at) for e in found} == {
        ("jar-dropped", 1, NOON)
    }
    assert records.ledger.read("run/x", after=2) == found[2:]
    assert records.ledger.latest("run/x") == found[2]


def test_the_newest_stream_is_the_one_that_was_begun_last(records: Records):
    assert records.ledger.newest_stream("run/") is None
    records.ledger.append("run/2", [entry()], after=0)
    records.ledger.append("run/1", [entry()], after=0)
    records.ledger.append("day", [entry()], after=0)
    assert records.ledger.newest_stream("run/") == "run/1"
    records.ledger.append("run/2", [entry()], after=1)  # it comes late
    assert records.ledger.newest_stream("run/") == "run/1"
    assert records.ledger.newest_stream("run_") is None


def test_the_streams_that_were_last_written_to_come_in_that_order(records: Records):
    def last(prefix: str, most: int = 9) -> tuple[str, ...]:
        return records.ledger.last_written_streams(prefix, most=most)

    assert last("run/") == ()
    records.ledger.append("run/2", [entry()], after=0)
    records.ledger.append("run/1", [entry()], after=0)
    assert last("run/") == ("run/1", "run/2")
    records.ledger.append("run/2", [entry()], after=1)
    records.ledger.append("day", [entry()], after=0)
    assert last("run/") == ("run/2", "run/1")
    assert last("run/", most=1) == ("run/2",)
    assert last("run_") == ()


def test_streams_do_not_mix(records: Records):
    records.ledger.append("a", [entry("1")], after=0)
    records.ledger.append("b", [entry("2"), entry("3")], after=0)
    assert [e.body for e in records.ledger.read("a")] == ["1"]
    assert records.ledger.last("b") == 2


@pytest.mark.parametrize("after", [0, 2, 7])
def test_a_stream_that_moved_on_is_refused_and_nothing_is_written(
    records: Records, after: int
):
    records.ledger.append("run/x", [entry("1")], after=0)
    with pytest.raises(MovedOn, match=r"run/x has moved on: .* now at number 1"):
        records.ledger.append("run/x", [entry("2")], after=after)
    assert [e.body for e in records.ledger.read("run/x")] == ["1"]


def test_a_time_without_a_zone_is_refused(records: Records):
    with pytest.raises(ValueError, match="jar-dropped needs a time zone"):
        records.ledger.append("x", [entry(at=NOON.replace(tzinfo=None))], after=0)


def test_a_time_in_another_zone_is_the_same_moment(records: Records):
    there = NOON.astimezone(dt.timezone(dt.timedelta(hours=-7)))
    records.ledger.append("x", [entry(at=there)], after=0)
    assert records.ledger.read("x")[0].occurred_at == NOON


def test_writers_side_by_side_lose_nothing(file: Path):
    """Four hands, read-then-write: every number once, and who came late was told."""
    done: list[str] = []
    with open_records(file) as records:

        def write(name: str) -> None:
            for n in range(25):
                while True:
                    last = records.ledger.last("x")
                    try:
                        records.ledger.append("x", [entry(f"{name}{n}")], after=last)
                    except MovedOn:
                        continue
                    done.append(f"{name}{n}")
                    break

        hands = [threading.Thread(target=write, args=(name,)) for name in "abcd"]
        for hand in hands:
            hand.start()
        for hand in hands:
            hand.join()
        found = records.ledger.read("x")
    assert [e.sequence for e in found] == list(range(1, 101))
    assert sorted(e.body for e in found) == sorted(done)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0")),
            st.datetimes(timezones=st.just(dt.UTC)),
        ),
        max_size=5,
    )
)
def test_whatever_is_written_is_read_back(tmp_path_factory, written):
    with open_records(tmp_path_factory.mktemp("ledger") / "x.db") as records:
        entries = [entry(body, at) for body, at in written]
        assert records.ledger.append("x", entries, after=0) == len(entries)
        found = records.ledger.read("x")
    assert [(e.body, e.occurred_at) for e in found] == written
