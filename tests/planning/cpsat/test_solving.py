"""Ctrl-C ends a search: no solver takes the signal for itself."""

import re
import signal
import subprocess
import sys
import time
from importlib.resources import files

import pytest

import stillroom.planning.cpsat.aimed as aimed
from stillroom.planning.cpsat.aimed import search_aimed
from stillroom.planning.cpsat.solving import new_solver
from tests.planning.cpsat.test_aimed import begun, nobody, search
from tests.planning.cpsat.test_improve import large_day

RUN = """
import sys
from stillroom.cli.main import main
print("here", file=sys.stderr, flush=True)
main()
"""
EIGHTY = files("stillroom.planning") / "data" / "eighty_jars.toml"


@pytest.mark.parametrize("after_s", [6.0, 10.0])
def test_a_plan_that_is_broken_off_ends_at_once(after_s):
    """As it comes, two solvers side by side end the process in a fault of memory."""
    asked = [sys.executable, "-c", RUN, "plan", str(EIGHTY), "--seconds", "90"]
    process = subprocess.Popen(
        asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stderr is not None
    assert process.stderr.readline() == "here\n"
    time.sleep(after_s)
    assert process.poll() is None
    process.send_signal(signal.SIGINT)
    began = time.monotonic()
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (130, "")
    assert "Broken off" in err
    assert time.monotonic() - began < 30  # and not the 90 seconds of the search


def test_every_solver_is_made_and_called_in_one_place():
    assert new_solver().parameters.catch_sigint_signal is False
    for file in files("stillroom.planning.cpsat").iterdir():
        if file.name.endswith(".py") and file.name != "solving.py":
            assert not re.search(r"CpSolver\(\)|\.solve\(", file.read_text("utf-8"))


def test_where_one_worker_fails_the_others_are_stopped(monkeypatch):
    _, model, known, goal = begun(large_day())
    stopped = []
    stop, turn = aimed._Worker.stop, aimed._Worker.turn

    def fails_in_one(worker, best, work_s, until):
        if worker.seed % 2:
            raise RuntimeError("the solver is gone")
        return turn(worker, best, work_s, until)

    def heard(worker):
        stopped.append(worker)
        stop(worker)

    monkeypatch.setattr(aimed._Worker, "turn", fails_in_one)
    monkeypatch.setattr(aimed._Worker, "stop", heard)
    with pytest.raises(RuntimeError, match="is gone"):
        search_aimed(model, goal, known, 0, search(), 1.0, nobody)
    assert len(stopped) == 2
    assert all(worker.over for worker in stopped)
