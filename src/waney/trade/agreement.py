"""Agreement for sawing somebody's logs: the shop's own text with its blanks filled in, or a plain one of ours.

Blanks stand in curly brackets. What is paid, what a board counts, who pays for a blade that metal spoils and each tax are in it,
whatever the text says.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.prices.measure import whole_cents
from waney.trade.terms import Terms
from waney.trade.way_paid import How
from waney.units.money import print_money
from waney.units.share import print_share

ALWAYS = ("price", "beside", "count", "metal", "tax")
"""blanks that are in every agreement: what a text leaves out stands below it"""
BLANK = re.compile(r"{([^{}\n]*)}")
NOT_LEGAL_ADVICE = "Words of the sawyer, not legal advice; the law of the place comes first."
PLAIN = """
{shop} saws the logs listed here for {customer}, {paid}.

{price} {beside}

{count}

{metal} Whoever brings a log says before it is sawn what is known of nails, wire, bolts and stones in it, and where.

The logs and what comes off them stay the customer's, but for what the sawyer keeps by this agreement. Nobody knows a log before
it is open: rot, stain, shake and stress inside it are no fault of the sawyer.

Boards are green: they shrink, and may cup and check as they dry. They are not graded for building.

What is changed later is written down, and both sign it. {tax}
"""
"""Ours; common practice, no source."""


class BadAgreement(Problem):
    """An agreement that cannot be printed so."""


@dataclass(frozen=True)
class About:
    """What the blanks are filled with besides the terms. way: as it is written, empty for none; count: the rule of the tally;
    way_km: there and back."""

    shop: str
    customer: str
    logs: tuple[str, ...]
    count: str
    way: str = ""
    way_km: float = 0.0


def agreement(terms: Terms, how: How, about: About) -> tuple[str, ...]:
    """The text, a paragraph each. Raises BadAgreement for a blank that means nothing, or while terms it needs are not typed."""
    blanks = _blanks(terms, how, about)
    own = terms.agreement.strip() or PLAIN.strip()
    paragraphs = [" ".join(part.split()) for part in re.split(r"\n\s*\n", own)]
    for needed in ALWAYS:
        if f"{{{needed}}}" not in own:
            paragraphs.append(f"{{{needed}}}")
    filled = [BLANK.sub(lambda found: _filled(found[1], blanks), part).strip() for part in paragraphs]
    return (*(part for part in filled if part), NOT_LEGAL_ADVICE)


def _filled(name: str, blanks: Mapping[str, str]) -> str:
    if name.strip() not in blanks:
        raise BadAgreement(f"{{{name}}} in the agreement of the terms is no blank; those are {', '.join(sorted(blanks))}.")
    return blanks[name.strip()]


def metal_rule(terms: Terms) -> str:
    """Who pays for a blade that metal spoils. Raises BadAgreement while nobody typed it."""
    if terms.metal_cents is None:
        raise BadAgreement(
            "The terms do not say who pays for a blade that metal spoils; write `metal` in the terms sheet, "
            "0 where the sawyer does."
        )
    if not terms.metal_cents:
        return "A blade that is spoilt by metal in a log is the sawyer's loss."
    return f"A blade that is spoilt by metal in a log costs the customer {print_money(terms.metal_cents, terms.currency)}."


def price_words(terms: Terms, how: How) -> str:
    """What is paid, in a sentence. Raises BadAgreement while it is not typed."""
    least = f" The sawing costs {print_money(terms.minimum_cents, terms.currency)} at least." if terms.minimum_cents else ""
    if how is How.SHARES:
        if terms.share is None:
            raise BadAgreement("The sawyer's share is not in the terms; write it there first.")
        return (
            f"The sawyer keeps {print_share(terms.share)} of the board feet tallied, in "
            "whole pieces: log by log as near to it as pieces "
            "allow, never more."
        )
    if how is How.HOUR:
        if terms.hour_cents is None:
            raise BadAgreement("What an hour of sawing costs is not in the terms; write it there first.")
        return f"An hour of sawing costs {_rate(terms.hour_cents, terms)}, counted to the hundredth of an hour.{least}"
    if terms.board_foot is None:
        raise BadAgreement("What a board foot costs is not in the terms, or not by which rule; write both there first.")
    agreed = terms.board_foot
    return f"A board foot costs {_rate(agreed.cents, terms)}, counted by {agreed.by} and by no other rule.{least}"


def _rate(cents: float, terms: Terms) -> str:
    """A rate as it was typed: a broken cent is not rounded away."""
    if abs(cents - round(cents)) < 1e-9:
        return print_money(round(cents), terms.currency)
    return f"{cents / 100:.6f}".rstrip("0") + f" {terms.currency}"


def _blanks(terms: Terms, how: How, about: About) -> Mapping[str, str]:
    extras = []
    if terms.set_up_cents:
        extras.append(f"setting up {print_money(terms.set_up_cents, terms.currency)}")
    if terms.way_cents and about.way:
        cents = whole_cents(terms.way_cents * about.way_km)
        extras.append(f"the way there and back ({about.way}) {print_money(cents, terms.currency)}")
    return {
        "shop": about.shop,
        "customer": about.customer,
        "logs": ", ".join(about.logs),
        "paid": str(how),
        "price": price_words(terms, how),
        "beside": f"Beside it: {', '.join(extras)}." if extras else "",
        "count": about.count,
        "metal": metal_rule(terms),
        "tax": " ".join(f"Tax: {tax.words}." for tax in terms.taxes) or "No tax line is set.",
    }
