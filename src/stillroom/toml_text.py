"""
A TOML file that a keeper wrote: its text, its values, and its faults by line and key.

Whatever is wrong is told in her terms: no such file, too large, not UTF-8, not TOML and
in which line. What the keys must be is the business of each kind of file.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path as FilePath

from stillroom.file_text import LARGEST_FILE, FileKind, text_of_file, too_large
from stillroom.jar_count import counted
from stillroom.refusal import Fault
from stillroom.toml_lines import Path

MOST_FAULTS = 100
"""So many faults are listed; a file with more is probably another kind of file."""

# tomllib needs minutes for a key of a hundred thousand parts; ours have two.
_LONG_KEY = re.compile(
    r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){20}"""
)
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of file, as messages name it."""

    name: str
    """Such as "day file"."""
    new: str
    """The command that writes one to fill in."""
    repeated: str
    """A table that may stand there more than once, such as ``[[shelf]]``."""
    quoted: str
    """A key whose value must stand in quotes, as an example."""

    @property
    def kind(self) -> FileKind:
        """The same, as a file that is read."""
        return FileKind(self.name, "TOML", f"{self.new} writes one to fill in")


@dataclass
class Noted:
    """The faults of a file, each with its line and key."""

    lines: Mapping[Path, int]
    faults: list[Fault] = field(default_factory=list)

    def note(self, path: Path, what: str) -> None:
        """Write down one fault; a key that is missing has the line of its table."""
        line = next(
            (
                self.lines[path[:n]]
                for n in range(len(path), 0, -1)
                if path[:n] in self.lines
            ),
            None,
        )
        self.faults.append(Fault(what, key=spelled(path), line=line))


def spelled(path: Path) -> str:
    """
    Write a path as a keeper counts: from one.

    Examples
    --------
    >>> spelled(("kitchen", "burners", 1, "power"))
    'kitchen.burners[2].power'
    """
    said = ""
    for part in path:
        said += (
            f"[{part + 1}]"
            if isinstance(part, int)
            else f".{part}" * bool(said) or part
        )
    return said


def shown(value: object) -> str:
    """Write a value as it stands in the file, cut short."""
    if isinstance(value, bool):
        text = str(value).lower()
    elif isinstance(value, str):
        text = f'"{value[:60]}"' if value.isprintable() else ascii(value[:60])
    elif isinstance(value, int) and value.bit_length() > 400:
        text = "a number with very many digits"  # `str` may refuse to write it
    elif isinstance(value, dict):
        text = "a table"
    elif isinstance(value, list):
        text = "a list" if value else "[]"
    else:
        text = str(value)
    return text if len(text) <= 64 else f"{text[:60]}..."


def quoted(text: str) -> str:
    """Write a TOML string: JSON's escapes are TOML's, but for DEL."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def text_of(path_or_text: FilePath | str, form: Form) -> str:
    """
    Return the text of a file, or the text itself.

    Parameters
    ----------
    path_or_text : Path or str
        A file by its path, or the text of one: a `str` never names a file.
    form : Form
        The kind of file, for the messages.

    Raises
    ------
    Unreadable
        If there is no such file, it is too large, or it is no text in UTF-8.
    """
    if isinstance(path_or_text, str):
        size = len(path_or_text.encode("utf-8", "surrogatepass"))
        if size > LARGEST_FILE:
            raise too_large("this text", size, form.kind)
        return path_or_text.removeprefix("\ufeff")
    return text_of_file(path_or_text, form.kind)


def values_of(text: str, form: Form) -> dict[str, object] | Fault:
    """Return the values of a TOML text, or why it is none."""
    if found := _LONG_KEY.search(text):
        line = text.count("\n", 0, found.start()) + 1
        return Fault(f"no key of a {form.name} has so many dots", line=line)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return _syntax_fault(text, str(error), form)
    except RecursionError:
        return Fault(f"lists are nested too deeply for a {form.name}")
    except ValueError:  # a whole number with thousands of digits
        return Fault("a number in it has far too many digits")
    if not values:
        return Fault(f"the file is empty; {form.new} writes one to fill in", line=1)
    return values


def listed(faults: list[Fault]) -> tuple[Fault, ...]:
    """Return faults by line, cut short where there are very many."""
    by_line = sorted(faults, key=lambda fault: fault.line or 0)
    if len(by_line) > MOST_FAULTS:
        more = Fault(f"and {counted(len(by_line) - MOST_FAULTS, 'fault')} more")
        by_line = [*by_line[:MOST_FAULTS], more]
    return tuple(by_line)


def _syntax_fault(text: str, message: str, form: Form) -> Fault:
    """Say in which line TOML itself is broken, and the usual cause."""
    found = _AT_LINE.search(message)
    reason = message[: found.start()] if found else message
    lines = text.splitlines() or [""]
    line = int(found[1]) if found and found[1] else len(lines)
    there = lines[min(line, len(lines)) - 1].strip()
    if re.search("twice|overwrite|mutate|immutable", reason):
        hint = f"Each key stands once in its table; {form.repeated} begins one more"
    else:
        hint = f"Words, clock times and measures stand in quotes: {form.quoted}"
    what = f"this is not TOML: {reason[:120]}, where it says {there[:60]!r}. {hint}"
    return Fault(what, line=line)
