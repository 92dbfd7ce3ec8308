"""How it is booked that jars have a process after all, or another one. Pure."""

from __future__ import annotations

from stillroom.stock.fold import Stock
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.lotcode import printed


def process_said(code: str) -> str:
    """Return the command by which the process of jars is said that have none."""
    return (
        f"stillroom stock process {printed(code)} --began TIME --ended TIME --who NAME"
    )


def if_it_was_processed(stock: Stock, code: str) -> str:
    """Say how a process that nobody booked is said; empty where jars had one."""
    if lack_of(stock, code) is not Lack.NONE:
        return ""
    return f"; if it had its process, and nobody booked that: {process_said(code)}"


def how_it_is_booked(stock: Stock, code: str, *, again: bool) -> str:
    """
    Say how a process is booked that jars had after all, or have anew.

    Parameters
    ----------
    stock : Stock
        What is there.
    code : str
        The lot.
    again : bool
        Whether its food may be put up anew at this hour.
    """
    if lack_of(stock, code) is Lack.NONE:
        return (
            "If it had its process, or has it within its hours, that is booked on "
            f"this lot: {process_said(code)}"
        )
    if again:
        return (
            "Put up anew within its hours it is a new lot: stillroom stock made WORDS "
            f"--from {printed(code)}=QUANTITY"
        )
    return ""
