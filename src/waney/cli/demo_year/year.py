"""The year, written into a new book through the services: the same day and the same sheets give the same book."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from waney.cli.demo_year import coming, custom, drying, later, sawing_days, selling
from waney.cli.demo_year.diary import Diary
from waney.cli.demo_year.planned import log_text, planned
from waney.cli.demo_year.story import story
from waney.cli.demo_year.yard import Yard
from waney.papers.words import Shop
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.services.pieces import add_person, name_spot
from waney.yard.services.settings import settle_for_shop

BEGAN, OTHER_WANTS = 364, 6
"""days ago"""


def write_year(book: Book, today: date, sheets: Mapping[str, str], shop: Shop) -> None:
    """Write the year that ended yesterday. sheets: mill, wants, costs, kilns, and before: what was wanted
    through most of the year."""
    diary, told = Diary(book, today), story()
    before = {"mill": sheets["mill"], "wants": sheets["before"]}
    texts = {log.code: log_text(log, diary.day(log.came[1]), log.of or "the next valley") for log in told.logs if log.planned}
    plans = {code: planned({"log": text, **before}, shop) for code, text in texts.items()}
    nobody = diary.hand("")
    diary.on(BEGAN, 8, lambda: None)
    diary.live()
    ida, tom, ruth = (diary.hand(add_person(nobody, called).id) for called in told.people)
    yard = Yard(diary, told, ida, tom, ruth, plans)
    _settle(yard, sheets, shop)
    for called, within in told.spots:
        yard.spots[called] = name_spot(ida, called, yard.spots.get(within, "")).id
    for chapter in (coming, sawing_days, drying, later, selling, custom):
        chapter.enter(yard)
    diary.on(OTHER_WANTS, 20, lambda: settle_for_shop(ida, Setting.WANTS, sheets["wants"]))
    diary.live()


def _settle(yard: Yard, sheets: Mapping[str, str], shop: Shop) -> None:
    units = "mm" if shop.sizes.metric else "in"
    told = {Setting.YARD: "Alder Hollow", Setting.UNITS: units, Setting.PLACE: yard.story.place}
    for what, text in {
        **told,
        Setting.MILL: sheets["mill"],
        Setting.WANTS: sheets["before"],
        Setting.COSTS: sheets["costs"],
        Setting.KILNS: sheets["kilns"],
        Setting.PRICES: sheets["prices"],
        Setting.TERMS: sheets["terms"],
    }.items():
        settle_for_shop(yard.ida, what, text)
