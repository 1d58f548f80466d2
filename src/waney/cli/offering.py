"""Offering: plans searched for, printed, and the best one written, as `waney plan` and `waney demo` do it."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TextIO

import typer

from waney.cli.app import AnswerIsNo, Ended
from waney.cli.doubts import SCENARIOS
from waney.cli.files import OUTPUT, write
from waney.cli.progress import Progress, working
from waney.cli.views import View, shop_of
from waney.figures.compiled import COMPILED, cache_folder
from waney.papers.card import card_pdf, height_card
from waney.papers.drawing import plan_drawing
from waney.papers.fitting import answer, first_line, parts_in_order, rolls_line
from waney.papers.ink import SCREEN
from waney.papers.offered import Offered, card_facts, offered
from waney.papers.recounted import recounted_text
from waney.papers.subject import Subject
from waney.papers.summary import summary
from waney.sawing.bench import NothingToSaw
from waney.sawing.counts.counts import CannotBeHad, has_counts
from waney.sawing.facts.blocks import blocks_of
from waney.sawing.fitting import Fitting, best_first, helped, helps_of
from waney.sawing.kernel import path
from waney.sawing.moves import PithHeights
from waney.sawing.plan import Plan
from waney.sawing.plan_file import write_plan
from waney.sawing.recount import Advice, Comparison, recounted
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import Ready, ready
from waney.sawing.wants import Pattern
from waney.units.pair import parse_two_lengths

INTERPRETED = "No compiler for this machine: the same arithmetic runs slowly; ask for fewer rolls in the wants sheet."
FIRST_TIME = "Preparing the saw arithmetic for this machine, once: a minute or two."
COUNTS_ONLY_THROUGH = (
    "The wants ask for at least or at most so many: only through-and-through keeps counts, so half turn and cant were left out."
)


@dataclass(frozen=True)
class Outputs:
    """Where the best plan is to be written; None: not. JSON to the output takes the place of the summary."""

    json: tuple[Path, ...] = ()
    card: Path | None = None
    svg: Path | None = None

    def of_part(self, number: int | None) -> Outputs:
        """The same files for a part of a log, with its number in their names where there are several; never the output."""

        def named(path: Path) -> Path:
            return path if number is None else path.with_stem(f"{path.stem}-{number}")

        files = tuple(named(path) for path in self.json if path != OUTPUT)
        return Outputs(files, self.card and named(self.card), self.svg and named(self.svg))


def offer_plans(
    sheets: Mapping[str, str],
    pattern: str | None,
    units: View,
    outputs: Outputs,
    read: PithHeights | None = None,
    *,
    full: bool = False,
    filled_in: bool = False,
) -> None:
    """Search, print, write. pattern: one of Pattern, "all", or None for those of the wants sheet; read: the pith heights of the
    log as it lies, to count again from. Ends with `Ended.NO` after the answer to a log that does not fit; raises AnswerIsNo when
    no plan can be had."""
    with working("Reading the sheets"):
        fitting = _held_against_the_mill(sheets)
    if fitting.fit.limits:
        _answer(fitting, pattern, units, outputs)
        raise typer.Exit(Ended.NO)
    counted = Counted(fitting.ready, _search(fitting.ready, pattern))
    if read is not None:
        counted = _counted_again(counted, pattern, read, _words_go_to(outputs))
    prepared = counted.ready
    with working("Measuring the pieces"):
        found = offered(prepared, counted.plans, SCENARIOS, full=full)
    if OUTPUT not in outputs.json:
        if fitting.fit.some_rolls_do_not:
            print(rolls_line(fitting.fit), end="\n\n")
        print(summary(found.offers, prepared.bench.wants, shop_of(units), full=full))
        _say_counts(prepared, pattern)
        _say_filled_in(prepared, filled_in)
    _write(found, sheets, units, outputs, counted.comparison)


def _words_go_to(outputs: Outputs) -> TextIO:
    """JSON to the output has it for itself."""
    return sys.stderr if OUTPUT in outputs.json else sys.stdout


def _held_against_the_mill(sheets: Mapping[str, str]) -> Fitting:
    """The weight is worked out only where the mill sheet limits it."""
    prepared = ready(sheets)
    mill = prepared.bench.mill
    limited = (mill.heaviest_log_kg, mill.heaviest_turn_alone_kg, mill.heaviest_turn_helped_kg)
    weighed = any(most is not None for most in limited)
    _say_first_time()
    return Fitting.of(sheets, prepared, prepared.measured.weight_of_parts(SCENARIOS) if weighed else None)


def _answer(fitting: Fitting, pattern: str | None, units: View, outputs: Outputs) -> None:
    """What does not fit, what would help, and the plans of the best help, which are written to files: they are of another log
    than the one that was handed over, so the output carries no JSON of them, and the words give way to the error stream."""
    bench, shop = fitting.ready.bench, shop_of(units)
    say = partial(print, file=_words_go_to(outputs))
    say(first_line(bench.log.name, fitting.fit, shop), flush=True)
    patterns = None if pattern is None else _patterns(fitting.ready, pattern)
    with _searching() as progress:
        found = best_first([helped(each, patterns, progress.over) for each in helps_of(fitting)])
    say(answer(fitting.fit, found, bench.wants.rules, shop))
    parts = parts_in_order(found)
    for number, (part, plans_of_part) in enumerate(parts, 1):
        of_part = offered(part.ready, plans_of_part, SCENARIOS, full=False)
        say(summary(of_part.offers, part.ready.bench.wants, shop, full=False))
        _write(of_part, part.sheets, units, outputs.of_part(number if len(parts) > 1 else None))


def _search(prepared: Ready, pattern: str | None) -> tuple[Plan, ...]:
    with _searching() as progress:
        try:
            return plans(prepared.bench, _patterns(prepared, pattern), progress.over)
        except (NothingToSaw, CannotBeHad) as no:
            raise AnswerIsNo(str(no)) from None


@dataclass(frozen=True)
class Counted:
    """Plans, the best first, of the log as it lies when its pith was read and counting again changes anything."""

    ready: Ready
    plans: tuple[Plan, ...]
    comparison: Comparison | None = None


def read_at(text: str | None) -> PithHeights | None:
    """--pith-at: the pith heights at the butt and at the top end. Raises Unreadable and its kinds."""
    return None if text is None else PithHeights(*parse_two_lengths(text))


def _counted_again(wanted: Counted, pattern: str | None, read: PithHeights, words: TextIO) -> Counted:
    """The best plan counted again from the pith heights that were read, and what that says printed."""
    bench = wanted.ready.bench
    with _searching() as progress:
        try:
            again = recounted(bench, wanted.plans[0], read, _patterns(wanted.ready, pattern), progress.over)
        except (NothingToSaw, CannotBeHad) as no:
            raise AnswerIsNo(f"As the pith was read: {no} Lay the log again as its card wants it.") from None
    print(recounted_text(again.comparison, again.remarks, bench.wants.rules), file=words)
    if again.comparison.advice is Advice.AS_WANTED:
        return replace(wanted, comparison=again.comparison)
    return Counted(replace(wanted.ready, bench=again.bench), again.plans, again.comparison)


@contextmanager
def _searching() -> Iterator[Progress]:
    with ThreadPoolExecutor(os.cpu_count()) as pool, closing(Progress(pool, "Ways to lay the log that were tried")) as progress:
        yield progress


def _patterns(prepared: Ready, pattern: str | None) -> tuple[Pattern, ...]:
    if pattern is None:
        return prepared.bench.wants.patterns
    return tuple(Pattern) if pattern == "all" else (Pattern(pattern),)


def _say_first_time() -> None:
    if not COMPILED:
        print(INTERPRETED, file=sys.stderr)
    elif not any(cache_folder(Path(str(path.__file__)).parent).rglob("*.nbi")):  # the folder itself is there once it is imported
        print(FIRST_TIME, file=sys.stderr, flush=True)


def _say_counts(prepared: Ready, pattern: str | None) -> None:
    asked = _patterns(prepared, pattern)
    if has_counts(prepared.bench.wants) and asked != (Pattern.THROUGH,):
        print(COUNTS_ONLY_THROUGH)


def _say_filled_in(prepared: Ready, listed: bool) -> None:
    count = len(prepared.filled_in)
    if not listed:
        print(f"{count} answers that nobody typed were filled in; `waney plan ... --filled-in` lists them.")
        return
    print("Filled in, because nobody typed it:")
    for line in prepared.filled_in:
        print(f"  {line}")


def _write(found: Offered, sheets: Mapping[str, str], units: View, outputs: Outputs, pith_read: Comparison | None = None) -> None:
    best, bench = found.best, found.ready.bench
    shape = bench.log.shape
    subject = Subject(best.plan, shape, bench.mill, shop_of(units))
    if outputs.card is not None:
        today, facts = date.today(), replace(card_facts(found, best), pith_read=pith_read)
        card = height_card(subject, facts, bench.wants.rules, plan_name=best.name, printed=today)
        write(outputs.card, card_pdf(card, today))
    if outputs.svg is not None:
        write(outputs.svg, plan_drawing(subject, SCREEN, blocks_of(best.plan, shape, bench.mill)))
    for file in outputs.json:
        write(file, write_plan(best.plan, sheets))
