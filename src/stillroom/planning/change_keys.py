"""The changes that a keeper thinks of first, as keys with an example each."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.day import Day
from stillroom.planning.day_changes import apart


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
    keys = [
        ChangeKey(
            path="day.starts",
            says="the day starts at",
            example="06:30",
            now=f"{day.starts:%H:%M}",
        ),
        ChangeKey(
            path="day.ends",
            says="the day ends at",
            example="20:00",
            now=f"{day.ends:%H:%M}",
        ),
    ]
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


def in_words(day: Day, changes: str) -> str:
    """
    Say typed changes as one says them; what has no words of its own stays as typed.

    Wants and things that a way out names are said too: "no plum jelly", "another
    burner".
    """
    known = {key.path: key for key in change_keys(day)}
    parts = [change.partition("=")[::2] for change in apart(changes)]
    typed = {path.strip(): value.strip() for path, value in parts}
    # who comes or goes with the day is said with the day
    with_day = {".comes": typed.get("day.starts"), ".goes": typed.get("day.ends")}
    said = []
    for path, value in typed.items():
        key = known.get(path)
        table, _, name = path.rpartition(".")
        if any(path.endswith(end) and value == at for end, at in with_day.items()):
            continue
        if path.startswith("wants.") and name == "jars" and key is not None:
            said.append(f"{value} {key.says}")
        elif key is not None and value:
            said.append(key.said(value))
        elif table == "wants" and value == "nothing":
            said.append(f"no {name}")
        elif path.endswith(".stands_on"):
            continue  # said with its canner
        elif table in _ONE_MORE and name not in _names(day, table):
            said.append(f"{name}, {_ONE_MORE[table]}" if " more " not in name else name)
        else:
            said.append(f"{path}={value}" if value else path)
    return "; ".join(said)


_ONE_MORE = {
    "people": "somebody more",
    "kitchen.burners": "another burner",
    "kitchen.canners": "another canner",
    "kitchen.pots": "another pot",
}


def _names(day: Day, table: str) -> set[str]:
    kitchen = day.kitchen
    return {
        "people": {p.name for p in day.people},
        "kitchen.burners": {b.name for b in kitchen.burners},
        "kitchen.canners": {c.name for c in kitchen.canners},
        "kitchen.pots": {p.name for p in kitchen.pots},
    }[table]


def _quoted(name: str) -> str:
    """A name as it stands in a path."""
    return f'"{name}"' if "." in name else name
