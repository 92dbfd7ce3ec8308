"""The pages go by one clock, which a test may turn."""

import datetime as dt

from tests.web.test_advice import asked


class Clock:
    """An invented evening, west of UTC."""

    def __init__(self) -> None:
        west = dt.timezone(dt.timedelta(hours=-7))
        self.at = dt.datetime(2026, 1, 1, 20, 0, tzinfo=west)

    def now(self) -> dt.datetime:
        return self.at


def test_a_soft_jelly_goes_by_the_clock_of_the_pages(client):
    clock = client.app.state.clock = Clock()
    fields = {"jars": "20", "filled": "2026-01-01 15:10", "jar": "half-pint"}
    _, text = asked(client, "soft-jelly", **fields)
    assert "as a trial" not in text  # it waits: five hours are no fortnight
    later = fields | {"filled": "2026-01-01 20:10"}
    status, text = asked(client, "soft-jelly", **later)
    assert status == 422
    assert "filled after now" in text
    clock.at += dt.timedelta(days=60)
    _, text = asked(client, "soft-jelly", **fields)
    assert "as a trial" in text
