"""Green weight of a log from its shape, against the Forest Service's weights for a cubic foot."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.doubts import doubts, likely_shape
from waney.logs.measured import BarkReading, Inside, MeasuredLog, RoundReading
from waney.logs.tape import build_shape
from waney.logs.volume import volume_of
from waney.logs.weight import mass_of, weight_doubts, weight_of_shapes
from waney.wood.species import Species, species
from waney.wood.weight import BARK_MOISTURE, BARK_SG, MOISTURE, SG

POUND_KG, FOOT_M = 0.45359237, 0.3048
LB_FT3 = POUND_KG / FOOT_M**3


def log_with(bark: BarkReading, wood_m3: float = FOOT_M**3) -> MeasuredLog:
    """A cylinder 1 m long of this much wood."""
    d = sqrt(4 * wood_m3 / pi)
    ends = tuple(RoundReading(at, Inside.WOOD, (d, d)) for at in (0.0, 1.0))
    return MeasuredLog("block", "", 1.0, ends, bark=bark, butt_log=False)


# A7: redcedar, wood 27.46 lb/ft3 dry at 34.75 %, bark 24.96 at 60.25 %, bark 12 % of the wood; A8: true fir, 22.46 at 84 %, 30.58
# at 62.43 %, 11.76 %. Source: USDA Forest Service log-scaling routines, weight factors; printed to 0.1 lb
@pytest.mark.parametrize(
    ("wood", "mc", "bark", "bark_mc", "share", "green", "dry"),
    [(27.46, 0.3475, 24.96, 0.6025, 0.12, 41.8, 30.5), (22.46, 0.84, 30.58, 0.6243, 0.1176, 47.2, 26.1)],
    ids=["A7 redcedar", "A8 true fir"],
)
def test_a_cubic_foot_weighs_what_the_table_says(
    wood: float, mc: float, bark: float, bark_mc: float, share: float, green: float, dry: float
) -> None:
    shape = likely_shape(log_with(BarkReading(share_of_wood_volume=share)))
    values = {SG: wood * LB_FT3 / 1000, MOISTURE: mc, BARK_SG: bark * LB_FT3 / 1000, BARK_MOISTURE: bark_mc}
    assert mass_of(shape, values) / POUND_KG == pytest.approx(green, abs=0.1)
    assert mass_of(shape, {**values, MOISTURE: 0.0, BARK_MOISTURE: 0.0}) / POUND_KG == pytest.approx(dry, abs=0.1)


def weight_of(log: MeasuredLog, wood: Species, scenarios: Scenarios, *, bark: bool) -> Estimate:
    """Over all doubts of the log's shape."""
    shapes = [build_shape(log, values) for values in scenarios.draws(doubts(log, wood))]
    return weight_of_shapes(shapes, likely_shape(log, wood), wood, scenarios, bark=bark)


def test_bark_counts_only_when_asked_for() -> None:
    oak = species("white oak")
    log = log_with(BarkReading(share_of_wood_volume=0.15), 0.5)
    bare, barked = (weight_of(log, oak, Scenarios(3, 64), bark=bark) for bark in (False, True))
    wood = volume_of(likely_shape(log, oak), bark=False)
    values = {name: estimate.likely for name, estimate in weight_doubts(oak, bark=False).items()}
    assert bare.likely == pytest.approx(1000 * wood * values[SG] * (1 + values[MOISTURE]), rel=1e-9)
    assert barked.likely > bare.likely
    assert bare.low < bare.likely < bare.high


def test_doubt_of_the_shape_widens_the_weight() -> None:
    oak = species("white oak")
    girth = MeasuredLog("block", "", 1.0, (RoundReading(0.5, Inside.BARK, girth_m=2.6),))
    shape = likely_shape(girth, oak)
    narrow = weight_of_shapes([shape] * 256, shape, oak, Scenarios(3), bark=True)
    wide = weight_of(girth, oak, Scenarios(3), bark=True)
    assert wide.likely == pytest.approx(narrow.likely)
    assert wide.width > narrow.width
