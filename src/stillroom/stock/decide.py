"""Stock and command to events or a refusal. Pure: no clock, no database."""

from __future__ import annotations

from stillroom.stock.cold_said import say_cold
from stillroom.stock.coming import make, receive
from stillroom.stock.commands import (
    Check,
    CheckLoad,
    Command,
    Complete,
    Count,
    CountShelf,
    Hold,
    Label,
    Make,
    MakeFromRun,
    Mend,
    Move,
    Note,
    Picture,
    Process,
    Recall,
    Receive,
    SayCold,
    SayGauge,
    SayPutUp,
    Take,
)
from stillroom.stock.completing import complete
from stillroom.stock.decision import NOTHING, Decision
from stillroom.stock.fold import Stock
from stillroom.stock.from_run import make_from_run
from stillroom.stock.gauge_said import say_gauge
from stillroom.stock.holding import hold, label, note, picture, process
from stillroom.stock.leaving import take
from stillroom.stock.looking import check, check_load
from stillroom.stock.put_up_said import say_put_up
from stillroom.stock.standing import count, count_shelf, move
from stillroom.stock.taking_back import mend, recall


def decide(stock: Stock, command: Command) -> Decision:
    """
    Return the events that ``command`` leads to, or why not.

    Raises
    ------
    Unreadable
        If a lot or a quantity cannot be read.
    """
    if command.token and stock.booked_as(command.token):
        return NOTHING
    match command:
        case Receive():
            return receive(stock, command)
        case Take():
            return take(stock, command)
        case Move():
            return move(stock, command)
        case Count():
            return count(stock, command)
        case CountShelf():
            return count_shelf(stock, command)
        case Make():
            return make(stock, command)
        case MakeFromRun():
            return make_from_run(stock, command)
        case Check():
            return check(stock, command)
        case CheckLoad():
            return check_load(stock, command)
        case Hold():
            return hold(stock, command)
        case Process():
            return process(stock, command)
        case Complete():
            return complete(stock, command)
        case SayCold():
            return say_cold(stock, command)
        case SayGauge():
            return say_gauge(stock, command)
        case SayPutUp():
            return say_put_up(stock, command)
        case Label():
            return label(stock, command)
        case Picture():
            return picture(stock, command)
        case Note():
            return note(stock, command)
        case Recall():
            return recall(stock, command)
        case Mend():
            return mend(stock, command)
