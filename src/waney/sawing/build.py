"""Build: a plan out of chosen slices: pieces with their worth, moves in order, terms, settings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from waney.logs.frames import Placing, placing
from waney.pieces.piece import Piece
from waney.prices.product import Product
from waney.prices.worth import Term, Worth, salvage, worth
from waney.sawing.chosen import ChosenLie, ChosenSlice
from waney.sawing.kernel.arcs import NONE
from waney.sawing.kernel.chords import NM, widest_within
from waney.sawing.kernel.judge import whole_cents
from waney.sawing.kernel.passes import metal_cents, pass_cents
from waney.sawing.kernel.records import Effort
from waney.sawing.kernel.slices import Cut, whole
from waney.sawing.kernel.tables import Tables
from waney.sawing.lay import Laid
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.make_pieces import slice_piece
from waney.sawing.moves import Move, Pass, RollOn, Turn
from waney.sawing.orders import wanted
from waney.sawing.plan import PlannedPiece
from waney.sawing.wants import Wants

OUTSIDE_SLAB = "outside slab"


@dataclass(frozen=True, eq=False)
class SawnLie:
    """One lie as it is to be sawn: where it lies, its tables, the chosen slices, and the pass that is its bed level (a flat)."""

    laid: Laid
    tables: Tables
    chosen: ChosenLie
    base: int = 0
    cut: Cut | None = None
    """what sawn planes left and right leave; None: nothing is cut off"""
    shift_u: float = 0.0
    """how far to the left the lie really stands of where its tables have it"""


def bed_placing(lie: SawnLie) -> Placing:
    """Log frame to saw frame, heights counted from what lies on the bed."""
    shift = np.array([lie.shift_u, -lie.base * lie.tables.step, 0.0])
    return placing(np.eye(3), shift).after(lie.laid.to_saw)


def planned_pieces(log: LogToSaw, wants: Wants, lies: Sequence[SawnLie]) -> tuple[PlannedPiece, ...]:
    """Every slice as a piece with its worth, named in the order it comes off."""
    products = wanted(wants)
    pieces: list[PlannedPiece] = []
    for number, lie in enumerate(lies):
        for s in sorted(lie.chosen.slices, key=lambda s: -s.p):
            name = f"{log.name}-{len(pieces) + 1}"
            piece = slice_piece(log, lie.laid, lie.tables, s.p, s.k, on_flat=s.on_flat, name=name, cut=lie.cut)
            lower = s.p - lie.base
            found = _worth_of(piece_products(products, s), piece, wants, log, s)
            pieces.append(PlannedPiece(piece, found, number, lower, lower + s.k, s.set_number))
    return tuple(pieces)


def piece_products(products: Sequence[Product], s: ChosenSlice) -> tuple[Product, ...]:
    """The product that the search settled on for a slice, if any."""
    return () if s.product == NONE else (products[s.product],)


def _worth_of(products: tuple[Product, ...], piece: Piece, wants: Wants, log: LogToSaw, s: ChosenSlice) -> Worth:
    if not products:
        return salvage(piece, wants.rules)
    found = worth(piece, products, wants.rules, wants.allowances, log.shrinking)
    return found if s.set_number is None else with_set(found, products[0].set_factor)


def with_set(found: Worth, set_factor: float) -> Worth:
    """The worth of a piece in a whole set; as it is where the set pays no more."""
    extra = whole_cents((set_factor - 1.0) * found.cents)
    return replace(found, terms=(*found.terms, Term("set", extra)))


def lie_moves(lie: SawnLie, names: dict[tuple[int, int], str], number: int) -> list[Move]:
    """The passes of one lie from the top down. names: (lie, lower pass) -> piece above that pass."""
    step = lie.tables.step
    moves: list[Move] = []
    for p in lie.chosen.passes:
        height = p - lie.base
        off = names.get((number, height), OUTSIDE_SLAB)
        moves.append(Pass(height, off, height * step))
    return moves


def moves_of(lies: Sequence[SawnLie], pieces: Sequence[PlannedPiece], roll: RollOn, turns: Sequence[Turn]) -> tuple[Move, ...]:
    """All moves of the log: rolled on, sawn, turned, sawn."""
    names = {(p.lie, p.lower_steps): p.piece.name for p in pieces}
    moves: list[Move] = [roll]
    for number, lie in enumerate(lies):
        if number:
            moves.append(turns[number - 1])
        moves += lie_moves(lie, names, number)
    return tuple(moves)


def effort_terms(effort: Effort, lies: Sequence[SawnLie]) -> tuple[Term, ...]:
    """Loading, passes, metal and turns in whole cents, costs below zero."""
    passes = metal = 0
    for lie in lies:
        t, cut = lie.tables, lie.cut or whole()
        length = float(lie.laid.sections.w[-1] - lie.laid.sections.w[0])
        for p in lie.chosen.passes:
            width = widest_within(t.bark, p, cut.low, cut.high) * NM
            passes += pass_cents(effort, width, length)
            metal += metal_cents(effort, lie.laid.obstacles, p * t.step, p * t.step + t.kerf, cut)
    turns = turn_cents(effort, len(lies) - 1)
    terms = [("loading", load_cents(effort)), ("passes", passes), ("metal", metal), ("turns", turns)]
    return tuple(Term(what, -cents) for what, cents in terms)


def load_cents(effort: Effort) -> int:
    """Loading one log."""
    return whole_cents(effort.load_min * effort.cents_per_min)


def turn_cents(effort: Effort, count: int) -> int:
    """So many turns of one log."""
    return whole_cents(count * effort.turn_min * effort.cents_per_min)
