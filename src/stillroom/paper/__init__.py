"""
Sheets that are printed: rows in Python, layout in ``templates/*.typ``.

::

    press.py         rows and a template to PDF, the same on every machine
    sheets.py        the day sheet: what is pinned to the refrigerator
    stock_sheets.py  what to eat first, a recall, one step back and one forward
"""
