"""Six odd logs quoted and billed three ways; board feet keep the rule they were counted by."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from waney.figures.scenarios import Scenarios
from waney.trade.bill import BadBill, LogSawn, billed
from waney.trade.counted import Agreed, By, Counted, OtherRule, agreed_anew, price_of
from waney.trade.custom import BadJob, Job, Quoted, quoted
from waney.trade.overrun import overrun
from waney.trade.tax import On, Rounding, Tax
from waney.trade.terms import OVER_SCALE, Terms, read_terms
from waney.trade.way_paid import How
from waney.units.sheet import SheetProblems

INCHES = 'format = "waney-log/1"\nunits = "in"\nspecies = "{}"\n'
LOGS = {
    "straight oak": INCHES.format("white oak") + 'length = "12 ft"\n[butt]\ndiameter = 19\n[top]\ndiameter = 16\n',
    "over bark": INCHES.format("white oak")
    + 'length = "10 ft"\n[butt]\ngirth = 66\nover = "bark"\n[top]\ngirth = 58\nover = "bark"\n',
    "in metres": 'format = "waney-log/1"\nunits = "m"\nspecies = "white ash"\nlength = 3.7\n'
    "[butt]\ndiameter = 0.44\n[top]\ndiameter = 0.39\n",
    "butt only": INCHES.format("black cherry") + 'length = "8 ft"\n[butt]\ndiameter = 17\n',
    "short": INCHES.format("red maple") + 'length = "7 ft"\n[butt]\ndiameter = 13\n[top]\ndiameter = 12\n',
    "wood unknown": INCHES.format("unknown") + 'length = "9 ft"\n[top]\ndiameter = 14\n',
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
share = "50 %"
worth = "1 to 2"
pace = "150 to 250"
set_up_hours = 0.75
blade = 25
blade_lasts = 500
metal = 35
driving = 0.70
[[tax]]
name = "sales tax"
percent = "6.25 %"
on = "each line"
rounding = "half to even"
"""
JOB = Job(LOGS, way_km=40.2336, way_hours=1.0)


@pytest.fixture(scope="module")
def terms() -> Terms:
    return read_terms(TERMS)


@pytest.fixture(scope="module")
def six(terms: Terms) -> Quoted:
    return quoted(JOB, terms, Scenarios(1, 48))


def test_a_job_of_six_odd_logs_is_quoted_three_ways(six: Quoted) -> None:
    assert [way.how for way in six.ways] == list(How)
    for way in six.ways:
        assert way.paid_cents is not None and way.hourly_cents is not None and not way.missing
        assert way.hourly_cents.low < way.hourly_cents.likely < way.hourly_cents.high
    assert six.scale is not None and six.by is By.DOYLE and six.not_counted == ()


def test_what_was_taped_well_is_scaled_as_the_rule_says(six: Quoted) -> None:
    """16 in, 12 ft: Doyle (16 - 4)^2 x 12 / 16 = 108; International 130 (published tables of both rules)."""
    oak = six.logs[0]
    assert (oak.scales[By.DOYLE].board_feet, oak.scales[By.INTERNATIONAL].board_feet) == (108, 130)
    assert oak.scales[By.DOYLE].read == "16 in at the small end inside bark, 12 ft"


def test_a_log_with_one_end_has_a_wider_range_than_one_with_two(six: Quoted) -> None:
    share = {log.name: log.ranges[By.INTERNATIONAL].width / log.scales[By.INTERNATIONAL].board_feet for log in six.logs}
    assert share["butt only"] > 2 * share["straight oak"]


def test_bark_is_taken_off_and_metres_are_metres(six: Quoted) -> None:
    logs = {log.name: log for log in six.logs}
    over = logs["over bark"].scales[By.DOYLE].read  # 58 in round the bark is 18.5 in across, wood inside is less
    assert int(over.split()[0]) < 18
    assert logs["in metres"].scales[By.DOYLE].read == "15 in at the small end inside bark, 12 ft"  # 0.39 m, 3.7 m


def test_the_likely_figures_of_a_quote_by_hand(six: Quoted, terms: Terms) -> None:
    """From the likely tally: hours at 200 an hour, 40 to set up, 25 miles at 2."""
    hour, board_foot, shares = six.ways
    tally, beside = six.tally.likely, 40_00 + 25 * 2_00
    assert six.scale is not None and hour.paid_cents and board_foot.paid_cents and shares.paid_cents and shares.keeps
    assert hour.paid_cents.likely == pytest.approx(max(95_00 * tally / 200, 150_00) + beside)
    assert board_foot.paid_cents.likely == pytest.approx(max(45 * six.scale.likely, 150_00) + beside)
    assert shares.paid_cents.likely == pytest.approx(beside) and shares.keeps.likely == pytest.approx(tally / 2)
    hours, costs = tally / 200 + 0.75 + 1.0, 25_00 * tally / 500 + 25 * 70
    assert six.hours is not None and six.hours.likely == pytest.approx(hours)
    assert hour.hourly_cents and hour.hourly_cents.likely == pytest.approx((hour.paid_cents.likely - costs) / hours)
    assert shares.hourly_cents and shares.hourly_cents.likely == pytest.approx((beside + tally / 2 * 1_50 - costs) / hours)


def test_blanks_in_the_terms_are_said_and_nothing_stands_in(terms: Terms) -> None:
    bare = quoted(Job({"a": LOGS["short"]}), Terms("USD"), Scenarios(1, 16))
    assert [way.paid_cents for way in bare.ways] == [None, None, None]
    assert bare.ways[0].missing == ("what an hour of sawing costs", "the pace")
    assert bare.not_counted == ("blades", "driving") and bare.hours is None and Terms().over_scale is OVER_SCALE
    slow = quoted(Job({"a": LOGS["short"]}), replace(terms, pace=None), Scenarios(1, 16))
    assert slow.ways[1].paid_cents is not None and slow.ways[1].hourly_cents is None
    with pytest.raises(BadJob):
        quoted(Job({}), terms, Scenarios(1, 16))


SAWN = (
    LogSawn("straight oak", Counted(141.0, By.TALLY), Counted(108, By.DOYLE, "16 in, 12 ft"), 0.7, 1, keeps=70.0),
    LogSawn("short", Counted(37.5, By.TALLY), Counted(28, By.DOYLE, "12 in, 7 ft"), hours=0.35, keeps=18.5),
)


def test_the_same_job_is_billed_three_ways(terms: Terms) -> None:
    hour, feet, shares = (billed(how, terms, JOB, SAWN) for how in How)
    # 1.05 h x 95 = 99.75, up to 150; 40; 25 miles x 2; one blade 35
    assert [line.cents for line in hour.lines] == [99_75, 50_25, 40_00, 50_00, 35_00] and hour.net_cents == 275_00
    # Doyle 108 + 28 = 136 x 0.45 = 61.20, up to 150
    assert [line.cents for line in feet.lines] == [48_60, 12_60, 88_80, 40_00, 50_00, 35_00]
    assert shares.keeps == pytest.approx(88.5) and shares.lines[0].what.startswith("90.0 of 178.5") and shares.net_cents == 125_00
    # 6.25 % on each line, half to even: 623.4375, 314.0625, 250, 312.5, 218.75
    assert [tax.cents for tax in hour.taxes] == [623 + 314 + 250 + 312 + 219]
    assert hour.total_cents == 275_00 + 17_18


def test_a_figure_agreed_on_one_rule_is_never_worked_out_by_another() -> None:
    agreed, tally, doyle = Agreed(45, By.DOYLE), Counted(141, By.TALLY), Counted(108, By.DOYLE)
    assert price_of(agreed, doyle) == 48_60
    with pytest.raises(OtherRule, match=r"by Doyle; this was counted by tally"):
        price_of(agreed, tally)
    with pytest.raises(OtherRule, match="show the same wood by both"):
        agreed_anew(agreed, 35, By.TALLY, tally, doyle)
    anew = agreed_anew(agreed, 35, By.TALLY, doyle, tally)
    assert price_of(anew, tally) == 49_35
    assert anew.changed == (
        "Agreed anew: 0.35 a board foot by tally of what was sawn in place of 0.45 by Doyle. "
        "The same wood counts 108 by Doyle and 141 by tally of what was sawn.",
    )


def test_the_bill_prints_what_was_agreed_anew_and_refuses_a_log_nobody_scaled(terms: Terms) -> None:
    assert terms.board_foot is not None
    anew = agreed_anew(terms.board_foot, 40, By.TALLY, Counted(136, By.DOYLE), Counted(178.5, By.TALLY))
    assert billed(How.BOARD_FOOT, replace(terms, board_foot=anew), JOB, SAWN).said == anew.changed
    with pytest.raises(BadBill, match="short was not counted by Doyle before"):
        billed(How.BOARD_FOOT, terms, JOB, [SAWN[0], replace(SAWN[1], scale=None)])
    with pytest.raises(OtherRule):
        billed(How.BOARD_FOOT, terms, JOB, [replace(SAWN[0], scale=Counted(130, By.INTERNATIONAL))])
    with pytest.raises(BadBill, match="do not say who pays"):
        billed(How.HOUR, replace(terms, metal_cents=None), JOB, SAWN)


def test_overrun_is_told_apart_and_its_parts_multiply_to_it() -> None:
    """A 1/16 in kerf at 1 1/8 in green for 4/4 takes 1 3/16 a board; International gives 1 5/16: 10.5 % more."""
    found = overrun(
        Counted(108, By.DOYLE), Counted(130, By.INTERNATIONAL), Counted(141, By.TALLY), 0.0254 / 16, 0.0254 * 1.125, 0.0254
    )
    product = 1.0
    for part in found.parts:
        product *= part.factor
    assert product == pytest.approx(found.ratio) and found.ratio == pytest.approx(141 / 108)
    assert found.parts[0].factor == pytest.approx(130 / 108)
    assert found.parts[1].factor == pytest.approx(1.3125 / 1.1875)
    assert found.words == "141 tallied, 108 by Doyle: overrun 30.6 %"
    own = overrun(Counted(130, By.INTERNATIONAL), Counted(130, By.INTERNATIONAL), Counted(120, By.TALLY), 0.002, 0.028, 0.0254)
    assert len(own.parts) == 2 and "underrun 7.7 %" in own.words


def test_terms_read_as_they_were_meant(terms: Terms) -> None:
    assert terms.board_foot == Agreed(45.0, By.DOYLE) and terms.share == 0.5
    assert terms.pace is not None and (terms.pace.low, terms.pace.likely, terms.pace.high) == (150, 200, 250)
    assert terms.way_cents == pytest.approx(200 / 1.609344)  # a statute mile is 1.609344 km
    assert terms.taxes == (Tax("sales tax", Fraction("0.0625"), On.LINE, Rounding.HALF_EVEN),)
    with pytest.raises(SheetProblems, match="say by which rule"):
        read_terms(TERMS.replace('rule = "doyle"\n', ""))
    assert read_terms("") == Terms()
