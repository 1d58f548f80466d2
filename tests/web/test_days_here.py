"""Days near midnight: what is typed and read is the day here; the book reads the same anew wherever it is."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator

import pytest

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.examining import examine
from waney.yard.book.selling_seen import promises, sales
from waney.yard.here import clock_here, day_here
from waney.yard.services.hand import Hand

from .conftest import Clock, Person

WEST, EAST = "WEST+7", "EAST-9"  # as POSIX writes zones: seven hours behind UTC, nine before


@pytest.fixture
def zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    yield monkeypatch
    monkeypatch.undo()
    time.tzset()


def stand(zone: pytest.MonkeyPatch, where: str) -> None:
    zone.setenv("TZ", where)
    time.tzset()


@pytest.mark.parametrize(("where", "day", "clock"), [(WEST, "2026-05-04", "20:30"), (EAST, "2026-05-05", "12:30")])
def test_a_moment_has_its_day_and_time_here(zone: pytest.MonkeyPatch, where: str, day: str, clock: str) -> None:
    stand(zone, where)
    assert (day_here("2026-05-05T03:30:00+00:00").isoformat(), clock_here("2026-05-05T03:30:00+00:00")) == (day, f"{day} {clock}")


def test_an_evenings_sale_and_hold_are_of_that_day(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, zone: pytest.MonkeyPatch
) -> None:
    stand(zone, WEST)  # the clock of these tests begins at 8:00 in UTC: 1:00 here on 4 May
    kept, sold = shop.new_id(), shop.new_id()
    for piece in (kept, sold):
        hand.write(PieceCounted(piece, "black walnut"))
    hold, other = ({"do": "hold", "kept_for": name, "until": "2026-05-04"} for name in ("Ann", "Bo"))
    assert owner.send(f"/pieces/{kept}/sale", hold).status_code == 303
    clock.wait(19 * 3600)  # 20:00 here, and 5 May in UTC
    page = owner.get(f"/pieces/{kept}/sale").text
    assert "held for Ann until 4 May 2026" in re.sub("<[^>]*>", "", page)
    assert 'value="2026-05-11"' in owner.get(f"/pieces/{sold}/sale").text  # a hold of a week begins today
    assert owner.send(f"/pieces/{kept}/sale", other).status_code == 422
    assert owner.send(f"/pieces/{sold}/sale", {"do": "sell", "paid": "400 USD"}).status_code == 303
    (sale,) = sales(shop.book)
    assert sale.on == "2026-05-04" and "sold on 4 May 2026" in owner.get(f"/pieces/{sold}/sale").text
    assert "2026-05-04 20:00, Ada" in owner.get(f"/pieces/{sold}").text
    clock.wait(5 * 3600)  # 1:00 here, 5 May: it ran out
    assert "to nobody" in owner.get(f"/pieces/{kept}/sale").text
    assert owner.send(f"/pieces/{kept}/sale", {**other, "until": "2026-05-06"}).status_code == 303
    stand(zone, EAST)  # the same book read anew elsewhere
    assert examine(shop.book).unsound == () and promises(shop.book, "2026-05-06")[kept].called == "Bo"
