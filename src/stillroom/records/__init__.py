"""
What is kept, append-only. SQLAlchemy is imported in this folder alone.

Read first ``days`` (the door), ``ledger`` (how entries are added and read back) and
``tables`` (what guards them).

::

    days.py         the door: open the records; the day file and its revisions
    ledger.py       append after an expected sequence, read a stream
    stored.py       an event as it is written, and as it stands in its stream
    codec.py        an event to its entry and back
    tables.py       the tables and the triggers that guard them
    engine.py       how a database is spoken to, and what is said when it cannot be
    pictures.py     pictures beside the record, named by what is in them

What follows from the entries::

    lot_tables.py   lots, movements and links: the tables
    rows.py         their rows, written; who writes entries says what follows
    following.py    rows brought up to the entries
    lots.py         asked for by lot
    tracing.py      both ways of a trace in one query
    compare.py      whether the rows do follow from the entries

Whether all is there::

    chain.py        the hashes that show a changed, swapped or missing event
    checking.py     is all there as it was written
    damaged.py      a damaged record opened only to be read
    migrations.py   each change of the tables and its record, in one transaction
    released.py     the tables as an earlier Stillroom made them

Copies, and text that outlives any program::

    backup.py       copies made while the record is in use, and kept by age
    ages.py         which of them to keep
    daily.py        a copy every day by itself
    copying.py      a file copied as a file
    packed.py       a server's record as packed text
    copy_names.py   what copies are called, and where they are looked for
    restore.py      a copy of either kind brought back into either
    portable.py     the record as text: what export and import share
    exporting.py    everything as text
    importing.py    and back again

What is said where there is no record to be had::

    missing.py      where there is none of that name
    mistyped.py     where the address of a server is mistyped
    turned_away.py  where a server runs and turns us away
"""
