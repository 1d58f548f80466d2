"""One long log or two short ones: what the stem gives, saw cut and all."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from waney.pieces.measures import FOOT_M
from waney.trade.crosscut import places_of
from waney.trade.lengths import SAW_KERF_M, long_or_halved


@given(st.floats(0.1, 30.0), st.sampled_from([FOOT_M, 0.1]))
def test_both_ways_fit_the_stem_and_nothing_longer_would(length: float, grain: float) -> None:
    found = long_or_halved(length, grain)
    if found is None:
        assert (length - SAW_KERF_M) / 2.0 < 4.0 * FOOT_M + grain
        return
    long, half = found
    assert len(places_of([long * grain], length)) == 1 and len(places_of([half * grain] * 2, length)) == 2
    assert (long + 1) * grain > length - 1e-6 and 2 * (half + 1) * grain + SAW_KERF_M > length - 1e-6
