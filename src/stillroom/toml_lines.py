"""
On which line of a TOML file each key stands.

`tomllib` reads the values and forgets the lines. This scanner walks a text that
`tomllib` has already accepted and notes where each key, table and element begins, under
the path by which the value is reached: ``("kitchen", "burners", 1, "power")``. It
judges nothing; where it does not understand the text it stops, and keys below have no
line.
"""

from __future__ import annotations

import contextlib
import re
import tomllib

Path = tuple[str | int, ...]

_KEY_PART = re.compile(
    r"""[ \t]*(?:(?P<bare>[A-Za-z0-9_-]+)
    |(?P<quoted>"(?:[^"\\\n]|\\.)*"|'[^'\n]*'))[ \t]*""",
    re.VERBOSE,
)
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{1,2}(?!"))?'
    r"|'''.*?'''(?:'{1,2}(?!'))?"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_PLAIN_VALUE = re.compile(r"[^\s,\[\]{}#]+(?: [0-9][^\s,\[\]{}#]*)?")
DEEPEST = 50
"""Values nested more deeply are not looked into."""


class _Lost(Exception):
    """The scanner does not understand what it sees."""


def line_numbers(text: str) -> dict[Path, int]:
    r"""
    Map the path of every key, table and element to its line, counted from 1.

    Examples
    --------
    >>> lines = line_numbers('[[pots]]\nname = "a"\n[[pots]]\nname = "b"\n')
    >>> lines["pots", 1, "name"]
    4
    """
    scanner = _Scanner(text)
    with contextlib.suppress(_Lost):
        scanner.document()
    return scanner.lines


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text.replace("\r\n", "\n")
        self.at = 0
        self.lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}  # tables seen of each array of tables
        self._line, self._counted_to = 1, 0

    def document(self) -> None:
        table: Path = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self.text.startswith("[[", self.at):
                table = self._header("[[", "]]")
            elif self._sees("["):
                table = self._header("[", "]")
            else:
                self._pair(table, 0)
            self._skip(_BLANK)

    def _header(self, opens: str, closes: str) -> Path:
        line = self._line_here()
        self.at += len(opens)
        parts = self._key()
        self._take(closes)
        path = self._resolved(parts[:-1], line)
        path = (*path, parts[-1])
        if opens == "[[":
            index = self._counts.get(path, -1) + 1
            self._counts[path] = index
            self._note(path, line)
            path = (*path, index)
        self._note(path, line)
        return path

    def _resolved(self, parts: tuple[str, ...], line: int) -> Path:
        """Put in the index of the last table wherever an array of tables is meant."""
        path: Path = ()
        for part in parts:
            path = (*path, part)
            self._note(path, line)  # a table that only longer headers name
            if path in self._counts:
                path = (*path, self._counts[path])
        return path

    def _pair(self, table: Path, depth: int) -> None:
        line = self._line_here()
        path = table
        for part in self._key():
            path = (*path, part)
            self._note(path, line)
        self._take("=")
        self._value(path, depth)

    def _key(self) -> tuple[str, ...]:
        parts: list[str] = []
        while True:
            found = _KEY_PART.match(self.text, self.at)
            if found is None:
                raise _Lost
            self.at = found.end()
            parts.append(found["bare"] or _unquoted(found["quoted"]))
            if not self._sees("."):
                return tuple(parts)
            self.at += 1

    def _value(self, path: Path, depth: int) -> None:
        if depth > DEEPEST:
            raise _Lost
        self._skip(_BLANK)
        if self._sees("["):
            self._array(path, depth)
        elif self._sees("{"):
            self._inline_table(path, depth)
        else:
            for pattern in (_STRING, _PLAIN_VALUE):
                if found := pattern.match(self.text, self.at):
                    self.at = found.end()
                    return
            raise _Lost

    def _array(self, path: Path, depth: int) -> None:
        self.at += 1
        index = 0
        self._skip(_BLANK)
        while not self._sees("]"):
            self._note((*path, index), self._line_here())
            self._value((*path, index), depth + 1)
            index += 1
            self._separator("]")
        self.at += 1

    def _inline_table(self, path: Path, depth: int) -> None:
        self.at += 1
        self._skip(_BLANK)
        while not self._sees("}"):
            self._pair(path, depth + 1)
            self._separator("}")
        self.at += 1

    def _separator(self, closes: str) -> None:
        self._skip(_BLANK)
        if self._sees(","):
            self.at += 1
            self._skip(_BLANK)
        elif not self._sees(closes):
            raise _Lost

    def _note(self, path: Path, line: int) -> None:
        self.lines.setdefault(path, line)

    def _line_here(self) -> int:
        self._line += self.text.count("\n", self._counted_to, self.at)
        self._counted_to = self.at
        return self._line

    def _sees(self, letter: str) -> bool:
        return self.text.startswith(letter, self.at)

    def _take(self, letters: str) -> None:
        if not self._sees(letters):
            raise _Lost
        self.at += len(letters)

    def _skip(self, pattern: re.Pattern[str]) -> None:
        if found := pattern.match(self.text, self.at):
            self.at = found.end()


def _unquoted(quoted: str) -> str:
    try:
        key = tomllib.loads(f"key = {quoted}")["key"]
    except tomllib.TOMLDecodeError:
        raise _Lost from None
    return str(key)
