"""The demo's invented year: sound, the same every time, of every kind of act, in no place that there is."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path

import pytest
from sqlalchemy import select

from waney.cli.demo_year.story import slices, story
from waney.cli.demo_year.year import write_year
from waney.figures.tables import table
from waney.papers.words import INCHES
from waney.wood.species import species
from waney.yard.acts.every import ACTS
from waney.yard.acts.mill import CameOff
from waney.yard.book import truth
from waney.yard.book.around import people, spots
from waney.yard.book.book import Book, make_book
from waney.yard.book.days import latest_days, open_days
from waney.yard.book.engine import in_folder, reading
from waney.yard.book.examining import examine
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import open_tasks, pieces, plan_file, settings
from waney.yard.book.offered import trees
from waney.yard.book.truth import Event, event_of

from .calling import DEMO, run

TODAY = date(2026, 5, 4)
NOW = datetime.fromisoformat("2026-05-04T08:00:00+00:00")
FILES = {"mill": "mill", "wants": "wants", "before": "wants-before"} | {
    name: name for name in ("costs", "kilns", "prices", "terms")
}


def written(folder: Path) -> Book:
    book = make_book(in_folder(folder), NOW)
    write_year(book, TODAY, {role: (DEMO / f"{file}.toml").read_text(encoding="utf-8") for role, file in FILES.items()}, INCHES)
    return book


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    book = written(tmp_path_factory.mktemp("year"))
    yield book
    book.close()


def log_events(book: Book, log: str) -> list[Event]:
    with reading(book.engine) as at:
        found = at.execute(select(truth.event).where(truth.event.c.body.contains(log))).mappings()
        return [event_of(row) for row in found]


def rows(book: Book) -> list[tuple[object, ...]]:
    with reading(book.engine) as at:
        return [tuple(row) for row in at.execute(select(truth.event).order_by(truth.event.c.seq))]


def hashed(book: Book) -> str:
    return sha256(json.dumps(rows(book), default=str).encode()).hexdigest()


def test_the_year_is_sound(year: Book) -> None:
    found = examine(year)
    assert (found.unsound, found.remarks, found.waiting) == ((), (), 0) and found.files == len(set(year.files.names()))


@pytest.mark.long
def test_the_same_day_and_sheets_give_the_same_book(year: Book, tmp_path: Path) -> None:
    again = written(tmp_path / "again")
    assert hashed(again) == hashed(year) and sorted(again.files.names()) == sorted(year.files.names())
    again.close()


def test_every_kind_of_act_is_in_it(year: Book) -> None:
    with reading(year.engine) as at:
        kinds = Counter(at.execute(select(truth.event.c.kind)).scalars())
    assert set(kinds) == set(ACTS) - {"person-forgotten"}  # nobody leaves the yard in its first year


def test_it_holds_what_a_year_of_a_small_yard_holds(year: Book) -> None:
    assert len(trees(year)) >= 25 and {tree.reply for tree in trees(year)} == {"", "fetch", "only if free", "leave"}
    assert len(logs(year)) >= 30 and len(latest_days(year, 50)) == 12 and len(spots(year)) == 15
    assert len(pieces(year)) >= 230 and len(people(year)) == 3
    assert {log.ended for log in logs(year)} == {"", "all sawn", "sold as a log", "firewood"}
    assert set(settings(year)) == {"yard", "units", "place", "mill", "wants", "costs", "kilns", "prices", "terms"}


def test_a_day_is_open_with_a_log_that_is_sawn_by_half(year: Book) -> None:
    [day] = open_days(year)
    [log] = [log for log in logs(year, in_yard=True) if log.pieces]
    assert day.pieces == log.pieces > 0 and log.chosen


def test_something_is_left_to_be_put_right(year: Book) -> None:
    kinds = Counter(task.kind for task in open_tasks(year))
    assert kinds == {"two facts that cannot both be so": 1, "write the tag again": 2}


def test_its_plans_are_real_and_pieces_that_came_off_by_them_know_their_place(year: Book, tmp_path: Path) -> None:
    planned = [log for log in logs(year) if log.plans]
    assert len(planned) >= 3
    for log in planned:
        (tmp_path / "plan.json").write_bytes(plan_file(year, log.plans[0]))
        assert run("replay", str(tmp_path / "plan.json"))[0] == 0
        came = [event.act for event in log_events(year, log.id) if isinstance(event.act, CameOff)]
        assert all(len(act.at) == 12 and act.cut for act in came) and (came or not log.pieces)


def test_nothing_happens_before_something_it_follows_or_after_the_day_it_ends(year: Book) -> None:
    with reading(year.engine) as at:
        told = [str(each) for each in at.execute(select(truth.event.c.recorded_at).order_by(truth.event.c.seq)).scalars()]
    assert told == sorted(told) and told[-1] < TODAY.isoformat()


def test_every_wood_is_one_that_the_tables_know() -> None:
    told = story()
    woods = {log.wood for log in told.logs} | {one.wood for one in told.found} | {offer.told.wood for offer in told.offers} - {""}
    assert all(species(wood).common for wood in woods)


def test_made_up_slices_stay_in_their_log() -> None:
    for log in story().logs:
        for one in slices(log):
            assert one.height_m > 0 and one.height_m + one.thickness_m <= log.read[1] * 0.0254 + 1e-9, log.code
            assert max(one.widths_m) <= log.read[1] * 0.0254 + 0.0005, "they are written to the millimetre"


def test_no_real_place_is_in_it_but_the_station_whose_weather_it_borrows() -> None:
    text = (DEMO / "year.toml").read_text(encoding="utf-8").replace(story().place, "")
    cities = {row["city"].split(",")[0].title() for row in table("climate_us")}
    assert not [city for city in cities if re.search(rf"\b{re.escape(city)}\b", text)]


def test_people_have_a_first_name_and_nothing_else(year: Book) -> None:
    assert all(re.fullmatch("[A-Z][a-z]+", person.called) for person in people(year))
