"""A canner over its mark, shut fast, or left alone: first the hand, then the food."""

import pytest

from stillroom.book.trouble import troubles_for
from stillroom.refusal import granted

TOO_HIGH, STUCK = "pressure-too-high", "canner-lid-stuck"
SAID = [
    ("pressure too high", TOO_HIGH),
    ("too much pressure", TOO_HIGH),
    ("gauge passed 20 psi", TOO_HIGH),
    ("pressure went over 20", TOO_HIGH),
    ("the needle hit 22 lbs", TOO_HIGH),
    ("the safety plug blew", TOO_HIGH),
    ("20 pounds instead of 10", TOO_HIGH),
    ("lid stuck", STUCK),
    ("lid will not open", STUCK),
    ("the lid won't come off", STUCK),
    ("I cannot get the lid off the canner", STUCK),
    ("fell asleep", "unwatched-late"),
    ("I dozed off and the canner went on", "unwatched-late"),
    ("nobody watched the canner", "unwatched-late"),
]


@pytest.mark.parametrize(("said", "row"), SAID)
def test_the_hand_is_told_before_the_food(said: str, row: str):
    first = granted(troubles_for(said))[0]
    assert first.id == row
    hand = first.then.casefold()
    for told in (
        "fire off, lid and weight untouched",
        "stand back",
        "fall to zero by itself",
        "never force the lid",
        "no cold water",
    ):
        assert told in hand
    assert hand.index("fire off") < hand.index("softer")
    assert "01600949" in first.source.text


def test_what_went_too_high_is_not_what_went_too_long():
    """ "Keep it, softer" was the answer to a gauge that climbs."""
    assert [t.id for t in granted(troubles_for("pressure too high"))] == [TOO_HIGH]
    assert [t.id for t in granted(troubles_for("processed too long"))] == ["too-long"]


def test_what_nobody_watched_is_within_its_hours_given_the_whole_time_again():
    (row,) = granted(troubles_for("fell asleep", hours=1))
    assert (row.id, row.do) == ("unwatched", "reprocess")
    (row,) = granted(troubles_for("fell asleep", hours=3))
    assert (row.id, row.do) == ("unwatched-late", "discard")
    assert "low-acid and doubtful food untasted" in row.then


@pytest.mark.parametrize(
    "said", ["gauge reads high", "pressure too low", "canner hisses", "lid clicks"]
)
def test_other_faults_of_a_canner_or_a_lid_are_what_they_were(said: str):
    found = {t.id for t in granted(troubles_for(said))}
    assert not found & {TOO_HIGH, STUCK, "unwatched", "unwatched-late"}
