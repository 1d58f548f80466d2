"""Plans that hold are accepted."""

from __future__ import annotations

import pytest

from waney.sawing.check.check import check_plan

READ = ("read on blocks", "read in the bed")


@pytest.mark.parametrize(
    "name", ["through", "half turn", "cant", "edged", "pairs", "found through", "found half turn", "found edged", *READ]
)
def test_a_plan_that_holds_is_accepted(cases, name) -> None:
    case = cases[name]
    verdict = check_plan(case.plan, case.shape, case.mill, case.wants, case.shrinking, hardwood=case.hardwood)
    assert verdict.accepted, (verdict.reason, verdict.sentence)
