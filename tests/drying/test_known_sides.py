"""Bark and ends of pieces as told: what counts where nobody told, as a sheet says it, in whichever line a piece lies."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.known_sides import KnownSides, said_of_told
from waney.drying.meter_sheet import MeterSheet
from waney.drying.outdoors import Exposure
from waney.drying.piece_read import PieceRead, lined, untold
from waney.drying.sides_told import sides_said
from waney.drying.stack import stack_dates
from waney.drying.stack_sheet import read_stack_sheet
from waney.drying.weighing import Weight
from waney.drying.yard_stack import YardStack, yard_dates
from waney.figures.scenarios import Scenarios
from waney.wood.climate import station

APRIL = date(2026, 4, 1)
SHEET, FEW = MeterSheet(), Scenarios(3, 24)
YES_NO = st.sampled_from([None, True, False])
KNOWN = st.builds(KnownSides, st.booleans(), YES_NO, YES_NO)
SHORT_POST = PieceRead("P", "white oak", 0.054, 0.5, 0.1, APRIL)
EDGES, ENDS = {True: "bark", False: "open"}, {True: "bare", False: "coated"}


@given(st.booleans(), st.booleans(), st.booleans())
def test_what_is_told_is_what_the_words_of_a_sheet_say(live: bool, bark: bool, bare: bool) -> None:
    assert KnownSides(live, bark, bare).sized(0.1, 0.5) == sides_said(EDGES[bark], ENDS[bare], 0.1, 0.5)


@given(KNOWN)
def test_where_nobody_told_bark_is_on_a_live_edge_alone_and_ends_are_coated(known: KnownSides) -> None:
    told = replace(known, bark_on=known.live_edge if known.bark_on is None else known.bark_on, ends_bare=bool(known.ends_bare))
    assert told.sized(0.1, 0.5) == known.sized(0.1, 0.5)  # who tells what counted already changes nothing


PIECES = st.lists(st.tuples(KNOWN, st.floats(0.03, 0.4), st.floats(0.2, 3.0)), min_size=1, max_size=8)


@given(PIECES)
@settings(max_examples=50, deadline=None)
def test_no_piece_is_in_a_line_that_dries_by_more_sides_or_smaller_ones_than_it_does(
    drawn: list[tuple[KnownSides, float, float]],
) -> None:
    given_ = [
        PieceRead(str(n), "white oak", 0.03, length, width, APRIL, known=known) for n, (known, width, length) in enumerate(drawn)
    ]
    lines, left = lined(given_, SHEET)
    assert left == () and sorted(name for one in lines for name in one.pieces) == sorted(one.name for one in given_)
    assert len({one.line.name for one in lines}) == len(lines)
    for one in lines:
        for piece in (given_[int(name)] for name in one.pieces):
            sides = one.line.sides
            assert piece.known.edges_open or not sides.edges_open
            assert piece.known.ends_open == sides.ends_open
            assert (sides.width_m or 0.0) >= (piece.width_m or 0.0) and (sides.length_m or 0.0) >= (piece.length_m or 0.0)


WORDS = """
format = "waney-stack/1"
units = "mm"
state = "IN"
place = "Indianapolis"
start = 2026-04-01
exposure = "open"
target = 20
mark = "2 g"

[[piece]]
name = "P"
species = "white oak"
thickness = 54
length = "500 mm"
width = 100
edges = "{edges}"
ends = "{ends}"

[[piece.weight]]
day = 2026-04-01
reads = "3 kg"
"""


@pytest.mark.parametrize(("bark", "bare"), [(True, False), (False, False), (False, True)])
def test_a_forecast_of_the_yard_is_that_of_the_same_sheet(bark: bool, bare: bool) -> None:
    stack = read_stack_sheet(WORDS.format(edges=EDGES[bark], ends=ENDS[bare]))
    (line,) = stack.lines
    (_, weighed), *_ = ((day, read) for day, read in line.reads)
    told = KnownSides(True, bark, bare)
    piece = replace(SHORT_POST, known=told, weights=((APRIL, Weight(weighed.kg, weighed.error_kg)),))  # type: ignore[union-attr]
    here = YardStack((station("IN", "Indianapolis"),), (Exposure.OPEN,), 0.20, (piece,), SHEET)
    (found,) = yard_dates(here, FEW, lambda _share: None).lines
    by_sheet = stack_dates(stack, FEW).lines[0]
    assert found.dates.forecast.after.days == by_sheet.forecast.after.days
    assert found.dates.forecast.before.days == by_sheet.forecast.before.days
    assert set(by_sheet.remarks) <= set(found.dates.remarks) and any(one.startswith("As told, ") for one in found.dates.remarks)


def test_bare_ends_and_open_edges_make_a_short_narrow_piece_earlier_and_nothing_told_is_the_latest() -> None:
    def likely(known: KnownSides) -> float:
        here = YardStack((station("IN", "Indianapolis"),), (Exposure.OPEN,), 0.20, (replace(SHORT_POST, known=known),), SHEET)
        return yard_dates(here, FEW, lambda _share: None).lines[0].dates.forecast.after.days.likely

    latest = likely(KnownSides(live_edge=True))
    assert likely(KnownSides(True, True, False)) == latest
    assert latest > likely(KnownSides(True, False)) > likely(KnownSides(True, False, True))


def test_what_nobody_told_is_said_of_pieces_whose_days_hang_on_it_alone() -> None:
    wide, long = replace(SHORT_POST, name="W", width_m=0.5), replace(SHORT_POST, name="L", length_m=2.5)
    live = [replace(one, known=KnownSides(live_edge=True)) for one in (SHORT_POST, wide, long)]
    assert untold(live) == (
        "Nobody told whether bark is on, so it counts as on: P, L.",
        "Nobody told whether the ends are coated, so they count as coated: P, W.",
    )
    assert untold([replace(one, known=KnownSides(True, True, False)) for one in live]) == ()
    assert untold([SHORT_POST]) == ("Nobody told whether the ends are coated, so they count as coated: P.",)  # sawn edges
    assert untold([replace(SHORT_POST, thickness_m=None)]) == ()


def test_what_was_told_of_some_only_is_said_with_what_counts_for_all() -> None:
    off, bare, nothing = KnownSides(True, False, False), KnownSides(True, True, True), KnownSides(True)
    assert said_of_told([nothing]) == "" and said_of_told([off]) == "As told, bark is off; ends are coated."
    assert said_of_told([bare, bare]) == "As told, bark is on; ends are bare."
    both = said_of_told([off, bare, nothing])
    assert "bark is off on 1 of 3 pieces, so all count as under bark" in both
    assert "ends are bare on 1 of 3 pieces, so all count as coated" in both
