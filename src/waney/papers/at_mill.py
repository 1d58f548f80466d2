"""At the mill: a plan told step by step, in the order in which it is sawn."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

import numpy as np

from waney.papers.butt import up_clock
from waney.papers.cautions import cautions
from waney.papers.cuts import LOOKS
from waney.papers.facts import CardFacts
from waney.papers.mill_steps import AtMill, Comes, Kind, Step
from waney.papers.subject import Subject
from waney.papers.turn import turn_words
from waney.papers.words import Measure, clock
from waney.pieces.piece import Piece
from waney.sawing.as_read import pith_heights
from waney.sawing.facts.cut_facts import CutFacts, TurnFacts
from waney.sawing.facts.walk import last_name
from waney.sawing.moves import EdgeTogether, Pass, RollOn, Turn

EIGHTH_M = 0.003175
CAUTIONS = ("first cut", "heavy piece", "at the blade", "turning", "metal", "pinched blade", "band break")


def at_mill(subject: Subject, facts: CardFacts, species: str) -> AtMill:
    """The steps of a plan."""
    step_m = subject.mill.step_m
    steps = tuple(_Told(subject, facts).steps())
    return AtMill(
        log=subject.plan.log,
        species=species,
        step_m=step_m,
        kerf_m=subject.mill.kerf_m,
        eighth_steps=max(1, round(EIGHTH_M / step_m)),
        printed=tuple(_parts(subject.height(count)) for count in range(_highest(subject) + 1)),
        pith_steps=_pith_steps(subject),
        steps=steps,
        cautions=tuple((one.step, one.sentence) for one in cautions(*CAUTIONS)),
    )


def _pith_steps(subject: Subject) -> tuple[tuple[int, int], ...]:
    found = (pith_heights(subject.shape, lie) for lie in subject.plan.lies)
    return tuple((round(at.butt_m / subject.mill.step_m), round(at.top_m / subject.mill.step_m)) for at in found)


def _highest(subject: Subject) -> int:
    return ceil(subject.mill.highest_m / subject.mill.step_m - 1e-9)


def _parts(printed: Measure) -> tuple[str, str, str, str]:
    return printed.whole, printed.over, printed.under, printed.unit


class _Told:
    """Walks through the moves."""

    def __init__(self, subject: Subject, facts: CardFacts) -> None:
        self.subject, self.facts = subject, facts
        self.lie, self.number = 0, 0
        self.stops_m: float | None = subject.mill.backstop_highest_m

    def steps(self) -> Iterator[Step]:
        for move in self.subject.plan.moves:
            if isinstance(move, RollOn):
                yield self._roll_on()
            elif isinstance(move, Turn):
                yield self._turn(move)
            elif isinstance(move, Pass):
                yield self._cut(move)
            else:
                yield self._edge(move)
        left = last_name(self.subject.plan)
        if self.number:
            yield self._left(left)

    def _roll_on(self) -> Step:
        up = clock(up_clock(self.subject.plan))
        weight = self.facts.log_weight
        heavy = self.subject.shop.heavy(weight.high) if weight else ""
        return Step(Kind.ROLL_ON, 0, f"Roll it on with {up} of the butt's clock up.", weight=heavy, before=_sentences("fetching"))

    def _turn(self, move: Turn) -> Step:
        self.lie += 1
        self.stops_m = self.subject.mill.backstop_highest_m
        facts = self.facts.turns.get(self.lie, TurnFacts())
        weight = self.subject.shop.heavy(facts.weight.high) if facts.weight else ""
        words = f"Turn it {turn_words(self.subject, move)}."
        return Step(
            Kind.TURN, self.lie, words, weight=weight, heavy=facts.helped or facts.by_machine, before=_sentences("turning")
        )

    def _cut(self, move: Pass) -> Step:
        self.number += 1
        facts = self.facts.cuts.get(self.number, CutFacts())
        off = facts.weight_off
        return Step(
            Kind.CUT,
            self.lie,
            "",
            self.number,
            move.height_steps,
            self._comes(move.comes_off, "Outside slab"),
            "" if off is None else self.subject.shop.heavy(off.high),
            facts.heavy,
            tuple(LOOKS[look] for look in facts.looks),
            _sentences("metal") if facts.metal else (),
            floor(move.backstop_at_most_m / self.subject.mill.step_m + 1e-9),
            self._lower_stops(move),
        )

    def _lower_stops(self, move: Pass) -> bool:
        if self.stops_m is not None and move.backstop_at_most_m >= self.stops_m:
            return False
        self.stops_m = move.backstop_at_most_m
        return True

    def _comes(self, name: str, otherwise: str) -> Comes:
        if not self.subject.kept(name):
            return Comes(name, False, otherwise)
        planned = self.subject.planned[name]
        piece, product = planned.piece, planned.worth.product or ""
        words = f"{product or 'no product, salvage'}, {self.subject.shop.read(piece.thickness_m)}"
        return Comes(name, True, words, product, piece.thickness_m, piece.length_m, widths_m(piece), _rigid(piece))

    def _left(self, name: str) -> Step:
        comes = self._comes(name, "Outside slab")
        words = "It lies on the bed and needs no cut."
        return Step(Kind.LEFT, self.lie, words, self.number + 1, comes=comes)

    def _edge(self, move: EdgeTogether) -> Step:
        names = ", ".join(self.subject.short(name) for name in move.names)
        words = f"Edge {names} together, as the height card shows."
        return Step(Kind.EDGE, self.lie, words, before=_sentences("edging", "heavy piece"))


def widths_m(piece: Piece) -> tuple[float, ...]:
    """The narrowest and the widest place of the narrower face inside bark [m]."""
    wide = np.nanmin(piece.high_y_m - piece.low_y_m, axis=0)
    known = wide[np.isfinite(wide) & (wide > 0)]
    return (float(known.min()), float(known.max())) if known.size else ()


def _rigid(piece: Piece) -> tuple[float, ...]:
    if piece.to_log is None:
        return ()
    return (*(number for row in piece.to_log.turn for number in row), *piece.to_log.shift)


def _sentences(*steps: str) -> tuple[str, ...]:
    return tuple(caution.sentence for caution in cautions(*steps))
