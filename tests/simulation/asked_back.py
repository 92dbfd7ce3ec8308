"""A late count that would leave more than there ever was: asked about, and answered."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl

from tests.simulation.devices import Device, Post
from tests.simulation.forms import forms_of
from tests.simulation.shelf_words import Does

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek


def say_it_is_so(week: FarmWeek, device: Device) -> None:
    """Open the question that the phone kept, and have its answer ready to press."""
    there, deed = device.asked.pop()
    path, _, question = there.partition("?")
    client = week.house.windows[device.window].client
    answer = client.get(path, params=dict(parse_qsl(question)))
    sure = replace(deed, late=False, sure=True)
    must = week.models.shelf.expect(replace(sure, token=""), week.clock.now())
    status = {Does.BOOKS: 200, Does.NO: 422}[must.does]
    assert answer.status_code == status, f"{there} {must}: {answer.text[-3000:]}"
    week.tell("asked back", f"{device.name}: {there} -> {status}")
    if status == 200:
        form = next(f for f in forms_of(answer.text) if f.action == "/stock/book")
        assert form.hidden["token"] == deed.token
        device.pocket.append(Post(form.action, form.hidden, sure))
