"""Entering an event: it is numbered in its streams, then applied, or it waits, or a task shows what stands against it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from waney.yard.acts.every import Act
from waney.yard.acts.mending import TaskSettled
from waney.yard.book import models
from waney.yard.book.applying import (
    counts,
    custom,
    deposits,
    drying,
    kilns,
    logs,
    mending,
    mill,
    offers,
    people_places,
    pieces,
    promises,
    sales,
    settings,
    stacks,
)
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind
from waney.yard.book.truth import Event


def task_settled(pen: Pen, event: Event, act: TaskSettled) -> None:
    """The task is done; where the later fact holds, it is applied against what stood."""
    task = pen.row(models.task, act.task)
    pen.change(models.task, act.task, settled_by=event.seq)
    if act.later_holds and task.kind == TaskKind.BOTH:
        later = pen.event(task.seq)
        if later.kind not in STANDS_ANYWAY:
            _carry_out(pen._replace(believed=True), later, later.act)


COMMAND = "command:"
"""how a need begins that is no thing but another command"""
STANDS_ANYWAY = ("came-off", "sold-away", "hold-asked")
"""Applied whatever contradicts it: such a task only asks."""

APPLY: Mapping[str, Callable[[Pen, Event, Any], None]] = MappingProxyType(
    {
        "person-added": people_places.person_added,
        "person-forgotten": people_places.person_forgotten,
        "spot-named": people_places.spot_named,
        "moved": people_places.moved,
        "weighed": people_places.weighed,
        "note-written": people_places.note_written,
        "photo-taken": people_places.photo_taken,
        "photo-filed": people_places.photo_filed,
        "log-arrived": logs.log_arrived,
        "log-measured": logs.log_measured,
        "ends-sealed": logs.ends_sealed,
        "log-ended": logs.log_ended,
        "plan-made": logs.plan_made,
        "plan-chosen": logs.plan_chosen,
        "day-opened": mill.day_opened,
        "day-closed": mill.day_closed,
        "pieces-go-to": mill.pieces_go_to,
        "came-off": mill.came_off,
        "at-the-mill": mill.at_the_mill,
        "piece-counted": mill.piece_counted,
        "piece-measured": pieces.piece_measured,
        "piece-sized": pieces.piece_sized,
        "figure-seen": pieces.figure_seen,
        "room-told": pieces.room_told,
        "tagged": pieces.tagged,
        "names-exchanged": pieces.names_exchanged,
        "boule-put-in-order": pieces.boule_put_in_order,
        "set-made": pieces.set_made,
        "set-taken-apart": pieces.set_taken_apart,
        "piece-ended": pieces.piece_ended,
        "names-taken": pieces.names_taken,
        "taken-back": mending.taken_back,
        "task-settled": task_settled,
        "tree-offered": offers.tree_offered,
        "tree-told-again": offers.tree_told_again,
        "tree-answered": offers.tree_answered,
        "stem-felled": offers.stem_felled,
        "settled": settings.settled,
        "stack-built": stacks.stack_built,
        "put-on-stack": stacks.put_on_stack,
        "taken-off-stack": stacks.taken_off_stack,
        "into-kiln": stacks.into_kiln,
        "out-of-kiln": stacks.out_of_kiln,
        "moisture-read": stacks.moisture_read,
        "priced": promises.priced,
        "quoted": promises.quoted,
        "quote-ended": promises.quote_ended,
        "held": promises.held,
        "hold-asked": promises.hold_asked,
        "hold-ended": promises.hold_ended,
        "deposit-settled": deposits.settled,
        "lease-taken": promises.lease_taken,
        "lease-closed": promises.lease_closed,
        "sold": sales.sold,
        "sold-away": sales.sold_away,
        "paid": sales.paid,
        "returned": sales.returned,
        "spent": sales.spent,
        "kiln-shared": sales.kiln_shared,
        "buys-here": sales.buys_here,
        "wish-left": sales.wish_left,
        "wish-ended": sales.wish_ended,
        "count-begun": counts.count_begun,
        "tag-seen": counts.tag_seen,
        "count-ended": counts.count_ended,
        "custom-asked": custom.asked,
        "custom-logs-told": custom.logs_told,
        "custom-agreed": custom.agreed,
        "custom-agreed-anew": custom.agreed_anew,
        "log-sawn-for": custom.sawn_for,
        "custom-shared": custom.shared,
        "custom-billed": custom.billed,
        "custom-ended": custom.custom_ended,
        "load-handed-over": kilns.load_handed_over,
        "load-taken-back": kilns.load_taken_back,
        "owners-told": kilns.owners_told,
        "stack-stood": drying.stack_stood,
        "sides-told": drying.sides_told,
        "to-weigh": drying.to_weigh,
        "sample-cut": drying.sample_cut,
        "sections-dried": drying.sections_dried,
        "prongs-seen": drying.prongs_seen,
    }
)


def number(pen: Pen, act: Act, seq: int) -> dict[str, int]:
    """An event counts in each stream that its act names, the first one its own; its number in each."""
    return pen.shelf.advance(dict.fromkeys(act.streams()), seq)


def enter(pen: Pen, event: Event, act: Act) -> None:
    """Let an event, which stands in the book already and is numbered, change the read models."""
    for sha256 in act.files():
        if pen.shelf.get(models.file, sha256) is None:
            pen.insert(models.file, sha256=sha256, seq=event.seq)
    _apply_or_wait(pen, event, act)


def _apply_or_wait(pen: Pen, event: Event, act: Act) -> None:
    made = pen.shelf.made
    missing = [key for key in dict.fromkeys(act.needs()) if not (made(key) or _command_applied(pen, key))]
    if missing:
        for key in missing:
            pen.insert(models.waiting, seq=event.seq, missing=key)
        pen.open_task(TaskKind.WAITS, event, f"Not in the book yet: {', '.join(missing)}.")
        return
    _apply(pen, event, act)


def _command_applied(pen: Pen, key: str) -> bool:
    """Whether a need is a command, and that is in the book and applied."""
    if not key.startswith(COMMAND):
        return False
    event = pen.event_of_command(key.removeprefix(COMMAND))
    return event is not None and not pen.shelf.find(models.waiting, seq=event.seq)


def _apply(pen: Pen, event: Event, act: Act) -> None:
    """Apply, then let go what waited for it."""
    made = act.makes()
    if made is not None and pen.shelf.made(made):
        pen.open_task(TaskKind.TWICE, event, f"{made} was made already; what was told this time stays in the history only.")
    else:
        try:
            _carry_out(pen, event, act)
        except Contradicts as both:
            pen.open_task(TaskKind.BOTH, event, both.words, both.other_seq)
    _let_go(pen, f"{COMMAND}{event.command}")


def _carry_out(pen: Pen, event: Event, act: Act) -> None:
    """Change the read models. Raises Contradicts before anything is changed."""
    APPLY[event.kind](pen, event, act)
    made = act.makes()
    if made is not None:
        pen.shelf.make(made)
        _let_go(pen, made)


def _let_go(pen: Pen, key: str) -> None:
    """Events that waited for nothing but this are applied now, in the order of the book."""
    freed = [row["seq"] for row in pen.shelf.find(models.waiting, missing=key)]
    if not freed:  # nearly always
        return
    for seq in freed:
        pen.shelf.remove(models.waiting, seq, key)
    for seq in freed:
        if not pen.shelf.find(models.waiting, seq=seq):
            event = pen.event(seq)
            pen.change(models.task, f"waits-{seq}", settled_by=pen.opened_by)
            _apply(pen._replace(believed=False), event, event.act)
