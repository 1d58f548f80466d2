"""waney replay: a plan file checked against its own sheets, by arithmetic that shares nothing with the search."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import Ended, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import Replayed
    from waney.sawing.check.verdict import Verdict
    from waney.sawing.plan import Plan


@answering
def replay(
    plan: Annotated[Path, typer.Argument(help="A plan file that `waney plan --json` wrote.")],
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Rebuild the log from the sheets inside a plan, saw it again pass by pass, and name the first difference.

    Ends with code 3 when something differs.
    """
    from waney.cli.files import can_be_written, read_text
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.sawing.plan_file import read_plan

    can_be_written(json)
    with working("Sawing the plan again"):
        held, sheets = read_plan(read_text(plan))
        verdict = _verdict(held, sheets)
    say(_answer(held, verdict), json, lambda: _lines(held, verdict, units))
    if not verdict.accepted:
        raise typer.Exit(Ended.NO)


def _verdict(plan: Plan, sheets: Mapping[str, str]) -> Verdict:
    from waney.sawing.check.check import check_plan
    from waney.sawing.check.opened import Before
    from waney.sawing.sheets.from_sheets import ready

    prepared = ready(sheets)
    bench, measured = prepared.bench, prepared.measured
    log = bench.log
    shrinking = (log.shrinking.radial, log.shrinking.tangential)
    before = Before(measured.log, measured.whole)
    return check_plan(plan, log.shape, bench.mill, bench.wants, shrinking, hardwood=log.hardwood, before=before)


def _answer(plan: Plan, verdict: Verdict) -> Replayed:
    from waney.cli.answers import Replayed

    reason = None if verdict.reason is None else str(verdict.reason)
    return Replayed(plan.log, str(plan.pattern), verdict.accepted, reason, verdict.sentence)


def _lines(plan: Plan, verdict: Verdict, units: View) -> Iterator[str]:
    from waney.cli.ranges import in_view

    yield f"{plan.log}, {plan.pattern}: {in_view(verdict.sentence, units)}"
