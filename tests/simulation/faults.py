"""
What can go wrong in the middle of a transaction, at a chosen moment.

A kill takes the files as they are at that moment, as a process that is gone leaves
them, and from then on the dead one does nothing more. In a torn commit only part of
the log got to the disk. A full disk is SQLite's own (no more pages) or is said by the
database at a statement.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, event

WAL = 32
"""Bytes of a log's header."""
NO_LIMIT = 1_000_000_000


class Killed(Exception):
    """The process is dead; whatever it does after this, it does not do."""


@dataclass
class Fault:
    """What is to happen, and in the end whether it did."""

    what: str
    """``kill``, ``torn``, ``full`` (at a statement), ``no-pages`` or ``between``."""
    nth: int = 1
    """At which statement, or which part of 1,000 of the log is kept."""
    when: str = "statement"
    """Of a kill: ``statement``, ``before-commit`` or ``after-commit``."""
    do: Callable[[], None] | None = None
    """Of ``between``: done after the reading and before the writing begins."""
    times: int = 1
    kill: Callable[[], None] | None = None
    """A real end of the process; else the files are taken and `Killed` is raised."""
    struck: str = ""
    """``nothing`` was committed, ``all`` of it was, or ``either``."""


class Faults:
    """Hooks in one engine; at most one fault is armed."""

    def __init__(self, engine: Engine, file: Path | None, grave: Path) -> None:
        self._dialect: Any = engine.dialect
        self._file, self._grave = file, grave
        self._fault: Fault | None = None
        self._statements = 0
        self._limited = False
        self.dead = False
        self.commits = 0
        if file is None:
            event.listen(engine, "begin", self._begin)
        event.listen(engine, "do_execute", self._execute)
        event.listen(engine, "do_executemany", self._execute)
        self._commit = self._dialect.do_commit
        self._dialect.do_commit = self._do_commit

    def arm(self, fault: Fault | None) -> None:
        self._fault, self._statements = fault, 0

    def _begin(self, connection: Connection) -> None:
        """A server begins with its first statement; a file when we say BEGIN."""
        if connection.get_execution_options().get("writes"):
            self._before_writing(None)

    def _before_writing(self, raw: Any) -> None:
        fault = self._fault
        if fault and fault.what == "between" and fault.do and fault.times:
            fault.times -= 1
            fault.struck = "nothing"
            fault.do()
        if fault and fault.what == "no-pages":
            (pages,) = raw.execute("PRAGMA page_count").fetchone()
            raw.execute(f"PRAGMA max_page_count={pages}").close()
            self._limited, fault.struck = True, "either"
        elif self._limited:
            raw.execute(f"PRAGMA max_page_count={NO_LIMIT}").close()

    def _execute(self, cursor: Any, statement: str, *_more: Any) -> None:
        if self.dead:
            raise Killed
        if statement == "BEGIN IMMEDIATE":
            self._before_writing(cursor.connection)
        fault = self._fault
        if fault is None:
            return
        if fault.what == "full" and statement.startswith(("INSERT", "UPDATE")):
            self._statements += 1
            if self._statements == fault.nth:
                fault.struck = "nothing"
                raise self._full()
        if fault.what == "kill" and fault.when == "statement":
            self._statements += 1
            if self._statements == fault.nth:
                self._die(fault, "nothing")

    def _full(self) -> Exception:
        if self._file is not None:
            return sqlite3.OperationalError("database or disk is full")
        import psycopg

        return psycopg.errors.DiskFull(
            'could not extend file "base/5/1259": No space left on device'
        )

    def _do_commit(self, dbapi: Any) -> None:
        if self.dead:
            raise Killed
        fault = self._fault
        writes = self._file is None or dbapi.in_transaction
        if fault and fault.what == "kill" and fault.when == "before-commit" and writes:
            self._die(fault, "nothing")
        before = None
        if fault and fault.what == "torn" and writes:
            before = self._take()
        self._commit(dbapi)
        self.commits += 1
        if fault and fault.what == "torn" and before:
            self._tear(fault, before)
        if fault and fault.what == "kill" and fault.when == "after-commit" and writes:
            self._die(fault, "all")

    def _die(self, fault: Fault, struck: str) -> None:
        fault.struck = struck
        if fault.kill is not None:
            fault.kill()
        self._take()
        self.dead = True
        raise Killed

    def _take(self) -> tuple[Path, Path] | None:
        """Copy the file and its log as they are on the disk now."""
        if self._file is None:
            return None
        taken = []
        for end in ("", "-wal"):
            here = self._file.with_name(self._file.name + end)
            there = self._grave.with_name(self._grave.name + end)
            there.unlink(missing_ok=True)
            if here.exists():
                shutil.copyfile(here, there)
            taken.append(there)
        return taken[0], taken[1]

    def _tear(self, fault: Fault, before: tuple[Path, Path]) -> None:
        """Leave the log as it was, and of what the commit added only a part."""
        _, log = before
        assert self._file is not None
        old = log.read_bytes() if log.exists() else b""
        new = self._file.with_name(self._file.name + "-wal").read_bytes()
        grown = len(new) - len(old)
        if grown > 0 and old and new[:WAL] == old[:WAL]:
            log.write_bytes(new[: len(old) + grown * fault.nth // 1000])
            fault.struck = "nothing"  # its last frame, the commit, is not whole
        else:  # the log was begun anew: the whole of it
            self._take()
            fault.struck = "all"
        self.dead = True
        raise Killed
