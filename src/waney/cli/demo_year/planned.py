"""Plans of the story: real ones, by the planner, from sheets of a few ways to lay a log."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.cli.demo_year.story import FOOT_M, INCH_M, LogTold
from waney.figures.scenarios import Scenarios
from waney.papers.at_mill import at_mill
from waney.papers.mill_steps import AtMill
from waney.papers.offered import card_facts, offered
from waney.papers.subject import Subject
from waney.papers.words import Shop
from waney.sawing.plan_file import write_plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready

FEW = Scenarios(seed=1, n=16)
"""enough for a year that nobody sells by; the plan of `waney demo` itself has them all"""


@dataclass(frozen=True)
class PlannedLog:
    """A plan as a file, and what is done at the mill by it."""

    text: str
    steps: AtMill


def planned(sheets: Mapping[str, str], shop: Shop) -> PlannedLog:
    """The best plan of a log."""
    prepared = ready(sheets)
    bench = prepared.bench
    found = offered(prepared, plans(bench, bench.wants.patterns)[:1], FEW, full=False)
    plan = found.best.plan
    steps = at_mill(Subject(plan, bench.log.shape, bench.mill, shop), card_facts(found, found.best), bench.log.species)
    return PlannedLog(write_plan(plan, sheets), steps)


def log_text(log: LogTold, felled_on: str, place: str, metal: bool = False) -> str:
    """The sheet of a log; metal: with what the detector, or the blade, found in it."""
    length, butt, thin = log.read
    found = f"[[metal]]\ndistance = {log.metal:g}\nclock = 3\ndepth = 1\n\n" if metal else ""
    notes = f'notes = "{log.note}"\n' if log.note else ""
    return f"""format = "waney-log/1"
units = "in"

name = "{log.code}"
species = "{log.wood}"
felled = {felled_on}
place = "Alder Hollow, {place}"
{notes}length = "{length:g} ft"
butt_log = {"true" if not log.stem else "false"}

[butt]
diameter = {butt:g}

{found}[top]
diameter = {thin:g}
"""


def length_m(log: LogTold) -> float:
    """How long it is."""
    return round(log.read[0] * FOOT_M, 4)


def metal_m(log: LogTold) -> float:
    """How far from the butt its metal sits."""
    return round(log.metal * INCH_M, 4)
