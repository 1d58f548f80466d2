"""Cut to length: one stem cut in several ways, each way valued before the saw is in it; one 16 ft against two 8 ft.

All ways are run over the same scenarios, so the difference of two ways has its own range: what is in doubt for both falls out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import accumulate, chain

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import LOG
from waney.logs.sheet import log_sheet
from waney.pieces.measures import FOOT_M
from waney.prices.rules import PriceRules
from waney.sawing.bench import Over
from waney.trade.lengths import SAW_KERF_M
from waney.trade.scenes import READ, Figured, Sawn, Scene, quick_plan, scene_of
from waney.units.share import print_share

SLACK_M = 0.005
CLEARLY = 0.75
"""Share of the scenarios in which a way must be ahead to be called better. Ours, no source."""
SCALE = Basis(Ground.SOURCE, "usfs-log-scaling", "International 1/4-inch, unrounded")


class DoesNotFit(Problem):
    """The lengths of a way are longer than the stem, or there is nothing to compare."""


@dataclass(frozen=True, eq=False)
class CutLog:
    """One log of a way: from where to where in the stem [m], its weight, wood, scale, and money when the wants have prices."""

    from_m: float
    to_m: float
    weight_kg: Estimate | None
    wood_m3: Estimate
    board_feet: Estimate
    cents: Estimate | None


@dataclass(frozen=True, eq=False)
class CutWay:
    """One way to cut the stem. ahead: share of the scenarios in which it is the best of the ways."""

    lengths_m: tuple[float, ...]
    logs: tuple[CutLog, ...]
    board_feet: Estimate
    cents: Estimate | None
    ahead: float


@dataclass(frozen=True, eq=False)
class Compared:
    """The ways, the best first; gain: of the best over the second, in cents or board feet as `in_money` says."""

    ways: tuple[CutWay, ...]
    in_money: bool
    gain: Estimate
    answer: str
    currency: str = ""


def compared(
    stem_sheet: str,
    ways: Sequence[Sequence[float]],
    scenarios: Scenarios,
    sheets: Mapping[str, str] | None = None,
    saw_kerf_m: float = SAW_KERF_M,
    over: Over = map,
) -> Compared:
    """Compare ways to cut a stem, each a list of lengths [m] from the butt, trim counted in.

    saw_kerf_m: what the chain saw takes; sheets: mill and wants; with prices in them the ways stand in order of money, else of
    board feet. Raises DoesNotFit, SheetProblems.
    """
    length = log_sheet(stem_sheet).log.length_m
    if len(ways) < 2:
        raise DoesNotFit("One way alone cannot be compared; write at least two, for instance 16 and 8+8.")
    places = [places_of(way, length, saw_kerf_m) for way in ways]
    known = {
        place: _one(stem_sheet, length, place, scenarios, sheets, over) for place in dict.fromkeys(chain.from_iterable(places))
    }
    rules = _rules([sawn for _, sawn in known.values()])
    in_money = rules is not None
    totals = [_total([_figure(*known[place], in_money=in_money) for place in way]) for way in places]
    best = np.argmax(np.array([total.values for total in totals]), axis=0)
    order = sorted(range(len(ways)), key=lambda i: -totals[i].likely)
    found = tuple(
        _way(ways[i], [(place, *known[place]) for place in places[i]], float(np.mean(best == i)), in_money) for i in order
    )
    gain = totals[order[0]].plus(totals[order[1]], -1.0)
    return Compared(found, in_money, gain.estimate(READ), _answer(found, gain, rules), rules.currency if rules else "")


def places_of(way: Sequence[float], length: float, kerf: float = SAW_KERF_M) -> list[tuple[float, float]]:
    """From where to where in a stem [m] the logs of a way lie. Raises DoesNotFit."""
    if not way or min(way) <= 0.0:
        raise DoesNotFit("A way needs lengths above zero; write for instance 8+8.")
    starts = list(accumulate(way, lambda at, log: at + log + kerf, initial=0.0))[:-1]
    end = starts[-1] + way[-1]
    if end > length + SLACK_M:
        raise DoesNotFit(f"The lengths and the cuts between them need {end:.3f} m, and the stem has {length:.3f} m; shorten one.")
    return [(start, min(start + log, length)) for start, log in zip(starts, way, strict=True)]


def part_sheet(stem_sheet: str, length_m: float, place: tuple[float, float]) -> str:
    """The sheet of a log of a stem: the stem's own, its ends trimmed. Raises DoesNotFit where they were trimmed before."""
    if "[trimmed]" in stem_sheet:
        raise DoesNotFit(
            "The stem's sheet says that its ends were trimmed; write its readings as it lies now, without [trimmed]."
        )
    return f'{stem_sheet.rstrip()}\n\n[trimmed]\nbutt = "{place[0]:.4f} m"\ntop = "{max(length_m - place[1], 0.0):.4f} m"\n'


def _one(
    stem: str, length: float, place: tuple[float, float], scenarios: Scenarios, sheets: Mapping[str, str] | None, over: Over
) -> tuple[Scene, Sawn | None]:
    sheet = part_sheet(stem, length, place)
    return scene_of(sheet, scenarios), _plan(sheets, sheet, scenarios, over)


def _plan(sheets: Mapping[str, str] | None, log: str, scenarios: Scenarios, over: Over) -> Sawn | None:
    sawn = None if sheets is None else quick_plan({**sheets, LOG: log}, scenarios, over)
    return None if isinstance(sawn, str) else sawn


def _rules(plans: Sequence[Sawn | None]) -> PriceRules | None:
    """What the money is, where every log has a plan with prices; None: compared by scale."""
    priced = [plan.rules for plan in plans if plan is not None and plan.priced]
    return priced[0] if len(priced) == len(plans) else None


def _figure(scene: Scene, sawn: Sawn | None, *, in_money: bool) -> Figured:
    return sawn.cents if in_money and sawn is not None else scene.board_feet


def _total(parts: Sequence[Figured]) -> Figured:
    return reduce(Figured.plus, parts)


def _way(
    way: Sequence[float], parts: Sequence[tuple[tuple[float, float], Scene, Sawn | None]], ahead: float, in_money: bool
) -> CutWay:
    logs = tuple(_log(*part) for part in parts)
    money = _total([_figure(scene, sawn, in_money=True) for _, scene, sawn in parts]).estimate(READ) if in_money else None
    return CutWay(tuple(way), logs, _total([scene.board_feet for _, scene, _ in parts]).estimate(SCALE), money, ahead)


def _log(place: tuple[float, float], scene: Scene, sawn: Sawn | None) -> CutLog:
    return CutLog(
        *place,
        scene.weight_kg,
        scene.wood_m3.estimate(READ),
        scene.board_feet.estimate(SCALE),
        sawn.cents.estimate(READ) if sawn is not None and sawn.priced else None,
    )


def _answer(ways: Sequence[CutWay], gain: Figured, rules: PriceRules | None) -> str:
    first, second = ways[0], ways[1]
    more = f"{gain.likely:.0f} board feet" if rules is None else rules.says(round(gain.likely))
    less = f"It gives {more} more than {lengths_said(second)}, and is the best way in {print_share(first.ahead)} of the cases."
    if first.ahead < CLEARLY:
        return f"No way is clearly ahead; {lengths_said(first)} is the likely one. {less} Let the weights and the trailer decide."
    return f"{'Leave it one log,' if len(first.lengths_m) == 1 else 'Cut it'} {lengths_said(first)}. {less}"


def lengths_said(way: CutWay) -> str:
    """Feet, as the woods count them, and metres."""
    feet = " + ".join(f"{length / FOOT_M:.3g} ft" for length in way.lengths_m)
    return f"{feet} ({' + '.join(f'{length:.2f}' for length in way.lengths_m)} m)"
