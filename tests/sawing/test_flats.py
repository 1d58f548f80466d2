"""A log that starts with flats: where it lies, and that plans from it replay."""

from __future__ import annotations

from functools import cache
from random import Random

import numpy as np
import pytest
from tests.rings import short_first

from waney.logs.measured import FlatReading, MeasuredLog
from waney.logs.opened import flats_of, trimmed_off
from waney.sawing.check.check import check_plan
from waney.sawing.check.opened import Before
from waney.sawing.check.verdict import Reason, Verdict
from waney.sawing.flat_rolls import rolls_of
from waney.sawing.lie import lies
from waney.sawing.moves import Pass
from waney.sawing.plan import Plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import Ready, ready
from waney.sawing.wants import Pattern, Tip

INCH = 0.0254
LOG = """format = "waney-log/1"
units = "in"
species = "white oak"
length = "8 ft"
[butt]
diameter = [22, 21]
pith = { from_middle = 1, clock = 2 }
[top]
diameter = [19, 18]
[bark]
thickness = 0.75
[[metal]]
distance = 40
clock = 3
depth = 5
"""
ROUND_LOG = """format = "waney-log/1"
units = "in"
species = "white oak"
length = "8 ft"
[butt]
diameter = 24
[top]
diameter = 24
"""
MILL = """format = "waney-mill/1"
units = "in"
kerf = "3/32"
widest_cut = 32
lowest = "1 1/2"
highest = 32
bed_length = "16 ft"
step = "1/8"
"""
WANTS = """format = "waney-wants/1"
units = "in"
least_width = 4
first = "live-edge 8/4"
rest = "edged 4/4"
[search]
rolls_every = 90
"""
LOGS = {
    "half": "[[flat]]\nclock = 3\nhalved = true\n",
    "slabbed": "[[flat]]\nclock = 7\nfrom_pith = 6\nat_top = 5\n",
    "cant": "[[flat]]\nclock = 12.4\nfrom_pith = 6\n[[flat]]\nclock = 6.4\nthickness = 11\nat_top = 10\n",
    "flitch": "[[flat]]\nclock = 12\nfrom_pith = 7\n[[flat]]\nclock = 6\nthickness = 3\n",
    "beam": "".join(f"[[flat]]\nclock = {clock}\nfrom_pith = {at}\n" for clock, at in ((12, 6), (3, 4), (6, 5), (9, 5))),
    "trimmed": "[trimmed]\nbutt = 12\n[[flat]]\nclock = 9\nhalved = true\n",
}


@cache
def set_up(name: str) -> Ready:
    return ready({"log": LOG + LOGS[name], "mill": MILL, "wants": WANTS})


def flats_at(*clocks: float) -> MeasuredLog:
    return MeasuredLog("", "", 3.0, (), flats=tuple(FlatReading(clock, 0.1, 0.1) for clock in clocks))


def test_a_flat_adds_four_rolls_and_two_leave_no_other() -> None:
    one = rolls_of(flats_at(5.0))
    assert one.flats_deg == (30.0, 120.0, 210.0, 300.0) and not one.only_flats
    assert one.among((0.0, 30.0 + 1e-9, 90.0)) == (0.0, 30.0, 90.0, 120.0, 210.0, 300.0)
    assert rolls_of(flats_at(12.0, 6.0)).flats_deg == (0.0, 90.0, 180.0, 270.0)
    assert set_up("cant").bench.wants.rolls_deg == pytest.approx((78.0, 168.0, 258.0, 348.0))


def test_a_sheet_that_lists_rolls_is_obeyed() -> None:
    listed = WANTS.replace("rolls_every = 90", "rolls = [10]")
    bench = ready({"log": LOG + LOGS["cant"], "mill": MILL, "wants": listed}).bench
    assert bench.wants.rolls_deg == (10.0,)


@pytest.mark.parametrize("name", LOGS)
def test_every_flat_comes_to_lie_on_the_bed(name: str) -> None:
    prepared = set_up(name)
    log, shape = prepared.measured.log, prepared.measured.shape
    for flat in flats_of(log, trimmed_off(prepared.measured.whole, log.trimmed)):
        down = (180.0 - 30.0 * flat.clock_h) % 360.0
        assert min(abs(down - roll) for roll in prepared.bench.wants.rolls_deg) < 1e-9
        (lie,) = lies(shape, (down,), (Tip.AS_IT_LIES,))
        lying = lie.to_saw.there(shape.surface(bark=True))
        reach = flat.reach_m(shape.z_m / shape.length_m)[:, None]
        on_flat = np.abs(shape.surface(bark=True)[..., :2] @ np.array(flat.out) - reach) < 1e-7
        # all of it touches the bed, whether or not it tapers
        assert int(on_flat.any(axis=1).sum()) == len(shape.z_m)
        assert float(np.abs(lying[..., 1][on_flat]).max()) < 1e-7
        assert float(lying[..., 1].min()) > -1e-9


def checked(prepared: Ready, plan: Plan) -> Verdict:
    bench, log = prepared.bench, prepared.bench.log
    before = Before(prepared.measured.log, prepared.measured.whole)
    shrinking = (log.shrinking.radial, log.shrinking.tangential)
    return check_plan(plan, log.shape, bench.mill, bench.wants, shrinking, hardwood=log.hardwood, before=before)


@pytest.mark.parametrize("pattern", [Pattern.THROUGH, Pattern.HALF_TURN])
@pytest.mark.parametrize("name", short_first(LOGS, 2))
def test_a_plan_from_what_is_left_replays(name: str, pattern: Pattern) -> None:
    prepared = set_up(name)
    (plan,) = plans(prepared.bench, (pattern,))
    verdict = checked(prepared, plan)
    assert verdict.accepted, verdict.sentence
    assert plan.roll_deg in plan.grid.rolls_deg
    assert plan.pieces


def test_a_piece_of_a_flitch_may_lie_beside_the_pith() -> None:
    (plan,) = plans(set_up("flitch").bench, (Pattern.HALF_TURN,))
    piece = plan.pieces[0].piece
    assert float(np.abs(piece.pith_m[..., 1]).min()) > 0.1, "the pith is in no piece of this plan"
    assert plan.pieces[0].worth.cents > 0


BEAM = ROUND_LOG + "".join(f"[[flat]]\nclock = {clock}\nfrom_pith = {at}\n" for clock, at in ((12, 6), (3, 4), (6, 6), (9, 4)))
BOARDS = """format = "waney-wants/1"
units = "in"
currency = "USD"
least_width = 4
rest = "nothing"
[first]
thickness = "1 in"
edges = "edged"
surface = "rough"
lengths = ["7 ft"]
widths = [7]
green_thickness = "1 1/4"
loss = 0
loss_with_pith = 0
price = 1
per = "board foot"
[search]
patterns = ["through"]
"""


def test_a_beam_is_sawn_into_the_boards_that_hand_arithmetic_gives() -> None:
    """12 by 8 in, 3/32 in of kerf, 1/8 in steps. 1 1/4 in of green wood takes 11 steps (1 3/8 in, 1 9/32 in without the kerf).

    Upright it is 96 steps high: 11, 22 ... 88 make eight boards; on its side, 64 steps, five. A board 7 in by 7 ft by 1 in is
    4.083 board feet.
    """
    mill = MILL.replace("1 1/2", "1") + 'currency = "USD"\nhourly = 30\n'
    bench = ready({"log": BEAM, "mill": mill, "wants": BOARDS}).bench
    (plan,) = plans(bench, (Pattern.THROUGH,))
    passes = [move.height_steps for move in plan.moves if isinstance(move, Pass)]
    assert passes == [88, 77, 66, 55, 44, 33, 22, 11]
    assert [piece.piece.thickness_m / INCH for piece in plan.pieces] == pytest.approx([1.28125] * 7 + [1.375], abs=1e-9)
    for each in plan.pieces:
        piece = each.piece
        # flats are cut 20 nm deeper than read, edges rounded inwards to 1 nm
        assert piece.high_y_m - piece.low_y_m == pytest.approx(8 * INCH, abs=1e-7)
        assert each.worth.cents == 408
    assert plan.pieces[-1].lower_steps == 0, "the last board stays on the bed, its lower face is the flat"


@pytest.mark.parametrize("seed", short_first(range(12), 2))
def test_flats_whole_steps_apart_are_met_by_no_pass(seed: int) -> None:
    """Passes of the scale would lie in the flats to within the last digit of arithmetic."""
    rng = Random(seed)
    text = ROUND_LOG + f"[[flat]]\nclock = 12\nfrom_pith = {rng.randint(24, 72) / 8}\n"
    if rng.random() < 0.7:
        text += f"[[flat]]\nclock = 6\nthickness = {rng.randint(32, 88) / 8}\n"
    prepared = ready({"log": text, "mill": MILL, "wants": WANTS})
    for pattern in (Pattern.THROUGH, Pattern.HALF_TURN):
        (plan,) = plans(prepared.bench, (pattern,))
        verdict = checked(prepared, plan)
        assert verdict.accepted, verdict.sentence


def test_a_slice_on_a_flat_of_the_sheet_is_a_piece_only_where_the_flat_lies_down() -> None:
    """The same plan, said of the log without its flat history, ends with a slice on bark."""
    prepared = set_up("flitch")
    (plan,) = plans(prepared.bench, (Pattern.THROUGH,))
    assert plan.pieces[-1].lower_steps == 0 and checked(prepared, plan).accepted
    log, bench = prepared.bench.log, prepared.bench
    shrinking = (log.shrinking.radial, log.shrinking.tangential)
    verdict = check_plan(plan, log.shape, bench.mill, bench.wants, shrinking, hardwood=log.hardwood)
    assert verdict.reason is Reason.PLACE
