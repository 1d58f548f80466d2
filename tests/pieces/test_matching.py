"""Matching: neighbours before the rest of a log, nothing promised to two matches, nothing suggested that is not alike."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.matching import NEAR_LONG_M, NEAR_WIDE, SAME_THICK_M, Match, Sawn, matches

IN = 0.0254
BOARD = Sawn("A-1", "A", 1, 2 * IN, 18 * IN, 96 * IN)


def board(
    name: str, place: int | None, wide_in: float = 18.0, long_in: float = 96.0, log: str = "A", thick_in: float = 2.0
) -> Sawn:
    return Sawn(name, log, place, thick_in * IN, wide_in * IN, long_in * IN)


def test_neighbours_are_a_pair_and_a_gap_in_the_boule_makes_them_pieces_of_one_log() -> None:
    [pair] = matches([board("A-2", 2, 17.5), board("A-1", 1)])
    assert pair.names == ("A-1", "A-2") and pair.words == "a pair, next to each other in the boule"
    assert abs(pair.wide_apart - 0.5 / 18) < 1e-9
    [apart] = matches([board("A-1", 1), board("A-3", 3)])
    assert not apart.neighbours and apart.words == "a pair out of one log"


def test_a_run_of_four_is_one_set_and_what_is_left_over_is_matched_with_the_rest_of_its_log() -> None:
    some = [*(board(f"A-{n}", n) for n in range(1, 5)), board("A-6", 6, 12.0), board("A-8", 8, 12.5), board("A-9", None, 30.0)]
    run, rest = matches(some)
    assert run == Match(("A-1", "A-2", "A-3", "A-4"), True, 0.0, 0.0) and run.words.startswith("a set of 4")
    assert rest.names == ("A-6", "A-8")


def test_another_log_another_thickness_or_another_size_is_no_match() -> None:
    first = board("A-1", 1)
    for other in (
        board("B-2", 2, log="B"), board("A-2", 2, thick_in=2.25), board("A-2", 2, wide_in=14.0), board("A-2", 2, long_in=84.0),
        board("A-2", None, log=""),
    ):  # fmt: skip
        assert matches([first, other]) == (), other
    assert matches([replace(first, log=""), board("B-2", 2, log="")]) == (), "a log that is not known is no log"


SOME = st.lists(
    st.builds(
        Sawn,
        st.integers(1, 40).map(lambda n: f"A-{n}"),
        st.sampled_from(("A", "B", "")),
        st.none() | st.integers(1, 12),
        st.sampled_from((1 * IN, 1.05 * IN, 2 * IN)),
        st.floats(0.1, 0.6),
        st.floats(2.0, 2.3),
    ),
    max_size=14,
    unique_by=lambda one: one.name,
)


@settings(max_examples=60)
@given(SOME, st.randoms())
def test_a_piece_is_in_one_match_all_in_it_are_alike_and_their_order_does_not_matter(some: list[Sawn], mixed: object) -> None:
    found, by_name = matches(some), {one.name: one for one in some}
    named = [name for match in found for name in match.names]
    assert len(named) == len(set(named))
    for match in found:
        group = [by_name[name] for name in match.names]
        assert len(group) > 1 and len({one.log for one in group}) == 1 and group[0].log
        assert max(one.thickness_m for one in group) - min(one.thickness_m for one in group) <= SAME_THICK_M
        assert match.wide_apart <= NEAR_WIDE and match.long_apart_m <= NEAR_LONG_M
        places = [one.place or 0 for one in group]
        assert not match.neighbours or places == list(range(places[0], places[0] + len(places)))
    other = list(some)
    mixed.shuffle(other)  # type: ignore[attr-defined]
    assert matches(other) == found
