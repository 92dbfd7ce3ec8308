"""The forms of a page, as a browser would send them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import unescape


@dataclass
class Form:
    """Where it goes, what it carries unseen, and what can be filled in or pressed."""

    action: str
    method: str
    hidden: dict[str, str] = field(default_factory=dict)
    typed: list[tuple[str, str]] = field(default_factory=list)
    """(name, value) of every input, in order; a name may come again."""
    fields: tuple[str, ...] = ()
    keys: tuple[tuple[str, str], ...] = ()
    """(name, value) of the buttons that carry one."""


_TAG = re.compile(r"<(/?)(form|input|select|button)\b([^>]*)>|data-until-ms=\"(\d+)\"")
_GIVEN = re.compile(r"([\w-]+)(?:=\"([^\"]*)\")?")


def forms_of(html: str) -> list[Form]:
    """Return the forms of a page in order."""
    return read_page(html)[0]


def read_page(html: str) -> tuple[list[Form], list[int]]:
    """
    Return its forms, and until when each of its clocks runs. [ms since 1970]

    Our own pages put every value in double quotes; a whole parser is ten times slower.
    """
    forms: list[Form] = []
    until: list[int] = []
    inside = False
    for end, tag, words, clock in _TAG.findall(html):
        if clock:
            until.append(int(clock))
        elif tag == "form":
            inside = not end
            if inside:
                given = _given(words)
                method = given.get("method", "get")
                forms.append(Form(given.get("action", ""), method))
        elif inside and not end:
            _take(forms[-1], tag, _given(words))
    return forms, sorted(until)


def _given(words: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in _GIVEN.findall(words)}


def _take(form: Form, tag: str, given: dict[str, str]) -> None:
    name, value = given.get("name", ""), given.get("value", "")
    if tag == "button":
        form.keys += ((name, value),) if name else ()
        return
    form.typed.append((name, value))
    if given.get("type") == "hidden":
        form.hidden[name] = value
    else:
        form.fields += (name,)
