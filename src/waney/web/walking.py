"""Walking: the pieces that are weighed every week, in the order in which one walks past them, with what is known of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import inf

from waney.figures.json_out import Encoder
from waney.figures.typed_json import Json
from waney.units.mass import KILOGRAM, POUND
from waney.web.access.members import Member
from waney.web.ready import MARK_KG, NOTHING, ready_of
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import NOT_KNOWN, Figures
from waney.web.weighing import GAINED, LIGHT, Before, before, dry_of, expected, line_of, tare_offered
from waney.yard.book.stack_seen import OnStack, ReadOf, StackStory, drying_stacks, read_of, to_weigh
from waney.yard.book.tares import Tares, tares_told
from waney.yard.here import day_here

FORMAT = "waney-round/1"
AGAIN_AFTER = 5
"""days after which a piece is weighed again: once a week, with some give. Common practice, no source."""
AHEAD = 15
"""days for which a page that is taken along knows what to expect"""


@dataclass(frozen=True)
class WeighIt:
    """A piece on the round. where: words; last: its last weight in words; expected: low, likely, high [kg] today and on the days
    after; this_week: its last weight is of these days."""

    piece: str
    name: str
    wood: str
    spot: str
    where: str
    last: str
    known: Before
    expected: tuple[tuple[float, float, float], ...]
    this_week: bool
    command: str
    """of its last weight"""
    tare: str
    """what sling and stickers weighed when it was told last, in the round's unit; empty: not told"""


@dataclass(frozen=True)
class Round:
    """What the page holds. unit: what a bare weight counts in; unit_kg: so many kilograms; mark_kg: between two marks of the
    weighing scale, where nobody tells."""

    format: str
    today: str
    device: str
    person: str
    unit: str
    unit_kg: float
    mark_kg: float
    again_after: int
    gained: str
    light: str
    items: tuple[WeighIt, ...]

    @property
    def left(self) -> tuple[WeighIt, ...]:
        """Those that are to be weighed now."""
        return tuple(one for one in self.items if not one.this_week)


def due(shop: Shop) -> int:
    """How many pieces are to be weighed now."""
    weighed = [last and day_here(last) for _, last in to_weigh(shop.book)]
    return sum(not last or not _recent(shop, last) for last in weighed)


def _recent(shop: Shop, last: date) -> bool:
    return shop.today() - last < timedelta(AGAIN_AFTER)


def round_of(shop: Shop, member: Member | None, device: str) -> Round:
    """The pieces of every stack in the yard that are weighed every week."""
    settled = shop.settled()
    unit = POUND if unit_of(settled) == "in" else KILOGRAM
    stacks = [one for one in drying_stacks(shop.book) if any(piece.to_weigh for piece in one.lying)]
    tares = tares_told(shop.book) if stacks else Tares()
    walked = [piece for stack in stacks for piece in _pieces(shop, stack, tare_offered(shop, stack.spot, tares))]
    first: dict[str, float] = {}
    for seq, item, _ in walked:
        first[item.spot] = min(first.get(item.spot, inf), seq)
    walked.sort(key=lambda one: (first[one[1].spot], one[1].spot, one[2]))
    return Round(
        FORMAT, shop.today().isoformat(), device, member.person if member else "", unit.name, unit.in_si(1.0),
        MARK_KG[unit_of(settled)], AGAIN_AFTER, GAINED, LIGHT, tuple(item for _, item, _ in walked),
    )  # fmt: skip


def _pieces(shop: Shop, stack: StackStory, tare: str) -> Iterator[tuple[float, WeighIt, tuple[str, int, str]]]:
    """Each with when it was weighed last and its place on the way: stack by stack, the top layer first."""
    chosen = [one for one in stack.lying if one.to_weigh]
    answer = ready_of(shop, stack).answer
    read = read_of(shop.book, [one.piece.id for one in chosen])
    for one in chosen:
        own = read.get(one.piece.id, NOTHING)
        line = line_of(answer, one.piece.name)
        dry = dry_of(line, one.piece.name)
        days = [shop.today() + timedelta(n) for n in range(AHEAD)]
        ahead = tuple(expected(line, dry, day) for day in days) if line and dry else ()
        item = _item(shop, stack, one, own, before(shop, one.piece, own, answer), ahead, tare)
        yield own.last_weight.told.seq if own.last_weight else inf, item, (stack.called, -(one.layer or 0), one.piece.name)


def _item(
    shop: Shop, stack: StackStory, one: OnStack, read: ReadOf, known: Before,
    ahead: tuple[tuple[float, float, float], ...], tare: str,
) -> WeighIt:  # fmt: skip
    last = f"{writes(shop.settled()).weighed(known.last_kg)}, {Figures.day(known.last_on)}" if known.last_kg else NOT_KNOWN
    layer = f", layer {one.layer}" if one.layer else ""
    recent = bool(known.last_on) and _recent(shop, date.fromisoformat(known.last_on))
    command = read.weights_now[-1].told.command if read.weights_now else ""
    where = f"{stack.called}{layer}"
    spot = stack.spot_called or "spot not told"
    wood = Figures.wood(one.piece.species)
    return WeighIt(one.piece.id, one.piece.name, wood, spot, where, last, known, ahead, recent, command, tare)


def as_json(holds: Round) -> Json:
    """For the page."""
    return Encoder().encode(holds, Round)
