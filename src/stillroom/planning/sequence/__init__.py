"""
A plan made by turns: loads in some order, each placed at once with its batches.

Read `search` first. It tries other orders; `decode` makes a plan of one.

::

    search.py    many plans made by turns, each a move away from one before
    canning.py   loads by turns
    compiled.py  a day written out once for the many plans that are made of it by turns
    decode.py    a plan made by turns
    making.py    writes out how a batch is made
    moves.py     moves from one order of turns to another, and the orders to begin with
    parts.py     a batch written out once for the many plans that are made by turns
    placing.py   one batch placed by turns
    room.py      what is free and what has been placed while a plan is made by turns
    washing.py   pots and mills in turn
"""
