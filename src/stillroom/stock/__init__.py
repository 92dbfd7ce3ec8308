"""
What the farm holds: lots, their movements, and where each jar came from.

Read first ``events`` (what happened), ``fold`` (what follows from it) and ``decide``
(what may happen). Only ``handle`` writes.

What is kept, and read again::

    events.py      what happened to a lot: the facts
    movements.py   what an event moves, and the moment whose shelf it tells of
    lots.py        lots, and how they were made: what an entry is about
    amounts.py     exact quantities: milligrams, microlitres, pieces
    lotcode.py     the lot code, with its check character
    about.py       which lots an event is about
    codec.py       events to entries of the ledger and back
    rows.py        what follows from an event for lots, movements and links
    entries.py     what entries say of a lot, one after the other
    fold.py        events to lots and balances
    on_demand.py   the stock, each lot read when it is asked for
    handle.py      the shell: read, decide, write

What is asked, and what comes of it::

    commands.py         what was asked
    decide.py           stock and command to events or a refusal, by these parts:
    decision.py         what a command comes to, and words that several share
    coming.py           what comes in, and what is made of it
    from_run.py         lots booked from a run at the stove
    drawing.py          what a batch used up, drawn from the stock
    put_up.py           jars that were put up by hand and not at the stove's clocks
    leaving.py          what leaves the shelf, and what may not
    standing.py         where things stand: carried, and counted
    carried_at.py       when it was carried, as that is typed
    looking.py          what was seen of jars the day after
    holding.py          holds, processes typed in late, labels, pictures, notes
    completing.py       what was not said of jars when they were booked
    taking_back.py      recalls and mendings
    choosing.py         which lot is meant, and from where it is taken
    counted_since.py    what a count has already seen gone
    more_than_ever.py   counts that leave more of a lot than there ever was
    not_counted_down.py empty jars and lids that a lot by hand was not drawn from

What a lot was put up by, and what is due for it::

    making.py             a lot made, the day after, what is looked at first
    due.py                the process that is published for it, or why none is known
    no_process_needed.py  what stands in jars and was never to have a process
    stands.py             what stands past its day, and is in no closed jar yet
    lacks.py              what its process lacks, by the record
    lacking.py            what was not said of it, so that no book can tell
    made_as_it_counts.py  how it counts, with what it lacked
    unknown_process.py    jars that came in, and nobody said how they were put up
    put_up_said.py        said later of those: how they were put up
    unprocessed.py        jars that had no process: what is published of them
    discarding.py         that jars are discarded, and what may be done until then
    how_it_is_booked.py   how a process is booked that they have after all, or anew
    unsealed.py           where jars stand whose seal failed, or may have
    kept_cold.py          what of such jars is kept cold, and came there in time
    cold_days.py          jars of what is not acid in a refrigerator: their days
    warm.py               jars to be kept cold that stood on a shelf
    how_cold.py           how cold a place is, by its name
    dish.py               which dish a name is of, and whether it is wet
    for_the_cold.py       what is put up for the cold, by its name
    cold_said.py          said later of a place: that it was cold
    of_held.py            what was made out of jars that were put on hold since
    in_oil.py             what stands in oil, and its caution
    juice_and_sauce.py
                    juice, puree and sauce, by their names
    cooked.py             what spoils out of the cold, loose on a shelf
    eaten_no_more.py      what stood too long to be eaten, of all of these
    out_of_freezer.py     how long a lot was out of a freezer, or of the cold
    not_food.py           what is never eaten: lye, soap, and what is of the house
    household.py          things of house, garden and barn, by their names
    animals.py            animals that are alive, by their names and where they are
    gauge.py              what a pressure gauge said
    gauge_said.py         what a gauge read, said later than it was booked
    late_gauge.py         what a gauge is held to that is typed in late
    jars_out.py           when jars were filled and came out
    clock_offsets.py      how far the kitchen's clock was ahead of UTC then
    times_said.py         clock times that cannot be
    before_booked.py      jars that stood too long, said before they are booked
    when_begun.py         when a process began, asked where that decides

What is shown::

    on_hand.py    what is on hand, in the one order in which it is shown and drawn
    places.py     which places are meant by a name
    first.py      what to eat first
    keeps.py      until when a lot keeps its quality, and who says so
    after.py      the day after: what each load still wants looked at
    choices.py    what is published for jars at this hour
    open_lots.py  lots and loads that still want something, and what each is asked
    all_gone.py   jars in doubt of which none is here: whoever has them is told
    process_words.py
                  which process a lot had, beside the one that is due
    cover.py      how far the shelf goes
    day_shelf.py  what is on hand, as the shelf of a day
    jars_kept.py  jars as things: empty, in use, gone
    accounts.py   where all of a lot went
    mass.py       the balance of masses of a lot
    tracing.py    from a jar to its inputs, from an input to its jars
    by_supplier.py
                  all that came from one supplier, and what became of it
    told.py       each entry in a plain sentence
    clock_here.py clock times of a lot by the clock of who looks
    how_long_ago.py
                  moments and spans in words

What is typed::

    sentence.py      "14 bags redcurrant juice, 4 cups each" to a proposal
    reading.py       what has been read so far
    said_twice.py    what one sentence says twice
    understood.py    what was understood of it, in words
    said_done.py     what was done: it came in, or went out
    how_much.py      how much of what
    in_parts.py      in what it comes: bags, boxes, braids
    where_it_is.py   which part is a place, and what stands beside it
    from_a_day.py    a day behind "from", and not whom it is from
    left_in_a_name.py
                     what of how much was left in a name, and not read
    numbers_in_a_name.py
                     numbers that stand in a name still
    counted.py       what is counted, so that a number alone is enough
    sized_things.py  things that are called by what they hold
    jars_or_measure.py
                     pints that may be jars or a measure
    what_went_in.py  lots and quantities that went into jars
    sorts.py         what sort of thing a lot is
    to_mind.py       what is to be minded of a thing before it is booked
    words.py         names and days as people write them
    csv_file.py      a CSV file to proposals
    came_before.py   rows of a file that are in the record already
"""
