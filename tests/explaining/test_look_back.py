"""A probe's log looked back on. The logs are invented; see logs.py."""

import pytest

from stillroom.explaining.asking import Given
from stillroom.explaining.look_back import ASKS, LOST, look_back
from stillroom.refusal import Refusal, Unreadable, granted
from tests.explaining.logs import log_of

HERE = {"elevation": "2150 ft"}


def told(text, **typed):
    return granted(look_back(text, Given({**HERE, **typed}, ASKS)))


def figure(explanation, label):
    (found,) = [f for f in explanation.figures if f.label.startswith(label)]
    return found.value


def test_come_up_boil_and_heating_index_are_read_off():
    answer = told(log_of())
    assert figure(answer, "Come-up time") == pytest.approx(12, abs=0.5)
    assert figure(answer, "Longest unbroken boil") == pytest.approx(15, abs=0.7)
    assert figure(answer, "Heating-rate index") == pytest.approx(20, abs=1.0)
    assert not any("boil was lost" in c.text for c in answer.cautions)
    assert any("looks back only" in c.text for c in answer.cautions)


def test_a_lost_boil_is_found_and_warned_of():
    answer = told(log_of(lost=(5, 8)))
    assert "lost once" in answer.sentence
    assert "anew" in answer.cautions[0].text
    assert figure(answer, "Longest unbroken boil") < 9


def test_the_published_process_stands_beside():
    long = told(log_of(holds_min=12), product="plum butter", jar="half-pint")
    assert "beside the published 10 min" in long.sentence
    assert figure(long, "Published process") == 10
    short = told(log_of(holds_min=8), product="plum butter", jar="half-pint")
    assert "less than the published 10 min" in short.sentence
    assert "anew" in short.cautions[0].text


def test_after_a_lost_boil_the_published_time_is_drawn_from_the_new_one():
    answer = told(log_of(lost=(5, 8)), product="plum butter", jar="half-pint")
    (mark,) = [m for m in answer.picture.marks if m.published]
    assert mark.at == pytest.approx(12 + 8 + 10, abs=0.3)
    assert "new full boil" in mark.text


def test_nothing_says_that_a_short_boil_was_enough():
    answer = told(log_of(holds_min=60), product="plum butter", jar="half-pint")
    words = " ".join([answer.sentence, *answer.more]).casefold()
    for claim in ("safe", "enough", "sufficient"):
        assert claim not in words


def test_without_a_bath_nothing_is_said_of_the_boil():
    answer = told(log_of(bath=False))
    assert "nothing can be said of the boil" in answer.sentence
    assert not any(f.label == "Come-up time" for f in answer.figures)


def test_a_bath_that_never_boils_is_no_process():
    answer = told(log_of(boils_f=200.0))
    assert "never came to a full boil" in answer.sentence


def test_a_probe_that_reads_high_is_set_right():
    """Two degrees high all along: without its own readings the boil comes too soon."""
    off = log_of(off_f=2.0)
    right = told(off, ice="34 F", probe_boils="210 F")
    assert figure(right, "Jar at its hottest") == pytest.approx(
        figure(told(log_of()), "Jar at its hottest"), abs=0.02
    )
    assert "+2.0 °F (+1.1 °C) in boiling water" in " ".join(right.more)
    assert figure(right, "Lethality") < figure(told(off), "Lethality")


def test_a_bent_thermometer_is_refused():
    answer = look_back(
        log_of(), Given({**HERE, "ice": "40 F", "probe_boils": "208 F"}, ASKS)
    )
    assert isinstance(answer, Refusal)
    assert "no straight line" in answer.reason


def test_ice_alone_is_asked_back():
    with pytest.raises(Unreadable, match="boiling water too"):
        told(log_of(), ice="32.5 F")


def test_under_pressure_the_steam_is_taken_for_the_boil():
    # 11 psi at 655 m: 115.2 °C of steam.
    answer = told(log_of(boils_f=239.4), psi="11")
    assert figure(answer, "Come-up time") == pytest.approx(12, abs=0.5)
    assert "The steam of that pressure after 12 min" in answer.sentence


@pytest.mark.parametrize(
    ("psi", "said"),
    [
        (
            "6",
            "under the published 11 psi of a dial gauge here: by this log there was no",
        ),
        ("10.9", "under the published 11 psi"),
        ("11", "the published 25 min at 11 psi"),
    ],
)
def test_a_gauge_below_the_published_pressure_is_no_process(psi, said):
    # green beans, raw, quarts: 25 min at 11 psi up to 2,000 ft by a dial gauge
    beans = {"product": "green beans", "jar": "quart", "pack": "raw"}
    answer = told(
        log_of(boils_f=246.0, holds_min=26), psi=psi, elevation="100 ft", **beans
    )
    assert said in answer.sentence
    assert (LOST in answer.cautions) == (psi != "11")


@pytest.mark.parametrize(("until", "held"), [(21.5, "9 min 3"), (21.9, "9 min 5")])
def test_a_held_time_is_never_rounded_up(until: float, held: str) -> None:
    # a full boil from minute 12 on, read every tenth of a minute; ten are published
    rows = ["time_min,jar_f,bath_f"]
    for tenth in range(400):
        minute = tenth / 10
        bath = 208.6 if 12.0 <= minute <= until else 190.0
        rows.append(f"{minute:.1f},{min(200.0, 170.0 + minute):.1f},{bath}")
    log = "\n".join(rows)
    answer = told(log, product="plum butter", jar="half-pint")
    assert f"held without a break for {held}" in answer.sentence
    assert "less than the published 10 min" in answer.sentence


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("", "empty"),
        ("time,jar\n1,2\n", "has no unit"),
        ("time_min,jar_f\n0,170\n1,171\n", "needs 3 at least"),
        ("time_min,jar_f\n0,170\n1,171\n1,172\n2,173\n", "line 4"),
        ("time_min,jar_f\n0,170\n1,171\n20,172\n21,173\n", "gap"),
        ("time_min,jar_c\n0,170\n1,171\n2,172\n3,173\n", "°F"),
        ("time_min,jar_f\n0,170\n1,warm\n2,172\n", "warm"),
        ("<html>" * 20, "column"),
    ],
)
def test_each_fault_of_a_log_is_named(text, match):
    with pytest.raises(Unreadable, match=match):
        told(text)


def test_a_log_without_end_is_not_read():
    with pytest.raises(Unreadable, match="longer than"):
        told("time_min,jar_f\n" + "0,170\n" * 400_000)
