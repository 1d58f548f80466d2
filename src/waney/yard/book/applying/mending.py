"""Taking back what was a slip."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from waney.yard.acts.mending import TakenBack
from waney.yard.book import counting_models, custom_models, models, selling_models
from waney.yard.book.applying.drying import cut_at, moment_of
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind, first_task, label, take_name
from waney.yard.book.shelf import Row
from waney.yard.book.truth import Event
from waney.yard.names import Name, maybe_name
from waney.yard.on_the_wood import on_the_wood
from waney.yard.streams import parts
from waney.yard.weights import of_what_is_left


def taken_back(pen: Pen, event: Event, act: TakenBack) -> None:
    """What can be taken back by itself is; for the rest a task asks somebody to put it right by a later act."""
    slip = pen.event_of_command(act.command)
    assert slip is not None, "it waited until the command was there"
    undo = UNDO.get(slip.kind)
    if undo is None:
        pen.open_task(
            TaskKind.BY_HAND, event, f"{slip.kind.replace('-', ' ')} cannot be taken back; write what is so instead.", slip.seq
        )
    else:
        undo(pen, event, slip)


def _piece(pen: Pen, event: Event, slip: Event) -> None:
    """The piece never was: its name is free again. What was told of it meanwhile contradicts that."""
    others = [pen.event(seq) for seq in pen.shelf.touches(slip.stream) if seq not in (slip.seq, event.seq)]
    still = _still_told(others)
    if still and not pen.believed:
        raise Contradicts(still[0].seq, "This piece is to be taken back, and yet more was told of it.")
    ident = slip.stream.partition(":")[2]
    pen.change(models.piece, ident, code=None, number=None, label="", boule_place=None, taken_back_seq=event.seq)
    if pen.shelf.get(models.photo, ident) is not None:
        pen.change(models.photo, ident, taken_back_seq=event.seq)


def _still_told(told: Sequence[Event]) -> list[Event]:
    """What is left of it once slips that were taken back are gone, and the words that took them back."""
    back = {act.command: one.command for one in told if isinstance(act := one.act, TakenBack)}
    slips = {one.command for one in told if one.kind in UNDO and one.command in back}
    gone = slips | {back[slip] for slip in slips}
    return [one for one in told if one.command not in gone]


def _tag(pen: Pen, event: Event, slip: Event) -> None:
    """The piece is called as it was before; a name that it got otherwise since then stays, and a tag that was never its own
    changes nothing but that nobody is asked about it any more. Where its name from before stands on another piece by now, and the
    slip is to be taken back all the same, it gets the next free one."""
    row = pen.shelf.get(models.stapled, slip.seq)
    if row is None:
        _no_question(pen, slip)
    if row is None or row["taken_back_seq"] is not None:
        return
    piece, tags = pen.row(models.piece, row["piece"]), pen.shelf.find(models.stapled, piece=row["piece"])
    left = [each for each in tags if each["taken_back_seq"] is None and each["seq"] != slip.seq]
    called = Name(left[-1]["code"], left[-1]["number"]) if left else on_the_wood([_as_told(each) for each in tags])
    if (piece.code, piece.number) == (row["code"], row["number"]) and called is not None:
        pen.change(models.piece, piece.id, **_called_again(pen, event, piece.id, called))
    pen.change(models.stapled, slip.seq, taken_back_seq=event.seq)


def _as_told(tag: Row) -> tuple[Name, Name | None]:
    return Name(tag["code"], tag["number"]), maybe_name(tag["code_before"], tag["number_before"])


def _called_again(pen: Pen, event: Event, piece: str, called: Name) -> Row:
    others = [each for each in pen.shelf.find(models.piece, code=called.code, number=called.number) if each["id"] != piece]
    if not others:
        return {"code": called.code, "number": called.number, "label": label(called)}
    if not pen.believed:
        words = f"This tag is to be taken back, and yet {called} stands on another piece by now."
        raise Contradicts(others[0]["seq"], words)
    return take_name(pen, event, str(called), called.code)


def _no_question(pen: Pen, slip: Event) -> None:
    """Whoever is asked to look at a tag need not: it was not told."""
    for kind in (TaskKind.RETAG, TaskKind.BOTH):
        task = pen.shelf.get(models.task, first_task(kind, slip.seq))
        if task is not None and task["settled_by"] is None:
            pen.change(models.task, task["id"], settled_by=pen.opened_by)


def _happening(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(models.happening, slip.seq, taken_back_seq=event.seq)


def _moisture(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(models.moisture, slip.seq, taken_back_seq=event.seq)


def _prongs(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(models.prongs, slip.seq, taken_back_seq=event.seq)


def _weight(pen: Pen, event: Event, slip: Event) -> None:
    """The one before it counts again; of a sample board, of those of what is left of it."""
    pen.change(models.weight, slip.seq, taken_back_seq=event.seq)
    left = [row for row in pen.shelf.find(models.weight, about=slip.stream) if row["taken_back_seq"] is None]
    kind, ident = parts(slip.stream)
    board = pen.shelf.get(models.sample, ident) if kind == "piece" else None
    if board is not None:
        cut = cut_at(pen, ident)
        left = [row for row in left if of_what_is_left(moment_of(pen, row["seq"]), cut)] or [board]
    last = max(left, key=lambda row: int(row["seq"]), default=None)
    pen.change(models.log if kind == "log" else models.piece, ident, mass_kg=last and last["mass_kg"])


def _note(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(models.note, slip.seq, taken_back_seq=event.seq)


def _spent(pen: Pen, event: Event, slip: Event) -> None:
    for row in pen.shelf.find(selling_models.spent, seq=slip.seq):
        pen.change(selling_models.spent, slip.seq, row["about"], taken_back_seq=event.seq)


def _seen(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(counting_models.seen, slip.seq, taken_back_seq=event.seq)


def _end(pen: Pen, _event: Event, slip: Event) -> None:
    """The piece is there after all; an end that was told by something else stays."""
    ident = slip.stream.partition(":")[2]
    if pen.row(models.piece, ident).ended_seq == slip.seq:
        pen.change(models.piece, ident, ended="", ended_seq=None)


def _bill(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(custom_models.custom_bill, slip.seq, taken_back_seq=event.seq)


def _photo(pen: Pen, event: Event, slip: Event) -> None:
    pen.change(models.photo, slip.stream.partition(":")[2], taken_back_seq=event.seq)


UNDO: Mapping[str, Callable[[Pen, Event, Event], None]] = MappingProxyType(
    {
        "came-off": _piece,
        "piece-counted": _piece,
        "at-the-mill": _happening,
        "note-written": _note,
        "photo-taken": _photo,
        "moisture-read": _moisture,
        "weighed": _weight,
        "prongs-seen": _prongs,
        "spent": _spent,
        "kiln-shared": _spent,
        "tag-seen": _seen,
        "tagged": _tag,
        "piece-ended": _end,
        "custom-billed": _bill,
    }
)
