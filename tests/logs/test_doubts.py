"""Doubts: every one named, with a basis that stands in the registry; more readings never widen; where the defaults come from."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.logs.bark import ALONG
from waney.logs.best import open_measurements, range_of
from waney.logs.doubts import doubts, likely_shape
from waney.logs.measured import BarkReading, Hidden, HiddenReading, Inside, MeasuredLog, PithReading, RoundReading
from waney.logs.shape import LogShape
from waney.logs.stem import TAPER
from waney.logs.volume import volume_of


def reading(at_m: float, *diameters_m: float, over: Inside = Inside.WOOD) -> RoundReading:
    return RoundReading(at_m, over, diameters_m)


ROUGH = MeasuredLog("rough", "", 2.6, (reading(2.6, 0.4),))


def test_a_rough_log_names_everything_it_does_not_know() -> None:
    assert set(doubts(ROUGH)) == {
        *("log.top.diameter", "log.top.ovality", "log.bark.share", "log.bark.along"),
        *("log.flare", "log.flare.height", "log.taper", "log.butt.fullness", "log.sweep.depth", "log.sweep.clock"),
        *("log.pith.butt.x", "log.pith.butt.y", "log.pith.top.x", "log.pith.top.y"),
    }


def test_every_source_of_a_doubt_stands_in_the_registry() -> None:
    known = {row["key"] for row in table("sources")}
    hollow = HiddenReading(Hidden.HOLLOW, 0.0, 0.0, None, 0.0, 0.1)
    log = MeasuredLog("", "", 3.0, (reading(0.0, 0.5), reading(1.5, 0.45)), hidden=(hollow,))
    cited = {e.basis.key for e in doubts(log).values() if e.basis.ground is Ground.SOURCE}
    assert cited
    assert cited <= known


def test_a_typed_bark_thickness_comes_before_the_species() -> None:
    class Thick:
        bark_volume_share = Estimate(0.3, 0.2, 0.4, Basis(Ground.DEFAULT, ""))

    plain, typed = ROUGH, MeasuredLog("", "", 2.6, ROUGH.rounds, bark=BarkReading(thickness_m=0.01))
    assert "log.bark.share" in doubts(plain, Thick())
    assert doubts(typed, Thick())["log.bark.thickness"].likely == 0.01


def test_bark_thickness_follows_from_diameters_over_and_inside_it() -> None:
    pair = (reading(0.0, 0.5, 0.5, over=Inside.BARK), reading(0.0, 0.46, 0.46))
    found = doubts(MeasuredLog("", "", 2.6, pair))["log.bark.thickness"]
    assert found.likely == pytest.approx(0.02)


def test_a_log_said_to_be_no_butt_log_has_no_flare() -> None:
    assert not any("flare" in name for name in doubts(MeasuredLog("", "", 2.6, ROUGH.rounds, butt_log=False)))


def test_a_large_butt_is_taken_for_flare_not_for_taper() -> None:
    wide = MeasuredLog("", "", 3.6, (reading(0.0, 0.6, 0.6), reading(3.6, 0.36, 0.36)), butt_log=True)
    shape = likely_shape(wide)
    straight = MeasuredLog("", "", 3.6, wide.rounds, butt_log=False)
    assert volume_of(shape, bark=False) < 0.9 * volume_of(likely_shape(straight), bark=False)


def test_a_pith_that_was_read_is_doubted_less_than_one_that_was_not() -> None:
    log = MeasuredLog("", "", 2.6, ROUGH.rounds, piths=(PithReading(0.0, (0.02, 0.01)),))
    found = doubts(log)
    assert found["log.pith.butt.x"].likely == 0.02
    assert found["log.pith.butt.x"].width < 0.3 * found["log.pith.top.x"].width


def test_a_crotch_of_unknown_depth_is_a_doubt() -> None:
    piths = (PithReading(2.6, (0.1, 0.0)), PithReading(2.6, (-0.1, 0.0), which=1))
    assert "log.crotch.start" in doubts(MeasuredLog("", "", 2.6, ROUGH.rounds, piths=piths))


def wood(shape: LogShape) -> float:
    return volume_of(shape, bark=False)


@pytest.mark.long
@given(
    top=st.floats(0.25, 0.8),
    length=st.floats(2.0, 5.0),
    butt_log=st.sampled_from([True, False, None]),
    at=st.lists(st.sampled_from([0.0, 0.25, 0.5]), unique=True, max_size=2),
)
@settings(max_examples=12, deadline=None)
def test_one_more_diameter_at_its_likely_value_never_widens(
    top: float, length: float, butt_log: bool | None, at: list[float]
) -> None:
    """At its likely value: a reading that contradicts the others may widen, and should."""
    rounds = [reading(length, top, top)]
    rounds += [reading(t * length, d, d) for t in at for d in [top * (1.0 + 0.04 * (1.0 - t) * length)]]
    log = MeasuredLog("", "", length, tuple(sorted(rounds, key=lambda r: r.at_m)), butt_log=butt_log)
    scenarios = Scenarios(seed=2, n=256)
    before = range_of(log, None, wood, scenarios).width
    for more in open_measurements(log, likely_shape(log)):
        if more.name.startswith("diameter"):
            # new doubts are new columns, and two columns of 256 draws may run together by 1 / 16 either way
            assert range_of(more.log, None, wood, scenarios).width <= 1.05 * before


def clones() -> list[np.ndarray]:
    """Height, diameter over bark, bark of each of the 30 eucalypt clones, cut where the heights start again."""
    path = Path(__file__).parents[1] / "data" / "eucalypt_clone_huber_sections.csv"
    rows = csv.DictReader(line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#"))
    points = [(float(r["section_mid_height_m"]), float(r["d_over_bark_cm"]), float(r["bark_thickness_mm"])) for r in rows]
    cuts = [i for i in range(1, len(points)) if points[i][0] <= points[i - 1][0]]
    return [np.array(points[a:b]) for a, b in zip([0, *cuts], [*cuts, len(points)], strict=True)]


def test_the_default_taper_is_that_of_measured_stems_made_wider() -> None:
    stems = clones()
    assert len(stems) == 30
    # from 1.5 to 11.5 m, over 3 m each, against the thinner end
    taper = [(s[i, 1] - s[i + 3, 1]) / 3.0 / s[i + 3, 1] for s in stems for i in range(1, 8) if i + 3 < len(s)]
    low, middle, high = np.quantile(taper, (0.05, 0.5, 0.95))
    assert TAPER[0] == pytest.approx(middle, abs=0.003)
    assert TAPER[0] - 1.645 * TAPER[1] < low
    assert TAPER[0] + 1.645 * TAPER[1] > high


def test_bark_of_measured_stems_up_the_log_lies_within_the_default() -> None:
    share = [(s[:, 2] / s[:, 1])[[0, 4]] for s in clones()]
    lost = [(1.0 - high / low) / 4.0 for low, high in share]
    # read to 1 mm of some 5 mm, which alone moves the loss by 0.05 / m; five of 30 lie outside, with 1 or 2 mm at the butt
    assert np.mean(np.abs(lost) <= ALONG) >= 0.8
