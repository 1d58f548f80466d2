"""The sawing days: what came off, by plan and without one, and what happened at the mill."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from itertools import chain, repeat

from waney.cli.demo_year.coming import sheet_of
from waney.cli.demo_year.planned import length_m, metal_m
from waney.cli.demo_year.story import LogTold, slices
from waney.cli.demo_year.yard import Yard
from waney.papers.by_plan import NewPiece, OnTheBed, came_off, happened, kept
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off, Transform
from waney.yard.acts.pieces import PieceEnd
from waney.yard.book.looking import history
from waney.yard.services.logs import end_log, measure_log
from waney.yard.services.mill import carry_to, close_day, open_day, take_back, take_names, take_off, tell_of_mill
from waney.yard.services.pieces import end_piece

OFF = {
    ("AF", 3): (Off.THICK, 0.0032),
    ("AH", 6): (Off.THIN, -0.0016),
    ("AE", 2): (Off.WEDGE, 0.0032),
    ("AM", 15): (Off.SHORT, None),
}
"""pieces that did not come off as meant, by log and place"""
BESIDES: Mapping[str, Callable[[str, str], AtTheMill]] = {
    "AA": lambda day, log: AtTheMill(Happened.ROT, day, log, along_m=0.3, clock=5, words="soft round the shake"),
    "AH": lambda day, log: AtTheMill(Happened.CLAMPED_AGAIN, day, log, pith_m=(0.248, 0.236), words="it rocked on a crossbar"),
    "AL": lambda day, log: AtTheMill(Happened.TURNED, day, log, roll_deg=90.0),
    "AM": lambda day, log: AtTheMill(Happened.WANDERED, day, log, words="a knot, and too much feed"),
    "AT": lambda day, log: AtTheMill(Happened.BLADE, day, log, words="dull after the nails"),
}
"""what happened with a log besides its cuts"""
CANT_AFTER, CANT_GIVES = 6, 2
STOPPED_AT = 8
"""steps done on the log that lies on the bed still"""
TAPPED_TWICE, WITHOUT_TAG = "AK", "AX"
GO_TO = "rack 2"
"""where pieces of the day that is open go"""


def enter(yard: Yard) -> None:
    """Put them on the agenda."""
    for ago in yard.story.days:
        yard.diary.on(ago, 8, partial(_day, yard, ago))


def _day(yard: Yard, ago: int) -> None:
    day = open_day(yard.tom, yard.diary.day(ago)).id
    if ago == yard.story.days[-1]:
        carry_to(yard.tom, day, yard.spots[GO_TO])
    for log in (log for log in yard.story.logs if log.sawn == ago):
        (_by_plan if log.planned else _without_plan)(yard, day, log)
    if ago != yard.story.days[-1]:
        close_day(yard.tom, day)


def _without_plan(yard: Yard, day: str, log: LogTold) -> None:
    ident, came = yard.logs[log.code], list(slices(log))
    names = _names(yard, log, len(came))
    tell_of_mill(yard.tom, AtTheMill(Happened.LAID, day, ident))
    if log.code in BESIDES:
        tell_of_mill(yard.tom, BESIDES[log.code](day, ident))
    for order, (one, name) in enumerate(zip(came, names, strict=False), 1):
        how, off_by = OFF.get((log.code, order), (Off.CANT if log.cant else Off.AS_MEANT, None))
        piece = yard.diary.new_id()
        yard.pieces.setdefault(log.code, []).append(piece)
        thick = round(one.thickness_m + (off_by or 0.0), 6)
        long = round(length_m(log) * (0.8 if how is Off.SHORT else 1.0), 4)
        sizes = (one.height_m, thick, long, one.widths_m)
        act = CameOff(piece, day, ident, "", "", name, "", None, order, how, off_by, *sizes)
        take_off(yard.tom, act)
    if log.code == TAPPED_TWICE:
        _slip(yard, day, log, next(names))
    _after(yard, day, log)


def _names(yard: Yard, log: LogTold, most: int) -> chain[str]:
    """Names from a block, one after the other; the last piece of one log came off without its tag."""
    taken = [str(name) for name in take_names(yard.tom, log.code, most + 2, yard.tom.device)]
    return chain(taken[: most - 1] if log.code == WITHOUT_TAG else taken, repeat(""))


def _after(yard: Yard, day: str, log: LogTold) -> None:
    """Metal is told, a cant is to be sawn again later, and the log is no more."""
    ident = yard.logs[log.code]
    if log.metal:
        where = {"piece": yard.piece(log.code, 3), "along_m": metal_m(log), "clock": 3.0}
        tell_of_mill(yard.tom, AtTheMill(Happened.METAL, day, ident, words="a nail", **where))  # type: ignore[arg-type]
        measure_log(yard.ruth, ident, sheet_of(yard, log, metal=True))
    if log.cant:
        yard.diary.on((log.sawn or 0) - CANT_AFTER, 9, partial(_cants, yard, log))
    end_log(yard.tom, ident, LogEnd.SAWN)


def _slip(yard: Yard, day: str, log: LogTold, name: str) -> None:
    """Tapped once too often, and taken back."""
    slip = yard.diary.new_id()
    order = len(yard.pieces[log.code]) + 1
    take_off(yard.tom, CameOff(slip, day, yard.logs[log.code], name=name, order=order, thickness_m=0.0254))
    [told] = history(yard.diary.book, f"piece:{slip}")
    take_back(yard.tom, told.command, told.stream, "tapped twice")


def _cants(yard: Yard, log: LogTold) -> None:
    """Each cant is sawn into posts."""
    for cant in tuple(yard.pieces[log.code]):
        for name in take_names(yard.tom, log.code, CANT_GIVES, yard.tom.device):
            post = yard.diary.new_id()
            yard.posts.append(post)
            sizes = {"thickness_m": 0.1, "length_m": length_m(log), "widths_m": (0.1, 0.1)}
            how = Transform.SAWN_AGAIN
            take_off(yard.tom, CameOff(post, parent=cant, name=str(name), product="post", transform=how, **sizes))  # type: ignore[arg-type]
        end_piece(yard.tom, cant, PieceEnd.SAWN, "into posts")


def _by_plan(yard: Yard, day: str, log: LogTold) -> None:
    """Step by step as the plan has them; the last log lies on the bed still."""
    mill = yard.plans[log.code].steps
    bed = OnTheBed(day, yard.logs[log.code], yard.kept_plans[log.code])
    unfinished = log.sawn == yard.story.days[-1]
    steps = mill.steps[:STOPPED_AT] if unfinished else mill.steps
    names = _names(yard, log, sum(kept(step) is not None for step in mill.steps))
    pieces = yard.pieces.setdefault(log.code, [])
    for number, step in enumerate(steps):
        if kept(step) is None:
            tell_of_mill(yard.tom, happened(bed, step, number))
            continue
        pieces.append(yard.diary.new_id())
        new = NewPiece(pieces[-1], next(names), len(pieces), yard.spots[GO_TO] if unfinished else "")
        take_off(yard.tom, came_off(bed, step, new, round(step.height_steps * mill.step_m, 9)))
    if not unfinished:
        _after(yard, day, log)
