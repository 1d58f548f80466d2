"""A function over many items: in this process, or in a pool of processes that are started afresh."""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from itertools import islice
from typing import Generic, TypeVar

from waney.figures.problem import Problem

Item = TypeVar("Item")
Result = TypeVar("Result")
AHEAD = 2
"""items that wait for each process; more would only make stopping slow"""


class WorkLost(Problem):
    """A process of the pool ended in the middle of its work."""


@dataclass(frozen=True)
class Mapped(Generic[Result]):
    """The results of the first items, in their order. whole: of all items; stopped: somebody asked to stop."""

    results: tuple[Result, ...]
    whole: bool
    stopped: bool


def map_over(
    function: Callable[[Item], Result],
    items: Sequence[Item],
    budget: int | None = None,
    on_progress: Callable[[int, int], None] = lambda done, of: None,
    stop: Callable[[], bool] = lambda: False,
    processes: int = 1,
) -> Mapped[Result]:
    """Work on items in their order; the same results however many processes there are.

    budget: at most so many items (None: all). on_progress: told how many of how many are done. stop: asked after each
    item; what is done by then is given back. processes: 1 is this one; for more, function and items
    must be picklable. Raises what function raises, and WorkLost.
    """
    some = items if budget is None else items[: max(budget, 0)]
    results: list[Result] = []
    stopped = False
    steps = map(function, some) if processes <= 1 else _pooled(function, some, processes)
    for result in steps:
        results.append(result)
        on_progress(len(results), len(some))
        if len(results) < len(some) and stop():
            stopped = True
            break
    return Mapped(tuple(results), len(results) == len(items), stopped)


def _pooled(function: Callable[[Item], Result], items: Sequence[Item], processes: int) -> Iterator[Result]:
    """Results in the order of the items, a few items ahead of what is asked for."""
    pool = ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("spawn"))
    rest = iter(items)
    ahead: deque[Future[Result]] = deque()
    try:
        ahead.extend(pool.submit(function, item) for item in islice(rest, processes * AHEAD))
        while ahead:
            result = ahead.popleft().result()
            ahead.extend(pool.submit(function, item) for item in islice(rest, 1))
            yield result
    except BrokenProcessPool:
        raise WorkLost(
            "A process was ended from outside, or ran out of memory, in the middle of the work. Try fewer at once."
        ) from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
