"""Killed after an acknowledged tap, a restarted stove shows the very same times."""

import datetime as dt
import signal
import subprocess
import sys
from pathlib import Path

from stillroom.records.days import open_records
from stillroom.running.commands import LiftLoad
from stillroom.running.handle import handle, state_of
from stillroom.running.load_run import Phase

RUN = "run/2026-09-12"
AT_THE_STOVE = """
import sys, time
from stillroom.records.days import open_records
from stillroom.running.clock import WallClock
from stillroom.running.commands import BeginDay, MarkBoilLost, MarkFullBoil
from stillroom.running.events import RunLoad
from stillroom.running.handle import handle

ledger, now = open_records(sys.argv[1]).ledger, WallClock().now
load = RunLoad(id="load 1", name="load 1", canner="canner 1", process_min=10,
               source="a table", jar="pint", jars=(("plum jelly 1", 7),))
boil, lost = MarkFullBoil, MarkBoilLost
state = handle(BeginDay(loads=(load,), at=now()), "run/2026-09-12", ledger=ledger)
for ask in (boil, lost, boil):
    state = handle(ask(load="load 1", at=now()), "run/2026-09-12", ledger=ledger)
print(state.loads[0].deadline.isoformat(), state.sequence, flush=True)
time.sleep(60)
"""


def test_a_killed_stove_comes_back_with_the_same_deadline(tmp_path: Path):
    file = tmp_path / "stillroom.db"
    with subprocess.Popen(
        [sys.executable, "-c", AT_THE_STOVE, str(file)],
        stdout=subprocess.PIPE,
        text=True,
    ) as stove:
        assert stove.stdout is not None
        deadline, sequence = stove.stdout.readline().split()
        stove.send_signal(signal.SIGKILL)
    assert stove.returncode == -signal.SIGKILL
    with open_records(file) as records:
        state = state_of(RUN, ledger=records.ledger)
        run = state.loads[0]
        assert run.deadline == dt.datetime.fromisoformat(deadline)
        assert (state.sequence, run.times_lost) == (int(sequence), 1)
        assert run.may_lift_at is not None
        lift = LiftLoad(load="load 1", at=run.may_lift_at)
        after = handle(lift, RUN, ledger=records.ledger)
        assert after.loads[0].phase(run.may_lift_at) is Phase.LIFTED
