"""Fixtures that several folders of tests share, and a last word about what was skipped."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable, Generator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import settings

from waney.figures.compiled import COMPILED
from waney.logs.frames import placing
from waney.logs.rings import RingField
from waney.pieces.piece import Piece, PieceZone

# A slow or busy machine is no fault of the code, and main must not turn red by a draw: same examples every time.
settings.register_profile("steady", deadline=None, derandomize=True)
# pytest --hypothesis-profile search: looks for what the steady examples miss.
settings.register_profile("search", deadline=None, max_examples=1000, print_blob=True)
settings.load_profile("steady")


# in which order, and when there is machine code

ROOT = Path(__file__).parents[1]
FIRST = ("yard", "logs", "web", "web/by_hand", "trade", "web/walks", "sawing", "cli", "drying", "papers", "pieces")
"""Folders in the order of their tests: first what runs little that is compiled, for meanwhile the rest is. What is not
named comes last: many short tests, so that no worker is left alone with a long one."""
WITH_BROWSER = ("web/by_hand", "web/walks")
"""Folders whose tests are all long."""
COMPILING = pytest.StashKey[tuple["subprocess.Popen[bytes]", Path]]()


def pytest_sessionstart(session: pytest.Session) -> None:
    """Where workers are to run all tests, compile beside them what they need: once, not in each worker at the same moment."""
    config = session.config
    whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    if whole and config.getoption("numprocesses", None) and not hasattr(config, "workerinput"):
        handle, sign = tempfile.mkstemp(prefix="compiling-")
        os.close(handle)
        words = [sys.executable, "-m", "tests.compiling"]
        paths = os.pathsep.join((str(ROOT / "src"), str(ROOT)))
        started = subprocess.Popen(words, cwd=ROOT, env=os.environ | {"PYTHONPATH": paths}, stdout=subprocess.DEVNULL)
        config.stash[COMPILING] = started, Path(sign)
        threading.Thread(target=_take_away, args=config.stash[COMPILING], daemon=True).start()


def _take_away(started: subprocess.Popen[bytes], sign: Path) -> None:
    started.wait()
    sign.unlink(missing_ok=True)


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Nobody compiles for a run that has ended."""
    if COMPILING in session.config.stash:
        started, sign = session.config.stash[COMPILING]
        started.terminate()
        _take_away(started, sign)


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: Any) -> None:
    """Tell a worker the file that is there for as long as something is compiled."""
    if COMPILING in node.config.stash:
        node.workerinput["compiling"] = str(node.config.stash[COMPILING][1])


@pytest.hookimpl(tryfirst=True)  # before pytest leaves out what is marked
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if any(ROOT / "tests" / folder in item.path.parents for folder in WITH_BROWSER):
            item.add_marker(pytest.mark.long)
    order = {ROOT / "tests" / folder: place for place, folder in enumerate(FIRST)}
    items.sort(key=lambda item: next((order[one] for one in item.path.parents if one in order), len(order)))


def pytest_collection_finish(session: pytest.Session) -> None:
    """In a worker: whatever would compile now waits until it can be read."""
    sign = getattr(session.config, "workerinput", {}).get("compiling")
    if sign is None or not COMPILED:
        return
    from numba.core.dispatcher import Dispatcher

    compiles = Dispatcher.compile

    def patient(self: Any, signature: Any) -> Any:
        while Path(sign).exists():
            time.sleep(0.2)
        return compiles(self, signature)

    Dispatcher.compile = patient


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of data that may be used in tests but not shipped; skipped, loudly, where it is not there."""
    folder = os.environ.get("WANEY_SHARED", "")
    if not folder or not Path(folder).is_dir():
        pytest.skip("needs data that does not ship (WANEY_SHARED)")
    return Path(folder)


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> Generator[None, None, None]:
    """How many tests were skipped and why, right above pytest's closing line: after every other summary."""
    yield
    reasons = Counter(_reason(report) for report in terminalreporter.stats.get("skipped", []))
    terminalreporter.write_line(f"Skipped tests: {reasons.total()}")
    for reason, count in sorted(reasons.items()):
        terminalreporter.write_line(f"  {count} x {reason}")


def _reason(report: pytest.TestReport) -> str:
    """The words given to `pytest.skip`, which pytest keeps as (file, line, "Skipped: words")."""
    where = report.longrepr
    return str(where[2]).removeprefix("Skipped: ") if isinstance(where, tuple) else str(where)


@pytest.fixture(scope="session")
def round_log_slice() -> Callable[..., Piece]:
    """A maker of slices through-and-through out of a round, perhaps tapered log that lies at roll 0 with a level axis."""
    return slice_of_round_log


def slice_of_round_log(
    height: float,
    thickness: float,
    radius: float = 0.25,
    length: float = 2.4,
    top_radius: float | None = None,
    pith: tuple[float, float] = (0.0, 0.0),
    stations: int = 33,
    zones: tuple[PieceZone, ...] = (),
    turned_rad: float = 0.0,
    sawn: tuple[bool, bool] = (False, False),
) -> Piece:
    """A slice whose mid-plane lies `height` above the log's axis; pith = its y and z from the axis as the log lies.

    turned_rad: how far the log is turned in its own frame; the slice as such does not change with it. Metres.
    """
    top = radius if top_radius is None else top_radius
    along = np.linspace(-length / 2, length / 2, stations)
    outer = np.linspace(radius, top, stations)
    planes = height + np.array([-0.5, 0.0, 0.5])[:, None] * thickness
    with np.errstate(invalid="ignore"):
        half = np.sqrt(np.where(outer > np.abs(planes), outer**2 - planes**2, np.nan))
    c, s = np.cos(turned_rad), np.sin(turned_rad)
    turn = np.array([[0.0, c, s], [0.0, -s, c], [1.0, 0.0, 0.0]])
    pith_xy = np.array([c * pith[0] + s * pith[1], -s * pith[0] + c * pith[1]])
    rings = RingField(
        np.array([0.0, length]),
        np.broadcast_to(pith_xy, (1, 2, 2)).copy(),
        np.array([[_reach_of_circle(pith_xy, radius), _reach_of_circle(pith_xy, top)]]),
    )
    run = np.broadcast_to(np.array([pith[0], pith[1] - height]), (1, stations, 2)).copy()
    return Piece(
        "slice", "", thickness, along, -half, half, run, zones, "round log",
        placing(turn, turn @ np.array([0.0, 0.0, height]) + np.array([0.0, 0.0, length / 2])), rings, sawn,
    )  # fmt: skip


def _reach_of_circle(pith: np.ndarray, radius: float, directions: int = 360) -> np.ndarray:
    angle = 2 * np.pi * np.arange(directions) / directions
    ahead = pith[0] * np.cos(angle) + pith[1] * np.sin(angle)
    return -ahead + np.sqrt(ahead**2 - pith @ pith + radius**2)
