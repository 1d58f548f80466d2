"""waney replay: a plan file checked against its own sheets, by arithmetic that shares nothing with the search."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import answering


@answering
def replay(plan: Annotated[Path, typer.Argument(help="A plan file that `waney plan --json` wrote.")]) -> None:
    """Rebuild the log from the sheets inside a plan, saw it again pass by pass, and name the first difference.

    waney replay walnut-plan.json
    """
    from waney.cli.files import read_text
    from waney.sawing.check.check import check_plan
    from waney.sawing.check.opened import Before
    from waney.sawing.from_sheets import ready
    from waney.sawing.plan_file import read_plan

    held, sheets = read_plan(read_text(plan))
    prepared = ready(sheets)
    bench, measured = prepared.bench, prepared.measured
    log = bench.log
    shrinking = (log.shrinking.radial, log.shrinking.tangential)
    before = Before(measured.log, measured.whole)
    verdict = check_plan(held, log.shape, bench.mill, bench.wants, shrinking, hardwood=log.hardwood, before=before)
    print(verdict.sentence)
    if not verdict.accepted:
        raise typer.Exit(1)
