"""Height card: what the sawyer holds. Setting up, as it lies, cuts in order, what to do when something goes wrong.

This module only chooses and words; `cuts` words the passes, `typeset` makes the PDF.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import get_args

from waney.papers.butt import butt_drawing, up_clock
from waney.papers.cautions import cautions
from waney.papers.cuts import entries
from waney.papers.entry import Entry
from waney.papers.facts import CardFacts
from waney.papers.ink import PAPER
from waney.papers.recounted import advice_words
from waney.papers.side import pith_ends, side_drawing
from waney.papers.subject import Subject
from waney.papers.typeset import pdf
from waney.papers.words import Measure, Said, clock, day, said
from waney.prices.rules import PriceRules
from waney.sawing.facts.blocks import Block
from waney.sawing.moves import EdgeTogether, Move, Pass, RollOn, Turn
from waney.sawing.plan import Plan
from waney.sawing.recount import Advice, Comparison
from waney.sawing.wants import Tip

DANGERS: Mapping[type[Move], tuple[str, ...]] = {
    RollOn: ("fetching", "unknown wood"),
    Pass: ("first cut", "heavy piece", "at the blade", "pinched blade", "band break"),
    Turn: ("turning",),
    EdgeTogether: ("edging", "heavy piece"),
}
"""Steps of the caution table that each kind of move needs; metal is added where it is suspected."""
BUTT_MM, SIDE_MM = 80.0, 162.0
_READ_AGAIN = "Has it moved since the pith was read? Read it again before the first cut."


@dataclass(frozen=True)
class Wanted:
    """A height that is wanted and a place to write what was read."""

    where: str
    wanted: Measure
    read: Measure | None


@dataclass(frozen=True)
class Card:
    """Everything that stands on a height card, in order; sentences are words and figures, drawings are SVG."""

    log: str
    plan: str
    printed: str
    paper: str
    butt: str
    side: str
    setting_up: tuple[Said, ...]
    setting_cautions: tuple[str, ...]
    pith: tuple[Wanted, ...]
    pith_words: tuple[Said, ...]
    first_cautions: tuple[str, ...]
    entries: tuple[Entry, ...]
    missed: tuple[Said, ...]
    trouble_cautions: tuple[str, ...]
    change: tuple[Said, ...]
    hand_over: tuple[str, ...]


def height_card(subject: Subject, facts: CardFacts, rules: PriceRules, *, plan_name: str, printed: date) -> Card:
    """The words of a height card. `rules` only says what money is called; `printed` is the day on every sheet."""
    return Card(
        log=subject.plan.log,
        plan=plan_name,
        printed=day(printed),
        paper=subject.shop.paper,
        butt=butt_drawing(subject, PAPER, BUTT_MM, names=False).text(),
        side=side_drawing(subject, PAPER, SIDE_MM, facts.blocks).text(),
        setting_up=tuple(_setting_up(subject, facts)),
        setting_cautions=_sentences("fetching", "unknown wood"),
        pith=_pith(subject, facts.pith_read),
        pith_words=_pith_words(subject, facts.pith_read, rules),
        first_cautions=_sentences("first cut", "heavy piece", "at the blade"),
        entries=entries(subject, facts),
        missed=_missed(subject),
        trouble_cautions=_sentences("pinched blade", "band break"),
        change=_change(facts),
        hand_over=_sentences("hand over"),
    )


def dangers(plan: Plan) -> frozenset[str]:
    """Steps of the caution table that a plan's card must carry."""
    return frozenset(step for move in plan.moves for step in DANGERS[type(move)])


def every_kind_of_move() -> tuple[type[Move], ...]:
    """All that a plan can tell a sawyer to do."""
    return get_args(Move)


def _sentences(*steps: str) -> tuple[str, ...]:
    return tuple(caution.sentence for caution in cautions(*steps))


def _setting_up(subject: Subject, facts: CardFacts) -> list[Said]:
    up = clock(up_clock(subject.plan))
    weight = facts.log_weight
    heavy = f"The log weighs up to {subject.shop.heavy(weight.high)}." if weight else "The weight of the log is not known."
    return [
        said(heavy),
        said(f"On the butt, crayon a line from the pith to {up} on the clock, where an hour hand would point."),
        said(f"Roll the log until the line stands plumb, crayon end ({up}) up."),
        *_blocks(subject, facts.blocks),
        said(
            _READ_AGAIN if subject.plan.tip is Tip.AS_READ else "Measure the pith above the bed at both ends and write it below."
        ),
    ]


def _blocks(subject: Subject, blocks: tuple[Block, ...]) -> list[Said]:
    tip = subject.plan.tip_m
    if subject.plan.tip is Tip.AS_READ:
        return [said("Leave it and what is under it as it lies: the heights are counted from where the pith was read.")]
    if blocks:
        return [_block(subject, block) for block in blocks]
    if subject.plan.tip is Tip.AS_IT_LIES or tip == 0:
        return [said("Put nothing under it: it is sawn as it lies.")]
    end = "top" if tip > 0 else "butt"
    return [said(f"Lift the {end} end ", subject.on_scale(abs(tip)), " from where it rests by itself.")]


def _block(subject: Subject, block: Block) -> Said:
    where = (
        f" under the {block.end.value} end, on crossbar {block.crossbar}, "
        if block.crossbar
        else f" under the {block.end.value} end, "
    )
    return said("Put ", subject.on_scale(block.height_m), where, subject.shop.along(block.at_m), " from the butt end of the bed.")


def _pith(subject: Subject, found: Comparison | None) -> tuple[Wanted, ...]:
    ends = ("butt end", "top end")
    if found is None:
        return tuple(Wanted(end, subject.on_scale(float(v)), None) for end, v in zip(ends, pith_ends(subject)[:, 1], strict=True))
    wanted, read = ([subject.on_scale(v) for v in (at.butt_m, at.top_m)] for at in (found.wanted, found.read))
    return tuple(Wanted(*row) for row in zip(ends, wanted, read, strict=True))


def _pith_words(subject: Subject, found: Comparison | None, rules: PriceRules) -> tuple[Said, ...]:
    if found is None:
        return (
            said(
                "Not as wanted? Move the blocks, or have every height counted again from the two readings before the first cut."
            ),
        )
    if found.advice is Advice.AS_WANTED:
        return advice_words(found, rules)
    return (said("The heights on this card are counted from these readings."), *advice_words(found, rules))


def _missed(subject: Subject) -> tuple[Said, ...]:
    step = subject.on_scale(subject.mill.step_m)
    return (
        said("Stop the band. Write the height really sawn beside the one wanted."),
        said("Blade too high: the piece came off thin and the next will be thick. Saw on at the heights printed."),
        said(
            "Blade too low: the piece came off thick and the next will be thin. By ",
            step,
            ": saw on. By more: lower every height left in this lie by the miss, and the stops with them; "
            "what stays on the bed gets thinner.",
        ),
        said(
            "Never saw a sliver off to put it right. After two misses have the heights counted again from the piece on the bed."
        ),
    )


def _change(facts: CardFacts) -> tuple[Said, ...]:
    if facts.would_change is None:
        return (said("Not worked out for this card."),)
    if not facts.would_change:
        return (said("No single price between half and twice today's puts another of the plans that were compared first."),)
    return tuple(said(f"{one.if_so}: then {one.then}.") for one in facts.would_change)


def card_pdf(card: Card, printed: date) -> bytes:
    """The height card as PDF. The same card and day give the same bytes."""
    return pdf("card", card, printed)
