"""Width words: what the trade calls each width of `pieces.sizes.Sizes`; no width stands on a page or paper without it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from waney.prices.product import WidthRule

WIDTH_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "narrow_face_m": WidthRule.NARROW_FACE.value,
        "mean_of_faces_m": WidthRule.MEAN_OF_FACES.value,
        "mid_length_m": WidthRule.MID_LENGTH.value,
        "widest_m": WidthRule.WIDEST.value,
        "narrowest_m": "narrowest place",
    }
)
