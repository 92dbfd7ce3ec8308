"""A copy every day by itself, as long as the pages are served."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

from stillroom.records.backup import Backup, back_up_if_due
from stillroom.records.following import Following

LOOK_EVERY_S = 900.0


class DailyBackup:
    """
    Makes a copy at once if the last is older than a day, and looks again meanwhile.

    Use it in a ``with``. A copy that cannot be made is told and tried again at the
    next look; it stops nobody from working.
    """

    def __init__(
        self,
        where: str | os.PathLike[str],
        *,
        tell: Callable[[Backup | Exception], None],
        to: Path | None = None,
        following: Following | None = None,
        look_every_s: float = LOOK_EVERY_S,
    ) -> None:
        self._where = where
        self._to = to
        self._following = following
        self._tell = tell
        self._look_every_s = look_every_s
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name="daily-backup")
        self._told = ""

    def look(self) -> None:
        """Make a copy if one is due, and tell; the same failure is told once."""
        try:
            made = back_up_if_due(self._where, to=self._to, following=self._following)
        except Exception as error:  # noqa: BLE001  # a failed copy is no failed day
            if str(error) != self._told:
                self._tell(error)
            self._told = str(error)
        else:
            self._told = ""
            if made is not None:
                self._tell(made)

    def _go_on(self) -> None:
        while not self._ended.wait(self._look_every_s):
            self.look()

    def __enter__(self) -> Self:
        self.look()
        self._thread.start()
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self._ended.set()
        if self._thread.is_alive():
            self._thread.join()
