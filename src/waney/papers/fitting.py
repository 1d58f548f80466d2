"""Fitting: what a sawyer is told of a log that does not fit: which limits, by how much, what would help, and what follows."""

from __future__ import annotations

from collections.abc import Sequence

from waney.papers.butt import up_clock
from waney.papers.cautions import cautions
from waney.papers.columns import aligned, headed, paragraph
from waney.papers.words import Shop, clock, worth_words
from waney.prices.rules import PriceRules
from waney.sawing.fits import Fit, Limit, What
from waney.sawing.fitting import Help, Helped, Part, Way
from waney.sawing.moves import Pass
from waney.sawing.plan import Plan
from waney.sawing.sheets.from_sheets import WANTS

WEIGHTS = (What.WEIGHT, What.TURNING)
TOO_MUCH = {
    What.BED: "too long for the bed",
    What.WIDTH: "too wide for the guides",
    What.HEAD: "too high for the head",
    What.WEIGHT: "too heavy for the bed",
    What.TURNING: "too heavy to turn",
}
WITH_A_CHAIN_SAW = (Way.TRIM_BUTT, Way.TRIM_TOP, Way.HALVE, Way.CUT, Way.CUT_AND_HALVE)


def first_line(name: str, fit: Fit, shop: Shop) -> str:
    """One line: every limit that is passed and by how much."""
    return f"{name or 'The log'} does not fit this mill: {'; '.join(_in_short(limit, shop) for limit in fit.limits)}."


def _in_short(limit: Limit, shop: Shop) -> str:
    if limit.what is What.CROSSBARS:
        return f"its weight would not lie between two crossbars, {shop.need(limit.by)} are missing"
    return f"{_by(limit, shop)} {TOO_MUCH[limit.what]}"


def _by(limit: Limit, shop: Shop) -> str:
    return shop.heavy(limit.by) if limit.what in WEIGHTS else str(shop.need(limit.by))


def limits_table(fit: Fit, shop: Shop) -> list[str]:
    """Every limit: what the mill has, what the log needs, by how much it is passed."""
    rows = [["", "the mill has", "the log needs", "too much"]]
    for limit in fit.limits:
        if limit.what is What.CROSSBARS:
            rows.append(
                [limit.what, f"at {shop.along(limit.has)}", f"at {shop.along(limit.needs)}", f"{_by(limit, shop)} missing"]
            )
        elif limit.what in WEIGHTS:
            rows.append([limit.what, shop.bears(limit.has), f"up to {shop.heavy(limit.needs)}", _by(limit, shop)])
        else:
            rows.append([limit.what, str(shop.have(limit.has)), str(shop.need(limit.needs)), _by(limit, shop)])
    return [*headed("What does not fit"), *aligned(rows), *_how_it_lay(fit)]


def _how_it_lay(fit: Fit) -> list[str]:
    if any(limit.what in (What.WIDTH, What.HEAD) for limit in fit.limits):
        return ["Width and height are those of the roll that comes nearest to fitting, with the log as it lies."]
    return []


def rolls_line(fit: Fit) -> str:
    """Which rolls let every pass go, when some do not."""
    rolls = ", ".join(f"{roll:g}" for roll in fit.rolls_deg)
    return (
        f"Only at rolls of {rolls} degrees does every cut go between the guides and under the head; elsewhere as far as it goes."
    )


def answer(fit: Fit, found: Sequence[Helped], rules: PriceRules, shop: Shop) -> str:
    """The answer below its first line: limits, helps side by side, lines to paste, cautions. found: the best first."""
    lines = limits_table(fit, shop)
    if not any(each.help.way is not Way.AS_IT_IS for each in found):
        tried = "another roll, trimming either end, halving along the pith, cutting to length, cutting and halving"
        lines += ["", *paragraph(f"Nothing that was tried makes it fit: {tried}.")]
    if found:
        lines += [*headed("What would help, the one that leaves most first"), *_side_by_side(found, rules, shop)]
        lines += paragraph(
            "Each is planned as a log would be, every part loaded for itself; work with the chain saw is not counted."
        )
    for each in found:
        lines += _to_paste(each.help, shop)
    steps = ("chain saw",) if any(each.help.way in WITH_A_CHAIN_SAW for each in found) else ()
    heavy = ("fetching", "heavy piece") if any(limit.what in WEIGHTS for limit in fit.limits) else ("fetching",)
    lines += ["", *(caution.sentence for caution in cautions(*steps, *heavy))]
    return "\n".join(lines) + "\n"


def _side_by_side(found: Sequence[Helped], rules: PriceRules, shop: Shop) -> list[str]:
    rows = [["", "leaves", "pattern", "line up", "pieces", "passes"]]
    for each in found:
        rows.append([does(each.help, shop), worth_words(each.cents, rules)])
        rows += [[f"  {part.name}", *_plan(plans, rules)] for part, plans in zip(each.help.parts, each.plans, strict=True)]
    return aligned(rows)


def _plan(plans: Sequence[Plan], rules: PriceRules) -> list[str]:
    if not plans:
        return ["nothing to saw"]
    best = plans[0]
    pieces = sum(piece.worth.product is not None for piece in best.pieces)
    passes = sum(isinstance(move, Pass) for move in best.moves)
    return [worth_words(best.cents, rules), best.pattern.value, clock(up_clock(best)), str(pieces), str(passes)]


def does(help_: Help, shop: Shop) -> str:
    """What is done, in a few words with its figures."""
    return f"{help_.way}{_how_much(help_, shop)}{_line(help_)}"


def _how_much(help_: Help, shop: Shop) -> str:
    if help_.at_m is None:
        return ""
    trims = help_.way in (Way.TRIM_BUTT, Way.TRIM_TOP)
    return f" by {shop.need(help_.at_m)}" if trims else f" {shop.along(help_.at_m)} from the butt"


def _line(help_: Help) -> str:
    return "" if help_.clock_h is None else f", line {clock(help_.clock_h)} to {clock(help_.clock_h + 6.0)}"


def _to_paste(help_: Help, shop: Shop) -> list[str]:
    if not any(part.lines for part in help_.parts):
        return []
    lines = headed(f"To plan it so: {does(help_, shop)}")
    for part in help_.parts:
        lines += [f"{part.name}, in the {'wants' if part.role == WANTS else 'log'} sheet:", *(f"  {line}" for line in part.lines)]
    return lines


def parts_in_order(found: Sequence[Helped]) -> tuple[tuple[Part, tuple[Plan, ...]], ...]:
    """The parts of the best help that give something, each with its plans."""
    return tuple((part, plans) for part, plans in zip(found[0].help.parts, found[0].plans, strict=True) if plans) if found else ()
