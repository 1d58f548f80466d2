"""Settings, sets and counts: what binds pieces to each other."""

from __future__ import annotations

from collections import Counter
from itertools import groupby, pairwise
from math import isclose

from waney.prices.product import Product
from waney.sawing.check.cents import may_be
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.check.worths import SET, Judged
from waney.sawing.mill import Mill
from waney.sawing.plan import Plan, PlannedPiece, Setting
from waney.sawing.wants import Wants

SAME_M = 1e-9


def check_settings(plan: Plan, mill: Mill, wants: Wants) -> None:
    """Every setting adds up, is for a wanted product, and is the only one for it."""
    wanted = {product.name: product for product in wants.products}
    for setting in plan.settings:
        if setting.product not in wanted:
            raise Difference(Reason.SETTING, f"A setting is stated for {setting.product}, which nobody wants.")
        _check_setting(setting, wanted[setting.product], mill)
    if len({setting.product for setting in plan.settings}) < len(plan.settings):
        raise Difference(Reason.SETTING, "A product has two settings.")


def _check_setting(setting: Setting, product: Product, mill: Mill) -> None:
    parts = (setting.finished_m, setting.planing_m, setting.flattening_m, setting.cup_m)
    total = sum(parts) + setting.shrinkage_m + setting.sawing_variation_m + setting.rounding_m
    sawn = setting.steps * mill.step_m - mill.kerf_m
    if not isclose(setting.green_m, sawn, abs_tol=SAME_M):
        raise Difference(
            Reason.SETTING, f"{setting.steps} steps leave {sawn:.6f} m for {product.name}, not {setting.green_m:.6f} m."
        )
    if not isclose(total, setting.green_m, abs_tol=SAME_M):
        raise Difference(
            Reason.SETTING, f"The terms of the setting of {product.name} sum to {total:.6f}, not {setting.green_m:.6f} m."
        )
    if not isclose(setting.finished_m, product.thickness_m, abs_tol=SAME_M):
        raise Difference(
            Reason.SETTING, f"{product.name} is wanted {product.thickness_m:.6f} m thick, not {setting.finished_m:.6f} m."
        )


def sawn_for(planned: PlannedPiece, plan: Plan, wants: Wants, mill: Mill) -> tuple[Product, ...]:
    """The products whose setting this slice keeps; all of them when each piece has a setting of its own."""
    if wants.own_settings:
        return wants.products
    settings = {setting.product: setting for setting in plan.settings}
    return tuple(p for p in wants.products if p.name in settings and _keeps(planned, settings[p.name], mill))


def _keeps(planned: PlannedPiece, setting: Setting, mill: Mill) -> bool:
    if planned.upper_steps is None:
        return False
    if planned.lower_steps == 0:
        return setting.green_m - SAME_M <= planned.upper_steps * mill.step_m <= setting.steps * mill.step_m + SAME_M
    return planned.upper_steps - planned.lower_steps == setting.steps


def check_setting_kept(planned: PlannedPiece, products: tuple[Product, ...]) -> None:
    """A product comes only from slices of its own setting."""
    product = planned.worth.product
    if product is not None and product not in {p.name for p in products}:
        raise Difference(Reason.SETTING, f"{planned.piece.name} is not sawn at the setting of {product}.")


def free_of_others(products: tuple[Product, ...], wants: Wants) -> tuple[Product, ...]:
    """Products that a piece may be whatever the others are: no set, no most, and one setting that all of them keep."""
    return () if wants.own_settings else tuple(p for p in products if p.set_of == 1 and p.at_most is None)


def stands_alone(planned: PlannedPiece, wants: Wants) -> bool:
    """Whether a piece's product was not chosen for a set's or a count's sake."""
    product = next((p for p in wants.products if p.name == planned.worth.product), None)
    return planned.set_number is None and (product is None or product.at_least == 0)


def check_counts(plan: Plan, wants: Wants) -> None:
    """At least and at most of every product."""
    count = Counter(planned.worth.product for planned in plan.pieces)
    for product in wants.products:
        found = count[product.name]
        if found < product.at_least:
            raise Difference(Reason.COUNT, f"At least {product.at_least} of {product.name} are wanted, the plan gives {found}.")
        if product.at_most is not None and found > product.at_most:
            raise Difference(Reason.COUNT, f"At most {product.at_most} of {product.name} are wanted, the plan gives {found}.")


def check_sets(judged: tuple[Judged, ...], wants: Wants) -> None:
    """Sets are whole: consecutive equal slices of one product, each with the set's factor."""
    wanted = {product.name: product for product in wants.products}
    numbers = [number for number, _ in groupby(j.planned.set_number for j in judged) if number is not None]
    if len(set(numbers)) < len(numbers):
        raise Difference(Reason.SET, "A set is interrupted by a piece that is not of it.")
    for number, group in groupby(judged, key=lambda j: j.planned.set_number):
        if number is None:
            _check_no_set(tuple(group), wanted)
        else:
            _check_set(number, tuple(group), wanted)


def _check_no_set(group: tuple[Judged, ...], wanted: dict[str, Product]) -> None:
    for judged in group:
        name, product = judged.planned.piece.name, judged.planned.worth.product
        if product is not None and wanted[product].set_of > 1:
            raise Difference(Reason.SET, f"{name} is {product}, which is wanted in sets, and belongs to none.")
        if any(term.what == SET for term in judged.planned.worth.terms):
            raise Difference(Reason.SET, f"{name} has a set's term and belongs to none.")


def _check_set(number: int, group: tuple[Judged, ...], wanted: dict[str, Product]) -> None:
    names = {judged.planned.worth.product for judged in group}
    name = names.pop()
    if names or name is None or len(group) != wanted[name].set_of:
        raise Difference(Reason.SET, f"Set {number} is not whole, or not of one product.")
    planned = [judged.planned for judged in group]
    follow = all(a.lie == b.lie and a.lower_steps == b.upper_steps for a, b in pairwise(planned))
    thick = {round(p.piece.thickness_m / SAME_M / 1000) for p in planned}
    if not follow or len(thick) > 1:
        raise Difference(Reason.SET, f"The pieces of set {number} are not consecutive slices of one thickness.")
    for judged in group:
        _check_factor(judged, wanted[name].set_factor)


def _check_factor(judged: Judged, factor: float) -> None:
    worth = judged.planned.worth
    others = sum(term.cents for term in worth.terms if term.what != SET)
    stated = sum(term.cents for term in worth.terms if term.what == SET)
    if not may_be(stated, ((factor - 1.0) * others,)):
        raise Difference(Reason.SET, f"The set factor of {judged.planned.piece.name} does not make {stated} cents of {others}.")
