"""The settings of a plan, term by term, as a sawyer checks them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.prices.product import Product, Surface
from waney.sawing.kernel.records import DRYNESS, RADIAL, TANGENTIAL, Ask
from waney.sawing.kernel.settings import finishing_share, needs, own_settings
from waney.sawing.kernel.tables import Tables
from waney.sawing.lay import Laid
from waney.sawing.orders import wanted
from waney.sawing.plan import Setting
from waney.sawing.wants import Wants

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


def setting_terms(ask: Ask, laid: Laid, t: Tables, steps: Whole, wants: Wants) -> tuple[Setting, ...]:
    """One Setting for each product that some slice of this lie could be; steps (J, P) as found before the plan."""
    found = []
    for j, product in enumerate(wanted(wants)):
        need = needs(ask.orders, laid.obstacles, t, j)
        k = int(steps[j].max())
        if k > 0 and not bool(np.all(np.isnan(need))):
            found.append(_terms(ask, product, need[~np.isnan(need)], k))
    return tuple(found)


def _terms(ask: Ask, product: Product, need: Array, k: int) -> Setting:
    planed = product.surface is Surface.PLANED
    planing, flattening = (product.planing_m, product.flattening_m) if planed else (0.0, 0.0)
    green = k * ask.step - ask.kerf
    bare = product.thickness_m + planing + flattening
    rates = ask.orders.rates
    lost = 0.5 * float(rates[RADIAL] + rates[TANGENTIAL]) * float(rates[DRYNESS])
    typical = float(np.median(need))
    cup = max(typical * (1.0 - lost) - bare, 0.0)
    shrinkage = typical - bare - cup
    variation = float(np.quantile(need, ask.variation.share)) - typical
    own = own_settings(need, ask.step, ask.kerf, ask.variation) * ask.step - ask.kerf
    return Setting(
        product=product.name,
        steps=k,
        green_m=green,
        finished_m=product.thickness_m,
        planing_m=planing,
        flattening_m=flattening,
        cup_m=cup,
        shrinkage_m=shrinkage,
        sawing_variation_m=variation,
        rounding_m=green - (bare + cup + shrinkage + variation),
        share_finishing=finishing_share(need, green, ask.variation),
        own_setting_saves=max(0.0, 1.0 - float(own.mean()) / green),
    )
