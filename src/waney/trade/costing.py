"""What each piece of a log has cost: spent on the log, on the way down the saw tree, on the piece itself; it sums to the cent.

The rules are docs/design/trade.md, "What a piece has cost".
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from waney.figures.problem import Problem
from waney.trade.shares import parts_of, to_the_cent

LOG = ""
"""how the log itself is called as a parent"""


class BadCosting(Problem):
    """Costs that cannot be shared so."""


class What(StrEnum):
    """What money went for."""

    LOG = "log"
    HAUL = "haul"
    HOURS = "hours"
    BLADES = "blades"
    COATING = "end coating"
    KILN = "kiln"
    FLATTENING = "flattening"
    SHED = "shed"
    OTHER = "other"


class Sharing(StrEnum):
    """By what pieces share a joint cost."""

    VALUE = "sales value"
    VOLUME = "volume"
    PIECE = "piece"


@dataclass(frozen=True)
class Cost:
    """Money spent, in whole cents; below zero: it came back (paid for taking a tree away)."""

    what: What
    cents: int


@dataclass(frozen=True)
class Wood:
    """One piece of the saw tree. parent: the piece it was sawn from, empty for the log; None: not known."""

    name: str
    costs: tuple[Cost, ...] = ()
    parent: str = LOG
    volume_m3: float | None = None
    price_cents: int | None = None
    lost: bool = False


@dataclass(frozen=True)
class PieceCost:
    """What one piece bears: spent on it alone, and its share of what it bears with others."""

    name: str
    own: tuple[Cost, ...]
    joint_cents: int

    @property
    def own_cents(self) -> int:
        """Spent on it alone."""
        return _sum(self.own)

    @property
    def floor_cents(self) -> int:
        """Below this it is sold at a loss."""
        return self.own_cents + self.joint_cents


@dataclass(frozen=True)
class Costed:
    """A log's costs, borne by its pieces (in the order they were handed in). spent: by what, of the whole tree.

    lost_cents: was spent on pieces that were lost since, and is borne by the rest; sunk_cents: borne by nothing.
    """

    sharing: Sharing
    spent: Mapping[What, int]
    pieces: tuple[PieceCost, ...]
    lost_cents: int
    sunk_cents: int

    @property
    def total_cents(self) -> int:
        """All that was spent: the floors and what is sunk."""
        return sum(self.spent.values())

    def floor_cents(self, names: Iterable[str]) -> int:
        """Floor of a piece or of a set that stays whole. Raises BadCosting for what bears nothing."""
        found = {piece.name: piece.floor_cents for piece in self.pieces}
        wrong = [name for name in names if name not in found]
        if wrong:
            raise BadCosting(f"{', '.join(wrong)}: lost, sawn up or of another log; name pieces that are still there.")
        return sum(found[name] for name in names)


def below_cost(price_cents: int | None, floor_cents: int | None) -> int:
    """How far a price lies below what the wood has cost [cents]; 0 where it does not, or where one of the two is not known.

    >>> below_cost(1_00, 2_02), below_cost(2_02, 2_02), below_cost(1_00, None)
    (102, 0, 0)
    """
    return 0 if price_cents is None or floor_cents is None else max(floor_cents - price_cents, 0)


def costed(log: Sequence[Cost], pieces: Sequence[Wood], sharing: Sharing) -> Costed:
    """Let what was spent on a log flow down to its pieces.

    Raises BadCosting for a name that stands twice, a parent that is none, or pieces without the figure that `sharing` goes by.
    """
    tree = _Tree.of(log, pieces)
    weights = _weights(tree.bearers(LOG), sharing)
    joint: dict[str, Fraction] = dict.fromkeys(weights, Fraction(0))
    for at, cents in tree.pools().items():
        for name, part in parts_of({wood.name: weights[wood.name] for wood in tree.bearers(at)}).items():
            joint[name] += cents * part
    whole = to_the_cent(joint)
    spent = _by_what([*log, *(cost for wood in pieces for cost in wood.costs)])
    own = {wood.name: wood.costs for wood in pieces}
    borne = tuple(PieceCost(name, own[name], cents) for name, cents in whole.items())
    sunk = sum(spent.values()) - sum(piece.floor_cents for piece in borne)
    lost = sum(_sum(wood.costs) for wood in pieces if wood.lost)
    return Costed(sharing, spent, borne, lost, sunk)


@dataclass(frozen=True)
class _Tree:
    """log_cents: spent on the log itself; below: the pieces sawn from each."""

    log_cents: int
    woods: Mapping[str, Wood]
    below: Mapping[str, Sequence[Wood]]

    @classmethod
    def of(cls, log: Sequence[Cost], pieces: Sequence[Wood]) -> _Tree:
        woods = {wood.name: wood for wood in pieces}
        if len(woods) < len(pieces) or LOG in woods:
            raise BadCosting("Each piece of a log needs a name of its own.")
        below: defaultdict[str, list[Wood]] = defaultdict(list)
        for wood in pieces:
            below[wood.parent].append(wood)
        tree = cls(_sum(log), woods, below)
        for wood in pieces:
            tree._comes_from_the_log(wood)
        return tree

    def _comes_from_the_log(self, wood: Wood) -> None:
        parent, seen = wood.parent, {wood.name}
        while parent != LOG:
            if parent not in self.woods or parent in seen:
                raise BadCosting(f"{wood.name} is said to be sawn from {parent}, which does not come from this log.")
            seen.add(parent)
            parent = self.woods[parent].parent

    def bearers(self, at: str) -> list[Wood]:
        """The pieces below that are still there, in their order."""
        found: list[Wood] = []
        for wood in self.below.get(at, ()):
            if self.below.get(wood.name):
                found += self.bearers(wood.name)
            elif not wood.lost:
                found.append(wood)
        return found

    def pools(self) -> dict[str, int]:
        """Cents by where they are joint: at the log, at pieces that were sawn up. What nothing bears is left out."""
        pools: defaultdict[str, int] = defaultdict(int, {LOG: self.log_cents})
        for wood in self.woods.values():
            if self.below.get(wood.name):
                pools[self._borne_at(wood.name)] += _sum(wood.costs)
            elif wood.lost:
                pools[self._borne_at(wood.parent)] += _sum(wood.costs)
        return {at: cents for at, cents in pools.items() if self.bearers(at)}

    def _borne_at(self, at: str) -> str:
        """The nearest place up the tree below which a piece is left."""
        while at != LOG and not self.bearers(at):
            at = self.woods[at].parent
        return at


def _weights(bearers: Sequence[Wood], sharing: Sharing) -> dict[str, float]:
    figure, asked = _FIGURES[sharing]
    found = {wood.name: figure(wood) for wood in bearers}
    missing = [name for name, value in found.items() if value is None or value <= 0]
    if missing:
        raise BadCosting(f"Sharing by {sharing} needs {asked} of each piece; {', '.join(missing)} has none.")
    return {name: float(value) for name, value in found.items() if value is not None}


_FIGURES: Mapping[Sharing, tuple[Callable[[Wood], float | None], str]] = {
    Sharing.VALUE: (lambda wood: wood.price_cents, "a price above zero"),
    Sharing.VOLUME: (lambda wood: wood.volume_m3, "a volume"),
    Sharing.PIECE: (lambda _wood: 1.0, "nothing"),
}


def _by_what(costs: Iterable[Cost]) -> dict[What, int]:
    summed = dict.fromkeys(What, 0)
    for cost in costs:
        summed[cost.what] += cost.cents
    return {what: cents for what, cents in summed.items() if cents}


def _sum(costs: Iterable[Cost]) -> int:
    return sum(cost.cents for cost in costs)
