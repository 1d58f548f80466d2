"""Scenarios: the same doubt is the same draw everywhere, and the draws are a fair sample of the normal distribution."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up

DEFAULT = Basis(Ground.DEFAULT, "")
BARK = Estimate(0.010, 0.006, 0.020, DEFAULT, hard_min=0.0)


def test_a_name_has_the_same_column_whatever_else_is_asked() -> None:
    alone = Scenarios(7).draws({"log.bark.top": BARK})
    among = Scenarios(7).draws({"log.sweep": BARK, "log.bark.top": BARK, "air.rh": BARK})
    assert [d["log.bark.top"] for d in alone] == [d["log.bark.top"] for d in among]


def test_a_column_is_the_same_in_another_process() -> None:
    program = "from waney.figures.scenarios import Scenarios; print(Scenarios(7).column('log.bark.top').tobytes().hex())"
    other = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.strip()
    assert Scenarios(7).column("log.bark.top").tobytes().hex() == other


@given(st.integers(0, 2**31), st.text(max_size=20), st.integers(2, 400))
def test_a_column_holds_every_stratum_once(seed: int, name: str, n: int) -> None:
    column = np.sort(Scenarios(seed, n).column(name))
    assert column.shape == (n,)
    assert np.all(np.diff(column) > 0)
    assert column == pytest.approx(-column[::-1], abs=1e-9)


def test_columns_of_different_names_and_seeds_differ() -> None:
    columns = [Scenarios(seed).column(name) for seed in (1, 2) for name in ("a", "b")]
    assert len({column.tobytes() for column in columns}) == 4


def test_names_do_not_depend_on_each_other() -> None:
    """Correlation of two shuffled columns of n = 256 is about normal with sd 1/16; 300 pairs stay within 5 sd."""
    scenarios = Scenarios(3)
    columns = np.array([scenarios.column(f"doubt {i}") for i in range(25)])
    off_diagonal = np.corrcoef(columns)[np.triu_indices(25, 1)]
    assert np.abs(off_diagonal).max() < 5 / 16
    assert off_diagonal.std() == pytest.approx(1 / 16, rel=0.25)  # 300 pairs: the sd itself is known to about 4 %


def test_a_model_that_only_hands_its_input_on_gives_the_input_back() -> None:
    """Quantiles of 256 strata lie within one stratum, 0.4 % of probability, of the true 5 and 95 % points."""
    summed = summed_up(Scenarios(1).values("bark", BARK), BARK.likely, DEFAULT)
    assert summed.low == pytest.approx(BARK.low, abs=0.02 * BARK.width)
    assert summed.high == pytest.approx(BARK.high, abs=0.02 * BARK.width)
    assert summed.likely == BARK.likely


def test_half_the_draws_lie_below_the_likely_value() -> None:
    assert (Scenarios(5).values("bark", BARK) < BARK.likely).sum() == 128


def test_a_sum_of_independent_doubts_has_the_variance_of_the_sum() -> None:
    doubts = {f"d{i}": Estimate(0.0, -1.645, 1.645, DEFAULT) for i in range(4)}
    sums = np.array([sum(draw.values()) for draw in Scenarios(11, 4096).draws(doubts)])
    # sd of a sum of 4 unit normals is 2; with 4096 draws it is known to about 1 %
    assert sums.std() == pytest.approx(2.0, rel=0.05)


def test_the_likely_case_takes_every_likely_value() -> None:
    assert likely({"bark": BARK}) == {"bark": 0.010}


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=50), st.floats(-200, 200))
def test_a_summary_always_holds_the_likely_value(results: list[float], value: float) -> None:
    summed = summed_up(np.array(results), value, DEFAULT)
    assert summed.low <= value <= summed.high
