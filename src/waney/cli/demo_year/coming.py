"""How wood came: trees offered and answered, stems felled, logs booked in, planned, sold, photographed."""

from __future__ import annotations

from functools import partial

from waney.cli.demo_year.drawn import end_of_log, standing_tree
from waney.cli.demo_year.planned import log_text
from waney.cli.demo_year.story import FOOT_M, INCH_M, LogTold, Offer
from waney.cli.demo_year.yard import Yard
from waney.units.way import MILE
from waney.yard.acts.logs import LogArrived, LogEnd
from waney.yard.acts.offers import ReadWith, Reply, StemFelled, TreeOffered, TreeToldAgain
from waney.yard.book.looking import version_of
from waney.yard.services.logs import choose_plan, end_log, keep_plan, seal_ends
from waney.yard.services.offers import answer_offer, fell_stem, note_offer, tell_offer_again
from waney.yard.services.pieces import file_photo, keep_photo, write_note

ANSWERED_AFTER, FELLED_BEFORE = 2, 1
"""days"""
PHOTO_LATER, FILED_LATER = ("BH", 8), 7
"""a photo that came in a heap and was filed on a later day"""
TAPED_LATER = "oak by the ford"
"""somebody went there with a tape the day after it was offered"""
SEALED = ("black cherry", "black walnut")
"""woods whose ends the yard seals on the day they come"""


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    for offer in yard.story.offers:
        yard.diary.on(offer.ago, 9, partial(_offered, yard, offer))
    for log in yard.story.logs:
        yard.diary.on(log.came[0], 11, partial(_came, yard, log))
        if log.gone is not None:
            yard.diary.on(log.gone[0], 10, partial(_gone, yard, log))


def _offered(yard: Yard, offer: Offer) -> None:
    told, tree = offer.told, yard.diary.new_id()
    girth, small = (round(inches * INCH_M, 4) if inches else None for inches in (told.girth_in, told.small_end_in))
    length = round(told.length_ft * FOOT_M, 4) if told.length_ft else None
    way, hours = MILE.in_si(told.way_miles) or None, told.hours or None
    note_offer(
        yard.ruth,
        TreeOffered(tree, told.wood, girth, small, length, told.asked * 100, told.where, told.words, way_m=way, hours=hours),
    )
    if offer.photo:
        keep_photo(yard.ruth, standing_tree(told.where), f"tree:{tree}")
    if offer.key == TAPED_LATER and girth is not None:
        taped = TreeToldAgain(tree, girth_m=round(1.03 * girth, 4), how=ReadWith.TAPE)
        yard.diary.on(offer.ago - 1, 12, lambda: tell_offer_again(yard.tom, taped))
    if offer.answer is not None:
        yard.diary.on(max(offer.ago - ANSWERED_AFTER, 1), 18, partial(_answered, yard, offer, tree))


def _answered(yard: Yard, offer: Offer, tree: str) -> None:
    answer = offer.answer
    assert answer is not None
    money = tuple(100 * each for each in answer.money)
    answer_offer(yard.ida, tree, Reply(answer.reply), version_of(yard.diary.book, f"tree:{tree}"), answer.reason, money)
    logs = [log for log in yard.story.logs if log.of == offer.key and offer.key]
    if logs:
        yard.diary.on(logs[0].came[1], 8, partial(_felled, yard, offer, tree))


def _felled(yard: Yard, offer: Offer, tree: str) -> None:
    stem = yard.stems[offer.key] = yard.diary.new_id()
    logs = [log for log in yard.story.logs if log.of == offer.key]
    length = sum(log.read[0] for log in logs) + 0.5
    day = yard.diary.now.date().isoformat()
    fell_stem(yard.tom, StemFelled(stem, tree, offer.told.wood, round(length * FOOT_M, 4), day))


def _came(yard: Yard, log: LogTold) -> None:
    ident, felled = yard.diary.new_id(), yard.diary.day(log.came[1])
    yard.logs[log.code] = ident
    stem = yard.stems.get(log.of, "")
    place = round((log.stem or 0.0) * FOOT_M, 4) if stem else None
    spot = yard.spots[yard.story.log_spot]
    yard.tom.write(LogArrived(ident, sheet_of(yard, log), log.wood, log.code, felled, spot, stem=stem, from_butt_m=place))
    if log.wood in SEALED:
        seal_ends(yard.tom, ident, yard.diary.now.date().isoformat())
    if log.note:
        write_note(yard.tom, f"log:{ident}", log.note)
    if log.photo:
        _photographed(yard, log)
    if log.planned:
        yard.diary.on(max(log.came[0] - 2, 1), 19, partial(_planned, yard, log))


def sheet_of(yard: Yard, log: LogTold, metal: bool = False) -> str:
    """The sheet of a log of the story."""
    return log_text(log, yard.diary.day(log.came[1]), log.of or "the next valley", metal)


def _photographed(yard: Yard, log: LogTold) -> None:
    code, ago = PHOTO_LATER
    if log.code != code:
        keep_photo(yard.tom, end_of_log(log.code), f"log:{yard.logs[log.code]}")
        return
    photo = keep_photo(yard.tom, end_of_log(code), "", yard.diary.now.isoformat(), wet=True).id
    yard.diary.on(ago, 12, lambda: _filed(yard, photo, code))


def _filed(yard: Yard, photo: str, code: str) -> None:
    """Two people say different things of one photo: a task that is left to whoever tries the demo."""
    file_photo(yard.ida, photo, f"log:{yard.logs[code]}")
    yard.diary.on(FILED_LATER, 9, lambda: file_photo(yard.ruth, photo, f"log:{yard.logs['BG']}"))


def _planned(yard: Yard, log: LogTold) -> None:
    ident = yard.logs[log.code]
    plan = yard.kept_plans[log.code] = keep_plan(yard.ida, ident, 1, yard.plans[log.code].text).id
    choose_plan(yard.ida, ident, plan, version_of(yard.diary.book, f"log:{ident}"))


def _gone(yard: Yard, log: LogTold) -> None:
    assert log.gone is not None
    _, how, words = log.gone
    end_log(yard.ida, yard.logs[log.code], LogEnd(how), words)
