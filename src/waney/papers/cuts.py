"""Cuts: the passes, turns and edgings of a plan, worded in the order in which they are done."""

from __future__ import annotations

from dataclasses import replace
from itertools import count

from waney.papers.bed import bed_drawing
from waney.papers.cautions import cautions
from waney.papers.edging import WRITE_NAMES, edging_entries, one_by_one
from waney.papers.entry import Entry
from waney.papers.facts import CardFacts
from waney.papers.ink import PAPER
from waney.papers.subject import Subject
from waney.papers.turn import turn_drawing, turn_words
from waney.papers.words import Said, said
from waney.sawing.facts.cut_facts import CutFacts, Look, TurnFacts
from waney.sawing.facts.walk import last_name
from waney.sawing.moves import EdgeTogether, Pass, RollOn, Turn
from waney.units.direction import Direction

WIDE_MM = 162.0
TURN_MM = 100.0
LOOKS = {
    Look.FIRST_FACE: "First face: is the wood as sound, and the face as wide, as the card says?",
    Look.STRESS: "Sight along the face: has it lifted or bowed? Then turn before you go on.",
    Look.METAL: "Metal was suspected under this face: look for dark stain, run the detector over it.",
    Look.ROT: "Rot was noted under this face: is it as large as the card says?",
    Look.PITH: "The pith is near: look for shakes and checks before the next cut.",
    Look.GRAIN: "Look at the grain: is this the face that was wanted?",
}


def entries(subject: Subject, facts: CardFacts) -> tuple[Entry, ...]:
    """The whole plan in order."""
    return tuple(_Teller(subject, facts).tell())


class _Teller:
    """Walks through the moves and remembers where the blade and the stops stand."""

    def __init__(self, subject: Subject, facts: CardFacts) -> None:
        self.subject, self.facts = subject, facts
        self.numbers = count(1)
        self.lie = 0
        self.last: int | None = None
        self.stops_m: float | None = None

    def tell(self) -> list[Entry]:
        told: list[Entry] = []
        for move in self.subject.plan.moves:
            if isinstance(move, RollOn):
                told.append(replace(self._open("The log as it lies"), lines=self._names()))
            elif isinstance(move, Turn):
                told += self._turn(move)
            elif isinstance(move, Pass):
                told.append(self._pass(move))
            else:
                told += edging_entries(self.subject, self.facts, move)
        return told + one_by_one(self.subject)

    def _open(self, heading: str) -> Entry:
        """A new lie: heights and stops start afresh."""
        self.last, self.stops_m = None, self.subject.mill.backstop_highest_m
        return Entry(heading=heading, drawing=bed_drawing(self.subject, PAPER, self.lie, WIDE_MM).text())

    def _names(self) -> tuple[Said, ...]:
        """Asked for where boards are told apart later."""
        return (WRITE_NAMES,) if any(isinstance(move, EdgeTogether) for move in self.subject.plan.moves) else ()

    def _turn(self, move: Turn) -> list[Entry]:
        self.lie += 1
        facts = self.facts.turns.get(self.lie, TurnFacts())
        turning = Entry(
            heading=f"Turn: {turn_words(self.subject, move)}",
            drawing=turn_drawing(self.subject, PAPER, self.lie, TURN_MM).text(),
            cautions=tuple(caution.sentence for caution in cautions("turning")),
            lines=tuple(self._turn_lines(facts)),
        )
        return [turning, self._open("After the turn, heights start again")]

    def _turn_lines(self, facts: TurnFacts) -> list[Said]:
        heavy = f"It weighs up to {self.subject.shop.heavy(facts.weight.high)}." if facts.weight else "Its weight is not known."
        lines = [said(heavy + _who_turns(facts))]
        if facts.size_m:
            high, wide = (self.subject.shop.read(size) for size in facts.size_m)
            lines.append(said("Then on the bed, at the butt: ", high, " high, ", wide, " wide."))
        return lines

    def _pass(self, move: Pass) -> Entry:
        number = next(self.numbers)
        facts = self.facts.cuts.get(number, CutFacts())
        before = self._stops(move)
        drop, self.last = self._drop(move), move.height_steps
        return Entry(
            before=before,
            cautions=tuple(caution.sentence for caution in cautions("metal")) if facts.metal else (),
            label=f"cut {number}",
            height=self.subject.height(move.height_steps),
            title=self._named(move.comes_off, outside="Outside slab"),
            lines=(drop, self._weight(facts), self._left(move, facts), *(said(f"Stop. {LOOKS[look]}") for look in facts.looks)),
        )

    def _stops(self, move: Pass) -> tuple[Said, ...]:
        """Said whenever the stops may stand higher than this pass allows."""
        if self.stops_m is not None and move.backstop_at_most_m >= self.stops_m:
            return ()
        self.stops_m = move.backstop_at_most_m
        return (said("Backstops and clamps below ", self.subject.on_scale(move.backstop_at_most_m, Direction.HAVE)),)

    def _drop(self, move: Pass) -> Said:
        if self.last is None:
            return said("First height here.")
        return said("Drop ", self.subject.height(self.last - move.height_steps), " with kerf.")

    def _named(self, name: str, outside: str = "outside slab") -> Said:
        """What it is: its name, which goes on the piece, its product and green thickness."""
        if not self.subject.kept(name):
            return said(outside)
        planned = self.subject.planned[name]
        what = planned.worth.product or "no product, salvage"
        return said(f"{name} {what}, ", self.subject.on_scale(planned.piece.thickness_m))

    def _weight(self, facts: CutFacts) -> Said:
        if facts.weight_off is None:
            return said("Weight not known: lift it as heavy.")
        weight = self.subject.shop.heavy(facts.weight_off.high)
        return said(f"Up to {weight}: not alone.") if facts.heavy else said(f"Up to {weight}.")

    def _left(self, move: Pass, facts: CutFacts) -> Said:
        """What then lies on the bed and what it should measure."""
        if move is self.subject.passes(self.lie)[-1] and self.lie == len(self.subject.plan.lies) - 1:
            return said("Left on the bed: ", *self._named(last_name(self.subject.plan)), ".")
        high = said("Left on the bed: ", self.subject.height(move.height_steps), " high")
        if facts.face_m is None:
            return (*high, ".")
        butt, top = (self.subject.shop.read(width) if width else "none" for width in facts.face_m)
        return said(*high, ", face ", butt, " (butt) ", top, " (top).")


def _who_turns(facts: TurnFacts) -> str:
    if facts.by_machine:
        return " Too heavy to turn by hand, even with help: use a machine."
    return " Too heavy to turn alone." if facts.helped else ""
