"""What is known of a whole plan besides its money: time at the mill, wood that it gives, what to look out for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.estimate import Estimate
from waney.sawing.bench import Bench
from waney.sawing.facts.cut_facts import metal_cuts
from waney.sawing.facts.piece_facts import PieceFacts
from waney.sawing.facts.sawn_log import SawnLog
from waney.sawing.kernel.passes import pass_minutes
from waney.sawing.kernel.records import Effort
from waney.sawing.moves import EdgeTogether
from waney.sawing.plan import Plan


@dataclass(frozen=True)
class PlanFacts:
    """What is known of one plan besides its pieces."""

    minutes: float | None = None
    board_feet: float | None = None
    """nominal, of the pieces that are products"""
    usable_m3: float | None = None
    """dry volume of the finished pieces"""
    metal_cuts: tuple[int, ...] = ()
    """numbers of the passes that come near suspected metal"""
    log_weight: Estimate | None = None
    """with bark [kg]"""
    bed_bears_kg: float | None = None
    """by the mill sheet"""
    warnings: tuple[str, ...] = ()


def plan_facts(
    sawn: SawnLog,
    bench: Bench,
    pieces: Mapping[str, PieceFacts],
    weight: Estimate | None,
    warnings: tuple[str, ...],
) -> PlanFacts:
    """All of them; pieces by name."""
    kept = [p for p in sawn.plan.pieces if p.worth.product is not None]
    return PlanFacts(
        minutes=minutes(sawn, bench),
        board_feet=sum(pieces[p.piece.name].board_feet_nominal or 0.0 for p in kept),
        usable_m3=sum(p.worth.width_m * p.worth.length_m * p.worth.thickness_m for p in kept),
        metal_cuts=metal_cuts(sawn, bench.wants.metal_margin_m),
        log_weight=weight,
        bed_bears_kg=bench.mill.heaviest_log_kg,
        warnings=warnings,
    )


def minutes(sawn: SawnLog, bench: Bench) -> float:
    """Loading, all passes at the feed of their width, turns, and edging what stands together [min]."""
    effort = bench.ask.effort
    cuts = range(1, len(sawn.sections[0].cuts) + 1)
    passes = sum(pass_minutes(effort, sawn.widest_m(cut), sawn.shape.length_m) for cut in cuts)
    edging = sum(_edging_minutes(move, sawn.plan, effort) for move in sawn.plan.moves if isinstance(move, EdgeTogether))
    return effort.load_min + passes + (len(sawn.plan.lies) - 1) * effort.turn_min + edging


def _edging_minutes(move: EdgeTogether, plan: Plan, effort: Effort) -> float:
    pieces = [p.piece for p in plan.pieces if p.piece.name in move.names]
    thick, longest = sum(piece.thickness_m for piece in pieces), max(piece.length_m for piece in pieces)
    return effort.edge_min + (1 + len(move.then_height_steps)) * float(pass_minutes(effort, thick, longest))
