"""Entries that several threads read at the same moment, in a program just begun."""

import subprocess
import sys
import textwrap

import pytest

READS = textwrap.dedent(
    """
    import sys, threading
    sys.setswitchinterval(1e-6)
    from datetime import UTC, datetime
    from stillroom.records.ledger import Recorded
    from stillroom.{part}.codec import from_entry, to_entry
    {event}
    entry = to_entry(event)
    read = Recorded(
        kind=entry.kind, version=entry.version, body=entry.body,
        occurred_at=entry.occurred_at, sequence=1, recorded_at=entry.occurred_at,
    )
    together = threading.Barrier(8)
    def look():
        together.wait()
        assert from_entry(read) == event
    threads = [threading.Thread(target=look) for _ in range(8)]
    for thread in threads: thread.start()
    for thread in threads: thread.join()
    """
)
EVENTS = {
    "running": (
        "from stillroom.running.events import DayBegun, RunLoad\n"
        "event = DayBegun(occurred_at=datetime.now(UTC), loads=(RunLoad("
        "id='a', name='load 1', canner='canner', process_min=10, source='invented', "
        "jar='pint', jars=(('plum jelly 1', 7),)),))"
    ),
    "stock": (
        "from stillroom.stock.events import Part, Taken, Way\n"
        "event = Taken(occurred_at=datetime.now(UTC), way=Way.EATEN, "
        "parts=(Part(lot='26M251M', place='shelf', number=1),))"
    ),
}


@pytest.mark.parametrize("part", EVENTS)
def test_threads_that_read_first_at_once_all_read(part):
    # The library that reads them crashed where two threads met a class for the first
    # time; seen when four phones pressed one key in a program just begun.
    program = READS.format(part=part, event=EVENTS[part])
    for _ in range(5):
        ended = subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True
        )
        assert ended.returncode == 0, ended.stderr
