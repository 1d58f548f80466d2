"""Sizing: whatever was measured of a piece counts everywhere, as soon as a worker has worked it out."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, replace

from waney.figures.problem import Problem
from waney.web.asked.measure import MeasureAnswer
from waney.web.asked.packing import read_back
from waney.web.measured import measuring
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceMeasured, PieceSized
from waney.yard.book import jobs
from waney.yard.book.sizes_due import SizeDue, sizes_due
from waney.yard.problems import BookBusy
from waney.yard.services.pieces import size_piece

NOTHING_COMES = ""


@dataclass
class Sizing:
    """Looks for pieces that were measured and are counted as before. asked: the job of each sheet, by the event that holds it.

    A sheet by which nothing can be measured is asked once: the page of the piece says why.
    """

    shop: Shop
    asked: dict[int, str] = field(default_factory=dict)
    device: str = ""

    def __post_init__(self) -> None:
        self.device = self.shop.new_id()

    def look(self) -> int:
        """Ask for the sizes that are missing, write down what was answered; how many pieces are counted anew."""
        return sum(self._settled(due) for due in sizes_due(self.shop.book))

    def _settled(self, due: SizeDue) -> bool:
        try:
            answer = self._answer(due)
            if answer is None:
                return False
            hand = replace(self.shop.hand(due.person), device=self.device)
            size_piece(hand, PieceSized(due.piece, due.seq, **asdict(answer.sizes)))
        except BookBusy:
            return False
        except Problem:  # sizes that are those of no piece, a photo that is lost
            self.asked[due.seq] = NOTHING_COMES
            return False
        return True

    def _answer(self, due: SizeDue) -> MeasureAnswer | None:
        if due.seq not in self.asked:
            job, answer = measuring(self.shop, PieceMeasured(due.piece, due.sheet, due.photo))
            self.asked[due.seq] = job.id
            return answer
        if self.asked[due.seq] == NOTHING_COMES:
            return None
        content = jobs.answer(self.shop.book, self.asked[due.seq])
        return read_back(content, MeasureAnswer) if content else None
