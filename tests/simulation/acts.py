"""What people and machines do in a farm week, drawn by chance."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from tests.simulation.after_acts import press, read_after
from tests.simulation.asked_back import say_it_is_so
from tests.simulation.count_model import cut_off, read_shelf
from tests.simulation.devices import Device, Post, code_of
from tests.simulation.faults import Fault
from tests.simulation.forms import Form, forms_of, read_page
from tests.simulation.made_model import DaysLots
from tests.simulation.most_ever_model import most_ever
from tests.simulation.nights import copy_now
from tests.simulation.sheets import read_sheet
from tests.simulation.shelf_words import ASIDE, EACH, Deed, Does, ShelfCount
from tests.simulation.stove_model import Run, Tap

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek

PLACES = ("pantry", "cellar shelf", "stand", "freezer 1", "freezer 2", "drawer", ASIDE)
WAYS = (
    *("drawn", "eaten", "sold", "sold", "given", "spoiled", "broken", "tasted"),
    *("count", "move", "move"),
)
CAME_IN = (
    ("{} bags redcurrant juice, 4 cups each, {}, June", "redcurrant juice", "freezer"),
    ("{} half-pints plum jam, {}, from Bram", "plum jam", "shelf"),
    ("{} half-pints quince jelly, {}", "quince jelly", "shelf"),
    ("{} lids, {}", "lids", "drawer"),
    ("{} packets pectin, {}", "pectin", "shelf"),
)
AFTER = ("check", "label", "hold", "process")
BY_SORT = {
    "freezer": ("freezer 1", "freezer 2"),
    "shelf": ("pantry", "cellar shelf", "stand"),
    "drawer": ("drawer",),
}


def read_stock(week: FarmWeek, device: Device) -> None:
    """Read the stock page; it stays on the screen, however old it gets."""
    answer = week.house.windows[device.window].client.get("/stock")
    assert answer.status_code == 200
    forms = [f for f in forms_of(answer.text) if "lot" in f.hidden]
    device.rows = [f for f in forms if "clock" not in f.fields]  # each has two
    shown = {(code_of(f.hidden["lot"]), f.hidden["place"]) for f in device.rows}
    assert shown == {key for key, n in week.models.shelf.at.items() if n}
    week.tell("stock page", f"{device.name}, {len(shown)} rows")


def a_deed(week: FarmWeek, rows: list[Form]) -> tuple[dict[str, str], Deed]:
    """Return what is typed on the page, and what it means."""
    draw = week.draw
    if not rows or draw.random() < 0.12:
        sentence, what, sort = draw.choice(CAME_IN)
        place, number = draw.choice(BY_SORT[sort]), draw.randint(2, 12)
        deed = Deed(kind="add", what=what, place=place, number=number)
        return {"deed": "add", "sentence": sentence.format(number, place)}, deed
    checks = [f for f in rows if "seals" in f.fields]
    form = draw.choice(checks if checks and draw.random() < 0.3 else rows)
    lot, place = form.hidden["lot"], form.hidden["place"]
    if "seals" in form.fields:
        return a_check(week, lot, place)
    kind, number = draw.choice(WAYS), draw.randint(0 if draw.random() < 0.2 else 1, 4)
    to = draw.choice(PLACES) if kind == "move" else ""
    typed = {"deed": kind, "lot": lot, "place": place, "quantity": f"{number}"}
    deed = Deed(kind=kind, lot=code_of(lot), place=place, number=number, to=to)
    return {**typed, "to": to or "Cora"}, deed


def a_check(week: FarmWeek, lot: str, place: str) -> tuple[dict[str, str], Deed]:
    """Say what was seen of the seals and the set, the day after."""
    draw, code = week.draw, code_of(lot)
    there = (
        sum(n for p, n in week.models.shelf.here(code).items() if p != ASIDE)
        if (code in week.models.shelf.lots)
        else 3
    )
    failed, doubtful = draw.choice(((0, 0), (0, 0), (1, 0), (0, 1), (2, 1)))
    good = max(0, there - failed - doubtful + draw.choice((0, 0, 0, 0, 1)))
    seen = draw.choice(("set", "set", "soft", ""))
    seals = f"{good} good {failed} failed {doubtful} doubtful"
    typed = {"deed": "check", "lot": lot, "place": place, "seals": seals, "seen": seen}
    deed = Deed(
        kind="check",
        lot=code,
        place=place,
        good=good,
        failed=failed,
        doubtful=doubtful,
        seen=seen,
    )
    return typed, deed


def ask(week: FarmWeek, device: Device, rows: list[Form] | None = None) -> None:
    """Have a deed read, and put the form that would book it into the pocket."""
    typed, deed = a_deed(week, rows or device.rows)
    client = week.house.windows[device.window].client
    answer = client.get("/stock/ask", params=typed)
    must = week.models.shelf.expect(deed, week.clock.now())
    status = {Does.BOOKS: 200, Does.NO: 422, Does.UNREADABLE: 400}[must.does]
    assert answer.status_code == status, f"{typed} {must}: {answer.text[-3000:]}"
    week.tell("ask", f"{device.name}: {typed} -> {status}")
    if status == 200:
        form = next(f for f in forms_of(answer.text) if f.action == "/stock/book")
        asked = week.clock.now() if deed.kind == "count" else None
        named = replace(deed, token=form.hidden["token"], said_at=asked)
        device.pocket.append(Post(form.action, form.hidden, named))
    week.clock.go(milliseconds=1)


def type_in_cut_off(week: FarmWeek, device: Device) -> None:
    """Type something in while nothing can be sent; it is sent when it can."""
    if not device.rows:
        return
    typed, deed = a_deed(week, device.rows)
    keep(week, device, typed, deed)


def count_too_many(week: FarmWeek, device: Device) -> None:
    """Type in a count, cut off, that leaves more of a lot than there ever was."""
    if not device.rows:
        return
    form, shelf = week.draw.choice(device.rows), week.models.shelf
    lot, place = form.hidden["lot"], form.hidden["place"]
    code = code_of(lot)
    most = most_ever(shelf, code) // EACH.get(shelf.lots[code].what, 1)
    number = most + week.draw.randint(1, 3)
    typed = {"deed": "count", "lot": lot, "place": place, "quantity": f"{number}"}
    deed = Deed(kind="count", lot=code, place=place, number=number)
    keep(week, device, {**typed, "to": "Cora"}, deed)


def keep(week: FarmWeek, device: Device, typed: dict[str, str], deed: Deed) -> None:
    """Keep what was typed on the device, with its own time and name."""
    own = device.own_time(week.clock.now())
    token = f"{week.draw.getrandbits(128):032x}"
    named = replace(deed, token=token, said_at=own, late=True)
    fields = {**typed, "token": token, "at": own.isoformat()}
    device.unsure.append(Post("/stock/late", fields, named))
    week.tell("typed in", f"{device.name}, cut off: {typed}")
    week.clock.go(milliseconds=1)


def read_stove(week: FarmWeek, device: Device) -> None:
    """Read the stove's page; its clocks must be those of the model, to the second."""
    answer = week.house.windows[device.window].client.get("/stove")
    assert answer.status_code == 200
    forms, shown_until = read_page(answer.text)
    device.keys = [f for f in forms if f.action.startswith("/stove/")]
    stove, now = week.models.stove, week.clock.now()
    shown = stove.shown(now)  # without jars on the fire no day has a clock to show
    until = [x.shown_until(now) for x in stove.runs.get(shown, Run()).loads.values()]
    wanted = sorted(round(u.timestamp() * 1000) for u in until if u)
    assert shown_until == wanted, f"{shown}: {shown_until}, not {wanted}"
    week.tell("stove page", f"{device.name}, {len(device.keys)} keys, {wanted}")


def a_tap(week: FarmWeek, form: Form) -> Post:
    """Return what pressing a key of the stove's page sends."""
    hidden, asks = form.hidden, form.action.removeprefix("/stove/")
    tap = Tap(
        asks=asks,
        run=hidden.get("run", f"run/{week.clock.now().date()}"),
        seen=int(hidden["seen"]),
        once=hidden["once"],
        load=hidden.get("load", ""),
        batch=hidden.get("batch", ""),
        step=hidden.get("step", ""),
        was=hidden.get("was", ""),
        said_at=hidden.get("said_at", ""),
    )
    given = dict(hidden)
    if asks in ("full-boil", "begin"):
        given["sure"] = "yes"  # steps are tapped off at random here, days left half-way
    return Post(form.action, given, tap)


def a_fault(week: FarmWeek, device: Device, post: Post) -> Fault | None:
    """Mostly nothing; else something goes wrong in the middle."""
    draw = week.draw
    chance = draw.random()
    if chance < 0.65:
        return None
    if chance < 0.75:
        when = draw.choice(("statement", "before-commit", "after-commit"))
        return Fault("kill", nth=draw.randint(1, 8), when=when)
    if chance < 0.79 and week.on_files:
        return Fault("torn", nth=draw.randrange(1000))
    if chance < 0.83:
        return Fault("full", nth=draw.randint(1, 2))
    if chance < 0.86 and week.on_files:
        return Fault("no-pages")
    times = draw.choice((1, 1, 1, 2, 3))
    return Fault("between", do=lambda: another(week, device, post), times=times)


def another(week: FarmWeek, busy: Device, post: Post) -> None:
    """
    Somebody else's whole deed, while a first one has read and not yet written.

    Mostly it is about the same lot or the same load.
    """
    draw = week.draw
    if draw.random() < 0.05:
        copy_now(week)
        return
    other = draw.choice([d for d in week.devices if d.window != busy.window])
    alike, asked = draw.random() < 0.7, post.asked
    if isinstance(asked, Tap) == alike:
        read_stove(week, other)
        same = [f for f in other.keys if f.action == post.action] if alike else []
        if other.keys:
            week.deliver(other, a_tap(week, draw.choice(same or other.keys)))
        return
    lot = asked.lot if isinstance(asked, Deed) and alike else ""
    if isinstance(asked, ShelfCount) and draw.random() < 0.5:
        theirs = read_shelf(week, other, asked.place)
        if theirs:
            week.deliver(other, theirs)
    elif lot and asked_after(asked) and draw.random() < 0.6:
        forms = read_after(week, other)
        same = [f for f in forms if code_of(f.hidden["lot"]) == lot]
        pressed = press(week, draw.choice(same)) if same else None
        if pressed:
            week.deliver(other, pressed)
    else:
        read_stock(week, other)
        same = [f for f in other.rows if code_of(f.hidden["lot"]) == lot]
        ask(week, other, same)
        if other.pocket:
            week.deliver(other, other.pocket.pop())


def asked_after(asked: object) -> bool:
    """Whether it is a deed of the day after."""
    return isinstance(asked, Deed) and asked.kind in AFTER


def send(week: FarmWeek, device: Device, post: Post) -> None:
    """Press a key: it may arrive twice, late, or be answered to nobody."""
    draw = week.draw
    chance = draw.random()
    if chance < 0.08:  # lost on the way there
        week.tell("lost on the way", f"{device.name}: {post.said}")
        device.unsure.append(post)
        return
    answered = week.deliver(device, post, a_fault(week, device, post))
    if chance < 0.16 and answered is not None:
        answered = None  # lost on the way back
        week.tell("answer lost", f"{device.name}: {post.said}")
    if chance > 0.85:  # the finger came down twice
        week.deliver(device, post)
    if answered is None:
        device.unsure.append(post)
    week.wire = [*week.wire[-20:], (device, post)]
    if device.asked and draw.random() < 0.7:
        say_it_is_so(week, device)


def confirm(week: FarmWeek, device: Device) -> None:
    """Press Book it, on a form that may have been in the pocket for long."""
    if device.pocket:
        at = week.draw.randrange(len(device.pocket))
        send(week, device, device.pocket.pop(at))


def tap(week: FarmWeek, device: Device) -> None:
    """Press a key at the stove."""
    if device.keys:
        send(week, device, a_tap(week, week.draw.choice(device.keys)))


def off_the_shelf(week: FarmWeek, device: Device) -> None:
    """Look, ask and confirm in one go, as most people do."""
    read_stock(week, device)
    before = len(device.pocket)
    ask(week, device)
    if len(device.pocket) > before:
        send(week, device, device.pocket.pop())


def at_the_stove(week: FarmWeek, device: Device) -> None:
    """Look at the clocks and press a key that is shown now."""
    read_stove(week, device)
    tap(week, device)


def days_lots(week: FarmWeek, device: Device) -> None:
    """Open the lots of the day, mend a number, and book them, now or later."""
    draw = week.draw
    answer = week.house.windows[device.window].client.get("/stock/made")
    assert answer.status_code == 200
    forms = [f for f in forms_of(answer.text) if f.action == "/stock/made/book"]
    forms = [f for f in forms if "never" not in f.hidden]
    week.tell("lots page", f"{device.name}, {len(forms)} forms")
    for form in forms:
        given: dict[str, list[str]] = {}
        for name, value in form.typed:
            given.setdefault(name, []).append(value)
        if draw.random() < 0.4:
            lifted = int(given["number"][0])  # more than those are asked about
            given["number"][0] = f"{draw.randint(0, lifted)}"
        if draw.random() < 0.3:
            given["place"][0] = draw.choice(BY_SORT["shelf"])
        lines = zip(
            given["load"],
            given["batch"],
            map(int, given["number"]),
            given["place"],
            strict=True,
        )
        asked = DaysLots(
            run=form.hidden["run"], lines=tuple(lines), token=form.hidden["token"]
        )
        post = Post(form.action, given, asked)
        if draw.random() < 0.6:
            send(week, device, post)
        else:
            device.pocket.append(post)


def a_whole_load(week: FarmWeek, device: Device) -> None:
    """Bring a load from its full boil to the table, and book what came of it."""
    for asks, minutes in (("begin", 1), ("full-boil", 16), ("lifted", 1)):
        read_stove(week, device)
        keys = [f for f in device.keys if f.action == f"/stove/{asks}"]
        if keys:
            send(week, device, a_tap(week, week.draw.choice(keys)))
        week.clock.go(minutes=minutes)
    days_lots(week, device)


def read_a_lot(week: FarmWeek, device: Device) -> None:
    """Read the page of one lot, whatever has become of it."""
    if week.models.shelf.lots:
        code = week.draw.choice(list(week.models.shelf.lots))
        window = week.house.windows[device.window]
        answer = window.client.get(f"/stock/lot/{code}")
        assert answer.status_code == 200
        assert ("On hold" in answer.text) == week.models.shelf.held(code)
        week.tell("lot page", f"{device.name}, {code}")


def try_again(week: FarmWeek, device: Device) -> None:
    """Send again what was never answered."""
    if device.unsure:
        post = device.unsure.pop(week.draw.randrange(len(device.unsure)))
        send(week, device, post)


def late_again(week: FarmWeek, _device: Device) -> None:
    """Something that was answered long ago arrives once more."""
    if week.wire:
        week.deliver(*week.draw.choice(week.wire))


def restart(week: FarmWeek, _device: Device) -> None:
    """End the programs in good order, or by the plug; begin them again."""
    week.tell("restart")
    week.restart()


def clock_set(week: FarmWeek, _device: Device) -> None:
    """The computer's clock is set by a little, forward or back."""
    seconds = week.draw.choice((-1.5, -3, -40, 1.5, 30, 0.25))
    week.clock.go(seconds=seconds)
    week.tell("clock set", f"{seconds} s")


def day_after(week: FarmWeek, device: Device) -> None:
    """Read what is open, and press one of its keys, now or later."""
    forms = [f for f in read_after(week, device) if f.method == "post"]
    if not forms:
        return
    kinds = sorted({f.hidden["deed"] for f in forms})
    kind = week.draw.choices(kinds, [1 if k == "hold" else 3 for k in kinds])[0]
    post = press(week, week.draw.choice([f for f in forms if f.hidden["deed"] == kind]))
    assert post is not None
    if kind == "process" and week.draw.random() < 0.5:
        assert isinstance(post.asked, Deed)
        keep(week, device, post.data, post.asked)
    else:
        keep_or_send(week, device, post)


def count_a_shelf(week: FarmWeek, device: Device) -> None:
    """Count a whole shelf; the phone may be cut off, or be put away meanwhile."""
    here = sorted({place for (_, place), n in week.models.shelf.at.items() if n})
    here = [place for place in here if place != ASIDE]
    post = read_shelf(week, device, week.draw.choice(here)) if here else None
    if post is None:
        return
    if week.draw.random() < 0.4:
        device.unsure.append(cut_off(week, device, post))
        week.tell("typed in", f"{device.name}, cut off: {post.said}")
        return
    keep_or_send(week, device, post)


def keep_or_send(week: FarmWeek, device: Device, post: Post) -> None:
    """Press the key now, or have it drawn on the screen until later."""
    if week.draw.random() < 0.7:
        send(week, device, post)
    else:
        device.pocket.append(post)


def recall_sheet(week: FarmWeek, device: Device) -> None:
    """Read the recall sheet of a lot, and seldom call it back."""
    if week.models.shelf.lots:
        code = week.draw.choice(list(week.models.shelf.lots))
        post = read_sheet(week, device, code)
        if post.data["token"] and week.draw.random() < 0.15:
            keep_or_send(week, device, post)


Act = Callable[["FarmWeek", Device], None]


def hard_kill(week: FarmWeek, device: Device) -> None:
    """A real process takes the post, and is ended by SIGKILL in the middle of it."""
    if not device.pocket:
        return
    post = device.pocket.pop()
    when = week.draw.choice(("statement", "before-commit", "after-commit"))
    fault = Fault("kill", nth=week.draw.randint(1, 8), when=when)
    week.deliver_to_a_process(device, post, fault)
    device.unsure.append(post)


def weighted(draw: random.Random, acts: dict[Act, float]) -> Act:
    """Return one of them."""
    return draw.choices(list(acts), list(acts.values()))[0]
