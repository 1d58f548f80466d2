"""Wants: what the person would like from this log."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from waney.prices.product import Product
from waney.prices.rules import DryingAllowance, PriceRules


class Pattern(StrEnum):
    """In which order faces are opened."""

    THROUGH = "through"
    """through-and-through, all from one side"""
    HALF_TURN = "half-turn"
    """through-and-through to a chosen depth, then a half turn onto the flat"""
    CANT = "cant"
    """two opposite faces opened, then the cant sawn square to them"""


class Tip(StrEnum):
    """How the log is lifted at one end before it is sawn."""

    AS_IT_LIES = "as it lies"
    PITH = "parallel to the pith"
    BARK = "to the bark of this face"
    """the upper surface parallel to the bed"""
    AS_READ = "as read at the pith"
    """as it was found on the bed, told by two pith heights; never asked for in a wants sheet"""


NAMED_TIPS = (Tip.AS_IT_LIES, Tip.PITH, Tip.BARK)
"""What can be asked for before the log is on the bed."""


@dataclass(frozen=True)
class Wants:
    """Products in order, what they are paid, and how wide the search goes."""

    products: tuple[Product, ...]
    rules: PriceRules
    allowances: Mapping[str, DryingAllowance]
    """by product name"""
    target_mc: float
    """moisture content the finished pieces will have, fraction of oven-dry mass"""
    least_width_m: float
    """nothing narrower is worth keeping"""
    share_finishing: float = 0.95
    """share of the slices of a product that must still finish at its one setting"""
    own_settings: bool = False
    """True: a setting for each piece instead of one for each product"""
    patterns: tuple[Pattern, ...] = (Pattern.THROUGH, Pattern.HALF_TURN)
    rolls_deg: tuple[float, ...] = field(default_factory=lambda: tuple(float(r) for r in range(0, 360, 10)))
    tips: tuple[Tip, ...] = (Tip.AS_IT_LIES, Tip.PITH, Tip.BARK)
    face_step_m: float | None = None
    """grid of cant faces; None: the bed scale step"""
    metal_margin_m: float = 0.0
    """wood kept between a pass and metal"""
