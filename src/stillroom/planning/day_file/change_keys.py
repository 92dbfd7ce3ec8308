"""The changes that a keeper thinks of first, as keys with an example each."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.planning.day import Day, Helper, Want
from stillroom.planning.day_file.change_words import (
    as_is,
    of_so_many,
    plain_value,
    said_plainly,
)
from stillroom.planning.day_file.day_changes import (
    LIKE,
    NOTHING,
    apart,
    in_path,
    whole_path,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeKey:
    """One thing that may be changed, by its place in the day file."""

    path: str
    says: str
    example: str
    now: str
    """As it is; empty where there is nothing of it."""
    clause: str
    """The change as one says it after "if", with {} for the value."""
    without: str = ""
    """The same for the value "nothing"."""

    def meant(self, typed: str) -> str:
        """
        Return the value that somebody means who typed so much of it.

        >>> gone = ChangeKey(path="people.Ada", says="Ada is not there", now="there",
        ...                  example="nothing", clause="Ada is there as {}")
        >>> gone.meant("")
        'nothing'
        >>> pot = ChangeKey(path="kitchen.pots.another", says="another pot, like",
        ...                 example="like tall pot", now="", clause="another pot {}")
        >>> pot.meant("tall pot"), pot.meant('"like tall pot"'), pot.meant("")
        ('like tall pot', 'like tall pot', 'like tall pot')
        """
        needs_no_word = self.example == NOTHING or self.example.startswith(LIKE)
        if not typed or typed == self.says:
            return self.example if needs_no_word else ""
        if typed.startswith('"') and typed.endswith('"'):
            typed = typed.strip('"').strip()  # as the example was shown
        if self.example.startswith(LIKE) and not typed.startswith((LIKE, "{")):
            return typed if typed == NOTHING else f"{LIKE}{typed}"
        return typed

    def said(self, value: str) -> str:
        """
        Say the change as one says it after "if".

        >>> key = ChangeKey(path="p", says="Ada goes at", example="19:00", now="18:00",
        ...                 clause="Ada goes at {}")
        >>> key.said("09:00")
        'Ada goes at 9:00'
        """
        if value == NOTHING and self.without:
            return self.without
        return of_so_many(self.clause, plain_value(value))


def change_keys(day: Day) -> tuple[ChangeKey, ...]:
    """Return what may be changed in a day, people first."""
    return (
        *_of_the_hours(day),
        *(key for person in day.people for key in _of_a_person(person)),
        *(_of_a_want(want) for want in day.wants),
        *_one_more_of_each(day),
        ChangeKey(
            path="kitchen.counter",
            says="jars that the counter has room for",
            example="120",
            now=str(day.kitchen.counter_places),
            clause="the counter has room for {} jars",
        ),
    )


def _of_the_hours(day: Day) -> tuple[ChangeKey, ...]:
    return (
        ChangeKey(
            path="day.starts",
            says="the day starts at",
            example="06:30",
            now=_clock(day.starts),
            clause="the day starts at {}",
        ),
        ChangeKey(
            path="day.ends",
            says="the day ends at",
            example="20:00",
            now=_clock(day.ends),
            clause="the day ends at {}",
        ),
    )


def _of_a_person(person: Helper) -> tuple[ChangeKey, ...]:
    name = in_path(person.name)
    return (
        ChangeKey(
            path=f"people.{name}.comes",
            says=f"{person.name} comes at",
            example="07:00",
            now=_clock(person.comes),
            clause=f"{as_is(person.name)} comes at {{}}",
        ),
        ChangeKey(
            path=f"people.{name}.goes",
            says=f"{person.name} goes at",
            example="19:00",
            now=_clock(person.goes),
            clause=f"{as_is(person.name)} goes at {{}}",
        ),
        ChangeKey(
            path=f"people.{name}",
            says=f"{person.name} is not there: nothing to fill in",
            example="nothing",
            now="there",
            clause=f"{as_is(person.name)} is there as {{}}",
            without=f"{person.name} is not there",
        ),
    )


def _of_a_want(want: Want) -> ChangeKey:
    return ChangeKey(
        path=f"wants.{in_path(want.product)}.jars",
        says=f"jars of {want.product}",
        example="8",
        now=str(want.jars),
        clause=f"{{}} jars of {as_is(want.product)} are wanted",
        without=f"no {want.product} is wanted",
    )


def _one_more_of_each(day: Day) -> list[ChangeKey]:
    """One more of each kind of thing or hand, like the first of them in the day."""
    kinds = (
        ("people", "another helper", "one more helper"),
        ("kitchen.burners", "another burner", "another"),
        ("kitchen.canners", "another canner", "another"),
        ("kitchen.pots", "another pot", "another"),
    )
    keys = []
    for table, says, name in kinds:
        for first in _names(day, table)[:1]:
            like = f"{LIKE}{first}"
            keys.append(
                ChangeKey(
                    path=f"{table}.{in_path(_free(name, _names(day, table)))}",
                    says=f"{says}: {like}",
                    example=like,
                    now="",
                    clause=f"there is {_ONE_MORE[table]} {{}}",
                )
            )
    return keys


def _free(name: str, taken: tuple[str, ...]) -> str:
    """Return a name that nothing in the day has: "another", else "another 2"."""
    numbered = (f"{name} {number}" for number in range(2, len(taken) + 3))
    return next(each for each in (name, *numbered) if each not in taken)


def in_words(day: Day, changes: str) -> str:
    """
    Say typed changes as one says them after "if", in one breath.

    Wants and things that a way out names are said too: "no plum jelly is wanted",
    "there is one more burner"; and any other place of the day file, see `change_words`.
    """
    known = {key.path: key for key in change_keys(day)}
    parts = [change.partition("=")[::2] for change in apart(changes)]
    typed = {whole_path(path): value.strip() for path, value in parts}
    # who comes or goes with the day is said with the day
    with_day = {".comes": typed.get("day.starts"), ".goes": typed.get("day.ends")}
    said = []
    for path, value in typed.items():
        if any(path.endswith(end) and value == at for end, at in with_day.items()):
            continue
        if path.endswith(".stands_on") and path.removesuffix(".stands_on") in typed:
            continue  # said with its canner
        said.append(_clause(day, known.get(path), path, value))
    if not said:
        return changes
    return all_of(said)


def _clause(day: Day, key: ChangeKey | None, path: str, value: str) -> str:
    table, _, name = path.rpartition(".")
    name = name.strip('"')
    if key is not None and value and (value != NOTHING or key.without):
        return key.said(value)
    if table == "wants" and value == NOTHING:
        return f"no {name} is wanted"
    if path == "day.without" and value not in ("", NOTHING):
        names = [part.strip() for part in value.strip('"').split(";")]
        return f"{all_of(names)} {'is' if len(names) == 1 else 'are'} left out"
    if table in _ONE_MORE and value != NOTHING and name not in _names(day, table):
        like = f" {value}" if value.startswith("like ") else ""
        if "more" in name.split():
            return f"there is {name}{like}"
        return f"there is {_ONE_MORE[table]}{like}, {name}"
    if value.startswith((LIKE, "{")) and name not in _names(day, table):
        if table == "shelf":
            return f"the shelf has {name}, too"
        if table == "wants":
            return f"{name} is wanted, too"
    return said_plainly(path, value) if value else path


_ONE_MORE = {
    "people": "one more helper",
    "kitchen.burners": "another burner",
    "kitchen.canners": "another canner",
    "kitchen.pots": "another pot",
}


def _names(day: Day, table: str) -> tuple[str, ...]:
    kitchen = day.kitchen
    return {
        "people": tuple(p.name for p in day.people),
        "kitchen.burners": tuple(b.name for b in kitchen.burners),
        "kitchen.canners": tuple(c.name for c in kitchen.canners),
        "kitchen.pots": tuple(p.name for p in kitchen.pots),
        "shelf": tuple(lot.name for lot in day.shelf),
        "wants": tuple(want.product for want in day.wants),
    }.get(table, ())


def _clock(at: dt.time) -> str:
    return f"{at:%-H:%M}"
