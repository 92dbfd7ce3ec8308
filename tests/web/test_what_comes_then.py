"""At the stove, the step after this one: of another batch it says of which."""

from types import SimpleNamespace

from stillroom.planning.dayplan import DayPlan
from stillroom.running.commands import FinishStep
from stillroom.running.handle import handle, state_of
from stillroom.running.hands import hands
from tests.web.forms import begin_the_day, words
from tests.web.test_stove import kitchen, plan

__all__ = ["kitchen", "plan"]  # fixtures


def test_the_next_step_of_another_batch_is_told_with_it(
    kitchen: SimpleNamespace, plan: DayPlan
) -> None:
    """Sugar into a bowl, then sugar into a bowl: that helps nobody."""
    begin_the_day(kitchen.client)
    ledger, told = kitchen.records.ledger, set()
    for _ in range(12):
        state = state_of(kitchen.run, ledger=ledger)
        page = words(kitchen.client.get("/stove").text)
        mine = hands(plan, state)
        for one in mine:
            shown = one.step or one.now
            if shown is None or one.then is None or not one.then.batch:
                continue
            said = f"then {one.then.at} {one.then.verb}"
            other = one.then.batch != shown.batch
            assert said in page
            assert (f"{said} · {one.then.batch}" in page) == other
            told.add(other)
        first = next(one.step or one.now for one in mine if (one.step or one.now).step)
        done = FinishStep(batch=first.batch, step=first.step, at=kitchen.clock.at)
        handle(done, kitchen.run, ledger=ledger)
    assert told == {True, False}
