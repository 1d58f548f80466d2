"""Where a piece lay in its log: what is asked of a worker. It answers with a drawing (SVG)."""

from __future__ import annotations

from dataclasses import dataclass

from waney.yard.acts.mill import Happened
from waney.yard.book.book import Book
from waney.yard.book.days import happened
from waney.yard.book.stories import PieceStory


@dataclass(frozen=True)
class PlaceAsked:
    """A plan file, and what was told of one of its pieces at the mill; None: not told, or not comparable with the plan."""

    plan: str
    name: str
    cut: int | None = None
    height_m: float | None = None
    thickness_m: float | None = None
    metric: bool = False

    @classmethod
    def of(cls, book: Book, story: PieceStory, plan: str, *, metric: bool) -> PlaceAsked:
        """As the day tells it. Once a log was clamped again its heights are not the plan's; then the plan's own are taken."""
        piece = story.piece
        day = happened(book, piece.day, piece.log) if piece.day else ()
        again = any(one.what == Happened.CLAMPED_AGAIN and one.seq < piece.seq for one in day)
        return cls(plan, piece.name, story.cut, None if again else story.height_m, story.sawn_thickness_m, metric)
