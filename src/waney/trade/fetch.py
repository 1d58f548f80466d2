"""Worth fetching: a tree or log that is offered answered "fetch", "only if free" or "leave", with the figure that decides.

offer.length            [m] how long it is
offer.price, offer.loss what a board foot earns [cents], and the share lost on the way to dry boards
offer.hours             [h] of driving and loading
offer.metal             whether there is metal in it
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from statistics import NormalDist

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import LOG
from waney.sawing.bench import Over
from waney.trade.reading import Reading, sheet_of
from waney.trade.scenes import READ, Figured, Sawn, Scene, along_length, between_lengths, quick_plan, scene_of, wood_of
from waney.units.direction import Direction
from waney.units.mass import KILOGRAM, print_mass
from waney.units.money import print_money
from waney.units.quantity import Unit
from waney.units.share import print_share
from waney.wood.species import SeveralSpecies, UnknownSpecies, species

SURE = 0.75
"""Share of the scenarios in which money must be left. Ours, no source; the shop's to set."""
METAL = {True: 0.4, None: 0.15, False: 0.05}
"""Chance of metal in a yard tree, one nobody told of, a forest tree. Common practice, no source."""


def metal_start(yard_tree: bool | None) -> Estimate:
    """The chance of metal before the shop has a log of its own to tell by."""
    return Estimate(METAL[yard_tree], METAL[yard_tree], METAL[yard_tree], Basis(Ground.DEFAULT, ""), 0.0, 1.0)


BY_PLAN = Basis(Ground.READING, "the readings", "sawn in thought by the shop's mill and wants sheets")
BY_SCALE = Basis(Ground.READING, "the readings", "board feet by scale, times what the shop says one earns")
TYPED = Basis(Ground.READING, "what the shop typed", "way, hours, loading, a blade at the chance of metal")


class Reply(StrEnum):
    """What is said to who offers it."""

    FETCH = "fetch"
    IF_FREE = "only if free"
    LEAVE = "leave"


class BadCosts(Problem):
    """Costs that nobody pays."""


@dataclass(frozen=True)
class Costs:
    """What fetching takes and what wood earns, all typed by the shop; None: not typed. Cents of one currency.

    way_km: there and back; hours: of driving and loading, by everybody; loading_cents: crane; per_board_foot_cents: what
    dry boards earn, where no plan prices them; sawing_cents, drying_cents: for a board foot, where no plan pays them; loss: share
    lost in drying;
    blade_cents: a blade spoilt by metal; bears_kg: the trailer; metal: chance of it, where the shop's own logs say one.
    """

    currency: str = ""
    way_km: float | None = None
    km_cents: float | None = None
    hours: Estimate | None = None
    hour_cents: float | None = None
    loading_cents: int | None = None
    per_board_foot_cents: Estimate | None = None
    sawing_cents: float | None = None
    drying_cents: float | None = None
    loss: Estimate | None = None
    blade_cents: float | None = None
    bears_kg: float | None = None
    metal: Estimate | None = None

    def __post_init__(self) -> None:
        typed = (
            self.way_km,
            self.km_cents,
            self.hour_cents,
            self.loading_cents,
            self.sawing_cents,
            self.drying_cents,
            self.blade_cents,
        )
        if any(each is not None and each < 0 for each in typed):
            raise BadCosts(
                "A cost is below zero; write what it takes as a positive amount, and what they pay as an asked price below zero."
            )

    def missing(self, priced_by_plan: bool) -> tuple[str, ...]:
        """What nobody typed, in words."""
        asked: list[tuple[str, object]] = [
            ("the way", self.way_km),
            ("what driving costs", self.km_cents),
            ("the hours", self.hours),
            ("what an hour costs", self.hour_cents),
            ("loading", self.loading_cents),
            ("a blade", self.blade_cents),
        ]
        if not priced_by_plan:
            asked += [
                ("what a board foot earns", self.per_board_foot_cents),
                ("sawing", self.sawing_cents),
                ("drying", self.drying_cents),
                ("what is lost in drying", self.loss),
            ]
        return tuple(words for words, value in asked if value is None)


@dataclass(frozen=True, eq=False)
class Offer:
    """The answer. money_cents: net at the asked price; None: no prices. left: share of cases with money left."""

    reading: Reading
    reply: Reply | None
    reason: str
    weight_kg: Estimate | None
    wood_m3: Estimate
    board_feet: Estimate
    usable_m3: Estimate | None
    worth_cents: Estimate | None
    fetching_cents: Estimate
    money_cents: Estimate | None
    left: float | None
    would_change: str
    missing: tuple[str, ...]
    remarks: tuple[str, ...]
    currency: str = ""


def worth_fetching(
    reading: Reading,
    costs: Costs,
    asked_cents: int | None,
    scenarios: Scenarios,
    sheets: Mapping[str, str] | None = None,
    over: Over = map,
    sure: float = SURE,
    weighs_in: Unit = KILOGRAM,
) -> Offer:
    """Answer an offer.

    asked_cents: what they want, below zero they pay, None: nobody said (taken as free); sheets: mill and wants for the
    quick plan; weighs_in: how sentences write weights. Half-known readings give a wider range, never an error."""
    known, remarks = _known(reading)
    scene = _scene(known, scenarios)
    sawn = _plan(known, sheets, scenarios, over)
    plan = None if isinstance(sawn, str) else sawn
    currency, priced, other = _money_of(plan, costs)
    remarks += other
    worth = plan.cents if plan is not None and priced else _by_scale(scene, costs, scenarios)
    fetching = _fetching(scene, costs, known, scenarios, by_scale=not priced)
    asked = asked_cents or 0
    net = None if worth is None else worth.plus(fetching, -1.0)
    missing = costs.missing(priced)
    weight = scene.weight_kg
    told = asked_cents is not None
    heavy = _too_heavy(weight, costs, weighs_in)
    reply, reason, left = _answer(net, asked, told, heavy, currency, missing, sure)
    return Offer(
        reading,
        reply,
        reason,
        weight,
        scene.wood_m3.estimate(READ),
        scene.board_feet.estimate(Basis(Ground.SOURCE, "usfs-log-scaling", "International 1/4-inch, unrounded")),
        None if plan is None else plan.usable_m3.estimate(READ),
        None if worth is None else worth.estimate(BY_PLAN if priced else BY_SCALE),
        fetching.estimate(TYPED),
        None if net is None else _less(net, asked).estimate(BY_PLAN if priced else BY_SCALE),
        left,
        _would_change(known, scene, scenarios),
        missing,
        (*remarks, sawn) if isinstance(sawn, str) and sawn else remarks,
        currency,
    )


def _money_of(plan: Sawn | None, costs: Costs) -> tuple[str, bool, tuple[str, ...]]:
    """The currency of the answer, whether the plan's money counts, and why it does not."""
    if plan is None or not plan.priced:
        return costs.currency, False, ()
    named = plan.rules.currency
    if costs.currency in ("", named):
        return named, True, ()
    return (
        costs.currency,
        False,
        (f"The wants sheet counts in {named}, the costs in {costs.currency}: its prices were left out.",),
    )


def _known(reading: Reading) -> tuple[Reading, tuple[str, ...]]:
    """A wood that no table knows is any wood."""
    if not reading.species:
        return reading, ("No wood was named: it is taken as any wood.",)
    try:
        return replace(reading, species=species(reading.species).id), ()
    except (UnknownSpecies, SeveralSpecies) as why:
        return replace(reading, species=""), (f"{why} Until then it is taken as any wood.",)


def _lengths(reading: Reading) -> list[float]:
    """Low, likely and high [m]."""
    return sorted({reading.length.low, reading.length.likely, reading.length.high})


def _scene(reading: Reading, scenarios: Scenarios) -> Scene:
    at = _lengths(reading)
    scenes = [scene_of(sheet_of(reading, metres), scenarios) for metres in at]
    return scenes[0] if len(at) == 1 else along_length(reading.length, scenes, at, scenarios)


def _wood(reading: Reading, scenarios: Scenarios) -> Figured:
    """The wood of that scene [m3]."""
    at = _lengths(reading)
    woods = [wood_of(sheet_of(reading, metres), scenarios) for metres in at]
    return woods[0] if len(at) == 1 else between_lengths(reading.length, woods, at, scenarios)


def _plan(reading: Reading, sheets: Mapping[str, str] | None, scenarios: Scenarios, over: Over) -> Sawn | str:
    """A quick plan at the likely length, stretched with the length; or why there is none."""
    if sheets is None:
        return ""
    if not reading.species:
        return "No quick plan: what a log gives turns on its wood, and none was named."
    length = reading.length
    sawn = quick_plan({**sheets, LOG: sheet_of(reading, length.likely)}, scenarios, over)
    if isinstance(sawn, str):
        return sawn
    stretch = scenarios.values("offer.length", length) / length.likely
    cents, usable = (Figured(part.values * stretch, part.likely) for part in (sawn.cents, sawn.usable_m3))
    return replace(sawn, cents=cents, usable_m3=usable)


def _by_scale(scene: Scene, costs: Costs, scenarios: Scenarios) -> Figured | None:
    """Board feet by scale times what they earn, less what drying loses."""
    price = costs.per_board_foot_cents
    if price is None:
        return None
    earned = scene.board_feet.values * scenarios.values("offer.price", price)
    worth = Figured(earned, scene.board_feet.likely * price.likely)
    if costs.loss is None:
        return worth
    return Figured(worth.values * (1.0 - scenarios.values("offer.loss", costs.loss)), worth.likely * (1.0 - costs.loss.likely))


def _fetching(scene: Scene, costs: Costs, reading: Reading, scenarios: Scenarios, *, by_scale: bool) -> Figured:
    """Cents of the way, the hours, loading, a blade at the chance of metal; and of sawing and drying where no plan pays them."""
    fixed = (costs.way_km or 0.0) * (costs.km_cents or 0.0) + (costs.loading_cents or 0)
    chance = metal_start(reading.yard_tree).likely if costs.metal is None else costs.metal.likely
    blade = costs.blade_cents or 0.0
    met = scenarios.column("offer.metal") > NormalDist().inv_cdf(1.0 - chance)
    found = Figured(np.asarray(fixed + blade * met, np.float64), fixed + blade * chance)
    if costs.hours is not None and costs.hour_cents is not None:
        hours = Figured(scenarios.values("offer.hours", costs.hours), costs.hours.likely)
        found = found.plus(hours, costs.hour_cents)
    if by_scale:
        found = found.plus(scene.board_feet, (costs.sawing_cents or 0.0) + (costs.drying_cents or 0.0))
    return found


def _less(net: Figured, asked: int) -> Figured:
    return Figured(net.values - asked, net.likely - asked)


def _too_heavy(weight: Estimate | None, costs: Costs, unit: Unit) -> str:
    """Why the trailer leaves it; empty where it need not."""
    if costs.bears_kg is None or weight is None or weight.low <= costs.bears_kg:
        return ""
    least, bears = print_mass(weight.low, unit, Direction.HAVE), print_mass(costs.bears_kg, unit, Direction.HAVE)
    return f"It weighs {least} or more, and the trailer bears {bears}: only cut to length."


def _answer(
    net: Figured | None, asked: int, told: bool, heavy: str, currency: str, missing: tuple[str, ...], sure: float
) -> tuple[Reply | None, str, float | None]:
    left = None if net is None else float(np.mean(net.values >= asked))
    if heavy:
        return Reply.LEAVE, heavy, left
    if net is None or left is None:
        return None, f"No answer in money: nobody typed {', '.join(missing)}. Offers stand in order of their volume.", None
    free = float(np.mean(net.values >= 0))
    price = print_money(asked, currency)
    open_costs = f" Not counted, nobody typed it: {', '.join(missing)}." if missing else ""
    if left >= sure:
        paid = "what they pay with it, " if asked < 0 and free < sure else ""
        return (
            Reply.FETCH,
            f"Counting {paid}all that was typed, money is left in {print_share(left)} of the cases at {price}.{open_costs}",
            left,
        )
    if asked > 0 and free >= sure:
        return (
            Reply.IF_FREE,
            f"The asked price decides: {price} leaves money in {print_share(left)} of the "
            f"cases, no price in {print_share(free)}.{open_costs}",
            left,
        )
    nobody = " (nobody named a price)" if not told else ""
    return (
        Reply.LEAVE,
        f"Fetching decides: even free{nobody} it leaves money in {print_share(free)} of the "
        f"cases, and {print_share(sure)} are wanted.{open_costs}",
        left,
    )


def _would_change(reading: Reading, scene: Scene, scenarios: Scenarios) -> str:
    """The measurement that takes most off the volume's range."""
    width = scene.wood_m3.estimate(READ).width
    found = (
        [(1.0 - _wood(better, scenarios).estimate(READ).width / width, what) for what, better in reading.better()]
        if width
        else []
    )
    if not found or max(found)[0] <= 0.0:
        return "No tape reading would narrow the volume further."
    saved, what = max(found)
    return f"One more measurement, {what}, would narrow the range of the volume by {print_share(saved)}."
