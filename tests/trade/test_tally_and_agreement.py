"""A tally sums to what is printed, pieces are parted whole, an agreement always says what is paid and who pays for a blade."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.measures import FOOT_M, INCH_M
from waney.trade.agreement import NOT_LEGAL_ADVICE, About, BadAgreement, agreement
from waney.trade.counted import Agreed, By
from waney.trade.log_tally import LogTally, PieceTally, Sawn, counting_rule, log_tally, mostly_thick
from waney.trade.parting import BadParting, kept_board_feet, parted
from waney.trade.terms import Terms
from waney.trade.way_paid import How

EIGHTH = INCH_M / 8
ABOUT = About("Alder Hollow", "Hal", ("HA-0-1", "HB-0-2"), counting_rule(None), "25 mi")
TERMS = Terms("USD", hour_cents=95_00.0, minimum_cents=150_00, board_foot=Agreed(45.5, By.DOYLE), share=0.5, metal_cents=35_00)


def board(name: str, thick_in: float, wide_in: float, long_ft: float) -> Sawn:
    return Sawn(name, thick_in * INCH_M, wide_in * INCH_M, long_ft * FOOT_M)


def test_boards_count_as_agreed() -> None:
    """4/4 sawn 1 1/8: 1 x 12 x 8 / 12 = 8; as sawn 9; 8/4 sawn 2 1/4: 16; 3/4 counts as an inch."""
    some = [board("a", 1.125, 12, 8), board("b", 2.25, 12, 8), board("c", 0.75, 12, 8)]
    assert [line.board_feet for line in log_tally("x", some, EIGHTH).lines] == [8.0, 16.0, 8.0]
    assert [line.board_feet for line in log_tally("x", some).lines] == [9.0, 18.0, 8.0]


def test_what_is_spoiled_does_not_count_and_what_is_not_measured_is_named() -> None:
    found = log_tally(
        "x", [replace(board("a", 1, 12, 8), spoiled=True), replace(board("b", 1, 12, 8), width_m=None), board("c", 1, 6, 8)]
    )
    assert found.tenths == 40 and found.unmeasured == ("b",) and found.counted.read == "1 piece"
    assert mostly_thick(found.lines) == (INCH_M, INCH_M) and mostly_thick([]) is None


@given(st.lists(st.tuples(st.floats(0.5, 4.0), st.floats(3.0, 30.0), st.floats(2.0, 16.0)), max_size=20))
def test_a_tally_is_the_sum_of_its_printed_lines(sizes: list[tuple[float, float, float]]) -> None:
    found = log_tally("x", [board(str(n), *size) for n, size in enumerate(sizes)], EIGHTH)
    printed = [f"{line.board_feet:.1f}" for line in found.lines]
    assert sum(int(line.replace(".", "")) for line in printed) == found.tenths


def drawn(sizes: list[list[int]]) -> list[LogTally]:
    return [
        LogTally(f"l{n}", tuple(PieceTally(Sawn(f"{n}-{i}"), 0.03, tenths) for i, tenths in enumerate(log)), ())
        for n, log in enumerate(sizes)
    ]


@settings(max_examples=60)
@given(st.lists(st.lists(st.integers(0, 400), max_size=8), max_size=4), st.integers(0, 100))
def test_no_set_of_whole_pieces_comes_nearer_to_the_share_from_below(sizes: list[list[int]], per_cent: int) -> None:
    """Every set of pieces of a log is tried, log by log, with what is left over from the logs before."""
    logs, kept = drawn(sizes), parted(drawn(sizes), per_cent / 100)
    so_far = tallied = 0
    for log in logs:
        tallied += log.tenths
        room = per_cent * tallied // 100 - so_far
        each = [line.tenths for line in log.lines]
        best = max(total for n in range(len(each) + 1) for some in combinations(each, n) if (total := sum(some)) <= room)
        so_far += best
        assert sum(line.tenths for line in log.lines if line.piece.name in kept) == best
    assert len(set(kept)) == len(kept) and kept_board_feet(logs, kept) == so_far / 10


def test_a_share_that_is_none_and_a_strange_piece_are_refused() -> None:
    with pytest.raises(BadParting, match="write from 0 to 100"):
        parted([], 1.5)
    with pytest.raises(BadParting, match="AB-3"):
        kept_board_feet(drawn([[10]]), ["AB-3"])


@pytest.mark.parametrize("how", How)
@pytest.mark.parametrize("own", ["", "We saw for {customer}.\n\nBe there at eight."])
def test_every_agreement_says_what_is_paid_counted_and_who_pays_for_a_blade(how: How, own: str) -> None:
    text = agreement(replace(TERMS, agreement=own), how, ABOUT)
    whole = " ".join(text)
    assert "Hal" in whole and "costs the customer $35.00" in whole and ABOUT.count in whole and text[-1] == NOT_LEGAL_ADVICE
    assert {How.HOUR: "$95.00", How.BOARD_FOOT: "0.455 USD, counted by Doyle and by no other rule", How.SHARES: "50 %"}[
        how
    ] in whole
    assert ("$150.00 at least" in whole) is (how is not How.SHARES)
    assert all("{" not in part for part in text) and whole.count("costs the customer $35.00") == 1


def test_a_blank_that_means_nothing_and_terms_nobody_typed_are_sentences() -> None:
    with pytest.raises(BadAgreement, match=r"\{costumer\} in the agreement"):
        agreement(replace(TERMS, agreement="For {costumer}."), How.HOUR, ABOUT)
    with pytest.raises(BadAgreement, match="who pays for a blade"):
        agreement(replace(TERMS, metal_cents=None), How.HOUR, ABOUT)
    with pytest.raises(BadAgreement, match="not by which rule"):
        agreement(replace(TERMS, board_foot=None), How.BOARD_FOOT, ABOUT)
    assert "sawyer's loss" in " ".join(agreement(replace(TERMS, metal_cents=0), How.HOUR, ABOUT))
