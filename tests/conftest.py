"""Fixtures for data that does not ship, and a last word about what was skipped."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Generator
from pathlib import Path

import pytest


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
