"""How to change one thing of a plan: a move, a piece, its worth; all the rest stays."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from waney.sawing.check.verdict import Reason
from waney.sawing.moves import Pass, Turn

Spoilt = tuple[Any, set[Reason]]


Rng = np.random.Generator


def pick(rng: Rng, things: list[Any]) -> Any:
    return things[int(rng.integers(len(things)))]


def swapped_in(things: tuple[Any, ...], i: int, thing: Any) -> tuple[Any, ...]:
    return (*things[:i], thing, *things[i + 1 :])


def with_plan(case: Any, **changes: Any) -> Any:
    return replace(case, plan=replace(case.plan, **changes))


def with_move(case: Any, i: int, **changes: Any) -> Any:
    return with_plan(case, moves=swapped_in(case.plan.moves, i, replace(case.plan.moves[i], **changes)))


def with_planned(case: Any, i: int, **changes: Any) -> Any:
    return with_plan(case, pieces=swapped_in(case.plan.pieces, i, replace(case.plan.pieces[i], **changes)))


def with_piece(case: Any, i: int, **changes: Any) -> Any:
    return with_planned(case, i, piece=replace(case.plan.pieces[i].piece, **changes))


def with_worth(case: Any, i: int, **changes: Any) -> Any:
    return with_planned(case, i, worth=replace(case.plan.pieces[i].worth, **changes))


def places(case: Any, kind: type) -> list[int]:
    return [i for i, move in enumerate(case.plan.moves) if isinstance(move, kind)]


def any_piece(case: Any, rng: Rng) -> int:
    return int(rng.integers(len(case.plan.pieces)))


def product_piece(case: Any, rng: Rng) -> int:
    return pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.worth.product is not None])


def neighbours_of_a_piece(case: Any) -> list[int]:
    """Passes that a planned piece lies above or below of."""
    bounds = {(p.lie, s) for p in case.plan.pieces for s in (p.lower_steps, p.upper_steps)}
    lie, found = 0, []
    for i, move in enumerate(case.plan.moves):
        lie += isinstance(move, Turn)
        if isinstance(move, Pass) and (lie, move.height_steps) in bounds:
            found.append(i)
    return found


def at_height(case: Any, i: int, steps: int) -> Any:
    """A pass moved together with its backstops, so that only its height is wrong."""
    below = min(case.plan.moves[i].backstop_at_most_m, steps * case.mill.step_m)
    return with_move(case, i, height_steps=steps, backstop_at_most_m=below)
