"""The stated worth of every piece against what its slice can be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isnan

from waney.prices.product import Edges, Product
from waney.prices.worth import Worth
from waney.sawing.check.cents import whole
from waney.sawing.check.offers import AS_IT_COMES, BENDS, BENT_M, Judge, Offer
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.plan import PlannedPiece

SAME_M = 5e-6
"""some times the bend of a limit"""
SAME_PLACE_M = 1e-6
SET = "set"


@dataclass(frozen=True)
class Judged:
    """A piece whose worth was found right, and the offer that it is, edged alone; None for salvage."""

    planned: PlannedPiece
    judge: Judge
    offer: Offer | None


def check_worth(planned: PlannedPiece, judge: Judge) -> Judged:
    """Terms, sizes, place and product of one piece; Difference at the first that does not hold."""
    worth, name = planned.worth, planned.piece.name
    if worth.product is None:
        _check_terms(name, worth, {AS_IT_COMES: judge.salvage_cents()})
        return Judged(planned, judge, None)
    possible = alone_at(planned, judge)
    return Judged(planned, judge, check_stated(planned, judge, possible))


def alone_at(planned: PlannedPiece, judge: Judge) -> list[Offer]:
    """Its product at the stated place, as if nothing else were sawn with it; Difference when there is none."""
    worth, name = planned.worth, planned.piece.name
    product = next((p for p in judge.wants.products if p.name == worth.product), None)
    if product is None:
        raise Difference(Reason.PRODUCT, f"{name} is to be {worth.product}, which nobody wants.")
    possible = list(_at_its_place(worth, product, judge))
    if not possible:
        raise Difference(
            Reason.PRODUCT, f"{name} cannot be {worth.product} from {worth.start_m:.4f} m, {worth.length_m:.4f} m long."
        )
    return possible


def check_stated(planned: PlannedPiece, judge: Judge, possible: list[Offer]) -> Offer:
    """The one of these offers that has the stated sizes and terms; Difference when none has."""
    worth, name = planned.worth, planned.piece.name
    fitting = [offer for offer in possible if not _size_fault(worth, offer, judge)]
    if not fitting:
        raise Difference(Reason.SIZE, f"{name} as {worth.product}: {_size_fault(worth, possible[0], judge)}")
    return _with_right_terms(name, worth, fitting)


def _at_its_place(worth: Worth, product: Product, judge: Judge) -> Iterator[Offer]:
    lengths = [length for length in product.lengths_m if abs(length - worth.length_m) <= SAME_PLACE_M]
    for length in lengths:
        for slack in BENDS:
            for window in judge.windows(product, length, slack):
                if abs(judge.piece.own_x_m(window.start) - worth.start_m) <= SAME_PLACE_M:
                    yield from judge.offers(product, length, window)


def _size_fault(worth: Worth, offer: Offer, judge: Judge) -> str:
    """What does not fit in the stated sizes; "" when all do."""
    if abs(worth.width_m - offer.width_m) > SAME_M:
        return f"it is {offer.width_m:.5f} m wide when dry, not {worth.width_m:.5f} m."
    if abs(worth.thickness_m - offer.product.thickness_m) > SAME_PLACE_M:
        return f"it is finished to {offer.product.thickness_m:.5f} m, not {worth.thickness_m:.5f} m."
    if abs(worth.measure - offer.measure) > 1e-4 * max(offer.measure, 1.0):
        return f"its measure is {offer.measure:.5f}, not {worth.measure:.5f}."
    return _edge_fault(worth, offer, judge)


def _edge_fault(worth: Worth, offer: Offer, judge: Judge) -> str:
    live = offer.product.edges is Edges.LIVE
    if live:
        return "" if isnan(worth.low_y_m) and isnan(worth.high_y_m) else "a live edge has no sawn edges to state."
    middle = judge.piece.box_middle_u_m
    off = max(abs(worth.low_y_m + middle - offer.low_m), abs(worth.high_y_m + middle - offer.high_m))
    return "" if off <= SAME_M else f"its edges are {off:.5f} m from where they can be."


def _with_right_terms(name: str, worth: Worth, offers: list[Offer]) -> Offer:
    for offer in offers:
        if not _term_fault(worth, offer.terms):
            return offer
    raise Difference(Reason.PRICE, f"{name} as {worth.product}: {_term_fault(worth, offers[0].terms)}")


def _check_terms(name: str, worth: Worth, terms: dict[str, float]) -> None:
    fault = _term_fault(worth, terms)
    if fault:
        raise Difference(Reason.PRICE, f"{name}: {fault}")


def _term_fault(worth: Worth, terms: Mapping[str, float]) -> str:
    """What does not fit in the stated terms, the set's own left out; "" when all are within a cent, and their sum."""
    stated = {term.what: term.cents for term in worth.terms if term.what != SET}
    counted = [term for term in worth.terms if term.what != SET]
    if len(stated) < len(counted):
        return "a term of its worth stands there twice."
    for what in stated.keys() | terms.keys():
        if abs(stated.get(what, 0) - whole(terms.get(what, 0.0))) > 1:
            return f"'{what}' is {whole(terms.get(what, 0.0))} cents, not {stated.get(what, 0)}."
    total = sum(whole(cents) for cents in terms.values())
    return "" if abs(sum(stated.values()) - total) <= 1 else f"its terms sum to {total} cents, not {sum(stated.values())}."


def check_best(judged: Judged, products: tuple[Product, ...], *, edged: bool = False) -> None:
    """Nothing else that this slice may be, free of counts and sets, earns more than a cent above what is stated; above what it
    would earn alone when it was edged together with others."""
    best = judged.judge.best(products, -BENT_M)
    stated = judged.offer.cents if edged and judged.offer else judged.planned.worth.cents
    better = max(best.cents if best else stated, whole(judged.judge.salvage_cents()))
    if better > stated + 1:
        what = best.product.name if best and best.cents == better else "salvage"
        raise Difference(Reason.PRODUCT, f"{judged.planned.piece.name} would earn {better} cents as {what}, more than {stated}.")
