"""Writes out how a batch is made: its chains, what each asks for, what is first."""

from __future__ import annotations

from stillroom.methods.step import Step
from stillroom.planning.hand.hand_fires import Fire, fires_of
from stillroom.planning.network import UNTIED, Network, network_of
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import contents_of
from stillroom.planning.sequence.parts import (
    FAR,
    KINDS,
    MILL,
    POT,
    Burning,
    Link,
    Made,
    Part,
    Piece,
    Work,
)

LOOSE_MIN, LONG_MIN = 15, 10
"""A beginning may come so long before the rest, and is worth as much work. [min]"""


def made_of(problem: Problem, batch: Batch) -> Made:
    """Write out how a batch is made."""
    network = network_of(batch)
    many = range(len(network.chains))
    pieces = tuple(_piece(problem, batch, network, c) for c in many)
    sizes = {size: n for n, size in enumerate(batch.pots)}
    pots = [n for n, p in enumerate(problem.pots) if p.size in sizes]
    pots.sort(key=lambda n: sizes[problem.pots[n].size])
    mills = [len(problem.pots) + n for n in range(problem.mills)]
    wash = tuple(_wash(batch, network, pieces, kind) for kind in KINDS)
    chains = frozenset(range(len(pieces))) - set(wash)
    whole = _part(batch, network, pieces, chains)
    process = {p.id: n for n, p in enumerate(problem.processes)}
    closing = [
        (network.chain_of[i], network.offset[i] + s.duration_min)
        for i, s in enumerate(batch.steps)
        if batch.ready_after in ("", s.id)
    ]

    def rinse(chain: int | None) -> int | None:
        if chain is None:
            return None
        return batch.steps[network.chains[chain].members[0][0]].rinse_min or None

    return Made(
        pieces=pieces,
        whole=whole,
        cuts=tuple(
            (
                _part(batch, network, pieces, begun),
                _part(batch, network, pieces, chains - begun),
            )
            for begun in _beginnings(pieces, whole)
        ),
        tools=tuple(
            tuple(names) if any(p.held[kind] for p in pieces) else ()
            for kind, names in zip(KINDS, (pots, mills), strict=True)
        ),
        wash=wash,
        rinse=tuple(rinse(chain) for chain in wash),
        closes=tuple(closing),
        process=None if batch.process is None else process[batch.process],
        jars=batch.jars,
        wait=batch.closed_wait_at_most_min,
        contents=contents_of(batch),
    )


def _piece(problem: Problem, batch: Batch, network: Network, chain: int) -> Piece:
    members = network.chains[chain].members
    root = members[0][0]
    length = network.chains[chain].length_min
    low, high = network.earliest[root], problem.horizon_min - length
    for window in batch.windows:
        for i, offset in members:
            if batch.steps[i].id == window.step:
                low = max(low, window.earliest_min - offset)
                if window.latest_min is not None:
                    high = min(high, window.latest_min - offset)
    links = []
    for other, there in enumerate(network.chains):
        lead = there.members[0][0]
        least, back = network.lag[lead][root], network.lag[root][lead]
        if other != chain and (least != UNTIED or back != UNTIED):
            least = -FAR if least == UNTIED else least
            links.append(Link(other, least, FAR if back == UNTIED else -back))
    return Piece(
        length=length,
        works=tuple(_works(problem, batch, members)),
        fires=tuple(
            _burning(problem, f, batch) for f in fires_of(batch, network, chain)
        ),
        low=low,
        high=high,
        held=tuple(_held(batch, members, kind) for kind in KINDS),
        links=tuple(links),
        idle=_is_idle(batch, members),
    )


def _holds(batch: Batch, step: Step, kind: int) -> bool:
    return step.on_mill if kind == MILL else step.in_pot and bool(batch.pots)


def _least_held(
    batch: Batch, network: Network, members: tuple[tuple[int, int], ...], kind: int
) -> int:
    mine = [i for i, _ in members if _holds(batch, batch.steps[i], kind)]
    if not mine:
        return 0
    return max(
        network.lag[mine[0]][j] + (s.rinse_min or s.duration_min)
        for j, s in enumerate(batch.steps)
        if _holds(batch, s, kind)
    )


def _is_idle(batch: Batch, members: tuple[tuple[int, int], ...]) -> bool:
    steps = [batch.steps[i] for i, _ in members]
    if any(s.attention_quarters or s.in_pot or s.on_mill for s in steps):
        return False
    ids = {s.id for s in steps}
    return any(x.before in ids and x.at_most_min is not None for x in batch.links)


def _held(
    batch: Batch, members: tuple[tuple[int, int], ...], kind: int
) -> tuple[int, int] | None:
    spans = [
        (offset, offset + batch.steps[i].duration_min)
        for i, offset in members
        if _holds(batch, batch.steps[i], kind)
    ]
    if not spans:
        return None
    return min(start for start, _ in spans), max(end for _, end in spans)


def _works(
    problem: Problem, batch: Batch, members: tuple[tuple[int, int], ...]
) -> list[Work]:
    together: dict[str, list[tuple[int, int]]] = {}
    for i, offset in members:
        if batch.steps[i].attention_quarters:
            word = batch.steps[i].same_hands or f"\0{i}"
            together.setdefault(word, []).append((i, offset))
    works = []
    for word, group in together.items():
        word = "" if word.startswith("\0") else word
        asked = {
            s.skill
            for i, s in enumerate(batch.steps)
            if s.attention_quarters
            and (s.same_hands == word if word else i == group[0][0])
        }
        spans: list[tuple[int, int, int]] = []
        for i, offset in group:
            step = batch.steps[i]
            minutes, quarters = step.duration_min, step.attention_quarters
            if spans and spans[-1][2] == quarters and sum(spans[-1][:2]) == offset:
                offset, minutes = spans[-1][0], spans.pop()[1] + minutes
            if minutes:
                spans.append((offset, minutes, quarters))
        works.append(
            Work(
                people=tuple(
                    n
                    for n in least_skilled_first(problem)
                    if asked <= problem.people[n].skills
                ),
                word=word,
                spans=tuple(spans),
                steps=tuple(i for i, _ in group),
            )
        )
    return works


def _burning(problem: Problem, fire: Fire, batch: Batch) -> Burning:
    covered = {x for c in problem.canners for x in c.burners}
    strong = [n for n, b in enumerate(problem.burners) if b.power_w >= fire.power_w]
    strong.sort(
        key=lambda n: (problem.burners[n].id in covered, problem.burners[n].power_w)
    )
    return Burning(
        start=fire.start,
        end=fire.end,
        in_pot=batch.steps[fire.members[0]].in_pot,
        burners=tuple(strong),
        steps=tuple(fire.members),
    )


def _wash(
    batch: Batch, network: Network, pieces: tuple[Piece, ...], kind: int
) -> int | None:
    """The chain that is the last in a tool and holds nothing else up, if any."""
    holds = [c for c, p in enumerate(pieces) if p.held[kind]]
    if len(holds) < 2:
        return None
    for c in holds:
        members = network.chains[c].members
        step = batch.steps[members[0][0]]
        plain = len(members) == 1 and not step.same_hands and not pieces[c].fires
        if not plain or pieces[c].held[1 - kind] or not step.attention_quarters:
            continue
        ties = {link.other: link for link in pieces[c].links}
        ends = [
            (o, held[1]) for o in holds if o != c and (held := pieces[o].held[kind])
        ]
        last = all(link.most >= FAR for link in ties.values()) and all(
            o in ties and ties[o].least >= end for o, end in ends
        )
        closes = batch.ready_after in ("", step.id)
        windows = any(w.step == step.id for w in batch.windows)
        if last and not closes and not windows:
            return c
    return None


def _beginnings(pieces: tuple[Piece, ...], whole: Part) -> list[frozenset[int]]:
    """Chains that lead to some long work before the longest, for each such work."""
    lead = whole.order[0]
    found: list[frozenset[int]] = []
    for link in pieces[lead].links:
        piece = pieces[link.other]
        before = link.least >= piece.length and link.other in whole.order
        work = sum(span[1] for w in piece.works for span in w.spans)
        if not before or link.most - piece.length < LOOSE_MIN:
            continue
        if piece.held[POT] or work >= LONG_MIN:
            begun = {link.other} | {
                x.other
                for x in piece.links
                if x.other in whole.order and x.least >= pieces[x.other].length
            }
            if frozenset(begun) not in found:
                found.append(frozenset(begun))
    return sorted(found, key=lambda begun: (len(begun), sorted(begun)))


def _part(
    batch: Batch,
    network: Network,
    pieces: tuple[Piece, ...],
    chains: frozenset[int],
) -> Part:
    """Chains in an order in which each hangs on one before it by the tightest link."""

    def weight(c: int) -> tuple[bool, bool, int, int]:
        busy = bool(pieces[c].works)
        return (pieces[c].held[POT] is not None, busy, pieces[c].length, -c)

    tied = {
        frozenset((network.chain_of[i], network.chain_of[j]))
        for link in batch.links
        for i, s in enumerate(batch.steps)
        for j, t in enumerate(batch.steps)
        if s.id == link.before and t.id == link.after
    }
    order: list[int] = []
    branches: list[tuple[int, int, int, int]] = []
    left = set(chains)
    while left:
        reach = [
            (link.most - link.least, c, link)
            for c in sorted(left)
            for link in pieces[c].links
            if link.other in order and frozenset((c, link.other)) in tied
        ]
        if reach:
            _, c, link = min(reach, key=lambda r: (r[0], r[1]))
            branches.append((c, link.other, link.least, link.most))
        else:
            c = max(left, key=weight)
        order.append(c)
        left.discard(c)
    held = tuple(
        tuple(
            (
                c,
                mine[0],
                max(1, _least_held(batch, network, network.chains[c].members, kind)),
            )
            for c in order
            if (mine := pieces[c].held[kind])
        )
        for kind in KINDS
    )
    return Part(tuple(order), tuple(reversed(branches)), held)


def least_skilled_first(problem: Problem) -> list[int]:
    """People by how little else they can do."""
    return sorted(
        range(len(problem.people)), key=lambda n: len(problem.people[n].skills)
    )
