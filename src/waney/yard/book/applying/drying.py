"""How a stack stands and dries: shelter and wanted moisture, bark and ends, pieces that are weighed, sample boards, prongs."""

from __future__ import annotations

import json
from dataclasses import asdict

from waney.yard.acts.drying import Bark, Ends, ProngsSeen, SampleCut, SectionsDried, SidesTold, StackStood, ToWeigh
from waney.yard.book import models
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.truth import Event
from waney.yard.weights import Moment


def stack_stood(pen: Pen, _event: Event, act: StackStood) -> None:
    """What was told takes the place of what was told before."""
    told = {"since": act.since, "shelter": act.shelter and str(act.shelter), "wanted_mc": act.wanted_mc}
    sizes = {"sticker_m": act.sticker_m, "apart_m": act.apart_m, "wide_m": act.wide_m}
    told["chamber"] = json.dumps(asdict(act.chamber)) if act.chamber else None
    pen.change(models.stack, act.stack, **{name: value for name, value in {**told, **sizes}.items() if value not in (None, "")})


def sides_told(pen: Pen, event: Event, act: SidesTold) -> None:
    """The last word of each counts; what is not known has no day."""
    day = act.since or event.happened_at[:10]
    told: dict[str, str] = {}
    if act.bark is not None:
        told |= {"bark": str(act.bark), "bark_since": day} if act.bark is not Bark.NOT_KNOWN else {"bark": "", "bark_since": ""}
    if act.ends is not None:
        told |= {"ends": str(act.ends), "ends_since": day} if act.ends is not Ends.NOT_KNOWN else {"ends": "", "ends_since": ""}
    for piece in act.pieces:
        pen.change(models.piece, piece, **told)


def to_weigh(pen: Pen, _event: Event, act: ToWeigh) -> None:
    """Of those that lie on it."""
    for row in pen.shelf.find(models.stack_piece, stack=act.stack):
        pen.change(models.stack_piece, row["piece"], to_weigh=int(row["piece"] in act.pieces))


def sample_cut(pen: Pen, event: Event, act: SampleCut) -> None:
    """New sections take the place of old ones. The piece weighs what is left of it."""
    told = {"mass_kg": act.mass_kg, "wet_kg": json.dumps(act.wet_kg), "dry_kg": "[]", "mark_kg": act.mark_kg}
    pen.insert(models.sample, piece=act.piece, **told, seq=event.seq)
    pen.change(models.piece, act.piece, mass_kg=act.mass_kg)


def sections_dried(pen: Pen, _event: Event, act: SectionsDried) -> None:
    """As many as were cut."""
    held = pen.shelf.get(models.sample, act.piece)
    if held is None:
        raise Contradicts(
            pen.row(models.piece, act.piece).seq, "No sections of this piece were weighed wet, so these tell nothing."
        )
    if len(json.loads(held["wet_kg"])) != len(act.dry_kg):
        raise Contradicts(held["seq"], "Other sections were weighed wet than came out of the oven: their numbers differ.")
    pen.change(models.sample, act.piece, dry_kg=json.dumps(act.dry_kg))


def prongs_seen(pen: Pen, event: Event, act: ProngsSeen) -> None:
    """A prong test."""
    pen.insert(models.prongs, seq=event.seq, about=act.what, seen=str(act.seen), hours=act.hours, taken_back_seq=None)


def moment_of(pen: Pen, seq: int) -> Moment:
    """When an event of the book was told."""
    return Moment(seq, pen.event(seq).happened_at)


def cut_at(pen: Pen, piece: str) -> Moment | None:
    """When sections were cut from a piece last; None where they never were."""
    held = pen.shelf.get(models.sample, piece)
    return None if held is None else moment_of(pen, held["seq"])
