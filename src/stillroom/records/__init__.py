"""
What is kept, append-only. SQLAlchemy is imported in this folder alone.

::

    days.py        the door: open the records; the day file and its revisions
    ledger.py      append after an expected sequence, read a stream
    tables.py      the tables and the triggers that guard them
    migrations.py  each change of the tables and its record, in one transaction
    engine.py      how a database is spoken to, and what is said when it cannot be
"""
