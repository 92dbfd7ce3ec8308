"""Random small days for Hypothesis: every resource, none of it sensible on purpose."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st
from planning.small_days import HALF_PINT, LONG_PINT, PINT, canner, day, person, step

from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.goal_order import Goal
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    ComeUp,
    Counter,
    Person,
    Problem,
    Want,
    Window,
)

PROCESSES = (HALF_PINT, PINT, LONG_PINT)


@st.composite
def random_batch(draw: st.DrawFn, number: int) -> Batch:
    """A row of steps with random links, hands, fire, pot and mill."""
    count = draw(st.integers(1, 5))
    steps: list[Step] = []
    same = draw(st.booleans())
    for n in range(count):
        quarters = draw(st.sampled_from([0, 1, 2, 3, 3, 4]))
        steps.append(
            step(
                f"s{n}",
                draw(st.integers(1, 25)),
                quarters,
                skill=draw(st.sampled_from([Skill.COLD, Skill.KNIFE, Skill.PAN])),
                burner_w=draw(st.sampled_from([0.0, 0.0, 1000.0, 2000.0])),
                in_pot=draw(st.booleans()),
                on_mill=draw(st.integers(0, 4)) == 0,
                same_hands="pan" if same and draw(st.booleans()) else "",
                critical=draw(st.booleans()),
            )
        )
    links = []
    for n in range(1, count):
        before = draw(st.integers(0, n - 1)) if draw(st.booleans()) else n - 1
        least = draw(st.sampled_from([0, 0, 0, 3]))
        most = draw(st.sampled_from([None, None, least, least + 2, least + 20]))
        links.append(
            Link(
                before=f"s{before}", after=f"s{n}", at_least_min=least, at_most_min=most
            )
        )
    for tool in ("in_pot", "on_mill"):
        held = [s.id for s in steps if getattr(s, tool)]
        if held and draw(st.booleans()):
            steps.append(draw(wash(f"wash {tool}", **{tool: True})))
            links += [Link(before=name, after=f"wash {tool}") for name in held]
    process = draw(st.sampled_from([None, "half-pint-10", "pint-10", "pint-15"]))
    return Batch(
        id=f"b{number}",
        product=draw(st.sampled_from(["red", "black"])),
        jars=draw(st.integers(1, 10)),
        process=process,
        pots=draw(st.sampled_from([(), ("big",), ("small", "big")])),
        ready_after=f"s{draw(st.integers(0, count - 1))}",
        closed_wait_at_most_min=draw(st.integers(0, 40)),
        steps=tuple(steps),
        links=tuple(links),
        windows=draw(windows(count)),
    )


@st.composite
def wash(draw: st.DrawFn, name: str, **what: bool) -> Step:
    """The end of a use; it may be a rinse where the same product follows."""
    minutes = draw(st.integers(2, 12))
    rinse = draw(st.none() | st.integers(1, minutes - 1))
    made = step(name, minutes, draw(st.sampled_from([0, 3, 3])), **what)
    return replace(made, rinse_min=rinse)


@st.composite
def windows(draw: st.DrawFn, count: int) -> tuple[Window, ...]:
    """Now and then a step that is ready by the clock, or due by it."""
    if draw(st.integers(0, 3)):
        return ()
    earliest = draw(st.integers(0, 90))
    latest = draw(st.none() | st.integers(earliest, earliest + 120))
    step_id = f"s{draw(st.integers(0, count - 1))}"
    return (Window(step=step_id, earliest_min=earliest, latest_min=latest),)


@st.composite
def random_person(draw: st.DrawFn, number: int, horizon: int) -> Person:
    """The first can do everything; the others what is drawn."""
    skills = frozenset(Skill)
    if number:
        skills = frozenset(draw(st.sets(st.sampled_from(list(Skill)), min_size=1)))
    arrives = draw(st.sampled_from([0, 0, 20]))
    leaves = draw(st.sampled_from([horizon, horizon, horizon - 30]))
    breaks: tuple[Break, ...] = ()
    if draw(st.booleans()):
        start = draw(st.integers(20, horizon // 2))
        window = draw(st.integers(0, 40))
        breaks = (
            Break(duration_min=10, earliest_min=start, latest_start_min=start + window),
        )
    away: tuple[tuple[int, int], ...] = ()
    if draw(st.booleans()):
        gone = draw(st.integers(0, horizon))
        away = ((gone, gone + draw(st.integers(1, 40))),)
    return person(
        f"p{number}",
        skills=skills,
        arrives_min=arrives,
        leaves_min=leaves,
        breaks=breaks,
        away=away,
        quarters=draw(st.sampled_from([4, 4, 3, 2])) if number else 4,
    )


@st.composite
def when_taken(draw: st.DrawFn, horizon: int) -> tuple[tuple[int, int], ...]:
    """Now and then a burner that is somebody else's for a while, or all day."""
    if draw(st.integers(0, 4)):
        return ()
    start = draw(st.integers(0, horizon))
    first = (start, start + draw(st.integers(1, 60)))
    return draw(st.sampled_from([(first,), (first, (10, 30)), ((0, horizon),)]))


@st.composite
def random_days(draw: st.DrawFn) -> Problem:
    """A small day; it may well have no plan."""
    horizon = draw(st.sampled_from([150, 240, 360]))
    people = tuple(
        draw(random_person(n, horizon)) for n in range(draw(st.integers(1, 3)))
    )
    batches = [draw(random_batch(n)) for n in range(draw(st.integers(1, 3)))]
    if draw(st.booleans()):  # a twin, to be kept in order
        twin = batches[0]
        batches.append(
            Batch(
                id="twin",
                product=twin.product,
                jars=twin.jars,
                process=twin.process,
                pots=twin.pots,
                ready_after=twin.ready_after,
                closed_wait_at_most_min=twin.closed_wait_at_most_min,
                steps=twin.steps,
                links=twin.links,
                windows=twin.windows,
            )
        )
    times = {
        "first_heat_min": draw(st.integers(0, 30)),
        "reheat_min": draw(st.integers(0, 20)),
        "stays_hot_min": draw(st.integers(0, 30)),
        "load_min": draw(st.integers(1, 4)),
        "come_up_min": draw(st.integers(1, 12)),
        "rest_min": draw(st.integers(0, 5)),
        "unload_min": draw(st.integers(1, 4)),
    }
    covers = draw(
        st.sampled_from([("strong-1",), ("strong-1", "middle-1"), ("middle-2",), ()])
    )
    places = {"half_pint": draw(st.integers(4, 16)), "pint": draw(st.integers(3, 9))}
    slow = ComeUp(minutes=draw(st.integers(0, 30)))
    raw = draw(st.sampled_from([{}, {}, {"half-pint-10": slow}]))
    canners = [canner("c0", burners=covers, places=places, come_up_of=raw, **times)]
    if draw(st.booleans()):
        other = draw(st.sampled_from([covers, ("middle-1",)]))
        canners.append(canner("c1", burners=other, places=places, **times))
    burners = (
        Burner(id="weak-1", power_w=1000.0),
        Burner(id="middle-1", power_w=2000.0, taken=draw(when_taken(horizon))),
        Burner(
            id="middle-2",
            power_w=2000.0,
            takes=draw(st.sampled_from([None, None, frozenset({"small"})])),
        ),
        Burner(id="strong-1", power_w=3000.0, taken=draw(when_taken(horizon))),
    )
    made = sorted({b.product for b in batches})
    wants = tuple(
        Want(
            product=p, by_min=draw(st.integers(20, 200)), weight=draw(st.integers(1, 3))
        )
        for p in made
        if draw(st.booleans())
    )
    return day(
        *batches,
        people=people,
        horizon_min=horizon,
        canners=tuple(canners),
        burners=burners,
        counter=Counter(
            places=draw(st.sampled_from([8, 20, 60])),
            cooling_min=draw(st.sampled_from([30, 1440])),
            taken=draw(st.sampled_from([(), (), ((3, 100),), ((4, 40), (2, 2000))])),
        ),
        processes=PROCESSES,
        wants=wants,
        done_by_min=draw(st.none() | st.integers(60, horizon)),
        first=tuple(draw(st.lists(st.sampled_from(Goal), unique=True, max_size=3))),
    )


@st.composite
def random_pan_days(draw: st.DrawFn) -> Problem:
    """Few hands and pots, pans that are watched and then all at once, slow stirring."""
    batches = []
    for n in range(draw(st.integers(1, 4))):
        watched, then = draw(st.integers(1, 12)), draw(st.integers(1, 10))
        slow = draw(st.booleans())
        pan = {"skill": Skill.PAN, "in_pot": True, "burner_w": 2000.0}
        stir = {"same_hands": "pan"} if draw(st.integers(0, 4)) else {}
        steps = [
            step("ready", draw(st.integers(1, 15)), 3),
            step("watch", watched, 2, **pan, **({} if slow else stir)),
            step("boil", then, draw(st.sampled_from([3, 4])), **pan, **stir),
            step("fill", draw(st.integers(1, 6)), 4, in_pot=True),
            draw(wash("wash", in_pot=True)),
        ]
        if slow:
            steps[2] = step("boil", then, 2, **pan, **stir)
        links = [
            Link(before="ready", after="watch"),
            Link(before="watch", after="boil", at_most_min=0),
            Link(before="boil", after="fill", at_most_min=draw(st.integers(0, 5))),
            Link(before="fill", after="wash"),
        ]
        batches.append(
            Batch(
                id=f"b{n}",
                product=f"p{n}",
                contents=draw(st.sampled_from(["", "", "the same"])),
                jars=draw(st.integers(1, 9)),
                process=draw(st.sampled_from([None, "half-pint-10", "pint-10"])),
                pots=draw(st.sampled_from([("big",), ("small", "big")])),
                ready_after="fill",
                closed_wait_at_most_min=draw(st.integers(0, 20)),
                steps=tuple(steps),
                links=tuple(links),
                windows=draw(
                    st.sampled_from(
                        [
                            (),
                            (),
                            (Window(step="boil", earliest_min=40),),
                            (Window(step="watch", earliest_min=5, latest_min=120),),
                        ]
                    )
                ),
            )
        )
    people = tuple(
        replace(draw(random_person(n, 360)), quarters=4 if n == 0 else quarters)
        for n, quarters in enumerate(
            draw(st.lists(st.integers(1, 4), min_size=1, max_size=2))
        )
    )
    covers = draw(st.sampled_from([("strong-1",), ("strong-1", "middle-1")]))
    return day(
        *batches,
        people=people,
        horizon_min=360,
        canners=(
            canner(
                "c0",
                burners=covers,
                places={"half_pint": draw(st.integers(4, 10)), "pint": 4},
                first_heat_min=draw(st.integers(0, 30)),
                reheat_min=draw(st.integers(0, 20)),
                stays_hot_min=draw(st.integers(0, 30)),
            ),
        ),
        burners=(
            Burner(id="middle-1", power_w=2000.0),
            Burner(id="strong-1", power_w=3000.0, taken=draw(when_taken(360))),
        ),
        processes=PROCESSES,
    )
