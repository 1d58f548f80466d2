"""What a kiln load costs, parted among owners and pieces, and its sheets."""

from __future__ import annotations

from tests.web.conftest import Person
from tests.web.test_trade import work

from waney.web.shop import Shop
from waney.yard.acts.custom import CustomAsked, CustomLogsTold
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import PersonAdded
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book.drying_seen import loads
from waney.yard.book.examining import examine
from waney.yard.book.kiln_seen import backs, pieces_in
from waney.yard.book.looking import pieces
from waney.yard.book.spent_seen import spent_on
from waney.yard.services.earning import Yard, floors_of
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import load_kiln, read_moisture, unload_kiln

from .kiln_wood import handed, words_of


def test_the_fee_is_parted_among_owners_and_stands_on_their_papers(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], names: dict[str, str]
) -> None:
    page = handed(owner, shop, hand, boards)
    told = {"piece": boards[:4], "days": "10", "money": "100.00 USD", "treated": "yes, with a core record", "core_c": "134"}
    assert owner.send(f"{page}/back", {**told, "core_min": "31"}).status_code == 303
    # three of oak: 2.4 x 0.22 x 0.054 m, one of ash: 2.1 x 0.22 x 0.0286 m; 0.085536 and 0.0132132 m3
    assert "$86.62" in owner.get(page).text and "$13.38" in owner.get(page).text
    thick = owner.get(f"{page}?cost=200&thicker=10&by_days=yes").text
    assert "$180.13" in thick and "$19.87" in thick  # 8/4 counts 1.4 times: 0.1197504 of 0.1329636
    assert [one.fee_cents for one in backs(shop.book, page.rpartition("/")[2])] == [10_000]
    end = words_of(owner.get(f"{page}/end.pdf?owner=Ann").content)
    for each in (
        "End of load",
        "Ann: $86.62 of $100.00",
        "10 days in the kiln",
        "yes, with a core record",
        "134 °F",
        "31 minutes",
    ):
        assert each in end
    assert names[boards[3]] not in end and "not known whether it is ready" in end
    assert names[boards[3]] in words_of(owner.get(f"{page}/end.pdf?owner=Cy").content)
    sheet = f"{page}/sheet.pdf?owner=Ann"
    assert "It is being drawn" in owner.get(sheet).text and work(shop) == 1
    told = words_of(owner.get(sheet).content)
    # all that lies in the kiln is drawn, theirs or not; three of oak and one of ash: two thicknesses, so two layers or more
    assert "How it can be laid" in told and "Layer 2" in told and all(told.count(names[one]) >= 2 for one in boards[:3])
    assert names[boards[3]] in told and "not drawn" not in told
    assert owner.get(f"{page}/end.pdf?owner=Zed").status_code == 404


def test_the_shops_own_share_of_a_load_goes_into_the_costs_of_its_pieces_once_and_is_taken_back(
    owner: Person, helper: Person, shop: Shop, hand: Hand, boards: list[str]
) -> None:
    """Three of oak of one size and one of ash that is Ann's: 100 are 86.62 for the oak, 28.88, 28.87 and 28.87."""
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\n')
    load = load_kiln(hand, "shed kiln", (), tuple(boards[:4])).id
    assert owner.send(f"/loads/{load}/owners", {f"owner-{boards[3]}": "Ann"}).status_code == 303
    unload_kiln(hand, load)
    page = f"/loads/{load}?cost=100&by_days=no"
    seen = owner.get(page).text
    assert "$86.62" in seen and 'name="cents" value="8662"' in seen and "into the pieces" not in helper.get(page).text
    press, told = f"/loads/{load}/share?cost=100&by_days=no", {"do": "write", "cents": "8662"}
    assert helper.send(press, told).status_code == 403
    assert owner.send(press, told | {"cents": "8000"}).status_code == 422, "the page was older than the bill"
    assert owner.send(press, told).status_code == 303

    def floors() -> list[int | None]:
        stands = [piece for piece in pieces(shop.book) if piece.id in boards[:4]]
        found = floors_of(Yard.around(shop.book, shop.today(), *stands), stands)
        return [found[board] for board in boards[:4]]

    assert sorted(floors()[:3], key=str) == [28_87, 28_87, 28_88] and floors()[3] == 0
    again = owner.send(press, told)
    assert again.status_code == 422 and "stands in the costs of its pieces already" in again.text and sum(floors()) == 86_62
    assert "$86.62, at 3 pieces" in owner.get(page).text
    sale = owner.get(f"/pieces/{boards[0]}/sale").text
    assert f"/loads/{load}#bill" in sale and "It has cost $28.8" in sale and 'value="spent-back"' not in sale
    assert owner.send(press, {"do": "back"}).status_code == 303 and floors() == [0, 0, 0, 0]
    nothing = owner.send(press, {"do": "back"})
    assert nothing.status_code == 422 and "Nothing of what this load cost" in nothing.text
    assert owner.send(press, told).status_code == 303 and sum(floors()) == 86_62
    assert examine(shop.book).unsound == ()


def test_a_customers_piece_bears_no_cost_of_the_shop(owner: Person, shop: Shop, hand: Hand) -> None:
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\n')
    sheet = 'format = "waney-log/1"\nunits = "in"\nspecies = "white ash"\nlength = "8 ft"\n[top]\ndiameter = 16\n'
    log = add_log(hand, NewLog(sheet, "W")).id
    person, custom, board = shop.new_id(), shop.new_id(), shop.new_id()
    hand.write(PersonAdded(person, "Cy"))
    hand.write(CustomAsked(custom, person))
    hand.write(CustomLogsTold(custom, (log,)))
    hand.write(CameOff(board, "", log, thickness_m=0.0254, length_m=2.4384, widths_m=(0.4572, 0.4572)))
    load = load_kiln(hand, "shed kiln", (), (board,)).id
    unload_kiln(hand, load)
    refused = owner.send(f"/loads/{load}/share?cost=40&by_days=no", {"do": "write", "cents": "4000"})
    assert refused.status_code == 422 and "tell whose it is" in refused.text
    assert 'name="money"' not in owner.get(f"/pieces/{board}/sale").text
    refused = owner.send(f"/pieces/{board}/sale", {"do": "spent", "what": "kiln", "money": "40"})
    assert refused.status_code == 422 and "on the invoice of their job" in refused.text and spent_on(shop.book) == ()


def test_our_own_kiln_has_its_sheets_and_its_bill(owner: Person, shop: Shop, hand: Hand, boards: list[str]) -> None:
    load = load_kiln(hand, "shed kiln", (), tuple(boards[:3])).id
    early = {"piece": boards[2:3], "days": "5", f"core-{boards[2]}": "9", f"damage-{boards[2]}": "warped"}
    assert owner.send(f"/loads/{load}/back", early).status_code == 303
    page = owner.get(f"/loads/{load}").text
    assert "warped" in page and "Core 9 %" in page and page.count(">in the kiln</td>") == 2 and not loads(shop.book)[0].out
    assert owner.get(f"/loads/{load}/hand-over.pdf").status_code == 404
    unload_kiln(hand, load)
    settle_for_shop(hand, Setting.COSTS, 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\n')
    read_moisture(hand, MoistureRead(f"piece:{boards[0]}", 0.08, ReadBy.PINS, Depth.CORE))
    assert "Core 8 %" in owner.get(f"/loads/{load}").text
    assert "$50.00" in owner.get(f"/loads/{load}?cost=50").text  # in and out at once: only the one whose days were told counts
    assert "$16.67" in owner.get(f"/loads/{load}?cost=50&by_days=no").text
    assert owner.send(f"/loads/{load}/owners", {f"owner-{boards[1]}": "Ann"}).status_code == 303
    assert [one.owner for one in pieces_in(shop.book, load)] == ["", "Ann", ""]
    assert "Ann: 1 piece" in words_of(owner.get(f"/loads/{load}/end.pdf?owner=Ann&cost=50&by_days=no").content)
