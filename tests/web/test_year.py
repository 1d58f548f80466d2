"""The year in the app: what `waney year` prints, on a page, as CSV, spreadsheet and paper; the shop's own, and nobody else's."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import UTC, datetime
from threading import Event

import pytest

from waney.figures.estimate import Ground
from waney.figures.tables import table
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.trade.costing import What
from waney.web.pages import year as year_page
from waney.web.shop import Shop
from waney.yard.acts.logs import EndsSealed, LogEnd, PlanChosen, PlanMade
from waney.yard.acts.mill import AtTheMill, CameOff, DayOpened, Happened
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import Returned, Spent
from waney.yard.acts.settings import Setting
from waney.yard.book.looking import pieces
from waney.yard.book.spent_seen import spent_on
from waney.yard.commands import Read
from waney.yard.services import selling
from waney.yard.services.earning import Yard, year_of_logs
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, end_log
from waney.yard.services.record import own_record
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.worth import shop_costs

from .conftest import ROOT, Person
from .test_sale_paper import words

LOG = 'format = "waney-log/1"\nunits = "in"\ncurrency = "USD"\nspecies = "black walnut"\n'
LOG += 'length = "8 ft"\npaid = 90\n[top]\ndiameter = 16\n'
COSTS = 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\nhourly = 40\nboard_foot = 5\nloss = 10\nsharing = "volume"\n'


@pytest.fixture
def log(hand: Hand, shop: Shop) -> str:
    """90 paid, 2 h at 40; six boards of 12 board feet, one sold for 144, one lost, one used; its plan 100, 300, 500."""
    settle_for_shop(hand, Setting.COSTS, COSTS)
    settle_for_shop(hand, Setting.TERMS, (ROOT / "docs" / "examples" / "terms-custom.toml").read_text(encoding="utf-8"))
    ident = add_log(hand, NewLog(LOG, "W")).id
    plan = shop.new_id()
    hand.write(PlanMade(plan, ident, 1, shop.book.files.keep(b"plan"), "through", 6, money_cents=(100_00, 300_00, 500_00)))
    hand.write(PlanChosen(ident, plan), Read(f"log:{ident}", 1))
    hand.write(EndsSealed(ident, "2026-05-01"))
    boards = [shop.new_id() for _ in range(6)]
    for board in boards:
        hand.write(CameOff(board, "", ident, thickness_m=0.0254, length_m=2.4384, widths_m=(0.4572, 0.4572)))
    hand.write(Spent(f"log:{ident}", What.HOURS, hours=2.0))
    end_log(hand, ident, LogEnd.SAWN)
    selling.sell_to(hand, [PricedPiece(boards[0], 144_00)], "Ann", "2026-05-04")
    hand.write(PieceEnded(boards[1], PieceEnd.LOST))
    hand.write(PieceEnded(boards[2], PieceEnd.USED))
    return ident


def test_the_page_prints_what_the_sums_say(owner: Person, shop: Shop, log: str) -> None:
    """170 spent; sold 144: 26 below nothing so far. In the year just the board that was sold counts: 170 over five."""
    seen = owner.get("/year").text
    assert "$144.00" in seen and "$170.00" in seen and "-$26.00" in seen and f'href="/logs/{log}/earned"' in seen
    assert "black walnut" in seen and "-$13.00" in seen, "an hour of two"
    [row] = year_of_logs(Yard.of(shop.book, shop.today()), 2026)
    assert (row.spent_cents, row.net_cents) == (34_00, 110_00)
    this = owner.get("/year?of=2026").text
    assert "$34.00" in this and "$110.00" in this and "Nothing was sold in 2025" in owner.get("/year?of=2025").text
    assert owner.get("/year?of=soon").status_code == 400


def test_a_log_has_a_page_of_what_it_earned_beside_its_plan(owner: Person, log: str) -> None:
    assert f"/logs/{log}/earned" in owner.get(f"/logs/{log}").text
    seen = owner.get(f"/logs/{log}/earned").text
    assert "bad $100.00, likely $300.00, good $500.00" in seen and "what is left has no price" in seen
    assert seen.count("$34.00") == 5 and "3 without a price" in seen


def test_it_is_kept_as_csv_spreadsheet_and_paper(owner: Person, log: str) -> None:
    rows = list(csv.DictReader(io.StringIO(owner.get("/year.csv").content.decode("utf-8-sig"))))
    assert [(row["sold [USD]"], row["cost [USD]"]) for row in rows] == [("144.0", "170.0")] * 2
    assert [row["name"][:2] for row in rows] == ["W-", "al"]
    assert rows[0]["plan, likely [USD]"] == "300.0" and rows[0]["hours"] == "2.0" and rows[0]["wood"] == "black walnut"
    assert owner.get("/year.xlsx").content[:2] == b"PK"
    sheet = words(owner.get("/year.pdf?of=2026").content)
    assert "2026" in sheet and "$110.00" in sheet and "not for customers" in sheet


def test_page_paper_and_list_say_how_costs_are_shared_and_what_was_kept(owner: Person, hand: Hand, shop: Shop, log: str) -> None:
    """Sharing by value is settled and two boards have no price; of 100 for a board that came back, 20 stayed."""
    settle_for_shop(hand, Setting.COSTS, COSTS.replace('"volume"', '"sales value"'))
    board = next(piece.id for piece in pieces(shop.book) if not piece.ended)
    sale = selling.sell_to(hand, [PricedPiece(board, 100_00)], "Bo", "2026-05-04")
    selling.take_pieces_back(hand, Returned(sale, (board,), 80_00))
    page, paper = owner.get("/year").text, words(owner.get("/year.pdf").content)
    [row, _] = csv.DictReader(io.StringIO(owner.get("/year.csv").content.decode("utf-8-sig")))
    assert (row["cost shared by"], row["kept of returns and deposits [USD]"]) == ("piece", "20.0")
    assert "a price above zero" in row["why it is not shared as settled"]
    for shown in (page, paper):
        assert f"The cost of {row['name']} is shared by piece: " in shown and "$20.00" in shown
    assert "is shared by piece until then" in owner.get(f"/logs/{log}/earned").text
    assert "kept of returns and deposits $20.00" in owner.get(f"/logs/{log}/earned").text


def test_nobody_else_reads_it(owner: Person, anybody: Person, log: str) -> None:
    for page in ("/year", f"/logs/{log}/earned"):
        assert "$" not in anybody.get(page).text and "sign in" in anybody.get(page).text
    for kept in ("/year.csv", "/year.xlsx", "/year.pdf"):
        assert anybody.get(kept).status_code == 401


def test_while_a_buyer_looks_on_nothing_of_it_is_shown(owner: Person, log: str) -> None:
    pages = ("/year", f"/logs/{log}/earned")
    assert all("$" in owner.get(page).text for page in pages)
    owner.send("/own-figures", {"do": "hide", "after": "/year"})
    assert not any("$" in owner.get(page).text for page in pages)
    assert {owner.get(f"/year.{kind}").status_code for kind in ("csv", "xlsx", "pdf")} == {400}
    assert owner.send(pages[1], {"what": "hours", "hours": "1"}).status_code == 303, "work goes on"


def test_the_shops_own_record_stands_beside_what_was_typed_and_counts(owner: Person, shop: Shop, log: str) -> None:
    """72 board feet in 2 h, 36 an hour; International of 16 in and 8 ft is 85 unrounded about; one of three lost; 144 for 12."""
    record = own_record(shop.book)
    assert record.paces == (36.0,) and record.losses == (pytest.approx(1 / 3),)
    assert record.prices == {"walnut_black": (pytest.approx(12_00.0),)}
    assert record.yields[0] == pytest.approx(72 / 85, rel=0.03)
    costs = record.for_fetching(shop_costs(shop.settled()).costs, "walnut_black")
    assert costs.per_board_foot_cents is not None and costs.per_board_foot_cents.likely == pytest.approx((12_00 + 5 * 5_00) / 6)
    seen = owner.get("/year").text
    for cell in ("36 board feet", "200 board feet, 150 to 250 board feet", "33 %", "a board foot of black walnut", "$12.00"):
        assert cell in seen, cell
    assert "From how many" in seen


def test_plans_count_what_the_shop_lost_once_an_owner_presses(
    owner: Person, helper: Person, shop: Shop, hand: Hand, log: str
) -> None:
    """Of three inch boards one was lost: a third, which counts one part in six beside the built-in 5 %."""
    assert "Plans count these" not in owner.get("/year").text
    assert owner.send("/year/losses", {}).status_code == 400
    wants = (ROOT / "docs" / "examples" / "wants-three-answers.toml").read_text(encoding="utf-8")
    settle_for_shop(hand, Setting.WANTS, wants + "[[lost]]\nshare = 50\n")
    page = owner.get("/year").text
    assert "Plans count these from now on" in page and "up to 1 1/4 in thick" in page.replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert helper.send("/year/losses", {}).status_code == 403 and "Plans count these" not in helper.get("/year").text
    assert owner.send("/year/losses", {}).status_code == 303
    sheet = shop.settled()[Setting.WANTS]
    assert sheet.startswith(wants.rstrip("\n")) and "share = 50" not in sheet, "rows before are gone, the rest is as it was"
    allowances = read_wants_sheet(sheet, 3.0).wants.allowances
    losses = {name: one.loss.likely for name, one in allowances.items()}
    assert losses["edged 4/4"] == pytest.approx(1 / 6 / 3 + 5 / 6 * 0.05, abs=1e-3)
    assert losses["live edge 8/4"] == pytest.approx(0.10, abs=1e-3), "of thicker ones nothing is known: what is built in"
    bases = {name: one.loss.basis.ground for name, one in allowances.items()}
    assert bases == {"edged 4/4": Ground.HISTORY, "live edge 8/4": Ground.DEFAULT}, "and it is said to be that"


ROWS = {row["quarter_name"]: float(row["suggested_green_sawn_in"] or 0.0) for row in table("lumber_thickness")}


@pytest.mark.parametrize(
    ("green_in", "up_to_mm"),
    [
        (ROWS["4/4"], 32), (ROWS["5/4"], 32), (ROWS["6/4"], 51), (ROWS["8/4"], 51), (2.25, 51), (ROWS["10/4"], 77),
        (ROWS["12/4"], 77), (ROWS["16/4"], None),
    ],
)  # fmt: skip
def test_a_board_is_classed_by_its_name_though_it_was_sawn_thicker(
    hand: Hand, shop: Shop, log: str, green_in: float, up_to_mm: int | None
) -> None:
    """By the green sizes of the sawmill table, and an 8/4 at 2 1/4 in; three boards, one of them lost."""
    for end in (PieceEnd.LOST, PieceEnd.USED, PieceEnd.USED):
        board = shop.new_id()
        hand.write(CameOff(board, "", log, thickness_m=green_in * 0.0254, length_m=2.4, widths_m=(0.3, 0.3)))
        hand.write(PieceEnded(board, end))
    found = own_record(shop.book).losses_up_to
    assert found[float("inf") if up_to_mm is None else up_to_mm / 1000] == (pytest.approx(1 / 3),)


def test_hours_and_money_that_went_into_a_log_are_told_where_it_shows(owner: Person, shop: Shop, hand: Hand, log: str) -> None:
    """One more hour at 40, and a haul of 30, which was a slip."""
    page = f"/logs/{log}/earned"
    assert owner.send(page, {"what": "hours", "hours": "1"}).status_code == 303
    assert owner.send(page, {"what": "haul", "money": "30"}).status_code == 303
    assert "cost $240.00" in owner.get(page).text
    haul = next(one for one in spent_on(shop.book, [f"log:{log}"]) if one.what == "haul")
    assert owner.send(page, {"do": "spent-back", "command": haul.command}).status_code == 303
    assert "cost $210.00" in owner.get(page).text
    assert "By what the mill told" not in owner.get(page).text
    at = [datetime(2026, 5, 4, 9, minute, tzinfo=UTC) for minute in (0, 8, 27)]
    day = shop.new_id()
    for moment in at:
        mill = replace(hand, now=lambda moment=moment: moment)
        if moment is at[0]:
            mill.write(DayOpened(day, "2026-05-04"))
        mill.write(AtTheMill(Happened.TURNED, day, log))
    assert "May 2026 0.5 hours" in " ".join(owner.get(page).text.split())  # 27 minutes
    both = owner.send(page, {"what": "haul", "money": "30", "hours": "1"})
    assert both.status_code == 422 and "one of them" in both.text


def test_until_the_first_sums_are_made_the_page_says_so(
    owner: Person, shop: Shop, log: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    may_end, sums = Event(), year_page._year

    def slowly(shop: Shop, of: int | None) -> year_page.Year:
        assert may_end.wait(60.0)
        return sums(shop, of)

    monkeypatch.setattr(year_page, "_year", slowly)
    with monkeypatch.context() as hurried:
        hurried.setattr("waney.web.reckoned.PATIENCE_S", 0.0)
        page = owner.get("/year").text
    assert "All logs are being summed." in page and "Together" not in page
    may_end.set()
    page = owner.get("/year").text
    assert "being summed" not in page and "Together" in page
