"""Other people's logs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from waney.trade.way_paid import How
from waney.yard.acts.custom import (
    CustomAgreed,
    CustomAgreedAnew,
    CustomAsked,
    CustomBilled,
    CustomEnded,
    CustomLogsTold,
    CustomShared,
    LogSawnFor,
)
from waney.yard.book import custom_models, models
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.shelf import Shelf
from waney.yard.book.truth import Event, packed
from waney.yard.whose import whose

ENDED = "ended"


def asked(pen: Pen, event: Event, act: CustomAsked) -> None:
    """Somebody asks."""
    told = {"person": act.person, "words": act.words, "way_m": act.way_m, "way_hours": act.way_hours}
    fresh = {"how": "", "agreed_on": "", "terms": "", "scaled": packed(()), "anew": packed(()), "ended": "", "ended_seq": None}
    pen.insert(custom_models.custom, id=act.custom, **told, **fresh, seq=event.seq)


def logs_told(pen: Pen, event: Event, act: CustomLogsTold) -> None:
    """The list as it is now. Raises Contradicts for a log of another custom job."""
    for log in act.logs:
        row = pen.shelf.get(custom_models.custom_log, log)
        if row is not None and row["custom"] != act.custom:
            raise Contradicts(int(row["seq"]), "A log is in another custom job already.")
    held = {row["log"] for row in pen.shelf.find(custom_models.custom_log, custom=act.custom)}
    for log in held - set(act.logs):
        pen.shelf.remove(custom_models.custom_log, log)
    for log in act.logs:
        if log not in held:
            pen.insert(custom_models.custom_log, log=log, custom=act.custom, hours=None, metal_blades=0, seq=event.seq)


def agreed(pen: Pen, _event: Event, act: CustomAgreed) -> None:
    """One way; a former agreement is no more, and whatever stayed with the sawyer by it goes to the customer."""
    if act.how is not How.SHARES:
        _share_nothing(pen, act.custom)
    told = {"how": str(act.how), "agreed_on": act.on, "terms": act.terms, "anew": packed(())}
    pen.change(custom_models.custom, act.custom, **told, scaled=packed([asdict(one) for one in act.scaled]))


def agreed_anew(pen: Pen, _event: Event, act: CustomAgreedAnew) -> None:
    """Another rule, beside those before."""
    row = pen.row(custom_models.custom, act.custom)
    told = {"by": str(act.by), "rate_cents": act.rate_cents, "before": act.before, "after": act.after}
    former = row.anew.removeprefix("[").removesuffix("]")
    pen.change(custom_models.custom, act.custom, anew=f"[{former}{',' if former else ''}{packed(told)}]")


def sawn_for(pen: Pen, _event: Event, act: LogSawnFor) -> None:
    """Hours and blades of a log. Raises Contradicts for one of another custom job, or of none."""
    row = pen.shelf.get(custom_models.custom_log, act.log)
    if row is None or row["custom"] != act.custom:
        other = pen.row(custom_models.custom, act.custom).seq if row is None else int(row["seq"])
        raise Contradicts(other, "This log is none of this custom job's.")
    pen.change(custom_models.custom_log, act.log, hours=act.hours, metal_blades=act.metal_blades)


def shared(pen: Pen, _event: Event, act: CustomShared) -> None:
    """What stays with the sawyer, in place of what was said before."""
    _share_nothing(pen, act.custom)
    for piece in act.pieces:
        pen.insert(custom_models.custom_share, piece=piece, custom=act.custom)


def _share_nothing(pen: Pen, custom: str) -> None:
    for row in pen.shelf.find(custom_models.custom_share, custom=custom):
        pen.shelf.remove(custom_models.custom_share, row["piece"])


def billed(pen: Pen, event: Event, act: CustomBilled) -> None:
    """An invoice with the next number."""
    told = {"on_date": act.on, "lines": packed([asdict(one) for one in act.lines]), "keeps": act.keeps, "said": packed(act.said)}
    count = pen.shelf.count(custom_models.custom_bill)
    told |= {"taxes": packed([asdict(one) for one in act.taxes]), "number": count + 1, "taken_back_seq": None}
    pen.insert(custom_models.custom_bill, seq=event.seq, custom=act.custom, **told)


def custom_ended(pen: Pen, event: Event, act: CustomEnded) -> None:
    """The first word counts."""
    if not pen.row(custom_models.custom, act.custom).ended:
        pen.change(custom_models.custom, act.custom, ended=ENDED, ended_seq=event.seq)


def owner_of(shelf: Shelf, piece: str) -> str:
    """The custom job whose customer a piece belongs to, as `whose`."""
    return whose(_line(shelf, piece))


def _line(shelf: Shelf, piece: str) -> Iterator[tuple[str, str]]:
    row = shelf.get(models.piece, piece)
    while row is not None:
        log = shelf.get(custom_models.custom_log, row["log"]) if row["log"] else None
        share = shelf.get(custom_models.custom_share, row["id"])
        yield ("" if log is None else str(log["custom"]), "" if share is None else str(share["custom"]))
        row = shelf.get(models.piece, row["parent"]) if row["parent"] else None
