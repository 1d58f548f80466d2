"""Ready or not: shell and core against what was wanted; what was not told is not known, and what was told badly is wide."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.ready import Word, readiness
from waney.figures.estimate import Basis, Estimate, Ground

SEEN = Basis(Ground.READING, "pin meter")
ORDER = [Word.NOT, Word.PERHAPS, Word.READY]


def at(mc: float, reach: float = 0.01) -> Estimate:
    return Estimate(mc, max(mc - reach, 0.0), mc + reach, SEEN)


def test_a_dry_shell_over_a_wet_core_is_not_ready() -> None:
    # shell 4 %, core 10 %, "7 % on average", sold as dry: the mistake that the trade tells of (S81, seen second hand)
    found = readiness(at(0.04), at(0.10), 0.07, 0.08)
    assert found.word is Word.NOT
    assert found.sentence == (
        "not ready: shell 4 % (3 to 5 %) against 7 % wanted, drier than it was to be; core 10 % (9 to 11 %) against 8 % wanted"
    )


@pytest.mark.parametrize(
    ("shell", "core", "wanted", "word"),
    [
        (at(0.07), at(0.08), (0.07, 0.08), Word.READY),
        (at(0.07), at(0.09, 0.02), (0.07, 0.08), Word.PERHAPS),
        (at(0.07), at(0.08, 0.03), (0.07, 0.08), Word.PERHAPS),  # 5 to 11 %: at 11 it is far from there
        (at(0.07), at(0.08, 0.024), (0.07, 0.08), Word.READY),
        (at(0.07), at(0.05, 0.03), (0.07, 0.08), Word.READY),
        (None, at(0.08), (0.07, 0.08), Word.NOT_KNOWN),
        (None, at(0.12), (0.07, 0.08), Word.NOT),
        (None, at(0.08), (None, 0.08), Word.READY),
        (at(0.07), at(0.08), (None, None), Word.NOT_KNOWN),
        (None, None, (0.07, 0.08), Word.NOT_KNOWN),
    ],
)
def test_what_decides(shell: Estimate | None, core: Estimate | None, wanted: tuple[float | None, ...], word: Word) -> None:
    assert readiness(shell, core, *wanted).word is word


@settings(max_examples=40, deadline=None)
@given(core=st.floats(0.04, 0.3), reach=st.floats(0.0, 0.05), wider=st.floats(0.0, 0.05))
def test_a_worse_reading_never_makes_it_ready(core: float, reach: float, wider: float) -> None:
    narrow, wide = (readiness(at(0.07), at(core, each), 0.07, 0.08).word for each in (reach, reach + wider))
    assert wide is not Word.READY or narrow is Word.READY


def test_a_wide_range_says_what_would_settle_it() -> None:
    wide, narrow, wet = (readiness(at(0.07), at(*core), 0.07, 0.08) for core in ((0.08, 0.03), (0.08, 0.01), (0.12, 0.01)))
    assert "species table" in wide.to_be_sure and narrow.to_be_sure == wet.to_be_sure == ""


@settings(max_examples=40, deadline=None)
@given(core=st.floats(0.04, 0.3), more=st.floats(0.0, 0.2), reach=st.floats(0.0, 0.05))
def test_a_wetter_core_is_never_readier(core: float, more: float, reach: float) -> None:
    drier, wetter = (readiness(at(0.07), at(mc, reach), 0.07, 0.08).word for mc in (core, core + more))
    assert ORDER.index(wetter) <= ORDER.index(drier)
