"""Planning: the work behind a plan. Sheets in; everything that pages and papers show of its plans out, in one zip."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import partial
from importlib.resources import files as packaged
from itertools import islice

from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.apart import apart_drawings
from waney.papers.at_mill import at_mill
from waney.papers.card import card_pdf, height_card
from waney.papers.drawing import plan_drawing
from waney.papers.fitting import answer, first_line
from waney.papers.ink import SCREEN
from waney.papers.offered import Offered, card_facts, kept_facts, offered
from waney.papers.solid import solid, solid_json
from waney.papers.subject import Subject
from waney.papers.summary import Offer, compared, summary
from waney.papers.words import INCHES, METRIC, Shop
from waney.sawing.bench import NothingToSaw
from waney.sawing.counts.counts import CannotBeHad
from waney.sawing.facts.blocks import blocks_of
from waney.sawing.fitting import Fitting, best_first, helped, helps_of
from waney.sawing.plan_file import read_plan, write_plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.plan import PlanAnswer, PlanAsked, PlanShown, StepsAsked
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)
APART_MM = 110.0
"""how wide the drawing is that is taken apart beside the log in three dimensions"""


def load_planning(_given: bytes, _progress: Progress) -> bytes:
    """Everything that plans need, loaded by planning the log of the demo yard as it lies: the next plan begins at once."""
    sheets = {
        name: (packaged("waney") / "data" / "demo" / f"{name}.toml").read_text("utf-8") for name in ("log", "mill", "wants")
    }
    prepared = ready(sheets)
    found = plans(prepared.bench, (Pattern.THROUGH, Pattern.HALF_TURN), lambda work, lies: map(work, islice(lies, 1)))
    kept_facts(prepared, offered(prepared, found[:1], Scenarios(seed=1, n=8), full=False).best.plan, Scenarios(seed=1, n=8))
    return b""


def plan_log(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be planned is answered with its sentence."""
    asked = read_back(given, PlanAsked)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as files:
        try:
            found = _planned(asked, progress, files)
        except Problem as why:
            found = PlanAnswer(sentence=str(why))
        files.writestr("answer.json", as_bytes(found))
    return out.getvalue()


def _planned(asked: PlanAsked, progress: Progress, files: zipfile.ZipFile) -> PlanAnswer:
    shop = METRIC if asked.metric else INCHES
    prepared = ready(asked.sheets)
    mill = prepared.bench.mill
    limited = (mill.heaviest_log_kg, mill.heaviest_turn_alone_kg, mill.heaviest_turn_helped_kg)
    weight = prepared.measured.weight_of_parts(SCENARIOS) if any(most is not None for most in limited) else None
    fitting = Fitting.of(asked.sheets, prepared, weight)
    patterns = tuple(map(Pattern, asked.patterns)) or prepared.bench.wants.patterns
    over = partial(_over, progress)
    if fitting.fit.limits:
        return _does_not_fit(fitting, patterns, shop, progress)
    try:
        found = offered(prepared, plans(prepared.bench, patterns, over), SCENARIOS, full=False)
    except (NothingToSaw, CannotBeHad) as no:
        return PlanAnswer(sentence=str(no))
    progress(0.95, "drawing")
    for number, offer in enumerate(found.offers, 1):
        _write(files, number, found, offer, asked, shop)
    wants = prepared.bench.wants
    return PlanAnswer(
        plans=tuple(PlanShown(one.name, str(one.plan.pattern), len(one.plan.pieces), one.plan.cents) for one in found.offers),
        rows=tuple(tuple(row) for row in compared(found.offers, wants, shop)),
        open_rows=tuple(tuple(row) for row in compared(found.offers, wants, shop, worth=False)),
        text=summary(found.offers, wants, shop, full=True),
        filled_in=prepared.filled_in,
    )


def _does_not_fit(fitting: Fitting, patterns: tuple[Pattern, ...], shop: Shop, progress: Progress) -> PlanAnswer:
    sentence = first_line(fitting.ready.bench.log.name, fitting.fit, shop)
    helps = best_first([helped(each, patterns, partial(_over, progress)) for each in helps_of(fitting)])
    return PlanAnswer(sentence=sentence, text=answer(fitting.fit, helps, fitting.ready.bench.wants.rules, shop))


def _over(progress: Progress, function: Callable[..., object], *items: Iterable[object]) -> Iterator[object]:
    rows = list(zip(*items, strict=False))
    for done, row in enumerate(rows, 1):
        yield function(*row)
        progress(0.9 * done / len(rows), f"way {done} of {len(rows)} to lay the log")


def _write(files: zipfile.ZipFile, number: int, found: Offered, offer: Offer, asked: PlanAsked, shop: Shop) -> None:
    bench, plan = found.ready.bench, offer.plan
    shape = bench.log.shape
    subject, facts = Subject(plan, shape, bench.mill, shop), card_facts(found, offer)
    day = date.fromisoformat(asked.printed)
    card = height_card(subject, facts, bench.wants.rules, plan_name=offer.name, printed=day)
    mill = at_mill(subject, facts, bench.log.species)
    files.writestr(f"{number}.plan.json", write_plan(plan, asked.sheets))
    files.writestr(f"{number}.svg", plan_drawing(subject, SCREEN, blocks_of(plan, shape, bench.mill)))
    files.writestr(f"{number}.apart.json", json.dumps(apart_drawings(subject, SCREEN, APART_MM)))
    files.writestr(f"{number}.card.pdf", card_pdf(card, day))
    files.writestr(f"{number}.solid.json", solid_json(solid(subject)))
    files.writestr(f"{number}.mill.json", as_bytes(mill))


def plan_steps(given: bytes, _progress: Progress) -> bytes:
    """The job: a kept plan, step by step for the page at the mill."""
    asked = read_back(given, StepsAsked)
    plan, sheets = read_plan(asked.plan)
    prepared = ready(sheets)
    subject = Subject(plan, prepared.bench.log.shape, prepared.bench.mill, METRIC if asked.metric else INCHES)
    mill = at_mill(subject, kept_facts(prepared, plan, SCENARIOS), prepared.bench.log.species)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as files:
        files.writestr("mill.json", as_bytes(mill))
    return out.getvalue()
