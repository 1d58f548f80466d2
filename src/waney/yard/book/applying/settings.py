"""What the shop has settled."""

from __future__ import annotations

from waney.yard.acts.settings import Settled
from waney.yard.book import models
from waney.yard.book.applying.pen import Pen
from waney.yard.book.truth import Event


def settled(pen: Pen, event: Event, act: Settled) -> None:
    """The last word holds."""
    pen.insert(models.setting, what=str(act.what), text=act.text, seq=event.seq)
