"""
The day file: read whole, written, and changed at one place by one line.

Read `dayfile` first. It reads a day or refuses it with every fault; `dayschema` has the
form. What the keeper gave is then a `Day`, and no other folder knows of TOML.

::

    dayfile.py          the day file read whole, or refused with every fault
    batch_names.py      what batches may be called
    change_keys.py      the changes that a keeper thinks of first, as keys
    change_words.py     a change as its keeper says it after "if"
    day_changes.py      changes to a day file, said on one line
    day_differs.py      in what two day files differ, each place as its keeper calls it
    day_text_kept.py    other values in the text that its keeper wrote
    day_values.py       which tables there are, and how values are written
    dayfile_fields.py   one table read key by key; every fault is noted
    dayfile_goods.py    what is on the shelf of a day file, and what is wanted
    dayfile_kitchen.py  the kitchen of a day file
    dayfile_people.py   the people of a day file
    dayfile_spans.py    spans of the clock: who is away, which burner is taken
    dayfile_write.py    write a day as a day file that reads back to the same day
    dayschema.py        the form of the day file
"""
