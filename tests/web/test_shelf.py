"""Pieces for sale: found by what a buyer asks, sold in sets, on paper, as files; nothing of the shop's own for a buyer to see."""

from __future__ import annotations

import csv
import io
import re
from zipfile import ZipFile

import pypdf
import pytest
from PIL import Image

from waney.web.shop import Shop
from waney.yard.acts.people_places import PhotoFiled
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.around import buyers
from waney.yard.book.selling_seen import holds, sales
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import keep_photo, weigh
from waney.yard.services.selling import price_piece
from waney.yard.services.settings import settle_for_shop

from .conftest import Person
from .oak import Wood, name_of, our_own, wood_of


@pytest.fixture
def wood(hand: Hand, shop: Shop) -> Wood:
    return wood_of(hand, shop)


def names_on(page: str) -> list[str]:
    return re.findall(r'<h2><a href="/pieces/[^"]+/sale">([^<]+)</a></h2>', page)


def test_pieces_are_found_by_wood_size_moisture_set_and_whether_they_are_free(
    owner: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    one, two, three, _ = (name_of(shop, each) for each in wood.flitches)
    board = name_of(shop, wood.board)
    assert sorted(names_on(owner.get("/for-sale").text)) == sorted([one, two, three, board]), "what has no price is not for sale"
    hand.write(MoistureRead(f"piece:{wood.flitches[0]}", 0.08, ReadBy.PINS, Depth.SHELL))
    hand.write(MoistureRead(f"piece:{wood.flitches[0]}", 0.14, ReadBy.PINS, Depth.CORE))
    hand.write(MoistureRead(f"piece:{wood.board}", 0.09, ReadBy.OVEN))
    owner.send(f"/pieces/{wood.flitches[0]}/sale", {"do": "hold", "kept_for": "Ann", "until": "2026-05-11"})
    for question, found in {
        "wood=walnut_black": [board],
        "thinnest=1+1/2": [one, two, three],
        "thickest=1+1/2": [board],
        "width=15": [one, two],
        "length=7+ft": [one, two, three],
        "moisture=15": [one, board],
        "moisture=10": [board],
        "set=in+a+set": [],
        "free=yes": [two, three, board],
        f"log={wood.log}&free=yes": [two, three],
        "wood=walnut_black&width=20": [],
    }.items():
        page = owner.get(f"/for-sale?{question}").text
        assert sorted(names_on(page)) == sorted(found), question
    wrong = owner.get("/for-sale?width=wide&moisture=damp")
    assert wrong.status_code == 422 and 'id="width-wrong"' in wrong.text and 'id="moisture-wrong"' in wrong.text
    page = owner.get("/for-sale").text
    assert "shell 8 %, core 14 %; pin meter, 4 May 2026" in page and "Held until 11 May 2026" in page


def test_neighbours_are_suggested_kept_together_and_sold_whole_to_the_cent(owner: Person, shop: Shop, wood: Wood) -> None:
    one, two = (name_of(shop, each) for each in wood.flitches[:2])
    first = f"/pieces/{wood.flitches[0]}/sale"
    for page in ("/for-sale", first, f"/pieces/{wood.flitches[0]}"):
        seen = owner.get(page).text
        assert "a pair, next to each other in the boule" in seen and two in seen, page
    assert "$780.00" in owner.get("/for-sale").text
    other = owner.send(first, {"do": "together", "piece": [wood.flitches[0], wood.flitches[2]]})
    assert other.status_code == 422 and "look again" in other.text
    assert owner.send(first, {"do": "together", "piece": list(wood.flitches[:2])}).status_code == 303
    seen = owner.get(first).text
    assert "all 2 of it, for one price" in seen and "$780.00 before tax" in seen and "set stays whole" in seen
    assert sorted(names_on(owner.get("/for-sale?set=in+a+set").text)) == sorted([one, two])
    alone = owner.send(first, {"do": "sell", "paid": "400"})
    assert alone.status_code == 422 and two in alone.text, "a set is not parted by accident"
    assert owner.send(first, {"do": "sell", "of_set": "whole", "paid": "700.01"}).status_code == 303
    [sale] = sales(shop.book)
    assert sorted(part.cents for part in sale.pieces) == [341_03, 358_98], "700.01 as 380 to 400, by hand"
    assert {part.piece for part in sale.pieces} == set(wood.flitches[:2])


def test_a_set_is_held_whole_or_broken_knowingly(owner: Person, shop: Shop, wood: Wood) -> None:
    first = f"/pieces/{wood.flitches[0]}/sale"
    owner.send(first, {"do": "together", "piece": list(wood.flitches[:2])})
    owner.send(first, {"do": "hold", "of_set": "whole", "kept_for": "Ann", "until": "2026-05-11"})
    assert [set(hold.pieces) for hold in holds(shop.book)] == [set(wood.flitches[:2])]
    owner.send(first, {"do": "release"})
    assert owner.send(first, {"do": "sell", "of_set": "alone", "paid": "390"}).status_code == 303
    assert [[part.piece for part in sale.pieces] for sale in sales(shop.book)] == [[wood.flitches[0]]]


def test_a_buyer_has_a_page_with_what_is_left_of_their_logs_and_can_be_forgotten(
    owner: Person, helper: Person, anybody: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    owner.send(f"/pieces/{wood.flitches[0]}/sale", {"do": "sell", "buyer": "Ann Voss", "paid": "400", "by": "owed"})
    owner.send(f"/pieces/{wood.board}/sale", {"do": "hold", "kept_for": "Ann Voss", "until": "2026-05-11", "deposit": "20"})
    [ann] = buyers(shop.book)
    hand.write(WishLeft(shop.new_id(), ann.id, "2026-12-01", "white oak", most_thickness_m=0.06, width_m=0.45))
    page = f"/buyers/{ann.id}"
    assert f'href="{page}"' in owner.get(f"/pieces/{wood.flitches[0]}/sale").text, "one tap away"
    seen = owner.get(page).text
    for each in (*wood.flitches, wood.board):
        assert f'href="/pieces/{each}/sale"' in seen
    assert (
        "$424.00 still owed" in re.sub("<[^>]*>", "", seen)
        and "deposit $20.00" in seen
        and "Fits:" in seen
        and "thick at most" in seen
    )
    assert "Also left of log" in owner.get(f"/pieces/{wood.flitches[0]}/sale").text
    assert "Ann Voss" not in anybody.get(page).text + anybody.get("/buyers").text
    assert "Ann Voss: 1 piece" in re.sub("<[^>]*>", "", owner.get("/buyers").text)
    assert helper.send(page).status_code == 403 and "Forget this person" not in helper.get(page).text
    assert owner.send(page).status_code == 303
    assert owner.get(page).status_code == 404 and buyers(shop.book) == ()
    assert [sale.pieces_cents for sale in sales(shop.book)] == [400_00], "the sums stay"


def words(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def test_receipt_packing_list_and_labels_say_what_is_sold_and_what_it_weighs(
    owner: Person, anybody: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    settle_for_shop(hand, Setting.UNITS, "mm")
    first, second = wood.flitches[:2]
    owner.send(f"/pieces/{first}/sale", {"do": "together", "piece": [first, second]})
    weigh(hand, f"piece:{second}", 41.5)
    labels = words(owner.get(f"/for-sale/labels.pdf?log={wood.log}").content)
    assert all(
        each in labels for each in ("$400.00", "$380.00", "white oak", "51 mm × 508 mm at the narrowest × 2440 mm", "before tax")
    )
    assert "$90.00" not in labels and "$77.31" not in labels
    assert owner.get("/for-sale/labels.pdf?wood=elm").status_code == 400
    assert "is not a number from 0" in owner.get("/for-sale/labels.pdf?used=1.5").text
    owner.send(f"/pieces/{first}/sale", {"do": "sell", "of_set": "whole", "buyer": "Ann Voss", "paid": "780", "by": "card"})
    [sale] = sales(shop.book)
    receipt = words(owner.get(f"/sales/{sale.id}/receipt.pdf").content)
    for each in ("Sold to Ann Voss", "$400.00", "$380.00", "6 %", "$46.80", "$826.80", "card", "Not graded for building"):
        assert each in receipt, each
    assert "owed" not in receipt and "Came back" not in receipt
    packing = words(owner.get(f"/sales/{sale.id}/packing.pdf").content)
    assert "weighed 4 May 2026" in packing and "42 kg" in packing and "moisture not read: dry to green" in packing
    total = re.search(r"All together (\d+) kg to (\d+) kg", packing)
    assert total is not None
    # white oak of 63 l, beside 41.5 kg weighed: oven dry 38 kg at gravity 0.60, dry 40, green at 64 to 78 % moisture 62 to 67
    assert 65 < int(total[1]) < 82 < 100 < int(total[2]) < 130
    hidden = [words(anybody.get(f"/sales/{sale.id}/{paper}.pdf").content) for paper in ("receipt", "packing")]
    assert not any("Ann" in each for each in hidden)
    assert anybody.get(f"/sales/{shop.new_id()}/receipt.pdf").status_code == 404
    sheet = words(owner.get(f"/pieces/{first}/sale.pdf").content)
    assert "Sold on 4 May 2026, paid" in sheet and "Ann" not in sheet
    owner.send(f"/pieces/{second}/sale", {"do": "back", "refund": "402.80"})  # 380 and 6 % of it
    receipt = words(owner.get(f"/sales/{sale.id}/receipt.pdf").content)
    assert "Came back, with its tax \N{MINUS SIGN}$402.80" in receipt and "$424.00" in receipt and "owed" not in receipt
    sheet = words(owner.get(f"/pieces/{first}/sale.pdf").content)
    assert "Sold on 4 May 2026, paid" in sheet


def test_no_width_stands_on_a_paper_or_beside_a_price_without_its_rule(owner: Person, hand: Hand, shop: Shop, wood: Wood) -> None:
    settle_for_shop(hand, Setting.UNITS, "mm")
    uneven = shop.new_id()
    hand.write(PieceCounted(uneven, "black walnut", "", 0.0508, 2.44, (0.333, 0.444)))
    price_piece(hand, uneven, 300_00)
    page = f"/pieces/{uneven}/sale"
    measures = re.findall(r'data-label="How">([\d.]+ [^×<]*)×', owner.get(page).text)
    assert len(measures) == 3 and sum("(width by narrow face)" in each for each in measures) == 2, measures
    assert "the middle of the narrowest and the widest place" in owner.get(page).text
    papers = {
        "label": f"/for-sale/labels.pdf?piece={uneven}",
        "sheet": f"{page}.pdf",
    }
    told = {name: words(owner.get(address).content) for name, address in papers.items()}
    owner.send(page, {"do": "sell", "paid": "300"})
    [sale] = sales(shop.book)
    told |= {name: words(owner.get(f"/sales/{sale.id}/{name}.pdf").content) for name in ("receipt", "packing")}
    told = {name: re.sub(r"(\d)\s*mm", r"\1 mm", text) for name, text in told.items()}
    for name, text in told.items():
        found = [text[max(0, at.start() - 50) : at.end() + 50] for at in re.finditer(r"\b(333|444) mm", text)]
        assert found and all(re.search("narrowest|widest", each) for each in found), (name, found, text)
    assert "333 mm wide at the narrowest, 444 mm at the widest" in told["receipt"]


def test_a_set_and_the_questions_of_the_place_stand_on_the_sale_sheet_and_the_page(
    owner: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    first, page = f"/pieces/{wood.flitches[0]}/sale", owner.get(f"/pieces/{wood.flitches[0]}/sale").text
    assert "We do not know for your place." in page and "Where the yard lies is not settled" in page
    assert "emerald" not in page and "May wood with bark on it" in page, "oak is no ash"
    assert "May wood with bark" not in owner.get(f"{first}?bark=off").text
    indoors = owner.get(f"{first}?use=stays").text
    assert "grade stamp" not in indoors and "Is a piece that I sell taxed" in indoors
    settle_for_shop(hand, Setting.PLACE, "Concord NH")
    law = owner.get(first).text
    assert "native lumber law, RSA 434" in law and 'href="/sources#nh-rsa-434"' in law and "date not known" in law
    owner.send(first, {"do": "together", "piece": list(wood.flitches[:2])})
    sheet = words(owner.get(f"/pieces/{wood.flitches[0]}/sale.pdf").content)
    two = name_of(shop, wood.flitches[1])
    assert f"It belongs to a set, with {two}. All 2: $780.00 before tax." in sheet
    assert "RSA 434" in sheet and "We do not know for your place." in sheet and "nh-rsa-434" in sheet


def with_place() -> bytes:
    """A photo that says where it was taken, and by whom."""
    picture, exif, out = Image.new("RGB", (1200, 800), (120, 90, 60)), Image.Exif(), io.BytesIO()
    exif[0x010F] = "Ann's telephone"
    exif.get_ifd(0x8825)[2] = (44.0, 1.0, 2.0)
    picture.save(out, "JPEG", exif=exif.tobytes(), comment=b"behind the Voss barn")
    return out.getvalue()


def test_published_pages_hold_together_and_nothing_of_ours_no_name_and_no_place(
    owner: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    photo = keep_photo(hand, with_place(), f"piece:{wood.flitches[0]}").id
    hand.write(PhotoFiled(photo, f"piece:{wood.flitches[0]}", wet=False))
    owner.send(f"/pieces/{wood.flitches[2]}/sale", {"do": "hold", "kept_for": "Ann Voss", "until": "2026-05-11"})
    answer = owner.get("/for-sale/window.zip")
    assert answer.headers["content-type"] == "application/zip" and answer.content == owner.get("/for-sale/window.zip").content
    packed = ZipFile(io.BytesIO(answer.content))
    files = {name.removeprefix("for-sale/"): packed.read(name) for name in packed.namelist()}
    one = name_of(shop, wood.flitches[0])
    assert {"index.html", "for-sale.csv", f"{one}.html", f"photos/{one}.jpg"} <= set(files) and len(files) == 7
    pages = {name: content.decode() for name, content in files.items() if name.endswith(".html")}
    for name, text in pages.items():
        assert "<script" not in text and "/pieces/" not in text, name
        assert set(re.findall(r'(?:href|src)="([^"]+)"', text)) <= set(files), name
    everything = "".join(pages.values()) + files["for-sale.csv"].decode("utf-8-sig")
    asked_for_all = [own for own in our_own(shop, wood) if own in everything]
    assert asked_for_all == [] and not any(each in everything for each in ("Ann", "has cost", "77.31", "2026-05-11", "11 May"))
    assert "Held" in pages["index.html"] and "a pair, next to each other in the boule" in pages["index.html"]
    assert "Not graded for building" in pages[f"{one}.html"] and "heat treated" in pages[f"{one}.html"]
    picture = files[f"photos/{one}.jpg"]
    assert max(Image.open(io.BytesIO(picture)).size) == 640 and not Image.open(io.BytesIO(picture)).getexif()
    assert b"Exif" not in picture and b"Voss" not in picture and b"telephone" not in picture


def test_sales_and_money_are_a_list_for_who_may_see_our_own(owner: Person, anybody: Person, shop: Shop, wood: Wood) -> None:
    owner.send(f"/pieces/{wood.board}/sale", {"do": "sell", "buyer": "Ann Voss", "paid": "100", "by": "owed"})
    owner.send(f"/pieces/{wood.flitches[0]}/sale", {"do": "together", "piece": list(wood.flitches[:2])})
    owner.send(f"/pieces/{wood.flitches[0]}/sale", {"do": "sell", "of_set": "whole", "paid": "580", "by": "card"})
    rows = list(csv.DictReader(io.StringIO(owner.get("/sales.csv").content.decode("utf-8-sig"), newline="")))
    first, *pair = rows
    assert (first["piece"], first["buyer"], first["sold"]) == (name_of(shop, wood.board), "Ann Voss", "2026-05-04")
    assert (first["price before tax [USD]"], first["tax [USD]"], first["owed for the whole sale [USD]"]) == (
        "100.0",
        "6.0",
        "106.0",
    )
    assert sum(float(row["price before tax [USD]"]) for row in pair) == 580 and len(pair) == 2
    assert [row["paid for the whole sale [USD]"] for row in pair] == ["614.8", ""], "580 and 6 % of it, once"
    assert pair[0]["way"] == "card" and owner.get("/sales.xlsx").content.startswith(b"PK")
    assert "/sales.csv" in owner.get("/buyers").text and "/sales.csv" in owner.get("/papers").text
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    assert [person.get(f"/sales.{kind}").status_code for person in (owner, anybody) for kind in ("csv", "xlsx")] == [
        400,
        400,
        401,
        401,
    ]
    assert "/sales.csv" not in "".join(person.get(page).text for person in (owner, anybody) for page in ("/buyers", "/papers"))


def test_the_list_of_what_is_for_sale_opens_in_a_spreadsheet(owner: Person, anybody: Person, shop: Shop, wood: Wood) -> None:
    text = anybody.get("/for-sale.csv?thinnest=1+1/2").content.decode("utf-8-sig")
    header, *rows = list(csv.reader(io.StringIO(text, newline="")))
    told = [dict(zip(header, row, strict=True)) for row in rows]
    assert sorted(float(row["asked, before tax [USD]"]) for row in told) == [200.0, 380.0, 400.0]
    assert {row["state"] for row in told} == {"free"} and {row["thickness [in]"] for row in told} == {"2.0"}
    assert owner.get("/for-sale.xlsx").content.startswith(b"PK")
    assert owner.get("/for-sale.csv?width=wide").status_code == 400
