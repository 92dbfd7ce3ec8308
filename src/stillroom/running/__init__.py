"""
The day itself: what happened, what that makes of the clocks, what may come next.

Read first ``events`` (what happened), ``fold`` (what follows from it) and ``decide``
(what may happen). Only ``handle`` writes.

The run, and what is asked of it::

    events.py       what happened, in the past tense
    commands.py     what was asked
    rules.py        the published rules that a process clock goes by
    load_run.py     one load of the run, and how it stands at a moment
    fold.py         events to the state of the run: pure
    decide.py       state and command to events or a refusal: pure
    common_refusals.py
                    what taps of every kind are refused for: pure
    venting.py      the vent clock of a pressure canner: pure
    codec.py        events to entries of the ledger and back
    handle.py       the shell: read, decide, write
    clock.py        the only place that asks the time

What a plan hands to it, and the rest of it planned again::

    day_mark.py     the mark that tells one day file from another
    kept_plan.py    the plan that a run goes by: made, marked, and shown again
    loads.py        the loads that a plan hands to a run
    batches.py      the batches that it hands to a run: what the lots will say
    by_lot.py       which lot of the stock a batch's needs come from: pure
    so_far.py       what has happened by a moment, in the minutes of the plan
    again.py        the rest of a running day planned again
    look_longer.py  the same with more time for it
    take_plan.py    whether such a plan may be taken over: pure

What is shown and asked at the stove::

    board.py        what the stove shows at a moment: pure
    hands.py        what each person does now and next: pure
    card_order.py   which of two cards of one minute comes first: pure
    set_going.py    what goes by itself once it is lit or set out: pure
    behind.py       who is behind the plan, by what was tapped: pure
    under_way.py    whether a day is under way, and what is still to come of it: pure
    behind_us.py    steps whose jars are all in the canner, said done or not: pure
    filled.py       whether anybody said that jars of a load are filled
    given_up.py     loads that never ran and are booked so
    stood.py        how long jars have stood closed, and whether too long: pure
    left_in.py      jars that nobody lifted out for a night: pure
    power_gone.py   clocks that ran while the computer was off: pure
    asked_first.py  what is asked before the clock of a load starts: pure
    said_by_mistake.py
                    what was said of a step by mistake, and may be taken back: pure
    load_said_by_mistake.py
                    the same of a full boil, and of a load lifted out: pure

What became of the jars::

    due.py          whether it is time to ask what became of jars: pure
    lots_made.py    a lot proposed for each batch of each load: pure
    book_lots.py    what is asked when they are booked, and numbers that are none
    her_measure.py  what went in, in litres where her kitchen is written so: pure
    as_filled.py    empty jars and lids where more or fewer were filled: pure
    beyond.py       jars that were filled beyond those lifted out of a load: pure
    booked_otherwise.py
                    what another hand booked meanwhile of a batch, and clocks that run
    not_booked.py   what the last days made and nobody booked: for the day after
"""
