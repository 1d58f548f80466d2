"""The app over a book in PostgreSQL: a sawing day through its forms, and every page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from tests.yard.conftest import new_schema

from waney.web.shop import Shop
from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.days import came_off, open_days
from waney.yard.book.engine import by_address, reading
from waney.yard.book.examining import examine
from waney.yard.book.logs_seen import logs
from waney.yard.book.replaying import standing, standing_anew

from .conftest import NOW, Person
from .pressing import opened
from .walks.conftest import Program, Yard
from .walks.test_reach import addresses, one_of_each

PAGE_OF_NOTHING = "/no-such-page"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """In place of the one in a folder."""
    address, drop = new_schema()
    (tmp_path / "yard").mkdir()
    lies = by_address(address, tmp_path / "yard" / "files")
    make_book(lies, NOW).close()
    found = open_book(lies)
    yield found
    found.close()
    drop()


def test_on_postgresql_a_log_is_sawn_through_the_forms_of_the_pages(owner: Person, shop: Shop) -> None:
    """A log is typed in, the day begins, pieces come off, one is taken back, one is found by its name, the day is over."""
    told = {"species": "black walnut", "length": "8'", "top_diameter": "14"}
    assert owner.send("/logs/new", told).status_code == 303
    [log] = logs(shop.book)
    mill = owner.send("/day/begin", {"log": log.id}).headers["location"]
    for words in ("2 in", "1 1/2 in", "1 in", "Undo"):
        assert opened(owner, mill).press(owner, words).status_code == 200
    [day] = open_days(shop.book)
    first, second = came_off(shop.book, day.id)
    assert [first.thickness_m, second.thickness_m] == pytest.approx([0.0508, 0.0381])
    found = owner.get(f"/pieces?words={second.name}").text
    assert second.name in found and first.name not in found
    assert owner.send(f"/day/{day.id}/close").status_code == 303 and open_days(shop.book) == ()
    with reading(shop.book.engine) as at:
        assert standing(at) == standing_anew(at)
    assert examine(shop.book).unsound == ()


def test_on_postgresql_every_page_is_shown(owner: Person, shop: Shop, tmp_path: Path) -> None:
    yard = Yard(tmp_path / "yard", shop.book, shop.hand(""), cast(Program, None))
    made = one_of_each(yard)
    mill = owner.send("/day/begin", {"log": made["log"]}).headers["location"]
    found = re.fullmatch(r"/day/([^/]+)/at/.*", mill)
    assert found is not None
    made["day"] = found[1]
    shown = {path: owner.get(path).status_code for path in addresses(made) if path != PAGE_OF_NOTHING}
    assert {path: status for path, status in shown.items() if status != 200} == {} and len(shown) > 50
