"""The day file: as a form, as plain text, up and down."""

from __future__ import annotations

import hashlib
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.planning.day_file.dayfile import check_day, new_day_text
from stillroom.records.days import ChangedMeanwhile
from stillroom.refusal import Fault, Unreadable
from stillroom.web.day_faults import form_words, where
from stillroom.web.day_fields import SECTIONS, Kind, nested_fields
from stillroom.web.day_tree import (
    Tree,
    add_row,
    file_of_tree,
    remove_row,
    tree_of_file,
    tree_of_form,
    without_blank_rows,
)
from stillroom.web.days_begun import day_at_the_stove
from stillroom.web.gate import TEXT_OR_FILE
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import kept_stock
from stillroom.web.shelf_taken import ShelfTaken, take_shelf
from stillroom.web.shop import Shop

MOST_FIELDS = 20_000
"""Fields that a sent form may have: a file at every limit has fewer."""


async def kitchen(request: Request) -> Response:
    """Show the form, or take what was typed into it."""
    if request.method == "POST":
        async with request.form(max_fields=MOST_FIELDS, max_files=0) as sent:
            return await run_in_threadpool(_typed, request, sent)
    return await run_in_threadpool(_form_of_the_day, request)


def _form_of_the_day(request: Request) -> Response:
    shop: Shop = request.app.state.shop
    if _begins_small(request):
        return _form(request, _small_day(request), beginning=True)
    text = shop.day_text()
    try:
        tree = tree_of_file(text or new_day_text())
    except Unreadable:
        return RedirectResponse("/kitchen/file", status_code=303)
    if request.query_params.get("shelf") == "stock":
        return _form(request, tree, taken=_take_from_stock(request, tree))
    return _form(request, tree, faults=check_day(text) if text else ())


def _take_from_stock(request: Request, tree: Tree) -> ShelfTaken | None:
    """Put what is on hand on the shelf of the form; `None` where no record is kept."""
    if request.app.state.records is None:
        return None
    with kept_stock(request).reading() as stock:
        return take_shelf(tree, stock, now_of(request))


def _begins_small(request: Request) -> bool:
    return request.query_params.get("begin") == "small"


def _small_day(request: Request) -> Tree:
    """
    Return the day to fill in, of today.

    Its height is left empty, so that it is asked for: nobody else's chooses a process.
    """
    tree = tree_of_file(new_day_text())
    tree["day"][0]["date"] = f"{now_of(request):%Y-%m-%d}"
    tree["kitchen"][0]["elevation"] = ""
    return tree


def _typed(request: Request, sent: FormData) -> Response:
    shop: Shop = request.app.state.shop
    tree = tree_of_form(
        (name, value) for name, value in sent.multi_items() if isinstance(value, str)
    )
    drawn_from = str(sent.get("drawn-from", ""))
    verb, _, path = str(sent.get("do", "save")).partition(" ")
    if verb != "save":
        taken = None
        if verb == "add":
            add_row(tree, path)
        elif verb == "remove":
            remove_row(tree, path)
        elif verb == "take-stock":
            taken = _take_from_stock(request, tree)
        return _form(request, tree, taken=taken, drawn_from=drawn_from)
    tree = without_blank_rows(tree)
    text = file_of_tree(tree)
    faults = check_day(text)
    if faults:
        return _form(request, tree, faults=faults, drawn_from=drawn_from, status=400)
    now = shop.day_text()
    if drawn_from != _digest(now):
        return _form(request, tree, changed_meanwhile=True, status=409)
    if tree_of_file(now) != tree_of_file(text) if now else True:
        try:
            shop.save_day(text, "kitchen form", over=now)
        except ChangedMeanwhile:
            return _form(request, tree, changed_meanwhile=True, status=409)
    return RedirectResponse("/day", status_code=303)


def _form(
    request: Request,
    tree: Tree,
    *,
    faults: tuple[Fault, ...] = (),
    changed_meanwhile: bool = False,
    beginning: bool = False,
    taken: ShelfTaken | None = None,
    drawn_from: str = "",
    status: int = 200,
) -> Response:
    """
    Draw the form.

    ``drawn_from`` is the mark of the day file that what is typed was begun over: it
    stays through every redrawing, or what somebody else saved since would be lost
    unsaid. Who was told of that has the one as it stands now.
    """
    shop: Shop = request.app.state.shop
    text = shop.day_text()
    beside: dict[str, list[str]] = {}
    elsewhere: list[str] = []
    known = set(_fault_keys(tree))
    for fault in faults:
        if fault.key in known:
            beside.setdefault(fault.key, []).append(form_words(fault))
        else:
            elsewhere.append(f"{fault.key}: {form_words(fault)}".removeprefix(": "))
    return page(
        request,
        "kitchen.html",
        status=status,
        here="kitchen",
        going=day_at_the_stove(request),
        sections=SECTIONS,
        tree=tree,
        beside=beside,
        elsewhere=elsewhere,
        fault_count=len(faults),
        changed_meanwhile=changed_meanwhile,
        beginning=beginning,
        taken=taken,
        kept=request.app.state.records is not None,
        of_an_invented_day=tree["day"][0]["invented"],
        drawn_from=drawn_from or _digest(text),
        burners_for=lambda ticked: _burner_choices(tree, ticked),
        anchor_of=_anchor_of,
        where=where,
        nested=nested_fields,
        saved=bool(text),
        has_comments="#" in text,
    )


def _burner_choices(tree: Tree, ticked: list[str]) -> list[tuple[str, str]]:
    """Burners that stand in the form, and those once ticked that do not any longer."""
    names = [row["name"] for row in tree["kitchen.burners"] if row["name"]]
    gone = [name for name in ticked if name not in names]
    return [(name, name) for name in dict.fromkeys(names)] + [
        (name, f"{name} (no such burner)") for name in gone
    ]


def _anchor_of(at: str) -> str:
    """Anchor of the section in which a row stands."""
    path = at.partition("[")[0]
    return next(section.anchor for section in SECTIONS if section.path == path)


def _fault_keys(tree: Tree) -> list[str]:
    """Every place of the form to which a fault can be put."""
    keys = []
    for section in SECTIONS:
        if section.many:
            keys.append(section.path)
        for number, row in enumerate(tree[section.path], start=1):
            at = f"{section.path}[{number}]" if section.many else section.path
            for field in section.fields:
                keys.append(f"{at}.{field.key}")
                if field.kind is Kind.ROWS:
                    keys += [
                        f"{at}.{field.key}[{i}].{inner.key}"
                        for i in range(1, len(row[field.key]) + 1)
                        for inner in nested_fields(field.kind)
                    ]
    return keys


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()[:16]


async def file_page(request: Request) -> Response:
    """Show the day file as text, or take one, typed or brought."""
    if request.method == "POST":
        async with request.form(**TEXT_OR_FILE) as sent:
            drawn_from = str(sent.get("drawn-from", ""))
            brought = sent.get("file")
            if isinstance(brought, UploadFile) and brought.filename:
                content = await brought.read()
                return await run_in_threadpool(_brought, request, content, drawn_from)
            text = str(sent.get("text", ""))
        return await run_in_threadpool(_take, request, text, "kitchen file", drawn_from)
    shop: Shop = request.app.state.shop
    if _begins_small(request):
        return _file(request, file_of_tree(_small_day(request)))
    text = await run_in_threadpool(shop.day_text)
    faults = check_day(text) if text else ()
    return _file(request, text or new_day_text(), faults=faults)


def _brought(request: Request, content: bytes, drawn_from: str) -> Response:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        what = "the file that was brought is no text in UTF-8; save it as UTF-8"
        return _file(
            request,
            request.app.state.shop.day_text(),
            faults=(Fault(what, line=line),),
            status=400,
        )
    return _take(request, text, "brought as a file", drawn_from)


def _take(request: Request, text: str, why: str, drawn_from: str) -> Response:
    shop: Shop = request.app.state.shop
    text = text.replace("\r\n", "\n")
    faults = check_day(text)
    if faults:
        return _file(request, text, faults=faults, drawn_from=drawn_from, status=400)
    now = shop.day_text()
    if text != now:
        if drawn_from != _digest(now):
            return _file(request, text, changed_meanwhile=True, status=409)
        try:
            shop.save_day(text, why, over=now)
        except ChangedMeanwhile:
            return _file(request, text, changed_meanwhile=True, status=409)
    return RedirectResponse("/day", status_code=303)


def _file(
    request: Request,
    text: str,
    *,
    faults: tuple[Fault, ...] = (),
    changed_meanwhile: bool = False,
    drawn_from: str = "",
    status: int = 200,
) -> Response:
    """Draw the day file as text; ``drawn_from`` as in `_form`."""
    now = request.app.state.shop.day_text()
    lines = text.split("\n")
    shown: list[dict[str, Any]] = [
        {
            "fault": fault,
            "says": lines[fault.line - 1].strip()[:100]
            if fault.line and fault.line <= len(lines)
            else "",
        }
        for fault in faults
    ]
    return page(
        request,
        "kitchen_file.html",
        status=status,
        here="kitchen",
        going=day_at_the_stove(request),
        text=text,
        faults=shown,
        changed_meanwhile=changed_meanwhile,
        drawn_from=drawn_from or _digest(now),
        saved=bool(now),
        kept=request.app.state.records is not None,
    )


def download(request: Request) -> Response:
    """Give the day file as it stands."""
    shop: Shop = request.app.state.shop
    return Response(
        shop.day_text() or new_day_text(),
        media_type="application/toml; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="day.toml"'},
    )


ROUTES = [
    Route("/kitchen", kitchen, methods=["GET", "POST"]),
    Route("/kitchen/file", file_page, methods=["GET", "POST"]),
    Route("/kitchen/day.toml", download),
]
