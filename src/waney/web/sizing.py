"""Sizing: whatever was measured of a piece counts everywhere, as soon as a worker has worked it out."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, replace

from waney.figures.problem import Problem
from waney.web.measured import measuring
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceMeasured, PieceSized
from waney.yard.book import jobs
from waney.yard.book.jobs import JobState
from waney.yard.book.sizes_due import SizeDue, sizes_due
from waney.yard.problems import BookBusy, BookFull
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
        try:
            came = {seq for seq, job in self.asked.items() if self._came(job)}
            due = sizes_due(self.shop.book, self.asked.keys() - came)
            for over in came - {one.seq for one in due}:  # its piece was measured anew meanwhile
                del self.asked[over]
            return sum(map(self._settled, due))
        except (BookBusy, BookFull):  # the next look comes soon
            return 0

    def _came(self, job: str) -> bool:
        """Whether an answer is there that was not written down yet: of this job, or of one that asked the same later."""
        return bool(job) and jobs.newest_like(self.shop.book, job).state is JobState.DONE

    def _settled(self, due: SizeDue) -> bool:
        try:
            job, answer = measuring(self.shop, PieceMeasured(due.piece, due.sheet, due.photo))
            self.asked[due.seq] = job.id
            if answer is None:
                return False
            hand = replace(self.shop.hand(due.person), device=self.device)
            size_piece(hand, PieceSized(**asdict(answer.sizes), piece=due.piece, measured=due.seq))
        except (BookBusy, BookFull):
            raise
        except Problem:  # sizes that are those of no piece, a photo that is lost
            self.asked[due.seq] = NOTHING_COMES
            return False
        del self.asked[due.seq]
        return True
