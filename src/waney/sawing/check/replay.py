"""Replay: the moves of a plan one after another, from the log on the bed to the last piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from waney.logs.frames import Placing
from waney.logs.shape import LogShape
from waney.sawing.check.as_read import as_read
from waney.sawing.check.left import Left, Plane
from waney.sawing.check.lie import furthest_apart, lie_of, named_tips_m, rest_slopes, turned_onto_bark, turned_onto_flat
from waney.sawing.check.passes import Costs, check_limits, near_metal
from waney.sawing.check.pieces import slice_of
from waney.sawing.check.sections import Sections
from waney.sawing.check.slices import Slice
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.mill import Mill
from waney.sawing.moves import EdgeTogether, Pass, RollOn, Turn
from waney.sawing.plan import Plan, PlannedPiece
from waney.sawing.wants import Tip

SAME_M = 1e-6
SAME_DEG = 1e-9
JUST_OVER_M = 1e-8
"""A log ends at its own flat: the section on the bed is looked at this far above it."""


@dataclass
class Replay:
    """One run through the moves; what they give and cost is read from it afterwards. Raises Difference at the first fault."""

    plan: Plan
    shape: LogShape
    mill: Mill
    costs: Costs
    metal_margin_m: float
    green_kg_per_m3: float | None = None
    flats: tuple[Plane, ...] = ()
    """faces that the log had already, log frame"""

    slices: dict[str, Slice] = field(default_factory=dict)
    batches: list[EdgeTogether] = field(default_factory=list)
    pass_cents: list[float] = field(default_factory=list)
    metal_cents: list[float] = field(default_factory=list)
    turns: int = 0
    stations: int = 0
    """of the first lie"""

    _left: Left = field(init=False)
    _sections: Sections | None = field(default=None, init=False)
    _came_off: list[str] = field(default_factory=list, init=False)
    _last_steps: int | None = field(default=None, init=False)
    _on_flat: bool = field(default=False, init=False)

    def __post_init__(self) -> None:
        self._left = Left(self.shape)

    def run(self) -> None:
        """Every move, then what is still on the bed."""
        self._check_names()
        for move in self.plan.moves:
            match move:
                case RollOn():
                    self._roll_on(move)
                case Turn():
                    self._turn(move)
                case Pass():
                    self._pass(move)
                case EdgeTogether():
                    self._edge(move)
        self._last_on_the_bed()
        self._check_order()

    @property
    def _by_name(self) -> Mapping[str, PlannedPiece]:
        return {planned.piece.name: planned for planned in self.plan.pieces}

    def _check_names(self) -> None:
        if len(self._by_name) < len(self.plan.pieces):
            raise Difference(Reason.REPEATED, "Two pieces of the plan bear one name.")
        cuts = [(p.lie, p.lower_steps, p.upper_steps) for p in self.plan.pieces]
        if len(set(cuts)) < len(cuts):
            raise Difference(Reason.REPEATED, "Two pieces of the plan come from the same two passes.")

    def _roll_on(self, move: RollOn) -> None:
        if self._sections is not None:
            raise Difference(Reason.ORDER, "The log is put on the bed a second time.")
        if abs(move.roll_deg - self.plan.roll_deg) > SAME_DEG:
            raise Difference(
                Reason.ROLL, f"The plan is for a roll of {self.plan.roll_deg:g}, its first move rolls {move.roll_deg:g} degrees."
            )
        if move.tip is not self.plan.tip or abs(move.tip_m - self.plan.tip_m) > SAME_M:
            raise Difference(Reason.TIP, "The plan and its first move name different tips.")
        self._check_bed()
        self._lie_down(self._as_read(move) if move.tip is Tip.AS_READ else self._as_named(move), Reason.REST)
        self.stations = len(self._now().w_m)
        self._on_flat = self._lies_on_flat()

    def _as_named(self, move: RollOn) -> list[Placing]:
        """Where the named tip lets the log lie."""
        if move.pith_read is not None:
            raise Difference(Reason.TIP, f"The pith was read, but the log is said to lie '{move.tip.value}'.")
        slopes = rest_slopes(self.shape, move.roll_deg, self.mill.crossbars_m)
        held = [slope for slope in slopes if self._tip_fits(move, slope)]
        if not held:
            raise Difference(Reason.TIP, f"A lift of {move.tip_m:.6f} m at the top end is not '{move.tip.value}' for this log.")
        return [lie_of(self.shape, move, slope, self.mill.crossbars_m) for slope in held]

    def _as_read(self, move: RollOn) -> list[Placing]:
        """Where the pith was found, with what the bed leaves of the log; the lift and tip of the plan must bring it there too."""
        self.shape, read = as_read(self.shape, move, self.mill.crossbars_m)
        self._left = Left(self.shape)
        slopes = rest_slopes(self.shape, move.roll_deg, self.mill.crossbars_m)
        told = [lie_of(self.shape, move, slope, self.mill.crossbars_m) for slope in slopes]
        if min(furthest_apart(self.shape, read, lie) for lie in told) > SAME_M:
            raise Difference(Reason.TIP, "Lift and tip of the plan do not bring the pith to the heights that were read.")
        return [read]

    def _lies_on_flat(self) -> bool:
        """Whether one of the log's own flats points straight down and is the bed's plane."""
        facing = [flat.seen_from(self._now().lie) for flat in self.flats]
        return any(plane.outward[1] < -1 + 1e-12 and abs(plane.reach) <= SAME_M for plane in facing)

    def _tip_fits(self, move: RollOn, slope: float) -> bool:
        tips = named_tips_m(self.shape, move.roll_deg, slope, move.tip)
        return any(abs(tip - move.tip_m) <= SAME_M for tip in tips)

    def _check_bed(self) -> None:
        if self.shape.length_m > self.mill.bed_length_m + SAME_M:
            raise Difference(
                Reason.LIMIT, f"The log is {self.shape.length_m:.3f} m long, the bed {self.mill.bed_length_m:.3f} m."
            )
        self._check_weight("The log", self.mill.heaviest_log_kg)

    def _check_weight(self, what: str, heaviest_kg: float | None) -> None:
        if self.green_kg_per_m3 is None or heaviest_kg is None:
            return
        weight = self._left.volume_and_centre_z()[0] * self.green_kg_per_m3
        if weight > heaviest_kg:
            raise Difference(Reason.LIMIT, f"{what} weighs {weight:.0f} kg; {heaviest_kg:.0f} kg is the most here.")

    def _lie_down(self, possible: list[Placing], reason: Reason) -> None:
        """The lie that the plan states must be one of those that are possible."""
        number = self.turns
        if number >= len(self.plan.lies):
            raise Difference(Reason.TURN, f"The plan has {len(self.plan.lies)} lies and turns the wood once more than that.")
        stated = self.plan.lies[number]
        apart = {furthest_apart(self.shape, stated, lie): lie for lie in possible}
        off = min(apart)
        if off > SAME_M:
            reason = Reason.ROLL if number == 0 and _rolled_otherwise(stated, apart[off]) else reason
            raise Difference(reason, f"Lie {number} of the plan is {off:.6f} m from where the wood comes to lie.")
        self._sections, self._last_steps = Sections.of(self._left, apart[off]), None

    def _now(self) -> Sections:
        if self._sections is None:
            raise Difference(Reason.ORDER, "A cut or a turn comes before the log is on the bed.")
        return self._sections

    def _turn(self, move: Turn) -> None:
        lie = self._now().lie
        self._see_that_the_bed_is_the_logs()
        self._check_weight("What is turned", self.mill.heaviest_turn_helped_kg)
        if move.quarters not in (1, 2, 3):
            raise Difference(Reason.TURN, f"A turn by {move.quarters} quarters is none.")
        self.turns += 1
        if move.onto_flat:
            possible = [turned_onto_flat(self._left, lie, move.quarters)]
        else:
            possible = list(turned_onto_bark(self._left, lie, move.quarters, self.mill.crossbars_m))
        self._on_flat = move.onto_flat
        self._lie_down(possible, Reason.TURN)

    def _pass(self, move: Pass) -> None:
        sections, last = self._now(), self._last_steps
        self._see_that_the_bed_is_the_logs()
        if move.comes_off in self._came_off and move.comes_off in self._by_name:
            raise Difference(Reason.REPEATED, f"{move.comes_off} comes off twice.")
        height = move.height_steps * self.mill.step_m
        if last is not None and move.height_steps >= last:
            raise Difference(Reason.ORDER, f"The pass for {move.comes_off} is not below the one before it.")
        if last is not None and (last - move.height_steps) * self.mill.step_m <= self.mill.kerf_m:
            raise Difference(Reason.KERF, f"Between the pass for {move.comes_off} and the one before it is no more than a kerf.")
        top = sections.top_m() if last is None else last * self.mill.step_m
        width = check_limits(move, self.mill, sections, top - height - self.mill.kerf_m)
        self.pass_cents.append(self.costs.cut(width, sections.square_length_m))
        near = near_metal(sections, height, self.mill.kerf_m, self.metal_margin_m)
        self.metal_cents.append(sum(self.costs.metal(chance) for chance in near))
        self._take_off(move.comes_off, move.height_steps, height + self.mill.kerf_m)
        self._sections, self._last_steps = sections.below(height), move.height_steps
        self._left = self._sections.left

    def _take_off(self, name: str, lower_steps: int, lower_m: float) -> None:
        """What lies above a pass, or on the bed: a piece of the plan, or an outside slab or waste."""
        sections, upper = self._now(), self._last_steps
        self._came_off.append(name)
        planned = self._by_name.get(name)
        if planned is None:
            return
        if planned.lie != self.turns:
            raise Difference(Reason.ORDER, f"{name} comes off in lie {self.turns}, the plan says {planned.lie}.")
        if (planned.lower_steps, planned.upper_steps) != (lower_steps, upper):
            said = f"{planned.lower_steps} and {planned.upper_steps}"
            raise Difference(
                Reason.HEIGHT, f"{name} is said to lie between passes {said}, it comes off between {lower_steps} and {upper}."
            )
        if upper is None:
            raise Difference(Reason.PLACE, f"{name} is an outside slab: nothing was sawn above it.")
        self.slices[name] = slice_of(planned.piece, sections, lower_m, upper * self.mill.step_m, self.mill.kerf_m)

    def _edge(self, move: EdgeTogether) -> None:
        self._last_on_the_bed()
        for name in move.names:
            if name not in self.slices:
                raise Difference(Reason.ORDER, f"{name} is edged and no piece of the plan.")
            if self.batch_with(name) is not None or move.names.count(name) > 1:
                raise Difference(Reason.REPEATED, f"{name} is edged twice.")
        self.batches.append(move)

    def batch_with(self, name: str) -> EdgeTogether | None:
        """The flitches that a piece was edged together with so far."""
        return next((batch for batch in self.batches if name in batch.names), None)

    def _see_that_the_bed_is_the_logs(self) -> None:
        if self.batches:
            raise Difference(Reason.ORDER, "The log is sawn or turned after flitches stood on the bed in its place.")

    def _last_on_the_bed(self) -> None:
        """What is left there comes off: before flitches are stood up, or at the end."""
        self._now()
        waiting = [name for name in self._by_name if name not in self.slices]
        if not waiting:
            return
        name = waiting[0]
        if self._by_name[name].lower_steps != 0 or len(waiting) > 1:
            raise Difference(Reason.ORDER, f"No pass takes off {name}.")
        if not self._on_flat:
            raise Difference(Reason.PLACE, f"{name} lies on its bark: it is an outside slab.")
        self._take_off(name, 0, 0.0 if self.turns else JUST_OVER_M)

    def _check_order(self) -> None:
        if self.turns + 1 != len(self.plan.lies):
            raise Difference(Reason.TURN, f"The plan has {len(self.plan.lies)} lies and {self.turns} turns.")
        order = [name for name in self._came_off if name in self._by_name]
        if order != [planned.piece.name for planned in self.plan.pieces]:
            raise Difference(Reason.ORDER, "The pieces of the plan are not in the order in which they come off.")


def _rolled_otherwise(a: Placing, b: Placing) -> bool:
    return float(np.max(np.abs(np.array(a.turn)[0] - np.array(b.turn)[0]))) > SAME_M
