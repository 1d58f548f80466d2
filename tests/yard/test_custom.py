"""Six odd logs of somebody: quoted, agreed, sawn, billed three ways; the sums are done here anew, with fractions."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from math import floor
from pathlib import Path

import pytest

from waney.figures.scenarios import Scenarios
from waney.trade.agreement import BadAgreement
from waney.trade.bill import BadBill
from waney.trade.counted import By
from waney.trade.custom import quoted
from waney.trade.way_paid import How
from waney.yard.acts.mill import CameOff, Off, Transform
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy
from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.applying.custom import owner_of
from waney.yard.book.book import Book, open_book
from waney.yard.book.copies import back_up, export, restore
from waney.yard.book.custom_seen import custom_at, customers_pieces
from waney.yard.book.engine import in_folder, reading
from waney.yard.book.examining import examine
from waney.yard.book.looking import pieces, version_of
from waney.yard.book.shelf import Database
from waney.yard.problems import NotPossible, Stale
from waney.yard.services import selling
from waney.yard.services.counting import begin_count, count_at, see_tag, told
from waney.yard.services.custom import (
    CustomJob,
    agree,
    agree_anew,
    ask_custom,
    bill_of,
    overruns,
    part,
    pay_custom,
    seen_of,
    suggested_parting,
    take_bill_back,
    tell_logs,
    tell_sawn,
    write_bill,
)
from waney.yard.services.earning import Yard, sawn_for_others, year_of_logs
from waney.yard.services.for_sale import on_sale
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, measure_log
from waney.yard.services.mill import open_day, take_off
from waney.yard.services.parts import Part, cut_into_parts
from waney.yard.services.pieces import end_piece
from waney.yard.services.record import drying_and_sales
from waney.yard.services.typed import TypedLine, take_in_typed
from waney.yard.streams import stream

from .conftest import NOW, Ids

IN = 'format = "waney-log/1"\nunits = "in"\nspecies = "{}"\n'
SIX = {
    "HA": IN.format("white oak") + 'length = "12 ft"\n[butt]\ndiameter = 19\n[top]\ndiameter = 16\n',
    "HB": IN.format("white oak")
    + 'length = "10 ft"\n[butt]\ngirth = 66\nover = "bark"\n[top]\ngirth = 58\nover = "bark"\n',  # over bark
    "HC": 'format = "waney-log/1"\nunits = "m"\nspecies = "white ash"\nlength = 3.7\n'
    "[butt]\ndiameter = 0.44\n[top]\ndiameter = 0.39\n",  # in metres
    "HD": IN.format("black cherry") + 'length = "8 ft"\n[butt]\ndiameter = 17\n',  # one end missing
    "HE": IN.format("red maple") + 'length = "7 ft"\n[butt]\ndiameter = 13\n[top]\ndiameter = 12\n',  # too short for a usual cut
    "HF": IN.format("unknown") + 'length = "9 ft"\n[top]\ndiameter = 14\n',  # nobody knows the wood
}
TERMS = """
format = "waney-terms/1"
units = "in"
currency = "USD"
hour = 95
minimum = 150
set_up = 40
way = 2
board_foot = 0.45
rule = "doyle"
share = "45 %"
worth = "1 to 2"
allowance = "1/8"
pace = "150 to 250"
set_up_hours = 0.75
metal = 35
[[tax]]
name = "sales tax"
percent = "6.25 %"
on = "each line"
rounding = "half to even"
"""
INCH, FOOT = Fraction(254, 10_000), Fraction(3048, 10_000)
# in: thick, narrowest, widest; ft: long. Two boards a log at least, 4/4 and 8/4 green, one spoiled.
BOARDS = {
    "HA": (("1.125", "11.5", "13.5", "12"), ("2.25", "14", "15", "12"), ("1.125", "12", "14", "12")),
    "HB": (("1.125", "10", "12", "10"), ("1.125", "13", "14", "10")),
    "HC": (("1.125", "9.5", "10.5", "12"), ("1.375", "12", "13", "12"), ("1.125", "4", "5", "12")),
    "HD": (("1.125", "9", "11", "8"), ("1.125", "10", "12", "8")),
    "HE": (("1.125", "8", "9", "7"), ("0.75", "6", "8", "7")),
    "HF": (("1.125", "10", "11", "9"), ("2.25", "11", "12", "9")),
}
SPOILED = ("HC", 2)
HOURS = {"HA": "0.80", "HB": "0.55", "HC": "0.75", "HD": "0.40", "HE": "0.35", "HF": "0.50"}
METAL = {"HB": 1}


def tenths_of(thick: str, narrow: str, wide: str, long: str) -> int:
    """By hand: 1/8 in left out, then whole quarter inches, an inch at least; to the nearest tenth of a board foot."""
    quarters = max(floor((Fraction(thick) - Fraction(1, 8)) * 4), 4)
    feet = Fraction(quarters, 4) * (Fraction(narrow) + Fraction(wide)) / 2 * Fraction(long) / 12
    return floor(feet * 10 + Fraction(1, 2))


TENTHS = {
    code: [0 if (code, n) == SPOILED else tenths_of(*board) for n, board in enumerate(boards)] for code, boards in BOARDS.items()
}


def cents(exact: Fraction) -> int:
    """Half up; money here is never below zero."""
    return floor(exact + Fraction(1, 2))


def half_even(exact: Fraction) -> int:
    return round(exact)


@dataclass
class Six:
    """A custom job of six odd logs in a book of its own. The hand writes; ids by the code of the log."""

    book: Book
    hand: Hand
    logs: dict[str, str] = field(default_factory=dict)
    custom: str = ""

    def job(self) -> CustomJob:
        return CustomJob.of(self.book, self.custom)

    def agree(self, how: How) -> None:
        agree(self.hand, self.custom, how, "2026-05-04", seen_of(self.job(), self.book))

    def saw(self) -> None:
        """As a paper tally is typed in; then hours, and a blade that a nail in HB spoilt."""
        day = open_day(self.hand, "2026-05-05").id
        for code, boards in BOARDS.items():
            lines = []
            for n, (thick, narrow, wide, long) in enumerate(boards):
                how = Off.SPOILED if (code, n) == SPOILED else Off.AS_MEANT
                widths = (float(Fraction(narrow) * INCH), float(Fraction(wide) * INCH))
                lines.append(TypedLine("", float(Fraction(thick) * INCH), widths, float(Fraction(long) * FOOT), how))
            take_in_typed(self.hand, self.hand.new_id(), day, self.logs[code], "", tuple(lines))
            tell_sawn(self.hand, self.custom, self.logs[code], float(HOURS[code]), METAL.get(code, 0))


@pytest.fixture
def six(book: Book, ids: Ids) -> Six:
    hand = Hand(book, ids(), "", lambda: NOW, ids)
    hand.write(Settled(Setting.TERMS, TERMS))
    made = Six(book, hand)
    made.logs = {code: add_log(hand, NewLog(sheet, code)).id for code, sheet in SIX.items()}
    made.custom = ask_custom(hand, "Hal", tuple(made.logs.values()), "boards for a floor", 40_233.6, 1.0).id
    return made


BESIDE = [40_00, 25 * 2_00, 35_00]
"""setting up, 25 miles at 2, one blade on metal"""


def tax_of(lines: list[int]) -> int:
    return sum(half_even(line * Fraction("0.0625")) for line in lines)


def test_the_job_is_quoted_three_ways_from_the_logs_as_measured(six: Six) -> None:
    found = quoted(six.job().job, six.job().now, Scenarios(1, 16))
    assert [log.name[:2] for log in found.logs] == list(SIX) and found.by is By.DOYLE
    assert all(way.paid_cents is not None and way.hourly_cents is not None for way in found.ways)


def test_by_the_hour_it_sums_to_the_cent(six: Six) -> None:
    six.agree(How.HOUR)
    six.saw()
    write_bill(six.hand, six.custom, "2026-05-05")
    sawing = cents(sum(map(Fraction, HOURS.values()), Fraction(0)) * 95_00)
    assert sawing > 150_00
    bill = custom_at(six.book, six.custom).bill
    assert bill is not None and [line for _, line in bill.lines] == [sawing, *BESIDE]
    assert bill.lines[0][0] == "3.35 hours of sawing"
    assert bill.total_cents == sawing + sum(BESIDE) + tax_of([sawing, *BESIDE])


def test_by_the_board_foot_each_log_counts_as_it_was_agreed_and_measuring_it_again_changes_nothing(six: Six) -> None:
    """Doyle: (small end - 4)^2 x length / 16, of what the agreement says was read; half a board foot goes up."""
    six.agree(How.BOARD_FOOT)
    measure_log(six.hand, six.logs["HA"], SIX["HA"].replace("diameter = 16", "diameter = 20"))
    six.hand.write(Settled(Setting.TERMS, TERMS.replace("0.45", "0.60")))
    six.saw()
    scaled = custom_at(six.book, six.custom).scaled
    feet = []
    for code, log in six.logs.items():
        words = scaled[log][By.DOYLE].read.split()
        small, long = int(words[0]), int(words[-2])
        feet.append(floor(Fraction((small - 4) ** 2 * long, 16) + Fraction(1, 2)))
        assert scaled[log][By.DOYLE].board_feet == feet[-1], code
    assert scaled[six.logs["HA"]][By.DOYLE].read.startswith("16 in")
    lines = [cents(Fraction(45) * each) for each in feet]
    short = [150_00 - sum(lines)] if sum(lines) < 150_00 else []
    bill = bill_of(six.job())
    assert [line.cents for line in bill.lines] == [*lines, *short, *BESIDE]
    assert bill.total_cents == sum([*lines, *short, *BESIDE]) + tax_of([*lines, *short, *BESIDE])


def test_on_shares_whole_pieces_are_parted_log_by_log_never_above_the_share(six: Six) -> None:
    six.agree(How.SHARES)
    six.saw()
    job = six.job()
    assert [[line.tenths for line in tally.lines] for tally in job.tallies] == list(TENTHS.values())
    kept, so_far, tallied = suggested_parting(job), 0, 0
    for code, tally in zip(SIX, job.tallies, strict=True):
        tallied += sum(TENTHS[code])
        room = floor(Fraction(45, 100) * tallied) - so_far
        sums = {0}
        for each in TENTHS[code]:
            sums |= {each + other for other in sums}
        mine = sum(line.tenths for line in tally.lines if line.piece.name in kept)
        assert mine == max(each for each in sums if each <= room), code
        so_far += mine
    with pytest.raises(BadBill, match="which pieces stay"):
        bill_of(job)
    names = {piece.name: piece.id for some in job.pieces.values() for piece in some}
    part(six.hand, six.custom, [names[name] for name in kept])
    bill = bill_of(six.job())
    yours = f"{(tallied - so_far) / 10:.1f} of {tallied / 10:.1f} board feet tallied are yours"
    assert bill.keeps == so_far / 10 and bill.lines[0].what == yours
    assert [line.cents for line in bill.lines] == [0, 0, *BESIDE] and bill.total_cents == sum(BESIDE) + tax_of(BESIDE)
    too_much = [names[line.piece.name] for tally in job.tallies for line in tally.lines]
    part(six.hand, six.custom, too_much)
    with pytest.raises(BadBill, match="more than the 45%"):
        bill_of(six.job())


def test_going_over_to_another_rule_is_an_act_of_both_and_every_bill_says_so(six: Six) -> None:
    six.agree(How.BOARD_FOOT)
    seen = version_of(six.book, stream("custom", six.custom))
    with pytest.raises(NotPossible, match="Not all is tallied yet"):
        agree_anew(six.hand, six.custom, By.TALLY, 38.0, seen)
    six.saw()
    with pytest.raises(Stale):
        agree_anew(six.hand, six.custom, By.TALLY, 38.0, seen)
    agree_anew(six.hand, six.custom, By.TALLY, 38.0, version_of(six.book, stream("custom", six.custom)))
    bill, job = bill_of(six.job()), six.job()
    assert [line.cents for line in bill.lines][:6] == [cents(Fraction(38) * Fraction(sum(each), 10)) for each in TENTHS.values()]
    doyle = sum(job.stands.scaled[log][By.DOYLE].board_feet for log in six.logs.values())
    tally = sum(map(sum, TENTHS.values())) / 10
    assert bill.said == (
        "Agreed anew: 0.38 a board foot by tally of what was sawn in place of 0.45 by Doyle. "
        f"The same wood counts {doyle:g} by Doyle and {tally:g} by tally of what was sawn.",
    )


def test_the_overrun_of_each_log_and_of_all_is_told_apart(six: Six) -> None:
    six.agree(How.BOARD_FOOT)
    six.saw()
    with pytest.raises(NotPossible, match="kerf"):
        overruns(six.job())
    mill = (Path(__file__).parents[2] / "docs" / "examples" / "mill-woodshed.toml").read_text(encoding="utf-8")
    six.hand.write(Settled(Setting.MILL, mill))
    found = overruns(six.job())
    assert [name for name, _ in found] == [*(log.name for log in six.job().stands.logs), "All logs"]
    for name, one in found:
        product = 1.0
        for reason in one.parts:
            product *= reason.factor
        assert product == pytest.approx(one.tally.board_feet / one.scale.board_feet) and one.scale.by is By.DOYLE, name


def test_an_agreement_is_made_on_what_was_looked_at(six: Six) -> None:
    seen = seen_of(six.job(), six.book)
    measure_log(six.hand, six.logs["HB"], SIX["HB"].replace("58", "56"))
    with pytest.raises(Stale):
        agree(six.hand, six.custom, How.HOUR, "2026-05-04", seen)
    seen = seen_of(six.job(), six.book)
    six.hand.write(Settled(Setting.TERMS, TERMS.replace("hour = 95", "hour = 99")))
    with pytest.raises(Stale):
        agree(six.hand, six.custom, How.HOUR, "2026-05-04", seen)
    six.hand.write(Settled(Setting.TERMS, TERMS.replace("metal = 35\n", "")))
    with pytest.raises(BadAgreement, match="who pays for a blade"):
        six.agree(How.HOUR)


def test_what_cannot_be_is_refused_with_its_sentence(six: Six) -> None:
    with pytest.raises(BadBill, match="Nothing is agreed"):
        bill_of(six.job())
    with pytest.raises(NotPossible, match=r"HA-0-. is in another custom job already"):
        ask_custom(six.hand, "Bo", [six.logs["HA"]])
    six.agree(How.HOUR)
    with pytest.raises(BadBill, match=r"how long HA-0-. took"):
        bill_of(six.job())
    with pytest.raises(NotPossible, match="no piece stays"):
        part(six.hand, six.custom, [])
    six.saw()
    write_bill(six.hand, six.custom, "2026-05-05")
    for again in (
        lambda: write_bill(six.hand, six.custom, "2026-05-05"),
        lambda: tell_logs(six.hand, six.custom, []),
        lambda: six.agree(How.SHARES),
    ):
        with pytest.raises(NotPossible, match="take the invoice back first"):
            again()


def test_a_wrong_invoice_is_taken_back_and_the_next_has_a_number_of_its_own(six: Six) -> None:
    six.agree(How.HOUR)
    six.saw()
    write_bill(six.hand, six.custom, "2026-05-05")
    take_bill_back(six.hand, six.custom, "half an hour too much")
    tell_sawn(six.hand, six.custom, six.logs["HA"], 0.30)
    write_bill(six.hand, six.custom, "2026-05-06")
    stands = custom_at(six.book, six.custom)
    assert stands.bill is not None and stands.bill.number == 2 and stands.bill.lines[0][0] == "2.85 hours of sawing"
    pay_custom(six.hand, six.custom, 100_00, PaidBy.CHECK)
    assert custom_at(six.book, six.custom).owed_cents == stands.bill.total_cents - 100_00


def test_a_customers_wood_is_never_sold_and_is_none_of_the_years_logs_but_the_sawyers_share_is(six: Six) -> None:
    six.agree(How.SHARES)
    six.saw()
    job = six.job()
    names = {piece.name: piece.id for some in job.pieces.values() for piece in some}
    kept = [names[name] for name in suggested_parting(job)]
    part(six.hand, six.custom, kept)
    theirs = next(ident for ident in names.values() if ident not in kept)
    with pytest.raises(NotPossible, match="belongs to whoever brought its log"):
        selling.sell_to(six.hand, [PricedPiece(theirs, 50_00)], "Ann", "2026-05-06")
    assert {piece.id for piece in selling.free_pieces(six.book, "2026-05-06")} == set(kept)
    selling.sell_to(six.hand, [PricedPiece(kept[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="can no longer go to the customer"):
        part(six.hand, six.custom, kept[1:])
    write_bill(six.hand, six.custom, "2026-05-06")
    yard = Yard.of(six.book, date(2026, 5, 7))
    [row] = year_of_logs(yard, 2026)
    assert (row.name, row.sold_cents) == ("wood without a log", 50_00) and theirs in customers_pieces(six.book)
    others = sawn_for_others(yard, 2026)
    assert others is not None and others.sold_cents == sum(BESIDE)
    assert others.hours == pytest.approx(float(sum(map(Fraction, HOURS.values()))) + 0.75 + 1.0)
    assert sawn_for_others(yard, 2025) is None


def shared(six: Six) -> tuple[list[str], list[str]]:
    """Agreed on shares, sawn and parted: ids of what stays with the sawyer, and of what does not."""
    six.agree(How.SHARES)
    six.saw()
    job = six.job()
    names = {piece.name: piece.id for some in job.pieces.values() for piece in some}
    kept = [names[name] for name in suggested_parting(job)]
    part(six.hand, six.custom, kept)
    return kept, [ident for ident in names.values() if ident not in kept]


def test_what_is_cut_out_of_a_piece_is_whose_the_piece_was(six: Six) -> None:
    kept, theirs = shared(six)
    ours, others = (
        cut_into_parts(six.hand, whole, Transform.CROSSCUT, [Part(length_m=1.0)] * 2) for whole in (kept[0], theirs[0])
    )
    post = six.hand.new_id()
    take_off(six.hand, CameOff(post, parent=theirs[1]))  # nobody named its log
    found = customers_pieces(six.book)
    assert found >= {*theirs, *others, post} and not found & {*kept, *ours}
    with reading(six.book.engine) as at:
        every = [piece.id for piece in pieces(six.book)]
        assert {piece for piece in every if owner_of(Database(at), piece)} == found
    for piece in (ours[0], others[0], post):
        selling.price_piece(six.hand, piece, 50_00)
    assert [one.piece.id for one in on_sale(six.book, "2026-05-06")] == [ours[0]]
    with pytest.raises(NotPossible, match="belongs to whoever brought its log"):
        selling.sell_to(six.hand, [PricedPiece(others[0], 50_00)], "Ann", "2026-05-06")
    names = {piece.id: piece.name for piece in pieces(six.book)}
    assert set(six.job().kept) == {names[piece] for piece in (*kept[1:], *ours)}
    selling.sell_to(six.hand, [PricedPiece(ours[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="is sold, so it can no longer go to the customer"):
        part(six.hand, six.custom, [*kept[1:], ours[1]])
    part(six.hand, six.custom, [*kept[1:], *ours])
    assert examine(six.book).unsound == ()


def test_what_stayed_with_the_sawyer_goes_to_the_customer_when_another_way_is_agreed(six: Six) -> None:
    kept, theirs = shared(six)
    six.agree(How.HOUR)
    assert customers_pieces(six.book) == {*kept, *theirs} and six.job().kept == ()
    six.agree(How.SHARES)
    part(six.hand, six.custom, kept)
    selling.sell_to(six.hand, [PricedPiece(kept[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="is sold, so it can no longer go to the customer"):
        six.agree(How.HOUR)
    assert examine(six.book).unsound == ()


def test_a_customers_wood_is_none_of_the_stock_and_none_of_the_shops_losses(six: Six) -> None:
    kept, theirs = shared(six)
    count = count_at(six.book, begin_count(six.hand))
    see_tag(six.hand, count.id, next(piece.name for piece in pieces(six.book) if piece.id == theirs[0]))
    found = told(six.book, count, "2026-05-06")
    assert {line.piece.id for line in found.missing} == set(kept)
    assert [(line.piece.id, line.away) for line in found.away] == [(theirs[0], "a customer's")]
    for piece in (*kept, *theirs):
        end_piece(six.hand, piece, PieceEnd.LOST)
    assert drying_and_sales(six.book).losses == (), "of no log three boards were the shop's"


def test_a_copy_carries_all_of_it(six: Six, tmp_path: Path) -> None:
    six.agree(How.HOUR)
    six.saw()
    write_bill(six.hand, six.custom, "2026-05-05")
    pay_custom(six.hand, six.custom, 50_00)
    before = custom_at(six.book, six.custom)
    back_up(six.book, tmp_path / "copy.zip")
    restore(tmp_path / "copy.zip", in_folder(tmp_path / "again"), NOW)
    again = open_book(in_folder(tmp_path / "again"))
    try:
        assert custom_at(again, six.custom) == before and examine(again).unsound == () == examine(six.book).unsound
        export(six.book, tmp_path / "out")
        assert "6.25" in (tmp_path / "out" / "custom_bill.csv").read_text(encoding="utf-8")
    finally:
        again.close()


def test_terms_are_read_as_they_stood(six: Six) -> None:
    six.agree(How.HOUR)
    job = six.job()
    assert job.terms == job.now and job.terms.allowance_m == pytest.approx(0.003175)
