"""
What the farm holds: lots, their movements, and where each jar came from.

::

    amounts.py   exact quantities: milligrams, microlitres, pieces
    lotcode.py   the lot code, with its check character
    words.py     names and days as people write them
    events.py    what happened to a lot, and the movements that follow from it
    fold.py      events to lots and balances: pure
    commands.py  what was asked
    decide.py    stock and command to events or a refusal: pure; its parts are
                 coming.py, leaving.py, standing.py, looking.py, taking_back.py
    making.py    a lot made, the day after, and what must be looked at first: pure
    keeps.py     until when a lot keeps its quality, and who says so
    tracing.py   from a jar to its inputs, from an input to its jars; the recall sheet
    sentence.py  "14 bags redcurrant juice, 4 cups each" to a proposal, with
                 how_much.py and sorts.py
    csv_file.py  a CSV file to proposals
    about.py     which lots an event is about
    rows.py      what follows from an event for lots, movements and links
    on_demand.py the stock, each lot read when it is asked for
    codec.py     events to entries of the ledger and back
    handle.py    the shell: read, decide, write
"""
