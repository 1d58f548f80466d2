"""Ready: the question when a stack is ready, asked once for what is known of it, and the answer that is there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from waney.drying.spring import spring_after
from waney.web.asked.kinds import STACK
from waney.web.asked.packing import as_bytes, read_back, squeezed
from waney.web.asked.stack import MoistureAsked, SampleAsked, StackAnswer, StackAsked, StackPiece, WeightAsked
from waney.web.asking import Job, answer_of, ask, asked_already
from waney.web.shop import Shop, unit_of
from waney.yard.acts.drying import Shelter
from waney.yard.acts.people_places import Scales
from waney.yard.acts.settings import Setting
from waney.yard.book.stack_seen import MoistureTold, OnStack, ReadOf, StackStory, drying_stacks, read_of
from waney.yard.here import day_here

MARK_KG = {"mm": 0.05, "in": 0.045359237}
"""Between two marks of a weighing scale of which nobody told: 50 g, 0.1 lb. Common practice, no source."""
VEHICLE_MARK_KG = 10.0
"""the same for a scale that vehicles stand on; common practice, no source"""
UNREAD = "First tell what is read in its chamber, temperature and humidity: that is the air it dries in."
NOTHING = ReadOf()
AT_A_LOOK = 40
"""stacks in a list of which it is said when they are ready"""


@dataclass(frozen=True)
class StackReady:
    """job: None where nothing can be asked; answer: None while it is worked out; lacks: what must be told first, a sentence."""

    job: Job | None
    answer: StackAnswer | None
    lacks: str = ""


def ready_of(shop: Shop, story: StackStory) -> StackReady:
    """When a stack in the yard is ready."""
    pieces = [one for one in story.lying if not one.kilned]
    if story.load or not pieces:
        return StackReady(None, None)
    if _chamber_unread(story):
        return StackReady(None, None, UNREAD)
    job = ask(shop, STACK, as_bytes(stack_asked(shop, story)))
    content = answer_of(shop, job)
    return StackReady(job, None if content is None else read_back(content, StackAnswer))


def answered(shop: Shop, ask_for: int) -> dict[str, StackAnswer]:
    """What is known already of stacks by their ids, the newest AT_A_LOOK of them; so many of the others are asked."""
    newest = drying_stacks(shop.book)[-AT_A_LOOK:]
    read = read_of(shop.book, [one.piece.id for story in newest for one in story.lying])
    settled, spring, found = shop.settled(), spring_after(shop.today()), {}
    for story in reversed(newest):
        if all(one.kilned for one in story.lying) or _chamber_unread(story):
            continue
        given = as_bytes(_asked(story, read, settled, spring))
        job = asked_already(shop, STACK, given)
        if job is None and ask_for > 0:
            job, ask_for = ask(shop, STACK, given), ask_for - 1
        content = None if job is None else answer_of(shop, job)
        if content is not None:
            found[story.id] = read_back(content, StackAnswer)
    return found


def stack_asked(shop: Shop, story: StackStory) -> StackAsked:
    """What is known of a stack; the same as long as nothing is told of it and no other spring comes next."""
    return _asked(story, read_of(shop.book, [one.piece.id for one in story.lying]), shop.settled(), spring_after(shop.today()))


def _asked(story: StackStory, read: dict[str, ReadOf], settled: dict[str, str], spring: date) -> StackAsked:
    unit = unit_of(settled)
    pieces = tuple(_piece(story, one, read.get(one.piece.id, NOTHING), unit) for one in story.lying if not one.kilned)
    chamber = story.chamber if story.shelter in (Shelter.SUN, Shelter.DEHUMIDIFIER) else None
    weather = squeezed(settled.get(Setting.WEATHER, "")) if story.shelter != Shelter.DEHUMIDIFIER else ""
    told = (settled.get(Setting.PLACE, ""), story.shelter, story.wanted_mc)
    return StackAsked(
        *told,
        unit == "mm",
        settled.get(Setting.METER, ""),
        spring.isoformat(),
        chamber,
        weather,
        pieces,
        story.sticker_m,
        story.wide_m,
    )


def _chamber_unread(story: StackStory) -> bool:
    """Whether it stands in a chamber with a dehumidifier of which nothing was read: then nothing can be said."""
    return story.shelter == Shelter.DEHUMIDIFIER and not (story.chamber and story.chamber.of_dehumidifier)


def stands_since(story: StackStory) -> date:
    """The day a stack came on stickers."""
    return date.fromisoformat(story.since) if story.since else day_here(story.built_at)


def _since(story: StackStory, one: OnStack) -> date:
    """The day a piece came on stickers: the stack's, unless it was laid on another one before, or on this one later."""
    first = day_here(one.first_at)
    return stands_since(story) if first == day_here(story.built_at) else first


def _piece(story: StackStory, one: OnStack, read: ReadOf, unit: str) -> StackPiece:
    piece = one.piece
    weights = tuple(_weights(read, unit))
    moistures = tuple(moisture_asked(each) for each in read.moistures)
    told = (piece.name, piece.species, piece.thickness_m, piece.length_m, piece.mean_width_m, _since(story, one).isoformat())
    before_cut = len(read.weights) - len(read.weights_now)
    return StackPiece(*told, weights, moistures, _sample(read, unit), before_cut, piece.known_sides, one.layer)


def _weights(read: ReadOf, unit: str) -> Iterator[WeightAsked]:
    for one in read.weights_now:
        usual = VEHICLE_MARK_KG if one.read_with == Scales.VEHICLE else MARK_KG[unit]
        day = day_here(one.told.happened_at)
        yield WeightAsked(day.isoformat(), one.mass_kg, one.ends, usual if one.mark_kg is None else one.mark_kg)


def moisture_asked(one: MoistureTold) -> MoistureAsked:
    """A moisture of the book, as it is asked about."""
    told = (one.mc, one.read_by, one.depth, one.wood_c, one.set_to, one.corrected)
    return MoistureAsked(day_here(one.told.happened_at).isoformat(), *told)


def _sample(read: ReadOf, unit: str) -> SampleAsked | None:
    one = read.sample
    if one is None:
        return None
    mark = MARK_KG[unit] if one.mark_kg is None else one.mark_kg
    return SampleAsked(day_here(one.told.happened_at).isoformat(), one.mass_kg, one.wet_kg, one.dry_kg, mark)
