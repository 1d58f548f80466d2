"""Milder: what can be done where a vacuum chamber, set as it is, or the sun is too hard for a load: how dry each lot must come,
and a setting to begin with that brings the lots there.

A chamber that is mild enough for wet wood seldom dries it to the end: its vapour settles wood above what is wanted. So the lots
begin in a milder one, and go on in the chamber as it is set once they bear that. Settings are tried from the chamber's own on,
cooler by steps, and at each of them with more pressure by steps, until the model finds nothing too hard for any lot on that way;
of these the one with the fewest days. No promise: the maker's sheet and sample boards go before it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from waney.drying.kiln_sheet import Heat, KilnSheet
from waney.drying.load import Load, borne_days, load
from waney.drying.load_plan import LIKELY
from waney.drying.lot import Lot
from waney.wood.emc import equilibrium_moisture
from waney.wood.vapour import saturation_pressure

COOLER_C, COOLEST_C = 5.0, 30.0
"""Steps of temperature, and where they end [°C]: ours, a choice."""
MORE_PRESSURE = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0)
"""Pressures that are tried, as multiples of the chamber's own [-]: ours, a choice."""
MOIST = 0.95
"""Vapour nearer to saturation than this dries nothing [-]."""
DRIER = 0.01
"""Moisture is told to this [-]."""


@dataclass(frozen=True)
class Setting:
    """A chamber to begin with: the kiln at another temperature and pressure; days: in it, and in the chamber as it is set after
    that."""

    kiln: KilnSheet
    days: tuple[float, float]

    @property
    def temperature_c(self) -> float:
        """Of plates, of the wood in radio frequency, of the warm air of a cycle [°C]."""
        return warmth_c(self.kiln)


@dataclass(frozen=True)
class Milder:
    """from_mc: for each lot that the chamber as it is set is too hard for, the moisture from which on it bears it [-], None: at
    none above its target; begin: how to get all of them there, None: no setting that was tried does, and by the sun."""

    from_mc: tuple[tuple[str, float | None], ...]
    begin: Setting | None


def milder_for(found: Load) -> Milder | None:
    """What helps a load in vacuum, and by the sun how dry its lots must come; None where the chamber is too hard for nobody, and
    for heated air. Raises BadKiln."""
    hard = tuple(one.lot for one in found.travellers if one.judged.hard or one.judged.against)
    if not hard or found.kiln.heat is Heat.AIR:
        return None
    return _milder(found.kiln, hard) if found.kiln.pressure_pa else _by_sun(found.kiln, hard)


@lru_cache(maxsize=64)
def _by_sun(kiln: KilnSheet, hard: tuple[Lot, ...]) -> Milder:
    """Nothing can be set by the sun."""
    return Milder(tuple((lot.name, borne_from(kiln, lot)) for lot in hard), None)


@lru_cache(maxsize=64)
def _milder(kiln: KilnSheet, hard: tuple[Lot, ...]) -> Milder:
    """Kept, because the same load stands in one proposal after the other."""
    from_mc = [borne_from(kiln, lot) for lot in hard]
    ways = [(lot, mc) for lot, mc in zip(hard, from_mc, strict=True) if mc is not None]
    named = tuple((lot.name, mc) for lot, mc in zip(hard, from_mc, strict=True))
    if len(ways) < len(hard):
        return Milder(named, None)
    first = [replace(lot, target=mc) for lot, mc in ways]
    after = load(kiln, [_at(lot, mc) for lot, mc in ways], LIKELY).days.likely
    begun = _fastest_borne(kiln, first)
    return Milder(named, None if begun is None else Setting(begun[0], (begun[1], after)))


def _fastest_borne(kiln: KilnSheet, lots: Sequence[Lot]) -> tuple[KilnSheet, float] | None:
    best: tuple[KilnSheet, float] | None = None
    for cooler in cooler_than(kiln):
        found = _borne_at(cooler, lots)
        if found is None:
            continue
        if best is not None and found[1] >= best[1]:
            break  # still cooler is slower still
        best = found
    return best


def _borne_at(cooler: KilnSheet, lots: Sequence[Lot]) -> tuple[KilnSheet, float] | None:
    """The least pressure at which all bear a temperature, and the days; None: at none they get there."""
    least = min(lot.target for lot in lots)
    for trial in with_more_pressure(cooler):
        if settles_at(trial) >= least:
            return None
        days = borne_days(trial, lots)
        if days is not None:
            return trial, days
    return None


def settles_at(kiln: KilnSheet) -> float:
    """Moisture that wood settles at in the vacuum [-]."""
    at = warmth_c(kiln)
    return equilibrium_moisture(at, min(kiln.pressure_pa / saturation_pressure(at), MOIST))


def cooler_than(kiln: KilnSheet) -> Iterator[KilnSheet]:
    """The kiln itself, then cooler step by step."""
    at = warmth_c(kiln)
    while at >= COOLEST_C:
        yield warmed_to(kiln, at)
        at = COOLER_C * ((at - 0.01) // COOLER_C)


def with_more_pressure(kiln: KilnSheet) -> Iterator[KilnSheet]:
    """The kiln itself, then with more pressure step by step, as long as its vapour still takes water up."""
    for times in MORE_PRESSURE:
        pressure = times * kiln.pressure_pa
        if pressure < MOIST * saturation_pressure(warmth_c(kiln)):
            yield pumped_to(kiln, pressure)


def warmth_c(kiln: KilnSheet) -> float:
    """Of plates, of the wood in radio frequency, of the warm air of a cycle [°C]."""
    if kiln.cycle is not None:
        return kiln.cycle.warming.temperature_c
    return kiln.plates.plate_c if kiln.plates is not None else kiln.radio.wood_c if kiln.radio is not None else 0.0


def warmed_to(kiln: KilnSheet, at_c: float) -> KilnSheet:
    """The kiln at this temperature [°C]; warm air keeps its humidity."""
    if kiln.cycle is not None:
        return replace(kiln, cycle=replace(kiln.cycle, warming=replace(kiln.cycle.warming, temperature_c=at_c)))
    if kiln.plates is not None:
        return replace(kiln, plates=replace(kiln.plates, plate_c=at_c))
    return kiln if kiln.radio is None else replace(kiln, radio=replace(kiln.radio, wood_c=at_c))


def pumped_to(kiln: KilnSheet, pressure_pa: float) -> KilnSheet:
    """The kiln at this pressure [Pa]."""
    if kiln.cycle is not None:
        return replace(kiln, cycle=replace(kiln.cycle, vacuum_pa=pressure_pa))
    if kiln.plates is not None:
        return replace(kiln, plates=replace(kiln.plates, pressure_pa=pressure_pa))
    return kiln if kiln.radio is None else replace(kiln, radio=replace(kiln.radio, pressure_pa=pressure_pa))


def borne_from(kiln: KilnSheet, lot: Lot) -> float | None:
    """Moisture from which on a lot alone bears the chamber as it is set [-], to DRIER; None where it is at none above its target.

    By halving: wetter wood is taken never to bear what drier wood does not.
    """
    least, most = lot.target + DRIER, lot.start.likely
    if least >= most or _too_hard(kiln, _at(lot, least)):
        return None
    while most - least > DRIER:
        middle = 0.5 * (least + most)
        least, most = (least, middle) if _too_hard(kiln, _at(lot, middle)) else (middle, most)
    return DRIER * (least // DRIER)


def _too_hard(kiln: KilnSheet, lot: Lot) -> bool:
    return borne_days(kiln, [lot]) is None


def _at(lot: Lot, mc: float) -> Lot:
    """The lot as it will be at this moisture."""
    share = mc / lot.start.likely
    start = replace(lot.start, likely=mc, low=lot.start.low * share, high=lot.start.high * share)
    return replace(lot, start=start)
