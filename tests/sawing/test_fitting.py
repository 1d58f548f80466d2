"""What helps a log that does not fit: every help is the least of its kind, fits, and is followed by plans that replay."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest
from tests.rings import short_first

from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import LOG
from waney.logs.volume import volume_of
from waney.sawing.check.check import check_plan
from waney.sawing.check.opened import Before
from waney.sawing.fits import What, fit_of
from waney.sawing.fitting import Fitting, Help, Helped, Way, best_first, helped, helps_of, with_lines
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern

HEAD = 'format = "waney-{}/1"\nunits = "in"\n'
FLARED = (
    HEAD.format("log") + 'name = "F"\nspecies = "white oak"\nlength = "9 ft"\nbutt_log = true\n[butt]\ndiameter = [36, 34]\n'
    "[bark]\nthickness = 0.75\n[[section]]\ndistance = 18\ndiameter = [28, 27]\n[[section]]\ndistance = 54\ngirth = 82\n"
    "[top]\ndiameter = [21, 20]\n"
)
ROUND = (
    HEAD.format("log")
    + 'name = "R"\nspecies = "white oak"\nlength = "{}"\n[butt]\ndiameter = [{}, {}]\n[bark]\nthickness = 0.75\n'
    "[top]\ndiameter = [{}, {}]\n"
)
MILL = (
    HEAD.format("mill") + 'kerf = "3/32"\nwidest_cut = 32\nlowest = "1 1/2"\nhighest = 32\nbed_length = "16 ft"\nstep = "1/8"\n'
)
WANTS = (
    HEAD.format("wants") + 'least_width = 4\n[first]\nthickness = "8/4"\nleast_length = "3 ft"\n[rest]\nthickness = "4/4"\n'
    'edges = "edged"\nleast_length = "3 ft"\n[search]\npatterns = ["through"]\nrolls_every = 90\ntips = ["as it lies"]\n'
)
LONG = ROUND.format("18 ft", 20, 20, 18, 18)
WIDE = ROUND.format("8 ft", 38, 37, 36, 35)
BOTH = ROUND.format("18 ft", 38, 37, 36, 35)
OVAL = ROUND.format("8 ft", 33, 27, 33, 27)
ENORMOUS = ROUND.format("9 ft", 90, 90, 88, 88)
SCENARIOS = Scenarios(1)


def held(log: str, mill: str = MILL, wants: str = WANTS, *, weighed: bool = False) -> Fitting:
    sheets = {"log": log, "mill": mill, "wants": wants}
    prepared = ready(sheets)
    return Fitting.of(sheets, prepared, prepared.measured.weight_of_parts(SCENARIOS) if weighed else None)


@cache
def helped_all(log: str) -> Mapping[Way, Helped]:
    return {each.way: helped(each) for each in helps_of(held(log))}


def test_a_flared_butt_is_trimmed_by_the_least_whole_inch_that_makes_it_pass() -> None:
    fitting = held(FLARED)
    assert [limit.what for limit in fitting.fit.limits] == [What.WIDTH]
    trim = next(each for each in helps_of(fitting) if each.way is Way.TRIM_BUTT)
    assert trim.at_m is not None
    inches = round(trim.at_m / 0.0254)
    assert trim.parts[0].lines == ("[trimmed]", f'butt = "{inches} in"')
    assert trim.parts[0].ready.bench.log.shape.length_m == pytest.approx((108 - inches) * 0.0254)
    assert fitting.part("log", LOG, ("[trimmed]", f'butt = "{inches - 1} in"')) is None


def test_a_log_too_wide_is_halved_and_each_half_holds_half_of_it() -> None:
    found = helped_all(WIDE)
    assert Way.TRIM_BUTT not in found, "trimming a third off would not make it narrow enough"
    halves = found[Way.HALVE]
    wood = [volume_of(part.ready.bench.log.shape, bark=False) for part in halves.help.parts]
    whole = volume_of(held(WIDE).ready.bench.log.shape, bark=False)
    # the chain saw takes 3/8 in off 36 in
    assert sum(wood) == pytest.approx(whole * (1 - 0.375 / 36 * 4 / 3.1416), rel=2e-3)
    assert wood[0] == pytest.approx(wood[1], rel=1e-3)
    assert halves.cents == sum(plans[0].cents for plans in halves.plans)
    assert halves.cents > found[Way.AS_IT_IS].cents, "sawn only where the blade goes, most of the wood is lost"


def test_a_log_too_long_is_cut_so_that_both_lengths_fit() -> None:
    fitting = held(LONG)
    cuts = [each for each in helps_of(fitting) if each.way is Way.CUT]
    assert cuts and Way.AS_IT_IS not in {each.way for each in helps_of(fitting)}
    for each in cuts:
        lengths = [part.ready.bench.log.shape.length_m for part in each.parts]
        assert sum(lengths) == pytest.approx(18 * 0.3048)
        assert max(lengths) <= 16 * 0.3048 + 1e-9


def test_a_log_too_long_may_lose_the_rest_at_either_end() -> None:
    found = {each.way: each for each in helps_of(held(LONG))}
    assert found[Way.TRIM_BUTT].at_m == found[Way.TRIM_TOP].at_m == pytest.approx(2 * 0.3048)


def test_too_long_and_too_wide_takes_two_helps_together() -> None:
    (both,) = helps_of(held(BOTH))
    assert both.way is Way.CUT_AND_HALVE and len(both.parts) == 4


def test_an_oval_log_is_rolled_the_other_way() -> None:
    listed = WANTS.replace("rolls_every = 90", "rolls = [0, 5]")
    lying = OVAL.replace("[butt]", "[butt]\nclock = 9").replace("[top]", "[top]\nclock = 9")
    found = {each.way: each for each in helps_of(held(lying, wants=listed))}
    (part,) = found[Way.ROLL].parts
    assert part.role == "wants" and part.lines[0] == "[search]"
    assert (
        part.ready.bench.wants.rolls_deg == fit_of(part.ready.bench.log.shape, part.ready.bench.mill, range(0, 360, 10)).rolls_deg
    )
    assert 90.0 in part.ready.bench.wants.rolls_deg and 0.0 not in part.ready.bench.wants.rolls_deg


def test_a_log_too_heavy_is_halved_and_each_half_weighs_its_share() -> None:
    fitting = held(ROUND.format("10 ft", 24, 24, 22, 22), MILL + "heaviest_log = 2000\n", weighed=True)
    (limit,) = fitting.fit.limits
    assert limit.what is What.WEIGHT and limit.has == pytest.approx(2000 * 0.45359237)
    assert fitting.weight is not None and limit.needs == fitting.weight.log.high
    found = {each.way for each in helps_of(fitting)}
    assert Way.HALVE in found and Way.CUT in found


def test_what_nothing_helps_is_said_by_no_help() -> None:
    fitting = held(ENORMOUS, MILL.replace("highest = 32", "highest = 32\nthickest = 4"))
    assert fitting.fit.limits
    assert {each.way for each in helps_of(fitting)} <= {Way.AS_IT_IS}


def test_halves_are_not_halved_again() -> None:
    fitting = held(WIDE + "[[flat]]\nclock = 3\nfrom_pith = 17\n")
    assert {each.way for each in helps_of(fitting)} & {Way.HALVE, Way.CUT_AND_HALVE} == set()


def test_lines_take_the_place_of_those_that_are_there() -> None:
    assert with_lines("a = 1\n[trimmed]\nbutt = 3\n[top]\nb = 2\n", ("[trimmed]", "butt = 5")).count("[trimmed]") == 1
    assert with_lines("a = 1\n[search]\nrolls_every = 30\ntips = []\n", ("[search]", "rolls = [10]")) == (
        "a = 1\n[search]\nrolls = [10]\ntips = []\n"
    )
    again = held(LONG + "[trimmed]\nbutt = 12\n")
    trim = next(each for each in helps_of(again) if each.way is Way.TRIM_BUTT)
    assert trim.parts[0].lines == ("[trimmed]", 'butt = "24 in"'), "12 in are off already, 12 more must go"


@pytest.mark.parametrize("log", short_first([FLARED, WIDE, LONG, BOTH]), ids=["flared", "wide", "long", "both"])
def test_the_plans_that_follow_replay(log: str) -> None:
    for each in helped_all(log).values():
        for part, plans in zip(each.help.parts, each.plans, strict=True):
            bench, measured = part.ready.bench, part.ready.measured
            shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
            before = Before(measured.log, measured.whole)
            verdict = check_plan(
                plans[0], bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=bench.log.hardwood, before=before
            )
            assert verdict.accepted, f"{each.help.way}, {part.name}: {verdict.sentence}"


def test_helps_stand_in_the_order_of_what_they_leave() -> None:
    found = best_first(tuple(helped_all(FLARED).values()))
    assert [each.cents for each in found] == sorted((each.cents for each in found), reverse=True)
    assert best_first([Helped(Help(Way.HALVE, ()), ())]) == ()


def test_a_pattern_that_is_asked_for_is_used() -> None:
    trim = next(each for each in helps_of(held(FLARED)) if each.way is Way.TRIM_BUTT)
    found = helped(trim, (Pattern.HALF_TURN,))
    assert found.plans[0][0].pattern is Pattern.HALF_TURN
