"""A plan of the demo log that is found in a moment: few rolls, one pattern."""

from __future__ import annotations

from functools import cache

from tests.cli.calling import DEMO, WANTS

from waney.sawing.plan import Plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern


@cache
def quickly_planned() -> tuple[Plan, dict[str, str]]:
    """The plan and its sheets."""
    sheets = {name: (DEMO / f"{name}.toml").read_text(encoding="utf-8") for name in ("log", "mill")} | {"wants": WANTS}
    (plan,) = plans(ready(sheets).bench, (Pattern.THROUGH,), map)
    return plan, sheets
