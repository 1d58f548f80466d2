"""Offering: plans searched for, printed, and the best one written, as `waney plan` and `waney demo` do it."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from waney.cli.facts import Offered, card_facts, offered
from waney.cli.files import write
from waney.cli.progress import Progress
from waney.cli.views import View, shop_of
from waney.figures.compiled import COMPILED, cache_folder
from waney.papers.card import height_card
from waney.papers.drawing import plan_drawing
from waney.papers.ink import SCREEN
from waney.papers.subject import Subject
from waney.papers.summary import summary
from waney.papers.typeset import card_pdf
from waney.sawing.blocks import blocks_of
from waney.sawing.from_sheets import Ready, ready
from waney.sawing.kernel import path
from waney.sawing.plan import Plan
from waney.sawing.plan_file import write_plan
from waney.sawing.search import plans
from waney.sawing.wants import Pattern

INTERPRETED = "No compiler for this machine: the same arithmetic runs slowly; ask for fewer rolls in the wants sheet."
FIRST_TIME = "Preparing the saw arithmetic for this machine, once: about a minute."


@dataclass(frozen=True)
class Outputs:
    """Where the best plan is to be written; None: not."""

    json: Path | None = None
    card: Path | None = None
    svg: Path | None = None


def offer_plans(
    sheets: Mapping[str, str], pattern: str | None, units: View, outputs: Outputs, *, full: bool = False, filled_in: bool = False
) -> None:
    """Search, print, write. pattern: one of Pattern, "all", or None for those of the wants sheet."""
    prepared = ready(sheets)
    found = offered(prepared, _search(prepared, pattern), full=full)
    print(summary(found.offers, prepared.bench.wants, shop_of(units), full=full))
    _say_filled_in(prepared, filled_in)
    _write(found, sheets, units, outputs)


def _search(prepared: Ready, pattern: str | None) -> tuple[Plan, ...]:
    _say_first_time()
    with ThreadPoolExecutor(os.cpu_count()) as pool, closing(Progress(pool, "Ways to lay the log that were tried")) as progress:
        return plans(prepared.bench, _patterns(prepared, pattern), progress.over)


def _patterns(prepared: Ready, pattern: str | None) -> tuple[Pattern, ...]:
    if pattern is None:
        return prepared.bench.wants.patterns
    return tuple(Pattern) if pattern == "all" else (Pattern(pattern),)


def _say_first_time() -> None:
    if not COMPILED:
        print(INTERPRETED, file=sys.stderr)
    elif not cache_folder(Path(str(path.__file__)).parent).exists():
        print(FIRST_TIME, file=sys.stderr)


def _say_filled_in(prepared: Ready, listed: bool) -> None:
    count = len(prepared.filled_in)
    if not listed:
        print(f"{count} answers that nobody typed were filled in; `waney plan ... --filled-in` lists them.")
        return
    print("Filled in, because nobody typed it:")
    for line in prepared.filled_in:
        print(f"  {line}")


def _write(found: Offered, sheets: Mapping[str, str], units: View, outputs: Outputs) -> None:
    best, bench, shape = found.best, found.ready.bench, found.ready.measured.shape
    subject = Subject(best.plan, shape, bench.mill, shop_of(units))
    if outputs.card is not None:
        today = date.today()
        card = height_card(subject, card_facts(found), bench.wants.rules, plan_name=best.name, printed=today)
        write(outputs.card, card_pdf(card, today))
    if outputs.svg is not None:
        write(outputs.svg, plan_drawing(subject, SCREEN, blocks_of(best.plan, shape, bench.mill)))
    if outputs.json is not None:
        write(outputs.json, write_plan(best.plan, sheets))
