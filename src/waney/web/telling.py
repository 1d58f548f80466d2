"""Telling: events as lines of a history: when, who, what, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from waney.papers.words import Shop as Writes
from waney.units.moisture import print_mc
from waney.yard.acts.every import act_json
from waney.yard.book.stories import Told
from waney.yard.book.truth import Event
from waney.yard.here import clock_here

WORDS = {
    "person-added": "began to work here",
    "person-forgotten": "was forgotten",
    "log-arrived": "booked in",
    "log-measured": "measured again",
    "ends-sealed": "its ends were sealed",
    "log-ended": "is no more",
    "plan-made": "a plan was made",
    "plan-chosen": "a plan was chosen",
    "day-opened": "the sawing day began",
    "day-closed": "the sawing day ended",
    "pieces-go-to": "pieces were to go elsewhere",
    "came-off": "a piece came off",
    "at-the-mill": "at the mill",
    "piece-counted": "counted",
    "piece-ended": "is no more",
    "piece-measured": "measured as it lies",
    "piece-sized": "counted as it was measured",
    "figure-seen": "its figure",
    "room-told": "where it will live",
    "tagged": "a tag was stapled on",
    "names-exchanged": "names were exchanged",
    "boule-put-in-order": "the boule was put in order",
    "set-made": "a set was made",
    "set-taken-apart": "the set was taken apart",
    "taken-back": "taken back",
    "task-settled": "put right",
    "note-written": "a note",
    "photo-taken": "a photo",
    "photo-filed": "a photo was filed",
    "moved": "moved",
    "weighed": "weighed",
    "stack-built": "a stack was built",
    "put-on-stack": "laid on a stack",
    "taken-off-stack": "taken off a stack",
    "into-kiln": "into the kiln",
    "out-of-kiln": "out of the kiln",
    "load-handed-over": "handed over to someone else's kiln",
    "load-taken-back": "taken back from the kiln",
    "owners-told": "whose it is was told",
    "moisture-read": "the moisture was read",
    "stack-stood": "how the stack stands",
    "sides-told": "bark and ends",
    "to-weigh": "which pieces are weighed every week",
    "sample-cut": "a sample board was cut",
    "sections-dried": "its sections came out of the oven",
    "prongs-seen": "a prong test",
    "priced": "priced",
    "quoted": "quoted to a buyer",
    "quote-ended": "the quote is no more",
    "held": "held for a buyer",
    "hold-asked": "a hold was asked for",
    "hold-ended": "the hold ended",
    "deposit-settled": "what became of its deposit",
    "lease-taken": "taken along to be sold",
    "lease-closed": "the selling day ended",
    "sold": "sold",
    "sold-away": "sold elsewhere",
    "paid": "money came",
    "returned": "came back from a buyer",
    "spent": "money or hours went into it",
    "kiln-shared": "its share of a kiln load went into what it cost",
    "buys-here": "buys here",
    "wish-left": "a wish was left",
    "wish-ended": "the wish is no more",
    "count-begun": "a stock count began",
    "tag-seen": "seen at a stock count",
    "count-ended": "the stock count ended",
    "custom-asked": "somebody asked to have it sawn",
    "custom-logs-told": "whose log it is was told",
    "custom-agreed": "agreed with its owner",
    "custom-agreed-anew": "agreed anew with its owner",
    "log-sawn-for": "sawn for its owner",
    "custom-shared": "stays with the sawyer",
    "custom-billed": "billed",
    "custom-ended": "done with",
    "tree-offered": "offered",
    "tree-answered": "answered",
    "stem-felled": "felled",
    "names-taken": "names were given out",
    "spot-named": "a spot was named",
    "settled": "settled",
}
SAID = (
    *("words", "how", "what", "name", "reason", "reply", "product", "kiln", "whose", "treated", "mass_kg", "mc", "by", "depth"),
    *("bark", "ends", "since", "shelter", "seen", "transform", "figure", "place", "indoors", "shows", "wet"),
    *("thickness_m", "length_m", "widths_m", "narrowest_m", "widest_m", "area_m2"),
)
"""fields of an act that stand in its line, in this order"""
FIGURES: Mapping[str, Callable[[Writes, Any], str]] = {
    "mass_kg": Writes.weighed,
    "mc": lambda _, mc: print_mc(mc),
    "thickness_m": lambda writes, size: f"{writes.have(size)} thick",
    "length_m": lambda writes, size: f"{writes.long(size)} long",
    "widths_m": lambda writes, widths: f"{' and '.join(str(writes.have(width)) for width in widths)} wide",
    "narrowest_m": lambda writes, size: f"{writes.have(size)} wide at the narrowest",
    "widest_m": lambda writes, size: f"{writes.have(size)} at the widest",
    "wet": lambda _, wet: "wet" if wet else "dry",
    "bark": lambda _, word: f"bark {word}",
    "ends": lambda _, word: f"ends {word}",
    "since": lambda _, day: f"since {day}",
    "area_m2": lambda writes, area: f"{writes.area(area)} of a face",
}
"""how those of them that are figures, or say too little alone, are written; the others read as they stand"""


@dataclass(frozen=True)
class Line:
    """One line of a history."""

    when: str
    who: str
    what: str
    more: str


def told(events: Iterable[Told], writes: Writes) -> tuple[Line, ...]:
    """The newest first, with figures as the shop writes them."""
    return tuple(_line(each.event, each.called or "somebody", writes) for each in reversed(tuple(events)))


def _line(event: Event, called: str, writes: Writes) -> Line:
    body = act_json(event.act)
    said = {field: body[field] for field in SAID if field in body and body[field] not in ("", None, event.stream)}
    more = ", ".join(FIGURES[field](writes, value) if field in FIGURES else str(value) for field, value in said.items())
    return Line(clock_here(event.recorded_at), called, WORDS.get(event.kind, event.kind.replace("-", " ")), more)
