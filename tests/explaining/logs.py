"""Probe logs for the tests. All of them are invented: no jar was ever measured so."""

from __future__ import annotations

import math


def log_of(
    *,
    boils_f: float = 208.0,
    come_up_min: int = 12,
    holds_min: int = 15,
    lost: tuple[int, int] | None = None,
    off_f: float = 0.0,
    bath: bool = True,
) -> str:
    """
    A bath that comes up, holds and cools, and a jar that follows it by fh 20 min.

    ``lost`` is a stretch of minutes, since the full boil, eight degrees under it.
    """
    rows = ["time_min,jar_f,bath_f" if bath else "time_min,jar_f"]
    jar = 170.0
    for minute in range(come_up_min + holds_min + 30):
        if minute < come_up_min:
            medium = 170.0 + (boils_f - 170.0) * minute / come_up_min
        elif minute <= come_up_min + holds_min:
            medium = boils_f
            if lost and lost[0] <= minute - come_up_min < lost[1]:
                medium -= 8.0
        else:
            medium = max(90.0, boils_f - 6.0 * (minute - come_up_min - holds_min))
        jar += (medium - jar) * (1.0 - math.exp(-math.log(10.0) / 20.0))
        cells = [f"{minute}", f"{jar + off_f:.2f}", f"{medium + off_f:.2f}"]
        rows.append(",".join(cells if bath else cells[:2]))
    return "\n".join(rows) + "\n"
