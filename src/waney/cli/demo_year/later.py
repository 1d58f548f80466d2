"""What became of pieces: weighed, moved, noted, kept together, used up; wood from before the book; what is to be put right."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial
from importlib.resources import files

from waney.cli.demo_year.drawn import end_of_log
from waney.cli.demo_year.planned import length_m
from waney.cli.demo_year.story import FOOT_M, INCH_M, Later, LogTold, slices
from waney.cli.demo_year.yard import Yard
from waney.cli.doubts import SCENARIOS
from waney.pieces.measured import measured
from waney.pieces.piece_sheet import read_piece_sheet
from waney.yard.acts.drying import Bark, Ends, SidesTold
from waney.yard.acts.pieces import FigureSeen, PieceCounted, PieceEnd, PieceSized, RoomTold
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.sizes_due import sizes_due
from waney.yard.book.stories import piece_story
from waney.yard.services.drying import tell_sides
from waney.yard.services.mill import settle
from waney.yard.services.pieces import (
    count_piece,
    end_piece,
    exchange_names,
    keep_photo,
    keep_together,
    measure_piece,
    move,
    put_boule_in_order,
    size_piece,
    tag_piece,
    take_set_apart,
    tell_of_piece,
    weigh,
    write_note,
)

WEIGHED_EVERY, WEIGHINGS, WEIGHED = 40, 3, 1
"""days, how often, how many pieces of each log"""
MOVED = (("AC", 3, "wall by the stove"), ("AC", 4, "wall by the stove"), ("AD", 4, "shop"), ("AD", 5, "shop"), ("BD", 1, "loft"))
"""by log and place, on one day"""
GREEN_KG_M3, LIGHTER = 930.0, 0.86
"""made up: what a piece weighs green, and how much of it is left at the next weighing"""
SWAPPED, DOUBTED, PICTURED = "AF", ("AB", 5), ("AA", 3)
STILL_TO_TAG = 1
PARTED = ("BA", 1)
"""a piece of the set that is taken apart again"""
MEASURED, FIGURE = ("AC", 3), "curl"
EXCHANGED = (("AD", 4), ("AD", 5))


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    diary, story = yard.diary, yard.story
    for log in story.logs:
        for turn in range(WEIGHINGS):
            if log.sawn and log.sawn - turn * WEIGHED_EVERY > 1 and not (log.planned or log.cant):
                diary.on(log.sawn - turn * WEIGHED_EVERY - (turn == 0), 15, partial(_weighed, yard, log, turn))
    for later in story.noted:
        diary.on(later.ago, 16, partial(_noted, yard, later))
    for later in story.kept:
        diary.on(later.ago, 16, partial(_kept, yard, later))
    for later in story.gone:
        diary.on(later.ago, 17, partial(_gone, yard, later))
    diary.on(story.found_ago, 10, partial(_found, yard))
    diary.on(259, 16, partial(_in_order, yard))
    diary.on(70, 17, partial(_doubted, yard))
    diary.on(31, 16, partial(_apart, yard))
    diary.on(5, 11, partial(_moved, yard))
    diary.on(2, 16, partial(_heaped, yard))


def _weighed(yard: Yard, log: LogTold, turn: int) -> None:
    for piece, one in list(zip(yard.pieces[log.code], slices(log), strict=False))[1 : 1 + WEIGHED]:
        volume = one.thickness_m * length_m(log) * sum(one.widths_m) / 2
        weigh(yard.ruth, f"piece:{piece}", round(volume * GREEN_KG_M3 * LIGHTER**turn, 1))


def _moved(yard: Yard) -> None:
    for code, place, spot in MOVED:
        move(yard.ida, f"piece:{yard.piece(code, place)}", yard.spots[spot])
    one, other = (yard.piece(code, place) for code, place in EXCHANGED)
    exchange_names(yard.ida, one, other, "the tags hung on each other's boards")
    move(yard.tom, f"log:{yard.logs['BG']}", yard.spots["shade under the alders"])
    _measured(yard, yard.piece(*MEASURED))


def _measured(yard: Yard, piece: str) -> None:
    """It lies there dry: measured, its figure seen, and somebody says where it will live."""
    sheet = _as_it_lies()
    measure_piece(yard.ruth, piece, sheet)
    found = measured(read_piece_sheet(sheet), None, SCENARIOS).as_counted
    [due] = sizes_due(yard.diary.book)
    size_piece(yard.ruth, PieceSized(**asdict(found), piece=piece, measured=due.seq))
    tell_of_piece(yard.ruth, (FigureSeen(piece, FIGURE), RoomTold(piece, yard.story.place, "68 F, 70 F, 76 F, 70 F", "55")))
    tell_sides(yard.ruth, SidesTold((piece,), Bark.OFF, Ends.COATED))


def _as_it_lies() -> str:
    """The demo's own piece sheet, without a name or a wood: the piece has both."""
    text = (files("waney") / "data" / "demo" / "piece.toml").read_text(encoding="utf-8")
    return "".join(line for line in text.splitlines(keepends=True) if not line.startswith(("name =", "species =")))


def _noted(yard: Yard, later: Later) -> None:
    piece = yard.piece(later.code, later.places[0])
    write_note(yard.ruth, f"piece:{piece}", later.what)
    if (later.code, later.places[0]) == PICTURED:
        keep_photo(yard.ruth, end_of_log("a live-edge slab's end"), f"piece:{piece}", wet=False)


def _kept(yard: Yard, later: Later) -> None:
    keep_together(yard.ruth, tuple(yard.piece(later.code, place) for place in later.places), later.what)


def _apart(yard: Yard) -> None:
    code, place = PARTED
    together = piece_story(yard.diary.book, yard.piece(code, place)).piece.together
    take_set_apart(yard.ruth, together, "one of them checked in the sun")


def _gone(yard: Yard, later: Later) -> None:
    end_piece(yard.ida, yard.piece(later.code, later.places[0]), PieceEnd(later.what), later.words)


def _found(yard: Yard) -> None:
    """Counted in the loft; the book gives names, and all but the last got their tags."""
    for one in yard.story.found:
        widths = (round(one.widths_in[0] * INCH_M, 4), round(one.widths_in[1] * INCH_M, 4))
        sizes = (round(one.quarters * INCH_M / 4, 5), round(one.length_ft * FOOT_M, 4), widths)
        count_piece(yard.ruth, PieceCounted(yard.diary.new_id(), one.wood, "", *sizes, yard.spots["loft"], one.bought))
    for task in open_tasks(yard.diary.book)[:-STILL_TO_TAG]:
        settle(yard.ruth, task.id, words="written")
    counted = pieces(yard.diary.book)[0]
    tag_piece(yard.ruth, counted.id, counted.name)


def _in_order(yard: Yard) -> None:
    first, second, *rest = yard.pieces[SWAPPED]
    put_boule_in_order(yard.ruth, yard.logs[SWAPPED], (second, first, *rest), "by their widths")


def _heaped(yard: Yard) -> None:
    """A photo that shows no tag: what it is about is still to be said."""
    keep_photo(yard.tom, end_of_log("who knows which"), "", yard.diary.now.isoformat())


def _doubted(yard: Yard) -> None:
    """Two people say different things of one piece, and a third knows."""
    piece = yard.piece(*DOUBTED)
    end_piece(yard.tom, piece, PieceEnd.BURNT)
    [task] = end_piece(yard.ida, piece, PieceEnd.USED, "a shelf in the office").tasks
    settle(yard.ruth, task, later_holds=True, words="it is the shelf")
