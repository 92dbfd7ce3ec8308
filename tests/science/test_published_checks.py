"""Every published check row against what we answer, one test per table."""

from collections import defaultdict

import pytest
from science.answers import ANSWERS, CONTEXT, checked, is_context, rows, table_of

ROWS = rows()
ASSERTED = defaultdict(list)
for _row in ROWS:
    if not is_context(_row):
        ASSERTED[table_of(_row)].append(_row)


def test_the_file_is_as_it_was_typed():
    assert len(ROWS) == 544
    assert len({row["id"] for row in ROWS}) == 544
    by_topic = defaultdict(lambda: [0, 0.0])
    for row in ROWS:
        try:
            value = float(row["value"])
        except ValueError:
            continue
        by_topic[row["topic"]][0] += 1
        by_topic[row["topic"]][1] += value
    assert {topic: count for topic, (count, _) in by_topic.items()} == COUNTS
    for topic, (_, total) in by_topic.items():
        assert total == pytest.approx(SUMS[topic], rel=1e-12), topic


COUNTS = {
    "water": 85,
    "air": 30,
    "syrup": 182,
    "acid": 57,
    "gel": 11,
    "kettle": 12,
    "jar": 36,
    "lethality": 37,
    "freezing": 13,
    "thermometer": 1,
}
SUMS = {
    "water": 35229.116693349424,
    "air": 7087562.401727568,
    "syrup": 38508.393449999996,
    "acid": 11730.125600000001,
    "gel": 264.3427,
    "kettle": 865.44,
    "jar": 6874.927100000001,
    "lethality": 752.957169,
    "freezing": 414023.0932,
    "thermometer": 1.0,
}


def test_every_row_is_answered_or_has_a_reason():
    for row in ROWS:
        assert is_context(row) or table_of(row), row["id"]
        assert row["source"], row["id"]
        assert row["how_known"] in ("looked_up", "computed", "memory"), row["id"]
    asserted = sum(len(table) for table in ASSERTED.values())
    assert asserted == ASSERTED_ROWS


ASSERTED_ROWS = 475


def test_no_answer_and_no_reason_is_left_over():
    assert set(ANSWERS) == set(ASSERTED)
    for key in CONTEXT:
        assert any(row["id"].startswith(key) for row in ROWS), key


@pytest.mark.parametrize("table", sorted(ASSERTED))
def test_table_is_met_within_its_tolerance(table):
    for row in ASSERTED[table]:
        check = checked(row)
        assert check.worst <= 1.0, (
            f"{row['id']} ({row['quantity']}; {row['inputs']}): {row['source']} has "
            f"{check.printed}, we have {check.ours}, tolerance {check.allowed}"
        )
