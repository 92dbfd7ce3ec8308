"""
What is kept, append-only. SQLAlchemy is imported in this folder alone.

::

    days.py        the door: open the records; the day file and its revisions
    ledger.py      append after an expected sequence, read a stream
    stored.py      an event as it is written, and as it stands in its stream
    codec.py       an event to its entry and back
    tables.py      the tables and the triggers that guard them
    lot_tables.py  lots, movements and links: what follows from the entries
    rows.py        those rows, written; who writes entries says what follows
    following.py   rows brought up to the entries
    lots.py        asked for by lot
    tracing.py     both ways of a trace in one query
    compare.py     whether the rows do follow from the entries
    chain.py       the hashes that show a changed, swapped or missing event
    checking.py    is all there as it was written
    migrations.py  each change of the tables and its record, in one transaction
    released.py    the tables as an earlier Stillroom made them
    backup.py      copies kept by age (ages.py), daily by themselves (daily.py)
    copying.py     a file copied as a file; packed.py: a server's record as packed text
    copy_names.py  what copies are called, and where they are looked for
    restore.py     a copy of either kind brought back into either
    exporting.py   everything as text (portable.py), and importing.py back again
    damaged.py     a damaged record opened only to be read
    engine.py      how a database is spoken to, and what is said when it cannot be
"""
