"""Edging: flitches stood on edge together, worded in the order in which it is done; and which are edged one by one.

A flitch bears its name on its upper face at the butt end. Held name up, butt end towards oneself, its low-y edge is the right
one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from waney.logs.measured import Hidden
from waney.papers.cautions import cautions
from waney.papers.entry import Entry
from waney.papers.facts import CardFacts
from waney.papers.ink import PAPER
from waney.papers.on_edge import on_edge_drawing
from waney.papers.subject import Subject
from waney.papers.words import Said, said
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.sawing.moves import EdgeTogether, Pass
from waney.sawing.plan import PlannedPiece
from waney.units.direction import Direction

WIDE_MM = 162.0
FACES = [FACE_B, FACE_A]
WRITE_NAMES = said("Write every board's name on its upper face, at the butt end, as it comes off.")
HOW_TO_STAND = said("Log off the bed. Knock the bark off the edge that goes down: heights count from its outermost wood.")


def edging_entries(subject: Subject, facts: CardFacts, move: EdgeTogether) -> list[Entry]:
    """One group from standing it up to its last width."""
    names, many = _listed(subject, move.names), len(move.names) > 1
    stand = Entry(
        heading=f"Edging: stand {names} on edge" + (" together" if many else ""),
        drawing=on_edge_drawing(subject, PAPER, move, WIDE_MM).text(),
        cautions=tuple(caution.sentence for caution in cautions("edging", "heavy piece")),
        lines=(HOW_TO_STAND, *_order(subject, move), *_standing(subject, facts, move)),
    )
    first = Entry(
        before=_stops(subject, move.first_height_steps),
        label="edging",
        height=subject.height(move.first_height_steps),
        title=said(f"First edge off {names}"),
        lines=(said("Stop the band. Set " + ("each on its sawn edge, in the same order." if many else "it on its sawn edge.")),),
    )
    return [stand, first, *(_to_width(subject, move, i) for i in range(len(move.then_height_steps)))]


def _order(subject: Subject, move: EdgeTogether) -> tuple[Said, ...]:
    return (said(f"From the backstops outwards: {_listed(subject, move.names)}."),) if len(move.names) > 1 else ()


def _standing(subject: Subject, facts: CardFacts, move: EdgeTogether) -> Iterator[Said]:
    yield said("Left and right as you see them with the name up and the butt end towards you:")
    weights = _weights(subject, facts)
    for name, low_up in zip(move.names, move.low_y_up, strict=True):
        edge = "left" if low_up else "right"
        weight = f" Up to {subject.shop.heavy(weights[name])}." if name in weights else ""
        yield said(f"{subject.short(name)}: {edge} edge down", *_wedges(subject, name, low_up), f".{weight}")


def _wedges(subject: Subject, name: str, low_up: bool) -> Said:
    """What holds it level on a live edge that tapers: put under the ends that stand off the bed."""
    butt, top = _off_the_bed_m(subject.planned[name].piece, low_up)
    parts: list[Said] = []
    for end, height in (("butt", butt), ("top", top)):
        if height >= subject.mill.step_m:
            parts.append(said(", ", subject.on_scale(height), f" under the {end} end"))
    return tuple(word for part in parts for word in part)


def _off_the_bed_m(piece: Piece, low_up: bool) -> tuple[float, float]:
    """How far both ends of the lower edge stand over its outermost point [m]."""
    down = piece.high_y_m[FACES] if low_up else -piece.low_y_m[FACES]
    wood = np.flatnonzero(np.any(np.isfinite(down), axis=0))
    outermost = float(np.nanmax(down))
    butt, top = (outermost - float(np.nanmax(down[:, i])) for i in (wood[0], wood[-1]))
    return butt, top


def _weights(subject: Subject, facts: CardFacts) -> Mapping[str, float]:
    """The high end of what each piece weighs as it comes off [kg]."""
    passes = (move for move in subject.plan.moves if isinstance(move, Pass))
    known = ((move.comes_off, facts.cuts.get(number)) for number, move in enumerate(passes, 1))
    return {name: cut.weight_off.high for name, cut in known if cut is not None and cut.weight_off is not None}


def _to_width(subject: Subject, move: EdgeTogether, i: int) -> Entry:
    steps, last = move.then_height_steps[i], i == len(move.then_height_steps) - 1
    done = [name for name, width in zip(move.names, move.widths_steps, strict=True) if width == steps]
    many = len(done) > 1
    after = f"Stop the band. Take {'them' if many else 'it'} out{'' if last else ', clamp what is left again'}."
    return Entry(
        before=_stops(subject, steps),
        label="edging",
        height=subject.height(steps),
        title=said(f"{_listed(subject, done)} to width"),
        lines=(said(after),),
    )


def _stops(subject: Subject, steps: int) -> tuple[Said, ...]:
    return (said("Backstops and clamps below ", subject.on_scale(steps * subject.mill.step_m, Direction.HAVE)),)


def one_by_one(subject: Subject) -> list[Entry]:
    """The boards that stand in no group; nothing where there are none."""
    grouped = {name for move in subject.plan.moves if isinstance(move, EdgeTogether) for name in move.names}
    waiting = [p for p in subject.plan.pieces if _waits(p) and p.piece.name not in grouped]
    if not waiting:
        return []
    names = _listed(subject, [p.piece.name for p in waiting])
    return [
        Entry(
            heading=f"Edging one by one, by eye: {names}",
            cautions=tuple(caution.sentence for caution in cautions("edging")),
            lines=tuple(_alone(subject, planned) for planned in waiting),
        )
    ]


def _alone(subject: Subject, planned: PlannedPiece) -> Said:
    worth, piece = planned.worth, planned.piece
    metal = any(zone.kind is Hidden.METAL for zone in piece.zones)
    width = subject.on_scale(worth.high_y_m - worth.low_y_m, Direction.HAVE)
    length = subject.shop.long(worth.length_m)
    return said(
        f"{subject.short(piece.name)}: ", width, " wide, ", length, " long.", " Metal was noted: detector first." if metal else ""
    )


def _waits(planned: PlannedPiece) -> bool:
    return bool(np.isfinite(planned.worth.low_y_m)) and not all(planned.piece.sawn_edges)


def _listed(subject: Subject, names: list[str] | tuple[str, ...]) -> str:
    """2, 9 and 10."""
    *most, last = (subject.short(name) for name in names)
    return f"{', '.join(most)} and {last}" if most else last
