"""Piece words: one planned piece in plain text, green and dry, with what it is worth and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from waney.figures.estimate import Estimate
from waney.papers.columns import aligned, paragraph
from waney.papers.words import Shop, share, worth_words
from waney.pieces.ring_samples import Shares
from waney.prices.product import Per, Product, WidthRule
from waney.prices.rules import PriceRules
from waney.prices.worth import Worth
from waney.sawing.facts.piece_facts import PieceFacts
from waney.sawing.plan import Plan, PlannedPiece
from waney.sawing.wants import Wants
from waney.units.direction import Direction
from waney.units.moisture import print_mc
from waney.units.quantity import print_number

MANY = {Per.BOARD_FOOT: "board feet", Per.SQUARE_FOOT: "square feet", Per.FOOT: "feet", Per.PIECE: "pieces"}


def piece_lines(plan: Plan, planned: PlannedPiece, facts: PieceFacts | None, wants: Wants, shop: Shop) -> list[str]:
    """A few lines for one piece of a plan; without facts only what the plan holds."""
    named = f", set {planned.set_number}" if planned.set_number is not None else ""
    lines = ["", f"{planned.piece.name}  {planned.worth.product or 'no product, salvage'}{named}"]
    green = f"green: {shop.have(planned.piece.thickness_m)} thick, {shop.long(planned.piece.length_m)} long"
    lines += paragraph(green + (_widths(facts.widths_m, shop) if facts else ""), "  ")
    worth = planned.worth
    if worth.product:
        sizes = f"{shop.have(worth.thickness_m)} x {shop.have(worth.width_m)} x {shop.long(worth.length_m)}"
        lines += paragraph(f"dry and finished: {sizes}", "  ")
    for sentence in _measured(facts, wants, shop) if facts else ("further measures: not known",):
        lines += paragraph(sentence, "  ")
    sure = _sure(plan, planned)
    if sure:
        lines += paragraph(f"still this product on {sure} of the logs that could hide behind the readings", "  ")
    return lines + paragraph(_worth(planned.worth, _product(planned.worth, wants), wants.rules), "  ")


def piece_table(plan: Plan, facts: Mapping[str, PieceFacts], wants: Wants, shop: Shop) -> list[str]:
    """A line for each piece of a plan, with a heading; sure: on how many of the logs that could be it is still that product."""
    heading = ("", "", "sawn green", "finished, dry", "board feet", "weighs up to", "worth", "sure")
    return aligned(
        [heading, *(_row(plan, planned, facts.get(planned.piece.name), wants, shop) for planned in plan.pieces)], gap=2
    )


def _row(plan: Plan, planned: PlannedPiece, facts: PieceFacts | None, wants: Wants, shop: Shop) -> tuple[str, ...]:
    worth = planned.worth
    sizes = (shop.have(worth.thickness_m), shop.have(worth.width_m), shop.long(worth.length_m))
    feet = facts.board_feet_nominal if facts else None
    return (
        planned.piece.name,
        worth.product or "salvage",
        str(shop.have(planned.piece.thickness_m)),
        " x ".join(str(size) for size in sizes) if worth.product else "",
        print_number(round(feet, 1), Direction.HAVE) if feet else "",
        shop.heavy(facts.green_weight.high) if facts and facts.green_weight else "",
        worth_words(worth.cents, wants.rules),
        _sure(plan, planned),
    )


def _sure(plan: Plan, planned: PlannedPiece) -> str:
    """On how many of the logs that could be it is still its product; nothing where that is not known."""
    known = plan.outcome.share_of(planned.piece.name) if plan.outcome else None
    return "" if known is None else share(known)


def _widths(widths: Mapping[WidthRule, float], shop: Shop) -> str:
    return "; width by " + ", ".join(f"{rule.value} {shop.have(width)}" for rule, width in widths.items()) if widths else ""


def _measured(facts: PieceFacts, wants: Wants, shop: Shop) -> Iterator[str]:
    if facts.rectangle_m:
        yield f"largest usable rectangle, green: {shop.have(facts.rectangle_m[0])} x {shop.long(facts.rectangle_m[1])}"
    footage = _footage(facts)
    if footage:
        yield footage
    yield _weights(facts.green_weight, facts.dry_weight, wants.target_mc, shop)
    rings = [_rings(name, shares) for name, shares in (("upper face", facts.rings_a), ("lower face", facts.rings_b)) if shares]
    if rings:
        yield "rings: " + "; ".join(rings)
    cup = "not known" if facts.cup_m is None else str(shop.need(facts.cup_m))
    holds = ", ".join(facts.holds) or "nothing that was noted"
    yield f"cup to be planed off: {cup}; holds {holds}"


def _footage(facts: PieceFacts) -> str:
    figures = [("true", facts.board_feet_true), ("nominal", facts.board_feet_nominal)]
    said = [f"{print_number(feet, Direction.HAVE)} {name}" for name, feet in figures if feet is not None]
    words = "board feet: " + ", ".join(said) if said else ""
    if facts.surface_measure is not None:
        words += f"{'; ' if words else ''}surface measure {facts.surface_measure}"
    return words


def _weights(green: Estimate | None, dry: Estimate | None, target_mc: float, shop: Shop) -> str:
    said = [f"up to {shop.heavy(green.high)} green" if green else "green not known"]
    said.append(f"up to {shop.heavy(dry.high)} at {print_mc(target_mc)}" if dry else "dry not known")
    return "weight: " + ", ".join(said)


def _rings(name: str, shares: Shares) -> str:
    return f"{name} {share(shares.flat)} flat, {share(shares.rift)} rift, {share(shares.quarter)} quarter"


def _product(worth: Worth, wants: Wants) -> Product | None:
    return next((product for product in wants.products if product.name == worth.product), None)


def _worth(worth: Worth, product: Product | None, rules: PriceRules) -> str:
    """The sum, its terms, and what was counted."""
    terms = ", ".join(f"{term.what} {worth_words(term.cents, rules)}" for term in worth.terms)
    counted = ""
    if product is not None:
        unit = MANY.get(product.price.per, product.price.per.value)
        counted = f"; counted: {print_number(worth.measure, Direction.HAVE)} {unit}, width by {product.price.width_rule.value}"
    return f"worth {worth_words(worth.cents, rules)}: {terms or 'nothing'}{counted}"
