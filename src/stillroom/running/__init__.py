"""
The day itself: what happened, what that makes of the clocks, what may come next.

::

    events.py    what happened, in the past tense
    commands.py  what was asked
    rules.py     the published rules that a process clock goes by
    fold.py      events to the state of the run: pure
    decide.py    state and command to events or a refusal: pure
    codec.py     events to entries of the ledger and back
    handle.py    the shell: read, decide, write
    loads.py     the loads that a plan hands to a run
    board.py     what the stove shows at a moment: pure
    hands.py     what each person does now and next: pure
    set_going.py what goes by itself once it is lit or set out: pure
    said_by_mistake.py
                 what was said of a step by mistake, and may be taken back: pure
    behind.py    who is behind the plan, by what was tapped: pure
    due.py       whether it is time to ask what became of jars: pure
    not_booked.py
                 what the last day made and nobody booked, and why: for the day after
    clock.py     the only place that asks the time
"""
