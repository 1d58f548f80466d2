"""Back from a kiln and not read since: what was read before says nothing of a piece; what is read on the way back does."""

from __future__ import annotations

import csv
import io
import re
from html import unescape

import pytest

from waney.web.asked.kinds import OF_STACK, ROOM, SEASONS
from waney.web.asked.packing import read_back
from waney.web.asked.paper import StackPaperAsked
from waney.web.asked.room import RoomAnswer
from waney.web.asked.seasons import SeasonsAnswer
from waney.web.shop import Shop
from waney.yard.acts.kilns import BroughtBack, HandedPiece, LoadHandedOver, LoadTakenBack
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.book import jobs
from waney.yard.book.selling_seen import sales
from waney.yard.services.hand import Hand
from waney.yard.services.kilns import ReadAtHome, hand_over, take_back
from waney.yard.services.pieces import weigh
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, load_kiln, read_moisture, unload_kiln

from .at_work import worked
from .conftest import Person
from .oak import Wood, name_of, wood_of
from .test_shelf import names_on, words


@pytest.fixture
def wood(hand: Hand, shop: Shop) -> Wood:
    """The board was weighed wet and read before any kiln."""
    settle_for_shop(hand, Setting.UNITS, "mm")
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    found = wood_of(hand, shop)
    weigh(hand, f"piece:{found.board}", 11.0)
    for depth in (Depth.SHELL, Depth.CORE):
        read_moisture(hand, MoistureRead(f"piece:{found.board}", 0.13, ReadBy.OVEN, depth))
    return found


def through_our_kiln(hand: Hand, piece: str) -> None:
    unload_kiln(hand, load_kiln(hand, "shed kiln", (), (piece,)).id)


def through_a_kiln(hand: Hand, piece: str, read: ReadAtHome | None = None) -> None:
    """Someone else's; read: as it came back."""
    load = hand.new_id()
    hand_over(hand, LoadHandedOver(load, "plate kiln", "Bo", (HandedPiece(piece),)))
    take_back(hand, LoadTakenBack(load, (BroughtBack(piece),)), [] if read is None else [read])


def packed(owner: Person, shop: Shop, piece: str) -> str:
    """Its packing list, once it is sold."""
    owner.send(f"/pieces/{piece}/sale", {"do": "sell", "paid": "90"})
    [sale] = sales(shop.book)
    return words(owner.get(f"/sales/{sale.id}/packing.pdf").content)


def test_a_packing_list_gives_the_weight_as_a_range_again(owner: Person, shop: Shop, hand: Hand, wood: Wood) -> None:
    through_a_kiln(hand, wood.board)
    said = packed(owner, shop, wood.board)
    assert "weighed 4" not in said and "11 kg" not in said and "moisture not read: dry to green" in said
    found = re.search(r"All together (\d+) kg to (\d+) kg", said)
    assert found is not None and int(found[1]) < int(found[2])


def test_a_packing_list_has_the_weight_that_was_taken_on_the_way_back(owner: Person, shop: Shop, hand: Hand, wood: Wood) -> None:
    through_a_kiln(hand, wood.board, ReadAtHome(wood.board, 6.2))
    said = packed(owner, shop, wood.board)
    assert "weighed 4 May 2026" in said and "11 kg" not in said and re.search(r"\b[67] kg", said)


def test_a_piece_is_not_known_to_be_ready_for_its_room_until_it_is_read(
    owner: Person, shop: Shop, hand: Hand, wood: Wood
) -> None:
    page = f"/pieces/{wood.board}/room"
    assert "being worked out" in owner.get(page).text
    worked(shop, ROOM)
    through_our_kiln(hand, wood.board)
    said = owner.get(page).text
    assert "no moisture was read of it, or none since it was in a kiln" in said and "core read" not in said
    through_a_kiln(hand, wood.board, ReadAtHome(wood.board, None, 0.07, 0.075, ReadBy.OVEN))
    owner.get(page)
    answer = read_back(worked(shop, ROOM), RoomAnswer)
    assert answer.verdict in unescape(owner.get(page).text) and not answer.verdict.startswith("Not ready")


def test_its_width_was_taken_at_a_moisture_that_is_not_known(owner: Person, shop: Shop, hand: Hand, wood: Wood) -> None:
    page = f"/pieces/{wood.board}/seasons"
    through_our_kiln(hand, wood.board)
    assert "how moist it was when its width was taken" in owner.get(page).text
    read_moisture(hand, MoistureRead(f"piece:{wood.board}", 0.08, ReadBy.OVEN))
    assert "stands in line" in owner.get(page).text
    assert read_back(worked(shop, SEASONS), SeasonsAnswer).width.endswith("at 8 % moisture")


def test_it_is_not_for_sale_as_dry_nor_listed_or_quoted_by_what_was_read_before(
    owner: Person, shop: Shop, hand: Hand, wood: Wood
) -> None:
    name = name_of(shop, wood.board)

    def row() -> tuple[str, ...]:
        """Weight, shell and core of the list."""
        text = owner.get("/pieces.csv").content.decode("utf-8-sig")
        told = next(one for one in csv.DictReader(io.StringIO(text, newline="")) if one["name"] == name)
        return tuple(
            told[head] for head in ("weight [kg]", *(f"moisture of {part} [% of dry mass]" for part in ("shell", "core")))
        )

    told = {"piece": wood.board, f"cents-{wood.board}": "80", "buyer": "Ada Quist", "until": "2026-05-18", "do": "write"}
    quote = f"{owner.send('/quotes', told).headers['location']}/quote.pdf"

    assert names_on(owner.get("/for-sale?moisture=15").text) == [name] and row() == ("11.0", "13.0", "13.0")
    assert "core 13 %" in words(owner.get(quote).content)
    through_our_kiln(hand, wood.board)
    assert names_on(owner.get("/for-sale?moisture=15").text) == [] and row() == ("", "", "")
    said = words(owner.get(quote).content)
    assert "13 %" not in said and "not read" in said
    through_a_kiln(hand, wood.board, ReadAtHome(wood.board, 6.2, 0.07, 0.08, ReadBy.OVEN))
    assert names_on(owner.get("/for-sale?moisture=15").text) == [name] and row() == ("6.2", "7.0", "8.0")


def test_to_another_kiln_it_goes_as_neither_weighed_nor_read(owner: Person, hand: Hand, wood: Wood) -> None:
    again = hand.new_id()
    through_our_kiln(hand, wood.board)
    hand_over(hand, LoadHandedOver(again, "plate kiln", "Bo", (HandedPiece(wood.board),)))
    weigh(hand, f"piece:{wood.board}", 6.2)  # after it was handed over: not on its papers
    said = words(owner.get(f"/loads/{again}/hand-over.pdf").content)
    assert "oven-dry" not in said and not re.search(r"\b(11|6\.2)\b", said)
    assert "moisture not read" in owner.get(f"/loads/{again}").text


def test_under_a_stack_a_piece_counts_by_its_wood_until_it_is_weighed(owner: Person, shop: Shop, hand: Hand, wood: Wood) -> None:
    stack = hand.new_id()
    build_stack(hand, StackBuilt(stack, "North", "", ((wood.board,),)))

    def counted() -> float | None:
        while jobs.take(shop.book, (OF_STACK,), "here", shop.now()) is not None:
            pass
        owner.get(f"/stacks/{stack}/sheet.pdf")
        job = jobs.take(shop.book, (OF_STACK,), "here", shop.now())
        assert job is not None
        return read_back(shop.book.files.read(job.input), StackPaperAsked).pieces[0].kg

    through_our_kiln(hand, wood.board)
    assert counted() is None
    weigh(hand, f"piece:{wood.board}", 6.2)
    assert counted() == 6.2
