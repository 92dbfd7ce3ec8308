"""An address of a server that is mistyped: seen as one, told without being shown."""

from __future__ import annotations

import re

_BEGINS_AS_A_SERVER = re.compile(r"\s*postgres\w*(\+\w*)?\s*(:|;|//)", re.IGNORECASE)
_WORDS_OF_A_SERVER = re.compile(
    r"\b(host|hostaddr|dbname|user|(ssl)?password)\s*=", re.IGNORECASE
)
_NAME_AND_PASSWORD = re.compile(r":.*@", re.DOTALL)
_PLAINLY_A_PATH = re.compile(r"/(?!/)|\.\.?[/\\]|[A-Za-z]:[/\\](?![/\\])")
_URL = re.compile(r"[A-Za-z][\w+.-]*://")

NO_ADDRESS = (
    "what was given begins or reads like the address of a server and is none; it is "
    "not shown here, as a password may be in it. An address is written "
    "postgresql://NAME@HOST/DATABASE, and the password left to PGPASSWORD or to the "
    "file .pgpass; a file of such a name is written with its folder, as ./NAME"
)


def is_mistyped(text: str) -> bool:
    """
    Return whether a text without ``://`` at its place is a server's, not a file's.

    >>> [is_mistyped(f"{text}ada:pw@h/d") for text in ("postgresql:/", "./", "")]
    [True, False, True]
    >>> is_mistyped("postgres.db"), is_mistyped("host=farm password=pw")
    (False, True)
    """
    if _URL.match(text):
        return False
    if _BEGINS_AS_A_SERVER.match(text):
        return True
    if _PLAINLY_A_PATH.match(text):
        return False
    return bool(_WORDS_OF_A_SERVER.search(text) or _NAME_AND_PASSWORD.search(text))


def hides_a_password(database: str | None) -> bool:
    """Return whether what should be a database's name holds what else is in one."""
    text = database or ""
    return bool(_NAME_AND_PASSWORD.search(text) or _WORDS_OF_A_SERVER.search(text))
