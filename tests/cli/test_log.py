"""``stillroom log``: looks back over a log. The logs are invented."""

import pytest

from tests.cli.running import run
from tests.explaining.logs import log_of


@pytest.fixture
def log(tmp_path):
    def write(text):
        file = tmp_path / "log.csv"
        file.write_text(text, encoding="utf-8")
        return str(file)

    return write


def test_a_lost_boil_is_said_with_the_process_beside(log):
    said = run(
        "log", log(log_of(lost=(5, 8))), "--elevation", "2150ft",
        "--product", "plum butter", "--jar", "half-pint",
    )  # fmt: skip
    assert said.code == 0
    assert "the boil was lost once: less than the published 10 min" in " ".join(
        said.out.split()
    )
    assert "looks back only" in " ".join(said.out.split())


def test_the_contract_is_that_of_explain(log):
    body = run("log", log(log_of()), "--elevation", "2150ft", "--json").json
    assert body["topic"] == "log"
    assert body["estimate"] is True
    assert [m["text"] for m in body["picture"]["marks"]][1] == "full boil"


def test_the_probe_is_set_right_by_its_own_readings(log):
    words = ("log", log(log_of(off_f=2.0)), "--elevation", "2150ft")
    said = run(*words, "--ice", "34F", "--probe-boils", "210F")
    told = " ".join(said.out.split())
    assert "+2.0 °F (+1.1 °C) in boiling water, +2.0 °F (+1.1 °C) in ice" in told


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("time_min,jar_f\n0,170\n1,171\n20,172\n21,173\n", "line 4"),
        ("time_min,jar_f\n0,170\n1,171\n1,172\n2,173\n", "line 4"),
        ("time_min,jar_c\n0,170\n1,171\n2,172\n3,173\n", "°F"),
        ("", "empty"),
    ],
)
def test_a_bad_log_is_answered_by_its_lines(log, text, match):
    said = run("log", log(text), "--elevation", "2150ft")
    assert said.code == 2
    assert match in said.err
    assert said.out == ""


def test_what_is_no_text_and_what_is_not_there(tmp_path, log):
    file = tmp_path / "photo.csv"
    file.write_bytes(b"\xff\xd8\xff\xe0" * 50)
    assert "is no text" in run("log", str(file), "--elevation", "2150ft").err
    assert run("log", str(tmp_path / "none.csv"), "--elevation", "1ft").code == 2
    said = run("log", log(log_of()))
    assert said.code == 2
    assert "the air is not known" in said.err
