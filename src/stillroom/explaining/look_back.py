"""
What a probe's log tells: it looks back, and nothing is made shorter by it.

Readings are set right by the probe's own ice and boiling water where they are given.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from stillroom.book.processes import Process, process_for
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    CELSIUS,
    KELVIN,
    Explanation,
    Figure,
    Line,
    Mark,
    Picture,
    Table,
    estimated,
    fahrenheit,
    line,
)
from stillroom.measures import PSI_PA, apart, both
from stillroom.methods.thermometer import TwoPoints, calibrated
from stillroom.methods.today import AirToday
from stillroom.refusal import Caution, Fault, Refusal, Unreadable
from stillroom.science import air as science_air
from stillroom.science import water
from stillroom.science.jar import middle_by_measured_index
from stillroom.science.lethality import ACID_FOOD, F0
from stillroom.science.log import LogReport, report
from stillroom.science.probe_log import BadLog, ProbeLog, read_probe_log

ASKS = ("elevation", "pressure", "product", "jar", "pack", "ice", "probe_boils", "psi")
MOST_LETTERS = 1_500_000
BACKWARD = Caution(
    "this looks back only: it tells what happened in one jar. It never shortens a "
    "process, makes up for a lost boil, or says that a jar may be kept",
    "how Stillroom explains",
)
LOST = Caution(
    "the boil was lost: bring it back to a full boil and begin the whole process time "
    "anew; jars of this load that had no whole run count as not processed",
    "USDA Complete Guide, Guide 1 (the new start from memory)",
)


@dataclass(frozen=True, slots=True)
class _Seen:
    """A log as it is looked at."""

    log: ProbeLog
    said: LogReport
    air: AirToday
    boils_k: float
    process: Process | None
    own: TwoPoints | None
    psi: float | None = None
    """What the gauge of a pressure canner showed."""

    @property
    def under_pressure(self) -> bool:
        """Whether the gauge was below what is published: there was no process."""
        asked = None if self.process is None else self.process.pressure_psi
        return self.psi is not None and asked is not None and self.psi < asked


def look_back(text: str, given: Given) -> Explanation | Refusal:
    """
    Tell what a log says.

    Parameters
    ----------
    text : str
        The CSV: ``time_s``, ``time_min`` or ``clock``; ``jar_f`` or ``jar_c``;
        ``bath_f`` or ``bath_c`` where there was a second probe.
    given : Given
        Elevation, barometer, product, jar, pack; the probe's readings in ice and in
        boiling water; the gauge of a pressure canner.

    Returns
    -------
    Explanation or Refusal
        Figures with the published process beside them.

    Raises
    ------
    Unreadable
        With every fault of the log and its line, or of a field.
    """
    given.check()
    if len(text) > MOST_LETTERS:
        raise Unreadable(f"the log is longer than {MOST_LETTERS:,} letters: cut it")
    seen = _seen(text, given)
    if isinstance(seen, Refusal):
        return seen
    said, process = seen.said, seen.process
    short = seen.under_pressure or (
        process is not None
        and said.longest_unbroken_s is not None
        and said.longest_unbroken_s + 1.0 < 60.0 * process.minutes
    )
    table = Table(
        caption="What was read off it",
        heads=("what", "when", "figure"),
        rows=tuple(_rows(seen)),
    )
    return Explanation(
        topic="log",
        title="What the log tells",
        sentence=_sentence(seen, short),
        more=tuple(_more(seen)),
        figures=tuple(_figures(seen)),
        picture=_picture(seen),
        table=table,
        cautions=(*((LOST,) if said.lost or short else ()), BACKWARD),
        source=said.lethality.source
        + (f"; process: {process.source}" if process is not None else ""),
        estimate=True,
    )


def _seen(text: str, given: Given) -> _Seen | Refusal:
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    try:
        log = read_probe_log(text)
    except BadLog as bad:
        raise Unreadable(*bad.faults) from None
    own: TwoPoints | None = None
    if given.has("probe_boils"):
        ice = given["ice"] if given.has("ice") else None
        set_right = calibrated(given["probe_boils"], air, ice)
        if isinstance(set_right, Refusal):
            return set_right
        own = set_right
        log = replace(
            log,
            jar_k=np.asarray(own.line.temperature_k(log.jar_k)),
            bath_k=None
            if log.bath_k is None
            else np.asarray(own.line.temperature_k(log.bath_k)),
        )
    elif given.has("ice"):
        raise Unreadable(
            Fault(
                "ice alone sets no thermometer right; read it in boiling water too",
                key="--ice",
            )
        )
    boils, reference = air.water_boils_k, ACID_FOOD
    if given.has("psi"):
        steam = science_air.gauge_to_absolute_pa(
            float(PSI_PA) * given["psi"], air.pressure_pa
        )
        boils, reference = float(water.boiling_point_k(steam)), F0
    process = None
    if given.has("product"):
        found = process_for(
            given["product"],
            jar=given["jar"],
            elevation_ft=air.elevation_ft,
            pack=given["pack"] or None,
            canner="dial-gauge" if given.has("psi") else "boiling-water",
        )
        if isinstance(found, Refusal):
            return found
        process = found
    return _Seen(
        log,
        report(log, boils_k=boils, reference=reference),
        air,
        boils,
        process,
        own,
        given["psi"] if given.has("psi") else None,
    )


def _sentence(seen: _Seen, short: bool) -> str:
    said, process = seen.said, seen.process
    if seen.log.bath_k is None:
        return (
            f"The jar came to {both(said.peak_jar_k)} after "
            f"{said.peak_at_s / 60:.0f} min; without a probe in the bath nothing can "
            "be said of the boil."
        )
    if seen.under_pressure:
        assert process is not None
        return (
            f"The gauge showed {seen.psi:g} psi, under the published "
            f"{process.pressure_psi:g} psi of a dial gauge here: by this log there was "
            "no process. A weighted gauge has pressures of its own in the book."
        )
    boil = "full boil" if seen.psi is None else "steam of that pressure"
    if said.come_up_s is None or said.longest_unbroken_s is None:
        return (
            f"The bath never came to {'a ' if seen.psi is None else ''}{boil} "
            f"({both(seen.boils_k)} today): by this log there was no process."
        )
    whole, seconds = divmod(int(said.longest_unbroken_s), 60)
    held = f"{whole} min {seconds} s" if seconds else f"{whole} min"
    words = (
        f"{'A' if seen.psi is None else 'The'} {boil} after "
        f"{said.come_up_s / 60:.0f} min, held without a break for {held}"
    )
    if said.lost:
        times = len(said.lost)
        what = "boil" if seen.psi is None else "pressure"
        words += f"; the {what} was lost {'once' if times == 1 else f'{times} times'}"
    if process is None:
        return words + "."
    beside = "less than" if short else "beside"
    at = "" if process.pressure_psi is None else f" at {process.pressure_psi:g} psi"
    return f"{words}: {beside} the published {process.minutes} min{at}."


def _more(seen: _Seen) -> list[str]:
    said = seen.said
    more = []
    if said.lost:
        gaps = "; ".join(
            f"from {gap.from_s / 60:.0f} to {gap.to_s / 60:.0f} min, down to "
            f"{both(gap.lowest_k)}"
            for gap in said.lost
        )
        more.append(f"Under the boil: {gaps}.")
    if said.heating_index is not None and said.lag is not None:
        more.append(
            f"The middle closes nine tenths of its gap to the bath in "
            f"{said.heating_index.value:.0f} min (heating-rate index). A jar of thick "
            "jelly that conducts takes 45 to 92 min by its size: much less means that "
            "it "
            "stirs itself."
        )
    elif seen.log.bath_k is not None:
        more.append("The curve is too short or too uneven for a heating-rate index.")
    off = float(said.peak_at_s - (said.boil_ends_s or said.peak_at_s))
    if off > 60.0:
        more.append(
            f"The jar was hottest {off / 60:.0f} min after the boil ended: it goes on "
            "warming in the middle as it cools outside."
        )
    if seen.own is not None:
        ice = seen.own.ice_off_k
        more.append(
            "Readings are set right by your own: "
            f"{apart(seen.own.boil_off_k, signed=True)} in boiling water"
            + (f", {apart(ice, signed=True)} in ice." if ice is not None else ".")
        )
    return more


def _figures(seen: _Seen) -> list[Figure]:
    said = seen.said
    figures = []
    if seen.process is not None:
        figures.append(
            Figure(
                label=f"Published process, {seen.process.band_ft}",
                value=float(seen.process.minutes),
                unit="min",
            )
        )
    if said.longest_unbroken_s is not None and said.come_up_s is not None:
        figures += [
            Figure(
                label="Longest unbroken boil",
                value=said.longest_unbroken_s / 60.0,
                unit="min",
            ),
            Figure(label="Come-up time", value=said.come_up_s / 60.0, unit="min"),
        ]
    figures.append(
        Figure(label="Jar at its hottest", value=said.peak_jar_k, unit=KELVIN)
    )
    if said.heating_index is not None and said.lag is not None:
        figures += [
            estimated("Heating-rate index", said.heating_index, "min"),
            estimated("Lag factor", said.lag),
        ]
    figures.append(estimated("Lethality where the probe was", said.lethality, "min"))
    return figures


def _rows(seen: _Seen) -> list[tuple[str, str, str]]:
    said = seen.said
    rows = []
    if said.come_up_s is not None and said.boil_ends_s is not None:
        rows.append(("full boil", f"{said.come_up_s / 60:.1f} min", both(seen.boils_k)))
        rows += [
            (
                "boil lost",
                f"{gap.from_s / 60:.1f} to {gap.to_s / 60:.1f} min",
                both(gap.lowest_k),
            )
            for gap in said.lost
        ]
        rows.append(("boil ends", f"{said.boil_ends_s / 60:.1f} min", ""))
    rows.append(
        ("jar hottest", f"{said.peak_at_s / 60:.1f} min", both(said.peak_jar_k))
    )
    every = max(1, len(seen.log.time_s) // 12)
    bath = seen.log.bath_k
    rows += [
        (
            "reading",
            f"{seen.log.time_s[i] / 60:.1f} min",
            f"jar {both(float(seen.log.jar_k[i]))}"
            + (f", bath {both(float(bath[i]))}" if bath is not None else ""),
        )
        for i in range(0, len(seen.log.time_s), every)
    ]
    return rows


def _picture(seen: _Seen) -> Picture:
    log, said = seen.log, seen.said
    thin = slice(None, None, max(1, len(log.time_s) // 400))
    at_min = log.time_s[thin] / 60.0
    lines: list[Line] = [line("jar", at_min, fahrenheit(log.jar_k[thin]))]
    if log.bath_k is not None:
        lines.insert(0, line("bath", at_min, fahrenheit(log.bath_k[thin])))
    if said.heating_index is not None and said.lag is not None and said.come_up_s:
        begin = 0.58 * said.come_up_s  # zero of time at 58 % of the come-up
        inside = [t for t in log.time_s[thin] if begin <= t <= (said.boil_ends_s or t)]
        fitted = middle_by_measured_index(
            said.heating_index,
            said.lag,
            [t - begin for t in inside],
            seen.boils_k,
            float(log.jar_k[0]),
        )
        lines.append(
            line(
                "straight part of its curve, an estimate",
                [t / 60.0 for t in inside],
                fahrenheit(fitted.value),
            )
        )
    boil = (
        f"The bath came to the boil after {said.come_up_s / 60:.0f} min. "
        if said.come_up_s is not None
        else "No full boil of the bath was seen. "
    )
    return Picture(
        title="Jar and bath by the clock",
        desc=f"{boil}The jar rose from {both(log.jar_k[0], 0)} to "
        f"{both(said.peak_jar_k, 0)} after {said.peak_at_s / 60:.0f} min.",
        x_label="minutes since the first reading",
        y_label="°F",
        y_also=CELSIUS,
        lines=tuple(lines),
        marks=_marks(seen),
    )


def _marks(seen: _Seen) -> tuple[Mark, ...]:
    """Today's boil, when it was reached, and where the published time ends."""
    said, process = seen.said, seen.process
    marks = [
        Mark(
            text=f"boils at {both(seen.boils_k)} today",
            at=fahrenheit([seen.boils_k])[0],
            upright=False,
            published=False,
        )
    ]
    if said.come_up_s is not None:
        marks.append(
            Mark(
                text="full boil",
                at=said.come_up_s / 60.0,
                upright=True,
                published=False,
            )
        )
        # A lost boil does not count: the published time runs from the last new one.
        begun_s = said.lost[-1].to_s if said.lost else said.come_up_s
        if process is not None:
            marks.append(
                Mark(
                    text=f"published {process.minutes} min from the "
                    + ("new full boil" if said.lost else "full boil"),
                    at=begun_s / 60.0 + process.minutes,
                    upright=True,
                )
            )
    return tuple(marks)
