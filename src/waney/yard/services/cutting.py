"""What a person does with a stem: cuts it to length, and each log keeps its place in it."""

from __future__ import annotations

from collections.abc import Sequence

from waney.logs.sheet import log_sheet
from waney.trade.crosscut import part_sheet, places_of
from waney.yard.book.offered import stem_at
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand, Made
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.worth import stem_sheet


def cut_stem(hand: Hand, ident: str, lengths_m: Sequence[float]) -> tuple[Made, ...]:
    """Book in the logs a stem was cut to, from its butt up; their sheets are its own, trimmed. Raises NotInBook, NotPossible,
    DoesNotFit."""
    found = stem_at(hand.book, ident)
    if found.logs:
        raise NotPossible("This stem was cut already; what is cut again is one of its logs.")
    sheet = stem_sheet(found)
    length = log_sheet(sheet).log.length_m
    places = places_of(lengths_m, length)
    return tuple(
        add_log(hand, NewLog(part_sheet(sheet, length, place), felled_on=found.felled_on, stem=ident, from_butt_m=place[0]))
        for place in places
    )
