"""What is said where a server runs and turns us away: who, where, or without rights."""

from __future__ import annotations

import re

NO_RIGHTS = "42501"
"""PostgreSQL's number for it, in every language (its manual, appendix A)."""

# While a connection is made libpq gives no number, only the server's words. In another
# language they are not known here, and the server's own sentence is shown with what is
# said of any server that does not answer.
_TURNED_AWAY = (
    (
        r"password authentication failed|no password supplied",
        "does not let you in: the password or the name before the @ is wrong or "
        "missing; give the password in PGPASSWORD or in the file .pgpass",
    ),
    (
        r'role "[^"]*" does not exist|authentication failed for user|no pg_hba',
        "does not let you in: see that the name before the @ is right, and ask who "
        "runs the server to let that one in from here",
    ),
    (
        r'database "[^"]*" does not exist',
        "is not there, the server has no database of that name: see that the name is "
        "right, or make it (createdb NAME)",
    ),
    (
        r"connection option|bad value for|invalid \S+ value",
        "cannot be used as an address: mend or leave out what stands after its ?",
    ),
)


def words_of_a_server(cause: BaseException | None) -> str:
    """
    Return what a server's complaint means and what to do; empty if it is another.

    >>> words_of_a_server(Exception('database "farm" does not exist')).split(",")[0]
    'is not there'
    """
    if getattr(cause, "sqlstate", None) == NO_RIGHTS:
        return (
            "does not allow it: this role may not read or write there, and nothing was "
            "written; ask who runs the server for the rights (GRANT)"
        )
    told = str(cause)
    if getattr(cause, "sqlstate", None) is None:
        for sign, words in _TURNED_AWAY:
            if re.search(sign, told):
                return words
    return ""
