"""Load plans: which lots travel in which load of one kiln, packed piece by piece; several proposals side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations
from math import ceil

from waney.drying.kiln import LoadNeverDry
from waney.drying.kiln_sheet import KilnSheet
from waney.drying.load import SCENARIOS, Load, days_alone, load
from waney.drying.load_groups import Mask, cheapest, groups_that_fit
from waney.drying.lot import BadLot, Lot
from waney.drying.pile import most_volume, pile
from waney.drying.pile_check import faults
from waney.drying.pile_parts import Pile, PilePiece
from waney.figures.scenarios import Scenarios

LIKELY = Scenarios(seed=1, n=1)
"""The likely case alone: enough to see who may share."""
MOST_EXACT = 6
"""Lots up to which every way of parting them is looked at: up to 63 loads are run for it. Ours, a choice."""
TOO_HEAVY = "the kiln bears no more"


class Aim(StrEnum):
    """What a proposal goes for; the text is how a page names it."""

    FEW = "as few loads as may be"
    CLOSED = "nobody leaves before the end"
    ALONE = "each lot by itself"


@dataclass(frozen=True)
class PackedLoad:
    """A load and its pile; kg: what the pile weighs when all its pieces are heavy."""

    load: Load
    pile: Pile
    kg: float


@dataclass(frozen=True)
class Proposal:
    """Loads one after the other; aims: all that this order serves; out: pieces that fit in no load, each with the reason."""

    aims: tuple[Aim, ...]
    loads: tuple[PackedLoad, ...]
    out: tuple[tuple[PilePiece, str], ...]

    @property
    def days(self) -> tuple[float, float, float]:
        """Likely, low and high days of all loads, taken as late or early together."""
        each = [one.load.days for one in self.loads]
        return sum(d.likely for d in each), sum(d.low for d in each), sum(d.high for d in each)


def packed(kiln: KilnSheet, pieces: Sequence[PilePiece]) -> Pile:
    """The pile of these pieces in a kiln, no heavier than it bears; what must stay out stands in `left`. Raises NoPile."""
    whole = pile(pieces, kiln.base)
    kept: list[PilePiece] = []
    weight = 0.0
    for one in whole.pieces:
        if weight + one.mass_kg.high <= kiln.load_kg:
            weight += one.mass_kg.high
            kept.append(one)
    inside = {id(one) for one in kept}
    heavy = tuple((one, TOO_HEAVY) for one in whole.pieces if id(one) not in inside)
    if not heavy:
        return whole
    light = pile(kept, kiln.base) if kept else replace(whole, layers=(), left=())
    return replace(light, left=(*whole.left, *light.left, *heavy))


def proposals(kiln: KilnSheet, lots: Sequence[Lot], scenarios: Scenarios = SCENARIOS) -> tuple[Proposal, ...]:
    """Ways to take all lots through one kiln, the fewest days first; those that come out alike are one.

    Lots share only where nothing speaks against it and all their pieces fit; a lot that is too large is divided. Greedy from the
    slowest lot on; up to MOST_EXACT lots that need not be divided are also parted into the fewest loads exactly, and the better
    kept. A lot that this kiln never gets to its target stays out and says so. Raises BadLot, BadKiln, UnknownSchedule; and
    LoadNeverDry where it gets none there.
    """
    _named_apart(lots)
    reasons = never_dry(kiln, lots)
    never = tuple((piece, reasons[lot.name]) for lot in lots if lot.name in reasons for piece in lot.pieces)
    lots = [lot for lot in lots if lot.name not in reasons]
    found: dict[tuple[frozenset[str], ...], Proposal] = {}
    ran: Ran = {}
    for aim, may in MAY.items():
        one = greedily(kiln, lots, may, scenarios, ran)
        if aim is Aim.FEW and 2 < len(lots) <= MOST_EXACT and len(one.loads) > 1 and not one.out:
            one = _better(one, exactly(kiln, lots, may, scenarios, ran))
        key = tuple(frozenset(piece.name for piece in each.pile.pieces) for each in one.loads)
        found[key] = replace(one, aims=(*(found[key].aims if key in found else ()), aim), out=(*one.out, *never))
    return tuple(sorted(found.values(), key=lambda one: one.days[0]))


def never_dry(kiln: KilnSheet, lots: Sequence[Lot]) -> dict[str, str]:
    """The lots that this kiln does not get to their targets, likely, by name, each with the reason. Raises LoadNeverDry where it
    gets none there."""
    reasons: dict[str, LoadNeverDry] = {}
    for lot in lots:
        try:
            days_alone(lot, kiln)
        except LoadNeverDry as why:
            reasons[lot.name] = why
    if lots and len(reasons) == len(lots):
        raise reasons[lots[0].name]
    return {name: str(why) for name, why in reasons.items()}


@dataclass(frozen=True)
class Company:
    """Two lots and why they may not share a kiln, as sentences; none: they may."""

    lots: tuple[str, str]
    against: tuple[str, ...]


def company(kiln: KilnSheet, lots: Sequence[Lot]) -> tuple[Company, ...]:
    """Every two lots side by side in the likely case; a lot that never gets dry here shares with none. Raises BadLot, BadKiln,
    UnknownSchedule; LoadNeverDry where none gets there."""
    never = never_dry(kiln, lots)

    def against(a: Lot, b: Lot) -> tuple[str, ...]:
        alone = tuple(never[lot.name] for lot in (a, b) if lot.name in never)
        return alone or load(kiln, [a, b], LIKELY).against

    return tuple(Company((a.name, b.name), against(a, b)) for a, b in combinations(lots, 2))


def fewest(kiln: KilnSheet, lots: Sequence[Lot]) -> int:
    """Loads that any plan needs at least, by room and by weight: the bound beside a greedy plan."""
    pieces = [piece for lot in lots for piece in lot.pieces]
    volume = sum(piece.volume_m3 for piece in pieces)
    weight = sum(piece.mass_kg.high for piece in pieces)
    return max(ceil(volume / most_volume(pieces, kiln.base) - 1e-9), ceil(weight / kiln.load_kg - 1e-9))


def _named_apart(lots: Sequence[Lot]) -> None:
    names = [piece.name for lot in lots for piece in lot.pieces]
    if len(set(names)) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise BadLot(f"Two pieces are named {twice}: give each a name of its own.")


MAY: dict[Aim, Callable[[Load], bool]] = {
    Aim.FEW: lambda one: not one.against,
    Aim.CLOSED: lambda one: not one.against and not any(each.early for each in one.travellers),
    Aim.ALONE: lambda one: False,
}
"""Whether lots may share a load, by what a proposal goes for."""


Ran = dict[tuple[KilnSheet, frozenset[str]], Load]
"""Loads that were run already, by their kiln and the names of their pieces."""


def greedily(kiln: KilnSheet, lots: Sequence[Lot], may: Callable[[Load], bool], scenarios: Scenarios, ran: Ran) -> Proposal:
    """From the slowest lot on, each load takes every lot that fits whole and may share; a lot too large is divided."""
    waiting = sorted(lots, key=lambda lot: (-days_alone(lot, kiln), lot.name))
    loads: list[PackedLoad] = []
    out: list[tuple[PilePiece, str]] = []
    while waiting:
        first = waiting.pop(0)
        laid = packed(kiln, first.pieces)
        if not laid.layers:
            out += laid.left
            continue
        group = [_only(first, laid)]
        if laid.left:
            never, later = _never(kiln, laid)
            out += never
            waiting = [replace(first, pieces=later), *waiting] if later else waiting
        else:
            group, laid, waiting = _joined(kiln, group, laid, waiting, may)
        loads.append(_checked(_then(kiln, loads), group, laid, scenarios, ran))
    return Proposal((), tuple(loads), tuple(out))


def _then(kiln: KilnSheet, before: Sequence[PackedLoad]) -> KilnSheet:
    """The kiln for the load that goes in after these: by the sun it is later in the year then."""
    return kiln if kiln.sun is None else replace(kiln, sun=kiln.sun.later(sum(one.load.days.likely for one in before)))


def _better(greedy: Proposal, exact: Proposal | None) -> Proposal:
    return greedy if exact is None else min(greedy, exact, key=lambda one: (len(one.loads), one.days[0]))


def exactly(kiln: KilnSheet, lots: Sequence[Lot], may: Callable[[Load], bool], scenarios: Scenarios, ran: Ran) -> Proposal | None:
    """The fewest loads that hold all lots whole, of these the fewest likely days; None where a lot must be divided."""
    piles: dict[Mask, Pile] = {}

    def of(group: Mask) -> list[Lot]:
        return [lot for i, lot in enumerate(lots) if group >> i & 1]

    def fits(group: Mask) -> bool:
        laid = packed(kiln, [piece for lot in of(group) for piece in lot.pieces])
        piles[group] = laid
        return not laid.left

    groups = groups_that_fit(len(lots), fits)
    likely_loads = {group: load(kiln, of(group), LIKELY) for group in groups}
    days = {group: one.days.likely for group, one in likely_loads.items() if group.bit_count() == 1 or may(one)}
    chosen = cheapest(len(lots), days)
    if chosen is None:
        return None
    loads: list[PackedLoad] = []
    for group in chosen:
        loads.append(_checked(_then(kiln, loads), of(group), piles[group], scenarios, ran))
    return Proposal((), tuple(loads), ())


def _joined(
    kiln: KilnSheet, group: list[Lot], laid: Pile, waiting: Sequence[Lot], may: Callable[[Load], bool]
) -> tuple[list[Lot], Pile, list[Lot]]:
    """Every waiting lot, one after the other, that fits whole and may share."""
    rest: list[Lot] = []
    for lot in waiting:
        trial = packed(kiln, [piece for one in (*group, lot) for piece in one.pieces])
        if not trial.left and may(load(kiln, [*group, lot], LIKELY)):
            group, laid = [*group, lot], trial
        else:
            rest.append(lot)
    return group, laid, rest


def _only(lot: Lot, laid: Pile) -> Lot:
    return replace(lot, pieces=laid.pieces)


def _never(kiln: KilnSheet, laid: Pile) -> tuple[list[tuple[PilePiece, str]], tuple[PilePiece, ...]]:
    """What is left by pieces that would not lie alone either, with the reason, and those that go into the next load."""
    alone = {piece.name: packed(kiln, [piece]).left for piece, _ in laid.left}
    never = [why for left in alone.values() for why in left]
    return never, tuple(piece for piece, _ in laid.left if not alone[piece.name])


def _checked(kiln: KilnSheet, group: Sequence[Lot], laid: Pile, scenarios: Scenarios, ran: Ran) -> PackedLoad:
    wrong = faults(replace(laid, left=()), laid.pieces)
    assert not wrong, f"a pile that was laid does not pass its checker: {wrong[0]}"
    key = kiln, frozenset(piece.name for piece in laid.pieces)
    if key not in ran:
        ran[key] = load(kiln, group, scenarios)
    return PackedLoad(ran[key], laid, sum(one.mass_kg.high for one in laid.pieces))
