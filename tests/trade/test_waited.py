"""What stain took of the shop's own logs: the other way round of what is foretold, and it narrows what another week costs."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.estimate import Ground
from waney.figures.scenarios import Scenarios
from waney.trade.storage import keeping_of
from waney.trade.waited import LATE_FROM, Waited, stain_took
from waney.trade.waiting import Waiting, cost_of_week, gone_by, stain_learned
from waney.wood.weather import Air

N = Scenarios(seed=3, n=64)
WARM = Air(7, 22.0, 0.6)
KEEPING = keeping_of("pine_loblolly")
assert KEEPING is not None


def log(days: float, species: str = "pine_loblolly", sealed: bool = True) -> Waiting:
    return Waiting("P1", species, days, 3.0, sealed, True, WARM, 22.0)


def soon(lost: float = 0.1, count: int = 3) -> list[Waited]:
    return [Waited(log(0.0), lost)] * count


def late(took: float, anyway: float, count: int, days: float = 30.0) -> list[Waited]:
    """Logs that lost what stain of this share, end checks and drying take one after another."""
    stained, checked = gone_by(log(days))
    return [Waited(log(days), 1.0 - (1.0 - anyway) * (1.0 - checked) * (1.0 - took * stained))] * count


@given(st.floats(0.0, 0.9), st.floats(0.0, 0.5), st.floats(4.0, 60.0))
def test_what_stain_took_is_found_again_from_what_logs_lost(took: float, anyway: float, days: float) -> None:
    assert gone_by(log(days))[0] >= LATE_FROM
    cases = stain_took([*soon(anyway), *late(took, anyway, 2, days)])
    assert cases == {"pine_": (pytest.approx(took, abs=1e-9),) * 2}


def test_the_order_of_logs_does_not_matter_and_no_loss_is_below_none() -> None:
    some = [*soon(0.2), *late(0.3, 0.2, 1), Waited(log(40.0), 0.05), *late(0.5, 0.2, 1, 12.0)]
    assert stain_took(some) == stain_took(some[::-1])
    assert min(stain_took(some)["pine_"]) == 0.0


NOT_FELLED = [Waited(Waiting("P2", "pine_loblolly"), 0.1)] * 9


@pytest.mark.parametrize("others", [soon(count=2), [Waited(log(0.0, "apple"), 0.1)] * 2, NOT_FELLED])
def test_without_three_logs_that_were_sawn_soon_nothing_is_said(others: Sequence[Waited]) -> None:
    """Nor by logs of which the felling is not known."""
    assert stain_took([*others, *late(0.5, 0.1, 6)]) == {}


def test_a_wood_that_no_table_knows_says_what_drying_takes_anyway() -> None:
    dry = [Waited(log(60.0, "apple"), 0.1)] * 3
    assert stain_took([*dry, *late(0.4, 0.1, 1)])["pine_"] == (pytest.approx(0.4),)


def test_the_shops_own_logs_move_and_narrow_what_another_week_costs() -> None:
    waits = log(2.0)
    built_in = cost_of_week(waits, N)
    own = stain_took([*soon(), *late(0.05, 0.1, 12)])
    found = cost_of_week(waits, N, own)
    assert found.stain is not None and built_in.stain is not None and found.share is not None and built_in.share is not None
    assert found.stain.likely < built_in.stain.likely and found.stain.width < built_in.stain.width
    assert found.share.width < built_in.share.width and found.checks == built_in.checks
    assert cost_of_week(log(2.0, "oak_white"), N, own) == cost_of_week(log(2.0, "oak_white"), N), "another wood keeps otherwise"


def test_ours_and_the_tables_stand_side_by_side_with_the_count() -> None:
    assert KEEPING is not None
    both = stain_learned(KEEPING, {"pine_": (0.05,) * 5})
    assert both.count == 5 and both.weight == 0.5 and both.own == pytest.approx(0.05) and both.start == KEEPING.loss
    assert both.now is not None and both.now.likely == pytest.approx((0.05 + KEEPING.loss.likely) / 2)
    assert both.now.basis.ground is Ground.HISTORY and stain_learned(KEEPING, {}).now == KEEPING.loss
