"""The forms of a page, as a browser would send them."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser


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


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self.until: list[int] = []
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if "data-until-ms" in given:
            self.until.append(int(given["data-until-ms"]))
        if tag == "form":
            self._open = True
            method = given.get("method", "get")
            self.forms.append(Form(given.get("action", ""), method))
        elif self._open and tag in ("input", "select", "button"):
            self._part(tag, given)

    def _part(self, tag: str, given: dict[str, str]) -> None:
        form, name = self.forms[-1], given.get("name", "")
        if tag == "button":
            if name:
                form.keys += ((name, given.get("value", "")),)
            return
        form.typed.append((name, given.get("value", "")))
        if given.get("type") == "hidden":
            form.hidden[name] = given.get("value", "")
        else:
            form.fields += (name,)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = False


def forms_of(html: str) -> list[Form]:
    """Return the forms of a page in order."""
    return read_page(html)[0]


def read_page(html: str) -> tuple[list[Form], list[int]]:
    """Return its forms, and until when each of its clocks runs. [ms since 1970]"""
    reader = _Reader()
    reader.feed(html)
    return reader.forms, sorted(reader.until)
