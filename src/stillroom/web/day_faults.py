"""What is wrong in a day file, told by its place in the form of the Kitchen."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote

from stillroom.capital import capital
from stillroom.refusal import Fault
from stillroom.web.day_fields import SECTIONS, Kind, Section, nested_fields

NOTHING_YET = "nothing stands here yet"

_FILE_WORDS = (
    (re.compile(r"^this key is missing$"), "this is not filled in yet"),
    (re.compile(r"^this is missing; write a table \[\S+$"), NOTHING_YET),
    (re.compile(r", written without quotes"), ""),
    (re.compile(r'(?<=[:,]) "(\d\d:\d\d)"'), r" \1"),
    (re.compile(r", in quotes: \S+ = "), ": "),
    (re.compile(r"; write paid = "), "; write such as "),
    (re.compile(r"; add elevation = "), "; fill in the height above the sea, "),
)


def form_words(fault: Fault) -> str:
    """
    Words of a fault for who fills a form and sees no file.

    >>> form_words(Fault("this key is missing", key="day.name", line=1))
    'this is not filled in yet'
    >>> form_words(Fault("this is missing; write a table [[wants]]", key="wants"))
    'nothing stands here yet: press “another want” and fill it in'
    >>> form_words(Fault('write the hour of 24: "07:30", "18:00"', key="day.starts"))
    'write the hour of 24: 07:30, 18:00'
    >>> form_words(Fault("-1 is no sum of money; write paid = 12.60", key="shelf[1]"))
    '-1 is no sum of money; write such as 12.60'
    """
    said = fault.what
    for pattern, words in _FILE_WORDS:
        said = pattern.sub(words, said)
    section = next((s for s in SECTIONS if s.path == fault.key), None)
    if section is not None and section.many and said == NOTHING_YET:
        said += f": press “another {section.one}” and fill it in"
    return said


def where(key: str) -> str:
    """
    Say in words at which field a fault stands.

    >>> where("kitchen.pots[2].volume"), where("people[1].breaks[1].latest")
    ('Pots, number 2: Volume', 'People, number 1: break, number 1: begun by')
    """
    section = _section_of(key)
    if section is None:
        return key
    words = [section.title]
    for part in re.findall(r"\[(\d+)\]|\.([a-z_]+)", key[len(section.path) :]):
        number, name = part
        if number:
            words[-1] += f", number {number}"
            continue
        fields = [
            *section.fields,
            *nested_fields(Kind.ROWS),
            *nested_fields(Kind.PAIRS),
        ]
        words.append(next((f.label for f in fields if f.key == name), name))
    return ": ".join(words)


def _section_of(key: str) -> Section | None:
    """The part of the form in which a key of the file stands, the narrowest."""
    found = (
        s
        for s in SECTIONS
        if key == s.path or key.startswith((s.path + ".", s.path + "["))
    )
    return max(found, key=lambda s: len(s.path), default=None)


@dataclass(frozen=True, slots=True)
class InTheForm:
    """A fault of the day, for a page that only leads to the form."""

    where: str
    """The part of the form and its field; or key and line of the file."""
    what: str
    address: str


def in_the_form(faults: Iterable[Fault]) -> tuple[InTheForm, ...]:
    """
    Say of each fault at which field of the Kitchen it is mended, and how.

    What the form has no field for is mended in the file, and told as the file has it.

    Examples
    --------
    >>> (one,) = in_the_form([Fault("this key is missing", key="day.name", line=1)])
    >>> one.where, one.what
    ('The day: What the day is called', 'this is not filled in yet')
    >>> one.address
    '/kitchen#fault-day.name'
    >>> (one,) = in_the_form([Fault("is not known", key="day.colour", line=3)])
    >>> one.where, one.what, one.address
    ('Line 3, day.colour', 'is not known', '/kitchen/file')
    """
    return tuple(_in_the_form(fault) for fault in faults)


def _in_the_form(fault: Fault) -> InTheForm:
    section = _section_of(fault.key)
    if section is None or not _has_field(section, fault.key):
        at, _, _ = str(fault).partition(fault.what)
        return InTheForm(capital(at.removesuffix(": ")), fault.what, "/kitchen/file")
    at = section.anchor
    if section.many or fault.key != section.path:
        at = f"fault-{fault.key}"
    return InTheForm(where(fault.key), form_words(fault), f"/kitchen#{quote(at)}")


def _has_field(section: Section, key: str) -> bool:
    """Whether a key is a part of the form itself, or a field of it."""
    names = re.findall(r"\.([a-z_]+)", key[len(section.path) :])
    fields = {field.key: field for field in section.fields}
    if not names:
        return True
    if names[0] not in fields:
        return False
    return all(
        name in {inner.key for inner in nested_fields(fields[names[0]].kind)}
        for name in names[1:]
    )
