"""Six odd logs of somebody: quoted, agreed, sawn, billed three ways; the sums are done here anew, with fractions."""

from __future__ import annotations

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
from waney.yard.acts.sales import PaidBy
from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.book import Book, open_book
from waney.yard.book.copies import back_up, export, restore
from waney.yard.book.custom_seen import custom_at
from waney.yard.book.engine import in_folder
from waney.yard.book.examining import examine
from waney.yard.book.looking import version_of
from waney.yard.problems import NotPossible, Stale
from waney.yard.services.custom import (
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
from waney.yard.services.logs import measure_log
from waney.yard.streams import stream

from .conftest import NOW, Ids
from .six_logs import BESIDE, HOURS, SIX, TENTHS, TERMS, Six, cents, kept_by_log, six_logs, tax_of


@pytest.fixture
def six(book: Book, ids: Ids) -> Six:
    return six_logs(book, ids)


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
    kept = suggested_parting(job)
    mine = [sum(line.tenths for line in tally.lines if line.piece.name in kept) for tally in job.tallies]
    assert mine == list(kept_by_log().values())
    so_far, tallied = sum(mine), sum(map(sum, TENTHS.values()))
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
    with pytest.raises(BadBill, match="more than the 45 %"):
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
