"""One function over many items: the same answer from one process and from several, budgets, stopping, what goes wrong."""

from __future__ import annotations

import os
import signal
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.work.mapping import WorkLost, map_over


def twice(number: int) -> int:
    return 2 * number


def inverse(number: int) -> float:
    return 1 / number


def dies(number: int) -> int:
    if number == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return number


@given(st.lists(st.integers(), max_size=20), st.none() | st.integers(0, 25), st.none() | st.integers(1, 25))
def test_results_are_those_of_the_first_items_in_their_order(items: list[int], budget: int | None, until: int | None) -> None:
    told: list[tuple[int, int]] = []
    done = map_over(twice, items, budget, lambda n, of: told.append((n, of)), lambda: until is not None and len(told) >= until)
    meant = len(items) if budget is None else min(budget, len(items))
    worked = meant if until is None else min(until, meant)
    assert done.results == tuple(2 * item for item in items[:worked])
    assert told == [(n, meant) for n in range(1, worked + 1)]
    assert (done.whole, done.stopped) == (worked == len(items), worked < meant)


def test_several_processes_give_what_one_gives() -> None:
    items = list(range(30))
    assert map_over(twice, items, processes=2) == map_over(twice, items)
    stopped = map_over(twice, items, stop=lambda: True, processes=2)
    assert stopped.results == (0,) and stopped.stopped and not stopped.whole


@pytest.mark.parametrize("processes", [1, 2])
def test_what_goes_wrong_in_an_item_is_raised(processes: int) -> None:
    with pytest.raises(ZeroDivisionError):
        map_over(inverse, [2, 1, 0, 5], processes=processes)


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL")
def test_a_process_that_is_killed_is_a_sentence() -> None:
    with pytest.raises(WorkLost, match="fewer at once"):
        map_over(dies, list(range(8)), processes=2)
