"""A piece for sale in the app: priced, held, sold once, brought back; a buyer who looks sees nothing of the shop's own."""

from __future__ import annotations

import re

import pytest

from waney.trade.costing import What
from waney.web.once import Once
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import Spent
from waney.yard.acts.settings import Setting
from waney.yard.book.around import buyers
from waney.yard.book.selling_seen import holds, money_taken, prices_asked, promises, sales
from waney.yard.book.spent_seen import spent_on
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.selling import hold_for, sell_to
from waney.yard.services.settings import settle_for_shop

from .conftest import ROOT, Person
from .test_drying import name_of

EXAMPLES = ROOT / "docs" / "examples"


@pytest.fixture
def piece(hand: Hand, shop: Shop) -> str:
    """2 in x 18 in x 8 ft of walnut, on which 55 were spent; prices and taxes as in the examples."""
    for what, name in ((Setting.PRICES, "prices-shelf"), (Setting.TERMS, "terms-custom")):
        settle_for_shop(hand, what, (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    ident = shop.new_id()
    hand.write(PieceCounted(ident, "black walnut", "", 0.0508, 2.4384, (0.4572, 0.4572)))
    hand.write(PieceCounted(shop.new_id(), "black walnut", "", 0.0508, 2.2, (0.40, 0.45)))
    hand.write(Spent(f"piece:{ident}", What.FLATTENING, 55_00))
    return ident


def test_the_owner_sees_three_prices_above_the_floor_and_asks_one(owner: Person, shop: Shop, piece: str) -> None:
    page = f"/pieces/{piece}/sale"
    seen = owner.get(page).text
    assert all(
        money in seen for money in ("$403.20", "$432.00", "$264.00", "It has cost $55.00")
    )  # by hand in tests/cli/test_money.py
    assert owner.send(page, {"do": "price", "asked": "400"}).status_code == 303
    assert prices_asked(shop.book) == {piece: (400_00, "typed")}
    wrong = owner.send(page, {"do": "price", "asked": "a lot"})
    assert wrong.status_code == 422 and 'id="asked-wrong"' in wrong.text


def test_what_the_shop_got_for_such_wood_stands_beside_the_three_prices(
    owner: Person, anybody: Person, hand: Hand, shop: Shop, piece: str
) -> None:
    """Three of 12 board feet sold for 60, 120 and 240, so 5, 10 and 20 a board foot; an oak piece says nothing of walnut."""
    page = f"/pieces/{piece}/sale"
    assert "Our own sales" not in owner.get(page).text
    for wood, money in (("black walnut", 60_00), ("walnut, black", 120_00), ("Juglans nigra", 240_00), ("white oak", 900_00)):
        sold = shop.new_id()
        hand.write(PieceCounted(sold, wood, "", 0.0254, 2.4384, (0.4572, 0.4572)))
        sell_to(hand, [PricedPiece(sold, money)], "Ann", "2026-05-04")
    seen = owner.get(page).text
    assert "the last 3: $10.00 a board foot in the middle, $5.00 to $20.00; so this piece $240.00" in seen
    assert "Our own sales" not in anybody.get(page).text
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\nboard_foot = 5\n')
    # the mean of three is 11.67, and three of our own count 3 / 8: 11.67 · 3/8 + 5 · 5/8
    assert "says $5.00 a board foot; with both, $7.50 counts." in owner.get(page).text


def test_the_owner_reads_why_a_cost_cannot_be_told_and_still_sees_prices(owner: Person, hand: Hand, shop: Shop) -> None:
    settle_for_shop(hand, Setting.PRICES, (EXAMPLES / "prices-shelf.toml").read_text(encoding="utf-8"))
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\nsharing = "volume"\n')
    log = add_log(
        hand, NewLog('format = "waney-log/1"\nunits = "in"\nspecies = "black walnut"\nlength = "8 ft"\n[top]\ndiameter = 20\n')
    ).id
    known, other = shop.new_id(), shop.new_id()
    hand.write(CameOff(known, log=log, species="black walnut", thickness_m=0.0508, length_m=2.4384, widths_m=(0.4572, 0.4572)))
    hand.write(CameOff(other, log=log, species="black walnut"))
    hand.write(Spent(f"log:{log}", What.HAUL, 90_00))
    seen = owner.get(f"/pieces/{known}/sale").text
    assert "What it has cost cannot be told yet: " in seen and name_of(shop, other) in seen and "$403.20" in seen


def test_what_went_into_a_piece_raises_its_floor_to_the_cent_and_is_taken_back(
    owner: Person, helper: Person, hand: Hand, shop: Shop, piece: str
) -> None:
    """55 were told before; 41.27 for hardware, then 1.25 h at 40 are 50.00, and the hardware is taken back."""
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\nhourly = 40\n')
    page = f"/pieces/{piece}/sale"
    told = {"do": "spent", "what": "other", "money": "41.27", "words": "bow ties and screws"}
    assert owner.send(page, told).status_code == 303
    seen = owner.get(page).text
    assert "It has cost $96.27" in seen and "other, $41.27, bow ties and screws" in seen
    assert owner.send(page, {"do": "spent", "hours": "1.25"}).status_code == 303
    assert "It has cost $146.27" in owner.get(page).text and "Nobody told what an hour costs" not in owner.get(page).text
    slip = next(one for one in spent_on(shop.book, [f"piece:{piece}"]) if one.cents == 41_27)
    back = {"do": "spent-back", "command": slip.command}
    assert f'value="{slip.command}"' in seen and owner.send(page, back).status_code == 303
    assert "It has cost $105.00" in owner.get(page).text and "bow ties" not in owner.get(page).text
    again = owner.send(page, back)
    assert again.status_code == 422 and "was taken back already" in again.text
    wrong = owner.send(page, {"do": "spent", "hours": "2", "money": "30", "words": "sanding"})
    assert wrong.status_code == 422 and "one of them" in wrong.text and 'value="sanding"' in wrong.text
    assert "went into it" not in helper.get(page).text and helper.send(page, told).status_code == 422
    owner.send("/own-figures", {"do": "hide", "after": page})
    assert not any(own in owner.get(page).text for own in ("went into it", "$50", "1.25"))
    assert len(spent_on(shop.book)) == 2


def test_who_looks_as_a_buyer_sees_what_is_asked_alone(owner: Person, anybody: Person, shop: Shop, piece: str) -> None:
    owner.send(f"/pieces/{piece}/sale", {"do": "price", "asked": "400"})
    owner.send(f"/pieces/{piece}/sale", {"do": "hold", "kept_for": "Ann", "until": "2026-05-11"})
    page = f"/pieces/{piece}/sale"
    pressed = owner.send("/own-figures", {"do": "hide", "after": page})
    assert (pressed.status_code, pressed.headers["location"]) == (303, page)
    for seen in (owner.get(page).text, anybody.get(page).text):
        assert "$400.00" in seen and "Not graded for building" in seen and "held until" in seen
        assert not any(own in seen for own in ("$55.00", "$403.20", "It has cost", "Ann"))


def test_two_buyers_and_the_second_is_refused_with_the_reason(owner: Person, helper: Person, shop: Shop, piece: str) -> None:
    page = f"/pieces/{piece}/sale"
    assert owner.send(page, {"do": "hold", "kept_for": "Ann", "until": "2026-05-11", "deposit": "50"}).status_code == 303
    refused = helper.send(page, {"do": "sell", "buyer": "Bo", "paid": "410"})
    assert refused.status_code == 422 and "is held for somebody; look again" in refused.text and "Nearest to it" in refused.text
    assert [each.called for each in buyers(shop.book)] == ["Ann"], "whoever got nothing is not written down"
    assert helper.send(page, {"do": "sell", "buyer": "ann", "paid": "400", "by": "owed"}).status_code == 303
    [sale] = sales(shop.book)
    assert (sale.called, sale.pieces_cents, sale.tax_cents, sale.owed_cents) == ("Ann", 400_00, 24_00, 374_00)  # 6 %, less 50
    assert "sold on" in owner.get(page).text


def test_a_hold_is_given_up_and_a_sale_comes_back(owner: Person, shop: Shop, piece: str) -> None:
    page = f"/pieces/{piece}/sale"
    owner.send(page, {"do": "hold", "kept_for": "Ann", "until": "2026-05-11"})
    owner.send(page, {"do": "release"})
    assert [hold.ended for hold in holds(shop.book)] == ["released"] and promises(shop.book, "2026-05-04") == {}
    owner.send(page, {"do": "sell", "paid": "100"})
    owner.send(page, {"do": "back", "refund": "90"})
    assert money_taken(shop.book) == 106_00 - 90_00 and promises(shop.book, "2026-05-04") == {}
    assert "to nobody" in owner.get(page).text


def test_a_deposit_goes_off_what_is_paid_at_the_sale(owner: Person, shop: Shop, piece: str) -> None:
    """400 with 6 %: 424, of which 50 were paid before."""
    page = f"/pieces/{piece}/sale"
    kept = {"do": "hold", "kept_for": "Ann", "until": "2026-05-11", "deposit": "50", "deposit_by": "card"}
    assert owner.send(page, kept).status_code == 303
    assert "$50.00 of it was paid as a deposit" in owner.get(page).text
    assert owner.send(page, {"do": "sell", "buyer": "Ann", "paid": "400"}).status_code == 303
    [sale] = sales(shop.book)
    assert (sale.paid_cents, sale.owed_cents, money_taken(shop.book)) == (424_00, 0, 424_00)
    assert set(sale.paid_by) == {"card", "cash"}


def test_a_deposit_is_given_back_when_the_hold_is_given_up_or_ran_out(
    owner: Person, anybody: Person, shop: Shop, piece: str
) -> None:
    page, kept = f"/pieces/{piece}/sale", {"do": "hold", "kept_for": "Ann", "deposit": "50"}
    owner.send(page, {**kept, "until": "2026-05-11"})
    assert 'value="50.00"' in owner.get(page).text
    owner.send(page, {"do": "release", "given_back": "30"})
    assert money_taken(shop.book) == 20_00
    hold_for(shop.hand(""), [piece], "Ann", "2026-05-03", 50_00)
    week = owner.get("/").text
    assert "Holds that run out" in week and "a deposit of $50.00 lies in it" in week
    assert "Holds that run out" not in anybody.get("/").text
    assert "The hold ran out on" in owner.get(page).text
    owner.send(page, {"do": "release", "given_back": "50"})
    assert money_taken(shop.book) == 20_00 and holds(shop.book)[-1].ended == "ran out"
    assert "Holds that run out" not in owner.get("/").text


def test_a_deposit_whose_hold_is_over_stays_in_sight_until_it_is_given_back_or_kept(
    owner: Person, anybody: Person, shop: Shop, piece: str
) -> None:
    """The hold ran out, and somebody else bought the piece: 50 of Ann's is here still."""
    hold = hold_for(shop.hand(""), [piece], "Ann", "2026-05-03", 50_00)
    owner.send(f"/pieces/{piece}/sale", {"do": "sell", "buyer": "Bo", "paid": "400"})
    [ann] = [one.id for one in buyers(shop.book) if one.called == "Ann"]
    for page in ("/", f"/buyers/{ann}"):
        assert f'<a href="/deposits#{hold}">$50.00</a>' in owner.get(page).text and "$50.00" not in anybody.get(page).text
    assert 'value="50.00"' in owner.get("/deposits").text and "$50.00" not in anybody.get("/deposits").text
    for typed, why in (("", "How much is given back"), ("50.01", "no more than lies here"), ("-1", "0 at least")):
        wrong = owner.send(f"/deposits/{hold}", {"given_back": typed})
        assert wrong.status_code == 422 and why in wrong.text
    assert anybody.send(f"/deposits/{hold}", {"given_back": "50"}).status_code == 401
    assert owner.send(f"/deposits/{hold}", {"given_back": "30"}).status_code == 303
    assert money_taken(shop.book) == 424_00 + 20_00 and "No deposit waits" in owner.get("/deposits").text
    assert "lies here still" not in owner.get("/").text
    again = owner.send(f"/deposits/{hold}", {"given_back": "1"})
    assert again.status_code == 422 and "Nothing of this deposit lies here any more" in again.text


def test_a_deposit_whose_hold_stands_is_not_settled_and_the_page_says_why(owner: Person, shop: Shop, piece: str) -> None:
    hold = hold_for(shop.hand(""), [piece], "Ann", "2036-05-03", 50_00)
    refused = owner.send(f"/deposits/{hold}", {"given_back": "50"})
    assert refused.status_code == 422 and "This hold still stands" in refused.text and money_taken(shop.book) == 50_00


def test_where_a_hold_keeps_another_piece_the_form_says_what_becomes_of_it(
    owner: Person, hand: Hand, shop: Shop, piece: str
) -> None:
    other = shop.new_id()
    hand.write(PieceCounted(other, "walnut_black"))
    hold_for(hand, [piece, other], "Ann", "2026-05-11", 50_00)
    page = f"/pieces/{piece}/sale"
    seen = " ".join(owner.get(page).text.split())
    assert "too: what is not sold now stays held. Of its deposit, $50.00, $25.00 goes off" in seen
    assert "they go free with it" in seen
    owner.send(page, {"do": "sell", "buyer": "Ann", "paid": "400"})
    assert promises(shop.book, "2026-05-04")[other].called == "Ann" and money_taken(shop.book) == 50_00 + 424_00 - 25_00
    assert "$25.00 of it was paid as a deposit" in owner.get(f"/pieces/{other}/sale").text


def test_money_that_comes_later_is_written_down_where_all_that_is_owed_stands(
    owner: Person, anybody: Person, shop: Shop, piece: str
) -> None:
    owner.send(f"/pieces/{piece}/sale", {"do": "sell", "buyer": "Ann", "paid": "400", "by": "owed"})
    [sale] = sales(shop.book)
    assert "$424.00 is still owed" in owner.get(f"/pieces/{piece}/sale").text
    assert "$424.00 in all" in owner.get("/owed").text and "$424.00" not in anybody.get("/owed").text
    address = f"/sales/{sale.id}/paid"
    for wrong in ("", "0", "500"):
        assert owner.send(address, {"amount": wrong}).status_code == 422
    assert owner.send(address, {"amount": "100", "by": "check"}).status_code == 303
    assert "$324.00 is owed" in owner.get("/owed").text
    assert owner.send(address, {"amount": "324"}).status_code == 303
    assert "Nobody owes anything" in owner.get("/owed").text
    assert sales(shop.book)[0].owed_cents == 0 and set(sales(shop.book)[0].paid_by) == {"check", "cash"}
    owner.send("/own-figures", {"do": "hide", "after": "/owed"})
    assert owner.send(address, {"amount": "1"}).status_code == 400, "hidden while a buyer looks on"
    assert sales(shop.book)[0].owed_cents == 0


def test_a_payment_that_is_sent_again_is_written_once_and_after_a_new_start_the_page_says_so(
    owner: Person, shop: Shop, piece: str
) -> None:
    owner.send(f"/pieces/{piece}/sale", {"do": "sell", "buyer": "Ann", "paid": "400", "by": "owed"})
    [sale] = sales(shop.book)
    blank = re.search(r'name="blank" value="([0-9a-f-]+)"', owner.get("/owed").text)
    assert blank is not None
    told = {"amount": "100", "blank": blank[1]}
    assert [owner.send(f"/sales/{sale.id}/paid", told).headers["location"] for _ in range(3)] == ["/owed"] * 3
    assert sales(shop.book)[0].owed_cents == 324_00
    assert owner.send(f"/sales/{sale.id}/paid", {"amount": "324"}).status_code == 303
    object.__setattr__(shop, "once", Once())
    again = owner.send(f"/sales/{sale.id}/paid", told)
    assert again.status_code == 409 and "nothing was written a second time" in again.text
    assert sales(shop.book)[0].owed_cents == 0 and money_taken(shop.book) == 424_00


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"do": "hold", "kept_for": ""}, "Who is it kept for?"),
        ({"do": "hold", "kept_for": "Ann", "until": "soon"}, "no date"),
        ({"do": "sell", "paid": ""}, "For how much?"),
        ({"do": "burn"}, "nothing that can be done"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_written(
    owner: Person, shop: Shop, piece: str, fields: dict[str, str], said: str
) -> None:
    answer = owner.send(f"/pieces/{piece}/sale", fields)
    assert answer.status_code in (400, 422) and said in answer.text
    assert promises(shop.book, "2026-05-04") == {} and buyers(shop.book) == ()


def test_only_an_owner_prices(helper: Person, shop: Shop, piece: str) -> None:
    assert "Ask this" not in helper.get(f"/pieces/{piece}/sale").text
    assert helper.send(f"/pieces/{piece}/sale", {"do": "price", "asked": "1"}).status_code in (403, 422)
    assert prices_asked(shop.book) == {}
