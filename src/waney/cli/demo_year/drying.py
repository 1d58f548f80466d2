"""How wood dried: a stack for each sawing day, some of them through a kiln, then onto a rack; what the meter said."""

from __future__ import annotations

from functools import partial

from waney.cli.demo_year.story import INCH_M
from waney.cli.demo_year.yard import Yard
from waney.trade.shares import shares
from waney.yard.acts.drying import Prongs, ProngsSeen, SampleCut, Shelter, StackStood
from waney.yard.acts.kilns import BroughtBack, HandedPiece, LoadHandedOver, LoadTakenBack, OwnersTold, PieceOwner
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.book.drying_seen import on_stack
from waney.yard.book.kiln_seen import pieces_in
from waney.yard.book.looking import pieces
from waney.yard.services import drying, kilns, stacks
from waney.yard.services.kilns import ReadAtHome
from waney.yard.services.spending import share_kiln

STICKER_M, APART_M = round(0.75 * INCH_M, 5), 16 * INCH_M
A_LAYER = 3
WANTED_MC, WEIGHED_AT = 0.20, 1
"""which piece of each log is weighed (`later` does it)"""
INTO, OUT, KILN, LOADS = 96, 110, "old container kiln", 4
"""days after sawing; the first so many stacks went through the kiln"""
SAMPLED = 10
"""the stack that has a sample board, cut the day after; weights made up"""
SENT, HOME_AFTER = {8: 88, 9: 70}, 100
"""stack -> days after sawing at which it was handed over to someone else's kiln; the later one is there still"""
OTHER_KILN, OTHERS = "plate kiln", "Brookside Drying, Brookside"
FEE_CENTS, CURRENCY = 18_500, "USD"
CAME_BACK_AT = ((0.066, 0.078), (0.071, 0.083), (0.064, 0.126))
"""shell and core of the first pieces, as the meter said when they came back; of the others nothing was told"""
RACKED_AFTER, RACKED = 118, 7
"""days after sawing; the first so many stacks were taken down"""
READ = (
    (21, 0.52, Depth.WHOLE),
    (55, 0.29, Depth.WHOLE),
    (93, 0.19, Depth.WHOLE),
    (105, 0.08, Depth.SHELL),
    (105, 0.11, Depth.CORE),
)
"""made up: days after sawing, what the meter said, and where"""
ROOM_C = 18.0


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    for number, ago in enumerate(yard.story.days[:-1], 1):
        yard.diary.on(ago, 17, partial(_stacked, yard, number, ago))


def _stacked(yard: Yard, number: int, ago: int) -> None:
    """What came off that day, three to a layer; what happens to the stack later goes on the agenda."""
    diary, stack = yard.diary, yard.diary.new_id()
    came = [piece for log in yard.story.logs if log.sawn == ago and not log.cant for piece in yard.pieces[log.code]]
    layers = tuple(tuple(came[first : first + A_LAYER]) for first in range(0, len(came), A_LAYER))
    stacks.build_stack(
        yard.ruth, StackBuilt(stack, f"by the mill, {number}", yard.spots[yard.story.wet_stack], layers, STICKER_M, APART_M)
    )
    drying.tell_how_it_stands(yard.ruth, StackStood(stack, shelter=Shelter.OPEN, wanted_mc=WANTED_MC))
    weighed = [yard.pieces[log.code][WEIGHED_AT] for log in yard.story.logs if log.sawn == ago and not log.cant]
    drying.weigh_these(yard.ruth, stack, tuple(piece for piece in weighed if piece in came))
    if any(log.sawn == ago and log.cant for log in yard.story.logs):
        diary.on(ago - 7, 16, lambda: stacks.put_on(yard.ruth, stack, tuple(yard.posts)))
    if number <= LOADS:
        diary.on(ago - INTO, 9, partial(_into_kiln, yard, stack, ago))
    if number <= RACKED:
        diary.on(ago - RACKED_AFTER, 14, partial(_racked, yard, stack, came, yard.story.racks[number % len(yard.story.racks)]))
    if number in SENT:
        diary.on(
            ago - SENT[number], 10, partial(_handed_over, yard, stack, yard.story.racks[number % len(yard.story.racks)], ago)
        )
    if number == SAMPLED:
        diary.on(ago - 1, 10, lambda: drying.cut_sample(yard.tom, SampleCut(came[0], 9.2, (0.412, 0.398))))
        diary.on(ago - 3, 8, lambda: drying.dry_sections(yard.tom, came[0], (0.231, 0.224)))
    for after, mc, depth in READ:
        if ago - after > 1 and (number <= LOADS or depth is Depth.WHOLE):
            diary.on(ago - after, 15, partial(_read, yard, came[len(came) // 2], mc, depth))


def _into_kiln(yard: Yard, stack: str, ago: int) -> None:
    load = stacks.load_kiln(yard.ruth, KILN, (stack,), words="a slow schedule, fans on one side").id
    yard.diary.on(ago - OUT, 9, lambda: stacks.unload_kiln(yard.ruth, load, "flat, two ends checked"))
    if ago == yard.story.days[LOADS - 1]:
        yard.diary.on(ago - OUT, 10, lambda: drying.see_prongs(yard.tom, ProngsSeen(f"load:{load}", Prongs.STRAIGHT, 16.0)))
        lent = PieceOwner(on_stack(yard.diary.book, stack)[0][1].id, "the school")
        yard.diary.on(ago - OUT, 11, lambda: kilns.tell_owners(yard.ida, OwnersTold(load, (lent,))))


def _handed_over(yard: Yard, stack: str, rack: str, ago: int) -> None:
    """A stack goes to someone else's kiln, and comes home if that was long enough ago."""
    load, there = yard.diary.new_id(), [piece for _, piece in on_stack(yard.diary.book, stack) if not piece.ended]
    cracked = ("butt end, a hand long", *[""] * len(there))
    handed = tuple(
        HandedPiece(one.id, cracks=cracks, shell_mc=0.07, core_mc=0.08, hottest_c=60.0)
        for one, cracks in zip(there, cracked, strict=False)
    )
    fee = "a sum for each load, agreed before it is brought"
    kilns.hand_over(yard.ida, LoadHandedOver(load, OTHER_KILN, OTHERS, handed, fee))
    if ago > HOME_AFTER:
        yard.diary.on(ago - HOME_AFTER, 16, partial(_home, yard, load, rack, [one.id for one in there]))


def _home(yard: Yard, load: str, rack: str, pieces: list[str]) -> None:
    back = tuple(BroughtBack(piece, "" if at != 1 else "a check opened in the middle") for at, piece in enumerate(pieces))
    told = LoadTakenBack(
        load, back, days=11.0, fee_cents=FEE_CENTS, currency=CURRENCY, spot=yard.spots[rack]
    )  # fmt: skip
    read = [ReadAtHome(piece, None, *mcs, ReadBy.PINS) for piece, mcs in zip(pieces, CAME_BACK_AT, strict=False)]
    kilns.take_back(yard.ida, told, read)
    held = [one.piece for one in pieces_in(yard.diary.book, load)]
    volumes = {one.name: (one.thickness_m or 0.0) * (one.length_m or 0.0) * (one.mean_width_m or 0.0) for one in held}
    parts = shares(FEE_CENTS, volumes)
    share_kiln(yard.ida, load, {one.id: parts[one.name] for one in held})


def _racked(yard: Yard, stack: str, came: list[str], rack: str) -> None:
    there = {piece.id for piece in pieces(yard.diary.book) if not piece.ended}
    stacks.take_off(yard.ruth, stack, tuple(piece for piece in came if piece in there), yard.spots[rack])


def _read(yard: Yard, piece: str, mc: float, depth: Depth) -> None:
    stacks.read_moisture(yard.ruth, MoistureRead(f"piece:{piece}", mc, ReadBy.PINS, depth, 1.2, ROOM_C))
