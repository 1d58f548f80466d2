"""A process that has loaded the program once and forks into a yard's server as often as it is asked: `python -m` of this module.

Loading takes longer than most walks. What such a server runs is what `python -m waney.web` runs, in a process of its own that can
be killed; its jobs are done in processes of their own, which come from another one that has loaded what they need
(`works_loaded`). That everything starts from nothing too is shown in tests/cli/test_serving.py and tests/yard/test_jobs.py.

Asked by a line of JSON each: words of the program, answered by the number of its process; or such a number, answered by whether
it has ended. When nobody asks any more, all of them are ended.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import signal
import sys
from multiprocessing import forkserver
from typing import Any, NoReturn

WORKS = "tests.web.walks.works_loaded"


def served(words: list[str]) -> NoReturn:
    """The program, in this process; what it says goes where its errors go, for the other way is for answers."""
    from waney.web.__main__ import main

    code = 1
    try:
        os.dup2(2, 1)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        code = main(words)
    finally:
        os._exit(code)


def workers_from_one_that_is_loaded() -> None:
    """Workers are forked from a process of their own: as little of the server is copied into them as when they are spawned."""
    context: Any = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([WORKS])
    forkserver.ensure_running()
    # it is no child of the servers, so that they cannot wait for it: they take it as it is
    forkserver._forkserver.ensure_running = lambda: None  # type: ignore[attr-defined]
    multiprocessing.get_context = lambda method=None: context  # type: ignore[assignment]


def answer(asked: list[str] | int, alive: set[int]) -> int | bool:
    """The number of a new process, or whether one has ended."""
    if isinstance(asked, int):
        if asked in alive and os.waitpid(asked, os.WNOHANG)[0]:
            alive.remove(asked)
        return asked not in alive
    child = os.fork()
    if child == 0:
        served(asked)
    alive.add(child)
    return child


def listen() -> None:
    """Answer until nobody asks any more."""
    import waney.web.__main__
    import waney.web.app

    waney.web.app.WARM = None  # a worker has loaded already what it would load while it waits
    workers_from_one_that_is_loaded()
    alive: set[int] = set()
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line), alive)), flush=True)
    for each in alive:
        os.kill(each, signal.SIGKILL)


if __name__ == "__main__":
    listen()
