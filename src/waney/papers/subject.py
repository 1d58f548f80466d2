"""Subject: what a paper is about: one plan, its log and mill, and how the shop writes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from waney.logs.shape import LogShape
from waney.papers.words import Measure, Shop, measure, scale_grain
from waney.sawing.mill import Mill
from waney.sawing.moves import Pass, Turn
from waney.sawing.plan import Plan, PlannedPiece
from waney.units.direction import Direction
from waney.units.length import Grain


@dataclass(frozen=True, eq=False)
class Subject:
    """One plan with all that is needed to draw and print it. Raises BadScale when the mill's step cannot be printed."""

    plan: Plan
    shape: LogShape
    mill: Mill
    shop: Shop

    @cached_property
    def scale(self) -> Grain:
        """The grain in which bed heights are printed: exact."""
        return scale_grain(self.mill.step_m)

    def height(self, steps: int) -> Measure:
        """A bed height as the scale shows it."""
        return self.on_scale(steps * self.mill.step_m)

    def on_scale(self, metres: float, direction: Direction = Direction.READ) -> Measure:
        """A length in the grain of the bed scale."""
        return measure(metres, self.scale, direction)

    @cached_property
    def planned(self) -> dict[str, PlannedPiece]:
        """The plan's pieces by name."""
        return {planned.piece.name: planned for planned in self.plan.pieces}

    def kept(self, name: str) -> bool:
        """Whether it is a piece to be named: of the plan, and not an outside slab that only earns its salvage."""
        planned = self.planned.get(name)
        if planned is None:
            return False
        outside = planned.upper_steps is None or planned.lower_steps == 0
        return planned.worth.product is not None or not outside

    def short(self, name: str) -> str:
        """The name without the log's name in front of it: it stands in the corner of every sheet."""
        cut = name.removeprefix(self.plan.log)
        return cut.lstrip("-. ") or name if cut != name else name

    def thickness(self, name: str) -> Measure | None:
        """Green thickness of a piece of the plan, in the grain of the scale."""
        planned = self.planned.get(name)
        return self.on_scale(planned.piece.thickness_m) if planned else None

    def passes(self, lie: int) -> tuple[Pass, ...]:
        """The passes of one lie, in order."""
        at, found = 0, []
        for move in self.plan.moves:
            at += isinstance(move, Turn)
            if isinstance(move, Pass) and at == lie:
                found.append(move)
        return tuple(found)
