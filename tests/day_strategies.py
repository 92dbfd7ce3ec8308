"""Days made up by Hypothesis: any of them is one that `read_day` can return."""

import datetime as dt

from hypothesis import strategies as st

from stillroom.measures import read_quantity
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Heat, Kitchen, Pot
from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Helper, Lot, Purpose, Rest, Want
from stillroom.planning.day_file.dayschema import JARS
from stillroom.planning.goal_order import Goal

DAYS = st.dates(dt.date(1900, 1, 1), dt.date(2999, 12, 31))
LETTERS = st.characters(min_codepoint=32, max_codepoint=0x24F)


def clock(minute):
    return dt.time(minute // 60, minute % 60)


def names(most):
    name = st.text(LETTERS, min_size=1, max_size=12).filter(
        lambda said: said.isprintable() and said == " ".join(said.split()) != ""
    )
    return st.lists(name, min_size=1, max_size=most, unique_by=str.casefold)


def sizes(low, high):
    """Handy numbers and floats that no one would write."""
    handy = st.integers(int(low * 100) + 1, int(high * 100)).map(lambda n: n / 100)
    return handy | st.floats(low, high).filter(lambda n: abs(n) > 1e-9)


def litres(low, high):
    return sizes(low, high).map(lambda size: size * 0.001)


per_jar = st.dictionaries(st.sampled_from(JARS), st.integers(1, 20), min_size=1)


@st.composite
def when_taken(draw, starts, ends):
    """Some of the day, and never all of it."""
    start = draw(st.integers(starts, ends - 1))
    end = draw(st.integers(start + 1, ends if start > starts else ends - 1))
    return ((clock(start), clock(end)),)


@st.composite
def kitchens(draw, starts, ends):
    taken = st.just(()) | when_taken(starts, ends)
    burners = tuple(
        Burner(
            name=name,
            power_w=draw(sizes(100, 20_000)),
            largest_pot_m3=draw(st.none() | litres(0.2, 199)),
            taken=draw(taken),
        )
        for name in draw(names(4))
    )
    on = st.lists(
        st.sampled_from([b.name for b in burners]), min_size=1, max_size=2, unique=True
    )
    canners = []
    for name in draw(st.just([]) | names(3)):
        places = draw(per_jar)
        layers = st.dictionaries(st.sampled_from(sorted(places)), st.integers(1, 4))
        canner = Canner(
            name=name,
            kind=draw(st.sampled_from(CannerKind)),
            stands_on=tuple(draw(on)),
            places=places,
            layers=draw(layers),
            volume_m3=draw(st.none() | litres(0.2, 199)),
        )
        canners.append(canner)
    # Elevation and barometer have to agree: the second is only made up near sea level.
    elevation = draw(st.none() | sizes(-100, 200))
    pressure = st.floats(97_500, 103_500)
    pressure_pa = draw(pressure if elevation is None else st.none() | pressure)
    return Kitchen(
        name=draw(names(1))[0],
        elevation_m=elevation,
        pressure_pa=pressure_pa,
        heat=draw(st.sampled_from(Heat)),
        burners=burners,
        pots=tuple(
            Pot(name=name, volume_m3=draw(litres(0.2, 199))) for name in draw(names(4))
        ),
        canners=tuple(canners),
        mills=draw(st.integers(0, 3)),
        counter_places=draw(st.integers(1, 300)),
        cooling_min=draw(st.integers(12 * 60, 72 * 60)),
        # Near sea level water boils from 99 to 101 °C.
        boils_reading_k=draw(st.none() | st.floats(370.0, 376.0)),
        metric=draw(st.booleans()),
    )


@st.composite
def helpers(draw, name, starts, ends):
    comes = draw(st.integers(starts, ends - 61))
    goes = draw(st.integers(comes + 61, ends))
    breaks = ()
    if draw(st.booleans()):
        minutes = draw(st.integers(5, 30))
        earliest = draw(st.integers(comes, goes - minutes))
        latest = draw(st.integers(earliest, goes - minutes))
        breaks = (
            Rest(minutes=minutes, earliest=clock(earliest), latest=clock(latest)),
        )
    away = ()
    if draw(st.booleans()):
        start = draw(st.integers(comes, goes - 20))
        back = start + 15
        # beside a break that it leaves no room for it is a fault
        if not breaks or earliest + minutes <= start or max(earliest, back) <= latest:
            away = ((clock(start), clock(back)),)
    return Helper(
        name=name,
        comes=clock(comes),
        goes=clock(goes),
        can=frozenset(draw(st.sets(st.sampled_from(Skill), min_size=1))),
        breaks=breaks,
        away=away,
        quarters=draw(st.integers(1, 4)),
    )


@st.composite
def lots(draw, name):
    typed = draw(
        st.sampled_from(
            ["6 bags of 5 cups", "22 lb", "6.5 kg", "5 boxes", "60", "2 bags of 3 lb",
             "½ cup", "2 lb 3 oz", "3 qt + 1 cup", "1 bag of 1/3 cup", "950 ml"]
        )
    )  # fmt: skip
    quantity = read_quantity(typed)
    size, in_bags = float(quantity.value), quantity.bag is not None
    return Lot(
        name=name,
        what=draw(names(1))[0],
        volume_m3=size if quantity.dimension == "volume" else None,
        mass_kg=size if quantity.dimension == "mass" else None,
        count=int(size) if quantity.dimension == "count" else None,
        bags=quantity.bags if in_bags else 0,
        bag_m3=float(quantity.bag) if in_bags and "cup" in typed else None,
        bag_kg=float(quantity.bag) if in_bags and "lb" in typed else None,
        frozen=draw(st.booleans()),
        ready=draw(st.none() | st.integers(0, 24 * 60 - 1).map(clock)),
        use_by=draw(st.none() | DAYS),
        paid=draw(st.none() | st.floats(0, 1e8)),
        typed=typed,
    )


@st.composite
def wants(draw, starts, ends):
    return Want(
        product=draw(names(1))[0],
        jars=draw(st.integers(1, 200)),
        jar=draw(st.sampled_from(JARS)),
        purpose=draw(st.sampled_from(Purpose)),
        by=draw(st.none() | st.integers(starts + 1, ends).map(clock)),
        matters=draw(st.integers(1, 5)),
        weight=draw(st.integers(1, 100)),
        multiple=draw(st.none() | st.integers(1, 12)),
    )


def left_out(wanted):
    """Some batches of what is wanted, by the names that they would have."""
    products = [want.product for want in wanted if ";" not in want.product]
    called = [f"{product} {number}" for product in products for number in (1, 2)]
    if not called:
        return st.just([])
    return st.lists(st.sampled_from(called), unique=True, max_size=2)


@st.composite
def days(draw):
    """Any day that a day file can say. The wants need not be products of the book."""
    starts = draw(st.integers(0, 20 * 60))
    ends = draw(st.integers(starts + 62, 24 * 60 - 1))
    wanted = tuple(draw(st.lists(wants(starts, ends), min_size=1, max_size=3)))
    return Day(
        name=draw(names(1))[0],
        date=draw(DAYS),
        starts=clock(starts),
        ends=clock(ends),
        kitchen=draw(kitchens(starts, ends)),
        people=tuple(draw(helpers(name, starts, ends)) for name in draw(names(3))),
        shelf=tuple(draw(lots(name)) for name in draw(names(4))),
        wants=wanted,
        first=tuple(draw(st.lists(st.sampled_from(Goal), unique=True, max_size=3))),
        without=tuple(draw(left_out(wanted))),
        done_by=draw(st.none() | st.integers(starts + 1, ends).map(clock)),
        invented=draw(st.booleans()),
        as_published=draw(st.booleans()),
    )
