"""Recounted: what the two pith heights that were read mean for the plan, in words for the summary and the height card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from waney.papers.columns import aligned, headed, paragraph
from waney.papers.words import Measure, Said, measure, plain, said, scale_grain, worth_words
from waney.prices.rules import PriceRules
from waney.sawing.recount import Advice, Comparison
from waney.units.direction import Direction


def recounted_text(found: Comparison, remarks: Sequence[str], rules: PriceRules) -> str:
    """The whole comparison as plain text."""

    def worth(cents: int) -> str:
        return worth_words(cents, rules)

    heights = [
        ["pith above the bed", "butt end", "top end"],
        ["  wanted", *(str(on_scale(found, v)) for v in (found.wanted.butt_m, found.wanted.top_m))],
        ["  read", *(str(on_scale(found, v)) for v in (found.read.butt_m, found.read.top_m))],
    ]
    ways = [
        ["heights on the card, kept as it lies", worth(found.kept_cents)],
        ["heights counted again as it lies", worth(found.counted_cents)],
        ["laid again as the card wants it", worth(found.again_cents)],
    ]
    told = (plain(sentence) for sentence in advice_words(found, rules))
    lines = [
        *headed("As it lies now"),
        *aligned(heights),
        "",
        *aligned(ways),
        "",
        *(line for sentence in told for line in paragraph(sentence)),
        *(line for remark in remarks for line in paragraph(remark, "- ")),
    ]
    return "\n".join(lines) + "\n"


def on_scale(found: Comparison, metres: float) -> Measure:
    """A height as the bed scale shows it."""
    return measure(metres, scale_grain(found.step_m), Direction.READ)


def advice_words(found: Comparison, rules: PriceRules) -> tuple[Said, ...]:
    """What to do, and what the other ways would leave."""
    return tuple(said(sentence) for sentence in _advice(found, rules))


def _advice(found: Comparison, rules: PriceRules) -> Iterator[str]:
    counted = worth_words(found.counted_cents, rules)
    match found.advice:
        case Advice.AS_WANTED:
            yield "The pith stands where it was wanted, to the nearest mark of the scale: saw by the card."
        case Advice.KEEP:
            yield "Keep the heights on the card before this count: as the log lies they lose nothing."
            yield from _laying_again(found, rules, found.kept_cents)
        case Advice.COUNTED:
            yield f"Saw it as it lies by the heights counted again: {counted} left. {_kept(found, rules)}"
            yield from _laying_again(found, rules, found.counted_cents)
        case Advice.LAY_AGAIN:
            here = found.counted_cents if found.kept_cuts_too_wide else max(found.counted_cents, found.kept_cents)
            more = worth_words(found.again_cents - here, rules)
            yield f"Lay it again as the card before this count wants it: that leaves {more} more{_for_the_time(found, rules)}."
            yield f"If it must be sawn as it lies: the heights counted again leave {counted}. {_kept(found, rules)}"


def _kept(found: Comparison, rules: PriceRules) -> str:
    if found.kept_cuts_too_wide:
        return "The heights on the card before cannot be kept: a cut would be wider than this mill can make."
    lost = found.counted_cents - found.kept_cents
    if lost <= 0:
        return "The heights on the card before lose nothing."
    return f"The heights on the card before would lose {worth_words(lost, rules)}."


def _laying_again(found: Comparison, rules: PriceRules, here: int) -> Iterator[str]:
    more = found.again_cents - here
    if more > 0:
        yield f"Laid again as it was wanted it would leave {worth_words(more, rules)} more{_for_the_time(found, rules)}."


def _for_the_time(found: Comparison, rules: PriceRules) -> str:
    if not found.laying_cents:
        return "; time costs nothing by the mill sheet"
    return f", less the time: about a turn's, {worth_words(found.laying_cents, rules)}"
