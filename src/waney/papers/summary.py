"""Summary: plans side by side and the best one in full, as plain text a sawyer can read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from waney.papers.butt import up_clock
from waney.papers.cautions import cautions
from waney.papers.columns import aligned, headed, paragraph
from waney.papers.outcome_words import NOT_KNOWN, outcome_rows, outcome_warnings, outcome_words, surer_words
from waney.papers.piece_words import piece_lines, piece_table
from waney.papers.words import Shop, clock, exact, measure, scale_grain, share, worth_words
from waney.prices.rules import Ranking
from waney.sawing.facts.piece_facts import PieceFacts
from waney.sawing.facts.plan_facts import PlanFacts
from waney.sawing.moves import EdgeTogether, Pass, Turn
from waney.sawing.plan import EDGING_SAVED, Plan, Setting
from waney.sawing.wants import Tip, Wants
from waney.units.direction import Direction
from waney.units.quantity import print_number
from waney.units.volume import LITRE, print_volume

MEANS = {
    Ranking.MONEY: "Worth is money, after drying, loss and work.",
    Ranking.LIKING: "No prices were given: points are an order of liking with rough ratios, not money.",
    Ranking.VOLUME: "Neither prices nor liking were given: plans are ranked by usable dry volume in litres.",
}


@dataclass(frozen=True, eq=False)
class Offer:
    """One plan as it is offered: its name, the plan, and what is known of it and of its pieces (by name)."""

    name: str
    plan: Plan
    facts: PlanFacts = field(default_factory=PlanFacts)
    pieces: Mapping[str, PieceFacts] = field(default_factory=dict)


def summary(offers: Sequence[Offer], wants: Wants, shop: Shop, *, full: bool = True) -> str:
    """Plain text of one plan or more, the best first: side by side, then that one. `full`: its settings, and every piece with
    all that was measured on it; else a line for each piece."""
    best = offers[0]
    lines = [
        f"{best.plan.log}: {len(offers)} {'plan' if len(offers) == 1 else 'plans'}, the best first",
        MEANS[wants.rules.ranking],
        *headed("Side by side"),
        *side_by_side(offers, wants, shop),
        *_outcome(offers, wants),
        *headed(f"{best.name}: what the worth is made of"),
        *_terms(best, wants),
        *(_in_full(best, wants, shop) if full else _in_short(best, wants, shop)),
        *_warnings(best, shop),
        "",
        *(caution.sentence for caution in cautions("sale", "hand over")),
    ]
    return "\n".join(lines) + "\n"


def _in_full(best: Offer, wants: Wants, shop: Shop) -> list[str]:
    told = [piece_lines(best.plan, planned, best.pieces.get(planned.piece.name), wants, shop) for planned in best.plan.pieces]
    return [
        *headed(f"{best.name}: settings"),
        *_settings(best.plan.settings, shop),
        *headed(f"{best.name}: pieces in the order they come off"),
        *(line for lines in told for line in lines),
    ]


def _in_short(best: Offer, wants: Wants, shop: Shop) -> list[str]:
    return [
        *headed(f"{best.name}: pieces in the order they come off"),
        *piece_table(best.plan, best.pieces, wants, shop),
    ]


def _outcome(offers: Sequence[Offer], wants: Wants) -> list[str]:
    best = offers[0]
    words = [
        outcome_words(best.plan.outcome, best.plan.cents),
        surer_words([(o.name, o.plan.outcome) for o in offers], wants.rules),
    ]
    said = " ".join(word for word in words if word)
    return ["", *paragraph(said)] if said else []


def side_by_side(offers: Sequence[Offer], wants: Wants, shop: Shop) -> list[str]:
    """One column for each plan, as lines of text."""
    return aligned(compared(offers, wants, shop))


def compared(offers: Sequence[Offer], wants: Wants, shop: Shop, *, worth: bool = True) -> list[list[str]]:
    """What plans are compared by: a row for each figure, what it is and then one for each plan; [] between two kinds of row.

    worth: with what each leaves, which is the shop's own.
    """

    def row(what: str, say: Callable[[Offer], str]) -> list[str]:
        return [what, *(say(offer) for offer in offers)]

    def left(cents: float) -> str:
        return worth_words(round(cents), wants.rules)

    left_rows = [
        row("worth as planned", lambda offer: left(offer.plan.cents)),
        row(_bound_of(offers), lambda offer: left(offer.plan.bound_cents - offer.plan.together_cents)),
    ]
    products = [p.name for p in wants.products if any(_count(offer, p.name) for offer in offers)]
    return [
        row("", lambda offer: offer.name),
        row("pattern", lambda offer: offer.plan.pattern.value),
        row("crayon line up", lambda offer: clock(up_clock(offer.plan))),
        row("tip", lambda offer: _tip(offer.plan, shop)),
        row("pieces", lambda offer: str(sum(_count(offer, name) for name in products))),
        *(row(f"  {name}", lambda offer, name=name: str(_count(offer, name))) for name in products),  # type: ignore[misc]
        row("board feet", lambda offer: _number(offer.facts.board_feet)),
        row("usable dry wood", lambda offer: _volume(offer.facts.usable_m3)),
        row("passes / turns / edgings", lambda offer: " / ".join(str(n) for n in _work(offer.plan))),
        row("time at the mill", lambda offer: _time(offer.facts.minutes)),
        *(left_rows if worth else ()),
        row("known to be", lambda offer: _standing(offer.plan)),
        [],
        *outcome_rows([offer.plan.outcome for offer in offers], wants.rules, worth=worth),
    ]


def _bound_of(offers: Sequence[Offer]) -> str:
    """What the bound is of: the search prices edging one by one, and groups are made of the pieces it finds."""
    together = any(offer.plan.together_cents for offer in offers)
    return "edged one by one, none earns over" if together else "none on its grid earns over"


def _count(offer: Offer, product: str) -> int:
    return Counter(planned.worth.product for planned in offer.plan.pieces)[product]


def _tip(plan: Plan, shop: Shop) -> str:
    if plan.tip is Tip.AS_READ:
        return "as it was read"
    if plan.tip is Tip.AS_IT_LIES or plan.tip_m == 0:
        return "as it lies"
    return f"{'top' if plan.tip_m > 0 else 'butt'} up {shop.read(abs(plan.tip_m))}"


def _number(count: float | None) -> str:
    return NOT_KNOWN if count is None else print_number(round(count, 0 if count >= 100 else 1), Direction.HAVE)


def _volume(volume_m3: float | None) -> str:
    return NOT_KNOWN if volume_m3 is None else print_volume(round(volume_m3, 4), LITRE, Direction.HAVE)


def _work(plan: Plan) -> tuple[int, int, int]:
    return tuple(sum(isinstance(move, kind) for move in plan.moves) for kind in (Pass, Turn, EdgeTogether))  # type: ignore[return-value]


def _time(minutes: float | None) -> str:
    if minutes is None:
        return NOT_KNOWN
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def _standing(plan: Plan) -> str:
    return plan.standing.value.partition(",")[0]


def _terms(offer: Offer, wants: Wants) -> list[str]:
    pieces = sum(planned.worth.cents for planned in offer.plan.pieces)
    rows = [["pieces, added up", worth_words(pieces, wants.rules)]]
    rows += [[term.what, worth_words(term.cents, wants.rules)] for term in offer.plan.terms]
    return [
        *aligned([*rows, ["worth as planned", worth_words(offer.plan.cents, wants.rules)]]),
        "",
        *paragraph(_searched(offer.plan)),
        *paragraph(_together(offer.plan, wants)),
    ]


def _searched(plan: Plan) -> str:
    grid, standing = plan.grid, plan.standing.value
    places = f"{_many(len(grid.rolls_deg), 'roll')}, {_many(len(grid.tips), 'tip')}, heights every {_step(grid.step_m)}"
    return f"Searched: {places}; {plan.work} slices judged, seed {plan.seed}. {standing[0].upper()}{standing[1:]}."


def _together(plan: Plan, wants: Wants) -> str:
    """How far the search knows of edging together; nothing where nothing stands together."""
    groups = [move for move in plan.moves if isinstance(move, EdgeTogether)]
    if not groups:
        return ""
    given_up = sum(term.cents for term in plan.terms if term.what == EDGING_SAVED) - plan.together_cents
    lost = f", {worth_words(given_up, wants.rules)} of it given up in width" if given_up > 0 else ""
    names = "; ".join(" + ".join(name.removeprefix(plan.log).lstrip("-. ") for name in move.names) for move in groups)
    return (
        f"Edged together: {names}. The search counts every board as edged alone; standing these together then saves "
        f"{worth_words(given_up + plan.together_cents, wants.rules)}{lost}. No other grouping of these pieces that was tried "
        "gains more; other pieces might."
    )


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _step(step_m: float) -> str:
    return str(measure(step_m, scale_grain(step_m), Direction.READ))


def _settings(settings: Sequence[Setting], shop: Shop) -> list[str]:
    lines: list[str] = []
    for one in settings:
        metric = shop.sizes.metric
        terms = [
            ("finished, dry", one.finished_m),
            ("planing", one.planing_m),
            ("flattening", one.flattening_m),
            ("cup", one.cup_m),
            ("shrinkage", one.shrinkage_m),
            ("sawing variation", one.sawing_variation_m),
            ("up to the next step of the scale", one.rounding_m),
            ("green thickness", one.green_m),
        ]
        lines += paragraph(
            f"{one.product}: {shop.need(one.green_m)} green, {one.steps} scale steps from pass to pass with kerf. "
            f"{share(one.share_finishing)} of the slices it can come from still finish; "
            f"a setting for each piece would save {share(one.own_setting_saves)} of its wood."
        )
        lines += [f"  {line}" for line in aligned([(what, exact(metres, metric=metric)) for what, metres in terms])]
    return lines or ["No product has a piece in this plan."]


def _warnings(offer: Offer, shop: Shop) -> list[str]:
    told = [*_metal(offer.facts), *_too_heavy(offer.facts, shop), *outcome_warnings(offer.plan.outcome), *offer.facts.warnings]
    return [*headed("Look out"), *(line for warning in told for line in paragraph(warning, "- "))] if told else []


def _metal(facts: PlanFacts) -> list[str]:
    """The plan dares it where a blade is cheap beside the wood; whoever saws should know."""
    if not facts.metal_cuts:
        return []
    several = len(facts.metal_cuts) > 1
    cuts = f"{'Cuts' if several else 'Cut'} {', '.join(str(n) for n in facts.metal_cuts)}"
    return [f"{cuts} {'come' if several else 'comes'} near metal that was noted: find it and cut it out, or count on a blade."]


def _too_heavy(facts: PlanFacts, shop: Shop) -> list[str]:
    weight, bears = facts.log_weight, facts.bed_bears_kg
    if weight is None or bears is None or weight.high <= bears:
        return []
    return [f"The log may weigh {shop.heavy(weight.high)}; the bed bears {shop.bears(bears)} by the mill sheet."]
