"""The changes that a keeper thinks of first, as keys with an example each."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.day import Day


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeKey:
    """One thing that may be changed, by its place in the day file."""

    path: str
    says: str
    example: str
    now: str
    """As it is; empty where there is nothing of it."""

    def said(self, value: str) -> str:
        """
        Say the change in words.

        >>> key = ChangeKey(path="p", says="Ada goes at", example="19:00", now="18:00")
        >>> key.said("19:00")
        'Ada goes at 19:00'
        """
        words = self.says.partition(":")[0]
        return words if value == "nothing" else f"{words} {value}"


def change_keys(day: Day) -> tuple[ChangeKey, ...]:
    """Return what may be changed in a day, people first."""
    keys = []
    for person in day.people:
        name = _quoted(person.name)
        keys.append(
            ChangeKey(
                path=f"people.{name}.comes",
                says=f"{person.name} comes at",
                example="07:00",
                now=f"{person.comes:%H:%M}",
            )
        )
        keys.append(
            ChangeKey(
                path=f"people.{name}.goes",
                says=f"{person.name} goes at",
                example="19:00",
                now=f"{person.goes:%H:%M}",
            )
        )
        keys.append(
            ChangeKey(
                path=f"people.{name}",
                says=f"{person.name} is not there: write nothing",
                example="nothing",
                now="there",
            )
        )
    for want in day.wants:
        keys.append(
            ChangeKey(
                path=f"wants.{_quoted(want.product)}.jars",
                says=f"jars of {want.product}",
                example="8",
                now=str(want.jars),
            )
        )
    for canner in day.kitchen.canners:
        like = f"like {canner.name}"
        keys.append(
            ChangeKey(
                path="kitchen.canners.another",
                says=f"another canner: write {like}",
                example=like,
                now="",
            )
        )
        break
    for pot in day.kitchen.pots:
        like = f"like {pot.name}"
        keys.append(
            ChangeKey(
                path="kitchen.pots.another",
                says=f"another pot: write {like}",
                example=like,
                now="",
            )
        )
        break
    keys.append(
        ChangeKey(
            path="kitchen.counter",
            says="jars that the counter has room for",
            example="120",
            now=str(day.kitchen.counter_places),
        )
    )
    return tuple(keys)


def _quoted(name: str) -> str:
    """A name as it stands in a path."""
    return f'"{name}"' if "." in name else name
