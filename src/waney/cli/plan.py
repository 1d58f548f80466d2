"""waney plan: saw plans of a log, compared by what is left after drying and work."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import View

if TYPE_CHECKING:
    from collections.abc import Mapping

    from waney.papers.summary import Offer
    from waney.sawing.from_sheets import Ready
    from waney.sawing.plan import Plan


class Patterns(StrEnum):
    """--pattern."""

    THROUGH = "through"
    HALF_TURN = "half-turn"
    CANT = "cant"
    ALL = "all"


@answering
def plan(
    log: Annotated[Path, typer.Argument(help="The log sheet.")],
    mill: Annotated[Path, typer.Option(help="The mill sheet.")],
    wants: Annotated[Path, typer.Option(help="The wants sheet.")],
    pattern: Annotated[Patterns | None, typer.Option(help="Which pattern; else those of the wants sheet.")] = None,
    json: Annotated[Path | None, typer.Option(help="Write the best plan here, with its sheets.")] = None,
    card: Annotated[Path | None, typer.Option(help="Write the height card of the best plan here (PDF).")] = None,
    svg: Annotated[Path | None, typer.Option(help="Write the drawing of the best plan here (SVG).")] = None,
    units: Annotated[View, typer.Option(help="Inches and pounds, or millimetres and kilograms.")] = View.INCHES,
) -> None:
    """Saw plans of a log side by side, the one that leaves most money first, with bed heights in the order they are sawn.

    waney plan walnut.toml --mill mill.toml --wants wants.toml --card card.pdf
    """
    from waney.cli.files import log_sheets, read_text

    sheets = {**log_sheets(log), "mill": read_text(mill), "wants": read_text(wants)}
    offer_plans(sheets, pattern, units, json=json, card=card, svg=svg)


def offer_plans(
    sheets: Mapping[str, str],
    pattern: Patterns | None,
    units: View,
    *,
    json: Path | None = None,
    card: Path | None = None,
    svg: Path | None = None,
) -> None:
    """Plan, print, write."""
    from waney.cli.facts import offers
    from waney.cli.views import shop_of
    from waney.papers.summary import summary
    from waney.sawing.from_sheets import ready

    prepared = ready(sheets)
    offered = offers(prepared, _search(prepared, pattern))
    print(summary(offered, prepared.bench.wants, shop_of(units)))
    _say_filled_in(prepared)
    _write(prepared, offered[0], sheets, units, json=json, card=card, svg=svg)


def _search(prepared: Ready, pattern: Patterns | None) -> tuple[Plan, ...]:
    import os
    from concurrent.futures import ThreadPoolExecutor

    from waney.sawing.search import plans
    from waney.sawing.wants import Pattern

    chosen = prepared.bench.wants.patterns
    if pattern is Patterns.ALL:
        chosen = tuple(Pattern)
    elif pattern is not None:
        chosen = (Pattern(str(pattern)),)
    _say_first_time()
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return plans(prepared.bench, chosen, pool.map)


def _say_first_time() -> None:
    import sys

    from waney.figures.compiled import COMPILED, cache_folder
    from waney.sawing.kernel import path

    if not COMPILED:
        print("No compiler for this machine: the same arithmetic runs slowly; use fewer rolls.", file=sys.stderr)
    elif not cache_folder(Path(str(path.__file__)).parent).exists():
        print("Preparing the saw arithmetic for this machine, once: about a minute.", file=sys.stderr)


def _say_filled_in(prepared: Ready) -> None:
    print("\nFilled in, because nobody typed it:")
    for line in prepared.filled_in:
        print(f"  {line}")


def _write(
    prepared: Ready,
    offer: Offer,
    sheets: Mapping[str, str],
    units: View,
    *,
    json: Path | None,
    card: Path | None,
    svg: Path | None,
) -> None:
    from datetime import date

    from waney.cli.facts import card_facts
    from waney.cli.files import write
    from waney.cli.views import shop_of
    from waney.papers.card import height_card
    from waney.papers.drawing import plan_drawing
    from waney.papers.ink import SCREEN
    from waney.papers.subject import Subject
    from waney.papers.typeset import card_pdf
    from waney.sawing.plan_file import write_plan

    subject = Subject(offer.plan, prepared.measured.shape, prepared.bench.mill, shop_of(units))
    if card is not None:
        facts, rules, today = card_facts(prepared, offer), prepared.bench.wants.rules, date.today()
        write(card, card_pdf(height_card(subject, facts, rules, plan_name=offer.name, printed=today), today))
    if svg is not None:
        write(svg, plan_drawing(subject, SCREEN))
    if json is not None:
        write(json, write_plan(offer.plan, sheets))
