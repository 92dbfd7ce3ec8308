"""What a gauge is held to where a process is typed in when it was over; pure.

The minutes that are due were kept when the jars were booked. Some foods have several
printed pressures, and the short minutes of a high one go with no lower one.
"""

from __future__ import annotations

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.due import Due, due_process, printed_psi
from stillroom.stock.events import Lot, Made
from stillroom.stock.gauge import has_gauge, psi_words


def _due_in(made: Made, lot: Lot, canner: str, gauge_psi: float | None) -> Due:
    """What is published for the canner and the gauge that a process is typed in of."""
    height = made.batch.elevation_ft
    return due_process(
        lot.what,
        lot.measure.part,
        elevation_ft=None if height is None else float(height),
        canner=canner,
        pack=made.batch.pack or None,
        gauge_psi=gauge_psi,
    )


def due_psi_typed_late(
    made: Made, lot: Lot, canner: str, gauge_psi: float | None
) -> float | None:
    """
    Return the pressure published for what a process was typed in of. [psi].

    The minutes that are due stay those of the booking, so never less than its pressure:
    the short time of a high pressure goes with no lower one.
    """
    booked = made.batch.due_psi
    if not has_gauge(canner):
        return booked
    here = _due_in(made, lot, canner, gauge_psi).psi
    return max((psi for psi in (booked, here) if psi is not None), default=None)


def due_psi_said_late(
    made: Made, lot: Lot, canner: str, gauge_psi: float
) -> float | None:
    """
    Return the pressure that goes with the minutes that were due. [psi].

    That is what was booked. Old entries kept none: of several printed pressures it is
    the lowest whose minutes are no more than those that were due.
    """
    batch = made.batch
    if batch.due_psi is not None:
        return batch.due_psi
    if batch.due_min is None:
        return None
    dues = [_due_in(made, lot, canner, psi) for psi in printed_psi()]
    found = [
        due.psi
        for due in dues
        if due.psi is not None and (due.minutes or 0) <= batch.due_min
    ]
    return min(found, default=_due_in(made, lot, canner, gauge_psi).psi)


def gauge_to_be_said(
    said: str, made: Made, lot: Lot, canner: str, gauge_psi: float | None
) -> Refusal | None:
    """Ask for the gauge where the minutes due hold for a high pressure alone."""
    batch = made.batch
    if gauge_psi is not None or batch.gauge_psi is not None or not has_gauge(canner):
        return None
    due = _due_in(made, lot, canner, None)
    if batch.due_min is None or (due.minutes or 0) <= batch.due_min:
        return None
    at = psi_words(batch.due_psi)
    return Refusal(
        f"{batch.due_min} min{at} are due for {said}, and it was not said what the "
        "gauge read; at less pressure more minutes are published",
        instead="say what it read (at the command line: --gauge READING); if nobody "
        "knows, it had no process that can be shown: see its choices with "
        "stillroom stock after",
        source=OUR_RECORD,
    )
