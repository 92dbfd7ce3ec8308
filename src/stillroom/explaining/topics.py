"""The topics by name, and the one way to have something explained."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from stillroom.explaining import (
    boil,
    brine,
    canner,
    drying,
    freezer,
    jar_heats,
    jelly_rise,
    lethality,
    own_thermometer,
    pot,
    refractometer,
    seal,
    setting,
    sourness,
)
from stillroom.explaining.asking import FIELDS, Field, Given, fields_of
from stillroom.explaining.explanation import Explanation
from stillroom.refusal import Fault, Refusal, Unreadable


@dataclass(frozen=True, slots=True)
class Topic:
    """Something that a keeper asks "why?" about."""

    name: str
    question: str
    asks: tuple[str, ...]
    answer: Callable[[Given], Explanation | Refusal]

    @property
    def fields(self) -> tuple[Field, ...]:
        """What may be given."""
        return fields_of(self.asks)


TOPICS: Mapping[str, Topic] = {
    topic.name: topic
    for topic in (
        Topic("boil", "What the height does to the boil", boil.ASKS, boil.explain),
        Topic(
            "pot",
            "What pot and batch do to the return to the boil",
            pot.ASKS,
            pot.explain,
        ),
        Topic(
            "jar", "How the middle of a jar heats", jar_heats.ASKS, jar_heats.explain
        ),
        Topic(
            "jelly-rise",
            "Why 8 °F, and why not 65 %",
            jelly_rise.ASKS,
            jelly_rise.explain,
        ),
        Topic("set", "Whether a jelly sets, and when", setting.ASKS, setting.explain),
        Topic("canner", "Why a full canner is slow", canner.ASKS, canner.explain),
        Topic(
            "seal", "Why the lid is drawn in, and jars crack", seal.ASKS, seal.explain
        ),
        Topic(
            "freezer", "How long it freezes and thaws", freezer.ASKS, freezer.explain
        ),
        Topic("drying", "What is left after drying", drying.ASKS, drying.explain),
        Topic("brine", "How strong a pickle is at rest", brine.ASKS, brine.explain),
        Topic("acid", "What acid does to the pH", sourness.ASKS, sourness.explain),
        Topic(
            "refractometer",
            "What a drop of syrup says",
            refractometer.ASKS,
            refractometer.explain,
        ),
        Topic(
            "thermometer",
            "What your thermometer shows",
            own_thermometer.ASKS,
            own_thermometer.explain,
        ),
        Topic("lethality", "What D, z and F mean", lethality.ASKS, lethality.explain),
    )
}


def explain(name: str, typed: Mapping[str, str]) -> Explanation | Refusal:
    """
    Explain a topic with what was typed; what was not is taken as the fields say.

    Parameters
    ----------
    name : str
        One of `TOPICS`.
    typed : mapping of str to str
        Field name to text, as in `asking.FIELDS`.

    Returns
    -------
    Explanation or Refusal
        The words, figures and picture; a refusal where the trade says no.

    Raises
    ------
    Unreadable
        If the topic is not known, or a field cannot be read or is not asked there.

    Examples
    --------
    >>> explain("boil", {"elevation": "2150 ft"}).sentence.split(" here")[0]
    'Water boils at 208.0 °F (97.8 °C)'
    """
    topic = TOPICS.get(name)
    if topic is None:
        raise Unreadable(
            f"{name[:40]!r} is no topic here; ask for one of {', '.join(TOPICS)}"
        )
    foreign = [
        Fault(
            f"{name} does not ask for this; it asks for "
            + ", ".join(field.option for field in topic.fields),
            key=FIELDS[field].option,
        )
        for field, text in typed.items()
        if text.strip() and field not in topic.asks
    ]
    if foreign:
        raise Unreadable(*foreign)
    given = Given(typed, topic.asks)
    given.check()
    return topic.answer(given)
