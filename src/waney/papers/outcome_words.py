"""Outcome words: what a plan gives if it goes badly, as likely as not, and well, as a sawyer can read it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from waney.papers.words import share, worth_words
from waney.prices.rules import PriceRules
from waney.sawing.outcome.plan_outcome import Outcome, PlanOutcome
from waney.units.direction import Direction
from waney.units.quantity import print_number
from waney.units.volume import LITRE, print_volume

NOT_KNOWN = "not known"
OFTEN = 0.05
"""What happens on a smaller share of the logs is not warned of. Our choice, no source."""


def outcome_rows(outcomes: Sequence[PlanOutcome | None], rules: PriceRules, *, worth: bool = True) -> list[list[str]]:
    """Rows of a table with one column for each plan: worth (where wanted), board feet and dry wood at the three points."""

    def row(what: str, of: Callable[[PlanOutcome], str]) -> list[str]:
        return [what, *(of(one) if one else NOT_KNOWN for one in outcomes)]

    left = [
        row("worth, bad (1 log in 20 gives less)", lambda one: worth_words(round(one.cents.bad), rules)),
        row("worth, likely (half give less)", lambda one: worth_words(round(one.cents.likely), rules)),
        row("worth, good (1 in 20 gives more)", lambda one: worth_words(round(one.cents.good), rules)),
    ]
    return [
        *(left if worth else ()),
        row("board feet, bad / likely / good", lambda one: _three(one.board_feet, _feet)),
        row("litres of dry wood", lambda one: _three(one.usable_m3, _litres)),
    ]


def outcome_words(outcome: PlanOutcome | None, planned_cents: int) -> str:
    """What the three points are, and why the likely one is not the worth planned; "" when they are not known."""
    if outcome is None:
        return ""
    words = (
        f"Bad, likely, good: the same roll, tip and bed heights on {outcome.worlds} logs that could hide behind these readings, "
        "as far off as tape, bark, sweep, pith, what was found inside, shrinkage and drying may be."
    )
    if outcome.cents.likely >= planned_cents:
        return words
    return words + (
        " The worth as planned is for the one likely log that the heights are fitted to; a log that is off loses more often than "
        "it gains, so count on the likely line."
    )


def surer_words(outcomes: Sequence[tuple[str, PlanOutcome | None]], rules: PriceRules) -> str:
    """Which other plan stands its ground better than the first, where one does; names and outcomes, the best plan first."""
    known = [(one.cents.likely, name) for name, one in outcomes if one is not None]
    if not known or outcomes[0][1] is None:
        return ""
    most, name = max(known, key=lambda pair: pair[0])
    more = round(most - known[0][0])
    return f"On the likely line {name} gives {worth_words(more, rules)} more than {outcomes[0][0]}." if more > 0 else ""


def outcome_warnings(outcome: PlanOutcome | None) -> list[str]:
    """What the sawyer should know before the first cut."""
    if outcome is None or outcome.too_wide < OFTEN:
        return []
    return [f"On {share(outcome.too_wide)} of the logs that could hide behind these readings a cut is wider than the mill takes."]


def _three(figure: Outcome, say: Callable[[float], str]) -> str:
    return " / ".join(say(point) for point in (figure.bad, figure.likely, figure.good))


def _feet(count: float) -> str:
    return print_number(round(count), Direction.HAVE)


def _litres(volume_m3: float) -> str:
    return print_volume(round(volume_m3, 3), LITRE, Direction.HAVE).partition(" ")[0]
