"""Both ways of a trace, on any graph, held against a walk by brute force."""

from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.stock.events import Way
from stillroom.stock.told import told
from stillroom.stock.tracing import trace, whom
from tests.stock.kitchen import Farm


@st.composite
def graphs(draw):
    """Draw for each lot the earlier ones that go into it; none came from nowhere."""
    size = draw(st.integers(2, 12))
    return [
        draw(st.sets(st.integers(0, i - 1), max_size=4)) if i else set()
        for i in range(size)
    ]


def reached(edges: dict[int, set[int]], start: int) -> set[int]:
    """Follow every path, one at a time."""
    found: set[int] = set()
    for nearer in edges[start]:
        found |= {nearer} | reached(edges, nearer)
    return found


@given(graphs())
@settings(max_examples=60, deadline=None)
def test_a_trace_is_what_a_walk_by_brute_force_finds(graph):
    farm, codes = Farm(), []
    for inputs in graph:
        if inputs:
            drawn = tuple((codes[i], "1") for i in sorted(inputs))
            assert farm.made("100 half-pints jam, pantry", *drawn) is None
            codes.append(farm.last)
        else:
            codes.append(farm.add("100 half-pints jam, pantry"))
    back = dict(enumerate(graph))
    forward = {i: {j for j, inputs in enumerate(graph) if i in inputs} for i in back}
    for i, code in enumerate(codes):
        found = trace(farm.stock, code)
        assert {link.lot.code for link in found.back} == {
            codes[j] for j in reached(back, i)
        }
        assert {link.lot.code for link in found.forward} == {
            codes[j] for j in reached(forward, i)
        }


def test_what_a_lot_was_made_out_of_is_a_list_with_one_and():
    farm = Farm()
    codes = [
        farm.add(said)
        for said in ("4 bags plum juice, fridge", "9 lb sugar, pantry", "9 lids, shed")
    ]
    farm.made(
        "8 half-pints plum jelly, pantry", *zip(codes, ("1", "3 lb", "8"), strict=True)
    )
    said = told(farm.stock, farm.stock.event(farm.stock.sequence))
    assert ", out of 1 bag of plum juice" in said
    assert said.count(" and ") == 1
    assert said.index("sugar") < said.index(" and ") < said.index("8 lids")


def test_from_a_jar_to_the_supplier_and_from_the_fruit_to_whom_it_went():
    # USERS 47 and 48: the same canner load; the jars with Orchard Row's plums in.
    farm = Farm()
    plums = farm.add("25 lb plums, cellar, from Orchard Row")
    assert farm.made("4 bags plum juice, 4 cups each, fridge", (plums, "20 lb")) is None
    juice = farm.last
    farm.made("8 half-pints plum jelly, pantry", (juice, "2 bags"), load=3)
    jelly = farm.last
    farm.made("7 half-pints plum jelly, pantry", (juice, "2 bags"), load=3)
    sister = farm.last
    farm.later(24)
    farm.check(jelly, 8)
    farm.take(jelly, "2", Way.SOLD, to="Bram")
    farm.take(jelly, "1", Way.EATEN)
    back = trace(farm.stock, jelly)
    assert [(link.lot.supplier, link.steps) for link in back.back][-1] == (
        "Orchard Row",
        2,
    )
    assert [lot.code for lot in back.same_load] == [sister]
    forward = trace(farm.stock, plums)
    assert {link.lot.code for link in forward.forward} == {juice, jelly, sister}
    assert [out.event.to for out in whom(forward.outs)] == ["Bram"]


def test_what_was_mended_is_not_traced():
    farm = Farm()
    plums = farm.add("25 lb plums, cellar")
    farm.made("8 half-pints plum jelly, pantry", (plums, "4 lb"))
    farm.mend(2)
    assert trace(farm.stock, plums).forward == ()
    assert farm.stock.balance(plums) == farm.stock.lots[plums].measure.read("25 lb")
