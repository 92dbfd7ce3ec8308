"""
What is kept, append-only. SQLAlchemy is imported in this folder alone.

::

    days.py        the door: open the records; the day file and its revisions
    ledger.py      append after an expected sequence, read a stream
    tables.py      the tables and the triggers that guard them
    chain.py       the hashes that show a changed, swapped or missing event
    checking.py    is all there as it was written
    migrations.py  each change of the tables and its record, in one transaction
    released.py    the tables as an earlier Stillroom made them
    backup.py      copies kept by age (ages.py), daily by themselves (daily.py)
    restore.py     a copy brought back; copying.py is what both share
    exporting.py   everything as text (portable.py), and importing.py back again
    damaged.py     a damaged record opened only to be read
    engine.py      how a database is spoken to, and what is said when it cannot be
"""
