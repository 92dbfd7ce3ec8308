"""Why it is so: each topic with its picture, and a probe's log looked back on."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.explaining.asking import Field, Given, fields_of
from stillroom.explaining.explanation import Explanation
from stillroom.explaining.look_back import ASKS as LOG_ASKS
from stillroom.explaining.look_back import look_back
from stillroom.explaining.topics import TOPICS, explain
from stillroom.refusal import Refusal, Unreadable
from stillroom.web.asking import LONGEST_FIELD
from stillroom.web.chart import chart
from stillroom.web.pages import page
from stillroom.web.routes.book import kitchen_elevation

SHOWN_EMPTY = ("elevation",)
"""Fields whose stand-in is not filled in: a place that the keeper has to know."""


def topics_page(request: Request) -> Response:
    """Page of the topics."""
    return page(request, "why.html", here="book", topics=tuple(TOPICS.values()))


def topic_page(request: Request) -> Response:
    """Explain one topic with what the form says."""
    topic = TOPICS.get(request.path_params["topic"])
    if topic is None:
        raise HTTPException(
            404, f"Nothing is explained here under {request.path_params['topic']!r}."
        )
    given = _typed(request, topic.asks)
    answer: Explanation | Refusal | None = None
    faults: dict[str, str] = {}
    try:
        answer = explain(topic.name, given)
    except Unreadable as fault:
        faults = _by_field(fault)
    return _page(
        request, "why_topic.html", answer, faults, given, topic.fields, topic=topic
    )


async def log_page(request: Request) -> Response:
    """Look back over a log that was pasted or sent up; without one, an empty form."""
    if request.method != "POST":
        given = _typed(request, LOG_ASKS)
        return _page(request, "log.html", None, {}, given, fields_of(LOG_ASKS), log="")
    async with request.form(max_files=1, max_fields=30) as form:
        text = str(form.get("log") or "")
        sent = form.get("file")
        if isinstance(sent, UploadFile) and sent.size:
            text = (await sent.read()).decode("utf-8", errors="replace")
        typed = {
            name: str(form.get(name) or "").strip()[:LONGEST_FIELD] for name in LOG_ASKS
        }
    return await run_in_threadpool(_looked_back, request, text, typed)


def _looked_back(request: Request, text: str, typed: dict[str, str]) -> Response:
    answer: Explanation | Refusal | None = None
    faults: dict[str, str] = {}
    if not typed["elevation"] and not typed["pressure"]:
        faults["elevation"] = (
            "give the height of the kitchen, such as 2150 ft: it says where water boils"
        )
    if not text.strip():
        faults["log"] = "paste a log, or choose its file"
    if not faults:
        try:
            answer = look_back(text, Given(typed, LOG_ASKS))
        except Unreadable as fault:
            faults = _by_field(fault, rest="log")
    return _page(
        request, "log.html", answer, faults, typed, fields_of(LOG_ASKS), log=text
    )


def _by_field(fault: Unreadable, rest: str = "") -> dict[str, str]:
    """Faults by the field that they belong to; what has none goes to ``rest``."""
    found: dict[str, str] = {}
    for one in fault.faults:
        name = one.key.removeprefix("--").replace("-", "_") or rest
        found[name] = f"{found[name]}; {one.what}" if name in found else one.what
    return found


def _typed(request: Request, asks: tuple[str, ...]) -> dict[str, str]:
    """What was typed; the kitchen's own elevation where none was."""
    query = request.query_params
    typed = {name: query.get(name, "").strip()[:LONGEST_FIELD] for name in asks}
    other = any(typed.get(name) for name in ("pressure", "boils"))
    if "elevation" in typed and not typed["elevation"] and not other:
        typed["elevation"] = kitchen_elevation(request)
    return typed


def _page(
    request: Request,
    template: str,
    answer: Explanation | Refusal | None,
    faults: dict[str, str],
    typed: dict[str, str],
    fields: tuple[Field, ...],
    **values: Any,
) -> Response:
    asked = {
        field.name: typed[field.name]
        or (field.default if field.name not in SHOWN_EMPTY else "")
        for field in fields
    }
    told = answer if isinstance(answer, Explanation) else None
    refusal = answer if isinstance(answer, Refusal) else None
    return page(
        request,
        template,
        status=400 if faults else 422 if refusal else 200,
        here="book",
        told=told,
        refusal=refusal,
        faults=faults,
        asked=asked,
        fields=fields,
        chart=chart(told.picture) if told and told.picture else None,
        **values,
    )


ROUTES = [
    Route("/why", topics_page),
    Route("/why/{topic}", topic_page),
    Route("/log", log_page, methods=["GET", "POST"]),
]
