"""
What a probe's log shows: come-up, heating-rate index, lag factor, lethality, the boil.

All of it looks back. A published process is held by its clock at a full boil, never by
what is worked out here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.science.estimate import Estimate
from stillroom.science.lethality import Reference, estimated_lethality
from stillroom.science.probe_log import ProbeLog
from stillroom.science.ranges import OutOfRange, within

Array = NDArray[float64]

AT_THE_BOIL_K = 0.6
"""So far under the boiling point still counts as boiling: about 1 °F of a probe."""
_COME_UP_SHARE = 0.58
"""Ball: of the come-up, this share does not count as time at temperature; memory."""


@dataclass(frozen=True, slots=True)
class LostBoil:
    """A stretch under the boil, after the first full boil and before the end. [s]"""

    from_s: float
    to_s: float
    lowest_k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LogReport:
    """What was read off a log; times from its first reading. [s]"""

    come_up_s: float | None
    """First full boil of the bath; ``None`` without a bath or a boil."""
    boil_ends_s: float | None
    lost: tuple[LostBoil, ...]
    longest_unbroken_s: float | None
    """Longest stretch at the boil: what a clock at the stove would have seen."""
    heating_index: Estimate | None
    lag: Estimate | None
    lethality: Estimate
    peak_jar_k: float
    peak_at_s: float


def report(log: ProbeLog, *, boils_k: float, reference: Reference) -> LogReport:
    r"""
    Look back over a log.

    Parameters
    ----------
    log : ProbeLog
        From `probe_log.read_probe_log`, calibrated already if it can be.
    boils_k : float
        Where the bath boils or stands: today's boiling point, or the steam's at the
        gauge, 353.15 to 398.15. [K]
    reference : Reference
        `lethality.ACID_FOOD` or `lethality.F0`.

    Returns
    -------
    LogReport
        Figures with their spread. Without a bath, only lethality and the peak.

    Raises
    ------
    OutOfRange
        If the log has gaps or the boiling point lies outside its range.

    Examples
    --------
    >>> from stillroom.science.lethality import ACID_FOOD
    >>> from stillroom.science.probe_log import read_probe_log
    >>> rows = [f"{m},{100 - 40 * 10 ** (-m / 30):.2f},100" for m in range(40)]
    >>> log = read_probe_log("time_min,jar_c,bath_c\n" + "\n".join(rows))
    >>> seen = report(log, boils_k=373.15, reference=ACID_FOOD)
    >>> print(f"{seen.heating_index.value:.1f} min, j {seen.lag.value:.2f}")
    30.0 min, j 1.00
    """
    boils = within(
        "boils_k",
        boils_k,
        353.15,
        398.15,
        source="canners, 80 to 125 °C",
        hint="Take today's boiling point, or the steam's, in kelvin.",
    )
    lethality = estimated_lethality(log.time_s, log.jar_k, reference)
    peak = int(np.argmax(log.jar_k))
    come_up = ends = longest = None
    lost: tuple[LostBoil, ...] = ()
    index = lag = None
    if log.bath_k is not None:
        come_up, ends = _boil(log.time_s, log.bath_k, boils)
        if come_up is not None and ends is not None:
            lost = _lost(log.time_s, log.bath_k, boils, come_up, ends)
            stops = [
                come_up,
                *(t for gap in lost for t in (gap.from_s, gap.to_s)),
                ends,
            ]
            longest = max(
                stop - start
                for start, stop in zip(stops[::2], stops[1::2], strict=True)
            )
            try:
                index, lag = heating_index(log, come_up_s=come_up, until_s=ends)
            except OutOfRange:
                index = lag = None  # too short or too odd a curve to say
    return LogReport(
        come_up_s=come_up,
        boil_ends_s=ends,
        lost=lost,
        longest_unbroken_s=longest,
        heating_index=index,
        lag=lag,
        lethality=lethality,
        peak_jar_k=float(log.jar_k[peak]),
        peak_at_s=float(log.time_s[peak]),
    )


def heating_index(
    log: ProbeLog, *, come_up_s: float, until_s: float
) -> tuple[Estimate, Estimate]:
    """
    Heating-rate index and lag factor from a log.

    Parameters
    ----------
    log : ProbeLog
        With its bath.
    come_up_s : float
        When the bath came to its temperature. [s]
    until_s : float
        Up to when it held it. [s]

    Returns
    -------
    tuple of Estimate
        ``fh`` in minutes, and ``j`` (zero of time at 58 % of the come-up).

    Raises
    ------
    OutOfRange
        If there is no bath, or fewer than 4 readings from 5 to 95 % of the way.

    References
    ----------
    .. [1] Least squares on log10 (bath - jar) against time; Ball's zero, from memory.
    """
    if log.bath_k is None:
        raise OutOfRange(
            "the heating-rate index needs the bath beside the jar: log bath_c too."
        )
    held = (log.time_s >= come_up_s) & (log.time_s <= until_s)
    bath = float(np.mean(log.bath_k[held])) if held.any() else float("nan")
    gap = bath - log.jar_k
    whole = gap[0]
    if not whole > 0.0:
        raise OutOfRange(
            "the jar was no colder than the bath: there is no heating in it."
        )
    # With the lag, the straight part begins once the jar has moved by a twentieth.
    straight = held & (gap < 0.95 * whole) & (gap > 0.05 * whole)
    count = int(straight.sum())
    if count < 4:
        raise OutOfRange(
            f"{count} readings lie from 5 to 95 % of the way at a steady bath; at "
            "least 4 are needed: log oftener, or longer."
        )
    minutes = log.time_s[straight] / 60.0
    level = np.log10(gap[straight])
    # The first third still bends: a line through the rest, if enough is left of it.
    if count >= 12:
        minutes, level = minutes[count // 3 :], level[count // 3 :]
    design = np.stack([np.ones_like(minutes), minutes], axis=1)
    (height, slope), *_ = np.linalg.lstsq(design, level, rcond=None)
    if not slope < 0.0:
        raise OutOfRange("the jar did not warm while the bath was steady.")
    index = -1.0 / slope
    off = level - design @ np.array([height, slope])
    spread = float(np.sqrt(np.mean(off**2) / np.sum((minutes - minutes.mean()) ** 2)))
    share = min(0.5, max(0.02, 2.0 * spread * index))
    zero_min = _COME_UP_SHARE * come_up_s / 60.0
    lag = float(10.0 ** (height + slope * zero_min) / whole)
    basis = f"{minutes.size} readings, bath at {bath - 273.15:.1f} °C"
    return (
        Estimate(
            value=float(index),
            unit="min",
            low=float(index) * (1.0 - share),
            high=float(index) * (1.0 + share),
            basis=basis,
            source="least squares on the log; one jar, one day",
        ),
        Estimate(
            value=lag,
            unit="1",
            low=lag * 0.9,
            high=lag * 1.1,
            basis=basis,
            source="least squares on the log; zero of time after Ball, from memory",
        ),
    )


def _boil(time: Array, bath: Array, boils: float) -> tuple[float | None, float | None]:
    """First and last moment of the bath at the boil, between readings by a line."""
    over = bath - (boils - AT_THE_BOIL_K)
    hot = np.flatnonzero(over >= 0.0)
    if not hot.size:
        return None, None
    first, last = int(hot[0]), int(hot[-1])
    start = time[first] if first == 0 else _crossing(time, over, first - 1)
    end = time[last] if last == time.size - 1 else _crossing(time, over, last)
    return float(start), float(end)


def _lost(
    time: Array, bath: Array, boils: float, start: float, end: float
) -> tuple[LostBoil, ...]:
    over = bath - (boils - AT_THE_BOIL_K)
    gaps = []
    i = int(np.searchsorted(time, start))
    while i < time.size and time[i] < end:
        if over[i] >= 0.0:
            i += 1
            continue
        stop = i
        while over[stop] < 0.0:
            stop += 1
        gaps.append(
            LostBoil(
                _crossing(time, over, i - 1),
                _crossing(time, over, stop - 1),
                float(bath[i:stop].min()),
            )
        )
        i = stop
    return tuple(gaps)


def _crossing(time: Array, over: Array, i: int) -> float:
    """When ``over`` passes nought between readings ``i`` and ``i + 1``."""
    share = over[i] / (over[i] - over[i + 1])
    return float(time[i] + share * (time[i + 1] - time[i]))
