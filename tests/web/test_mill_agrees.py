"""The page at the mill and the server count alike: drawn days, folded by both."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from waney.figures.json_out import Encoder
from waney.papers.at_mill import AtMill, Comes, Kind, Step
from waney.web.mill.fold import TAGGED, Called, Stands, called, stands
from waney.web.mill.holds import FORMAT, Done, Holds
from waney.web.mill.taps import Tap, as_a_cant, tapped, without_plan
from waney.yard.acts.every import act_json, act_kind
from waney.yard.acts.mill import CameOff, Happened, Off
from waney.yard.acts.pieces import Tagged
from waney.yard.known_tags import KnownTags, TagRun, in_the_way, meant
from waney.yard.names import CHARACTERS, LETTERS, Name
from waney.yard.problems import BadName

from .market_cases import market_case, name_case
from .round_cases import round_case

ROOT = Path(__file__).parents[2]
STEP_M = 0.0015875


def identity(n: int) -> str:
    return f"00000000-0000-4000-8000-{n:012x}"


def plan(rng: random.Random) -> AtMill:
    """A plan of two lies: cuts, a turn, what is left."""
    steps = [Step(Kind.ROLL_ON, 0, "Roll it on.")]
    number = 0
    for lie in range(2):
        if lie:
            steps.append(Step(Kind.TURN, lie, "Turn it."))
        height = rng.randint(200, 320)
        for i in range(rng.randint(1, 5)):
            number += 1
            kept = i > 0
            thick = round(rng.uniform(0.02, 0.06), 6)
            comes = (
                Comes(f"W-{number}", kept, "a board", "board", thick, 3.0, (0.1, 0.2))
                if kept
                else Comes("", False, "Outside slab")
            )
            stops = height - rng.randint(0, 3)
            steps.append(Step(Kind.CUT, lie, "", number, height, comes, stops_steps=stops, lower_stops=rng.random() < 0.5))
            height -= rng.randint(16, 40)
    number += 1
    steps.append(Step(Kind.LEFT, 1, "", number, comes=Comes(f"W-{number}", True, "a board", "board", 0.03, 3.0)))
    return AtMill("W", "oak_white", STEP_M, 0.002, 2, (("", "", "", "in"),) * 400, ((150, 160), (90, 100)), tuple(steps))


def day(rng: random.Random) -> Holds:
    """What was done so far, by taps and by what happens."""
    names = tuple(str(Name("W", n)) for n in range(1, 40))
    holds = Holds(
        FORMAT,
        identity(1),
        "2026-05-04",
        identity(2),
        "W-0",
        "white oak",
        identity(3),
        "",
        identity(4),
        plan(rng),
        STEP_M,
        0.002,
        names,
        (),
        (),
        (),
        3,
    )
    for n in range(rng.randint(0, 14)):
        holds = replace(
            holds, done=(*holds.done, _next(rng, holds, n)) if rng.random() < 0.9 or not holds.done else holds.done[:-1]
        )
    return holds


def _next(rng: random.Random, holds: Holds, n: int) -> Done:
    ident = identity(100 + n)
    if rng.random() < 0.2:
        pith = (rng.randint(140, 165), rng.randint(140, 165)) if rng.random() < 0.7 else None
        return Done(ident, "at-the-mill", Happened.CLAMPED_AGAIN, "day:x", pith_steps=pith)
    if rng.random() < 0.1:
        return Done(ident, "at-the-mill", Happened.BLADE, "day:x")
    if rng.random() < 0.04:
        return Done(ident, "came-off", Off.CANT, f"piece:{ident}")
    off = called(holds.done)
    if off and rng.random() < 0.25:
        return Done(ident, "tagged", TAGGED, rng.choice(off).about, name=str(Name("BACK", rng.randint(1, 60))))
    tap = draw_tap(rng)
    act = tapped(free(holds), tap, ident)
    if act is None:
        return Done(ident, "came-off", Off.AS_MEANT, f"piece:{ident}", thickness_m=0.025)
    if isinstance(act, CameOff):
        return Done(ident, "came-off", act.how, f"piece:{ident}", act.cut, None, tap.thick_steps, None, act.name)
    return Done(ident, "at-the-mill", act.what, "day:x", None, act.step, tap.thick_steps)


def draw_tap(rng: random.Random) -> Tap:
    how = rng.choice([Off.AS_MEANT, Off.AS_MEANT, Off.THICK, Off.THIN, Off.WEDGE])
    return Tap(how, {Off.THICK: 1, Off.THIN: -1}.get(how, 0) * rng.randint(1, 8))


def free(holds: Holds) -> Holds:
    used = {each.name for each in holds.done}
    return replace(holds, names=tuple(name for name in holds.names if name not in used))


def case(seed: int) -> dict[str, Any]:
    rng = random.Random(seed)
    holds = day(rng)
    assert holds.at_mill is not None
    tap, piece = draw_tap(rng), identity(999)
    act = tapped(free(holds), tap, piece)
    written = None if act is None else {"kind": act_kind(act)} | act_json(act)
    if isinstance(act, CameOff):  # the page writes what is at its default too
        written = (written or {}) | {
            "how": str(act.how),
            "widths_m": list(act.widths_m),
        }
    cant, by_eye = as_a_cant(free(holds), piece), without_plan(free(holds), 0.0508, piece, tap)
    tag = Tagged(piece, str(draw_name(rng)))
    body = Encoder().encode(holds, Holds)
    now = stands(holds.at_mill, holds.done)
    state = Encoder().encode(now, Stands)
    return {
        "holds": body,
        "done": body["done"],
        "tap": {"how": tap.how, "thickSteps": tap.thick_steps},
        "piece": piece,
        "stands": state,
        "thickness": now.thickness_m(holds.at_mill),
        "act": written,
        "cant": {"kind": act_kind(cant)} | act_json(cant),
        "byEye": {"kind": act_kind(by_eye)} | act_json(by_eye) | {"how": str(by_eye.how)},
        "called": [Encoder().encode(one, Called) for one in called(holds.done)],
        "tagged": {"kind": act_kind(tag)} | act_json(tag),
        "written": [_written(rng) for _ in range(12)],
    }


def draw_name(rng: random.Random) -> Name:
    return Name(rng.choice(["W", "BACK", "ACK", "C", "XY", "YX"]), rng.choice([0, rng.randint(1, 70), rng.randint(100, 1400)]))


def draw_known(rng: random.Random) -> KnownTags:
    """Tags of a yard whose codes end alike."""

    def runs() -> tuple[TagRun, ...]:
        some = (draw_name(rng) for _ in range(rng.randint(0, 4)))
        return tuple(TagRun(name.code, max(1, name.number), name.number + rng.randint(1, 90)) for name in some)

    return KnownTags(runs(), runs())


@cache
def twins() -> tuple[Name, Name]:
    """Two names with the same last characters."""
    codes = [x + y for x in LETTERS for y in LETTERS]
    ended = {code: str(Name(code, 771))[-1] for code in codes}
    one, other = next((a, b) for a in codes for b in codes if a < b and ended[a] == ended[b])
    return Name(one, 771), Name(other, 771)


def _written(rng: random.Random) -> dict[str, Any]:
    """A tag that is known, or not, typed as somebody in gloves may type it, and what the server makes of it."""
    known = draw_known(rng)
    if rng.random() < 0.1:  # two tags that end alike
        known = replace(
            known, **{rng.choice(["free", "taken"]): tuple(TagRun(name.code, name.number, name.number) for name in twins())}
        )
    run = rng.choice([*known.free, *known.taken, TagRun("BACK", 1, 9)])
    name = rng.choice([draw_name(rng), *[Name(run.code, rng.randint(run.first, run.last))] * 3])
    text = rng.choice([str(name), str(name).replace("-", ""), f"WANEY:{name}", str(name).lower(), f" {name} "])
    text = text[-rng.choice([4, 4, 5, 5, 6, 40]) :]
    if rng.random() < 0.2:
        place = rng.randrange(len(text))
        text = text[:place] + rng.choice(CHARACTERS + "IOSZ-") + text[place + 1 :]
    own = rng.choice(["", str(name)])
    try:
        read = meant(known, text)
        sentence = in_the_way(known, read, own)
        says = {"sentence": sentence} if sentence else {"name": str(read)}
    except BadName as slip:
        says = {"sentence": str(slip)}
    return {"known": Encoder().encode(known, KnownTags), "text": text, "own": own, "says": says}


@pytest.mark.long
def test_drawn_days_are_folded_and_weights_are_asked_about_alike_by_page_and_server(tmp_path: Path) -> None:
    cases = [case(seed) for seed in range(300)]
    assert sum(each["stands"]["shift_steps"] != 0 for each in cases) > 30
    assert sum(each["act"] is None for each in cases) > 3
    assert sum(one["tagged"] for each in cases for one in each["called"]) > 50
    sentences = [one["says"].get("sentence", "") for each in cases for one in each["written"]]
    for words in ("", "fits no tag", "type all of it", "stands on another piece", "is the tag of a log"):
        assert sum(words in one if words else not one for one in sentences) > 20, words
    (tmp_path / "cases.json").write_text(json.dumps(cases), encoding="utf-8")
    weights = [round_case(seed) for seed in range(200)]
    assert {doubt for each in weights for doubt in each["doubts"]} == {"gain", "light", "coarse"}
    (tmp_path / "round.json").write_text(json.dumps(weights), encoding="utf-8")
    environment = os.environ | {"WANEY_MILL_CASES": str(tmp_path / "cases.json")}
    environment |= {"WANEY_ROUND_CASES": str(tmp_path / "round.json")}
    (tmp_path / "market.json").write_text(json.dumps([market_case(seed) for seed in range(200)]), encoding="utf-8")
    environment |= {"WANEY_MARKET_CASES": str(tmp_path / "market.json")}
    named = name_case(1)
    (tmp_path / "names.json").write_text(json.dumps(named), encoding="utf-8")
    environment |= {"WANEY_NAME_CASES": str(tmp_path / "names.json")}
    words = [sys.executable, str(ROOT / "tools" / "client.py"), "test"]
    done = subprocess.run(words, cwd=ROOT, env=environment, capture_output=True, text=True)
    if "no node" in done.stdout + done.stderr:
        pytest.skip("NOT TESTED: no node on this machine to fold the days as the page does")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "300 drawn days stand as the server says" in done.stdout
    assert "3600 tags that are typed mean what the server says" in done.stdout
    assert "200 drawn weights are written and asked about as the server does" in done.stdout
    assert "200 drawn sales are taxed and written as the server does" in done.stdout
    assert f"{len(named['pieces'])} pieces that stay at home are found by name and by id" in done.stdout


# the rules themselves


def steps(*, thick: int = 0) -> Stands:
    mill = AtMill(
        "W",
        "",
        STEP_M,
        0.002,
        2,
        (),
        ((150, 160),),
        (Step(Kind.CUT, 0, "", 1, 200, stops_steps=199), Step(Kind.CUT, 0, "", 2, 170, stops_steps=169)),
    )
    return stands(mill, [Done(identity(1), "at-the-mill", Happened.OUTSIDE, "day:x", step=0, thick_steps=thick)])


@pytest.mark.parametrize(("thick", "height"), [(0, 170), (-4, 170), (1, 170), (2, 168), (6, 164)])
def test_after_a_thick_piece_the_later_heights_are_lower_by_the_miss(thick: int, height: int) -> None:
    assert steps(thick=thick).height_steps == height


KERF_STEPS = 2


def a_lie(heights: tuple[int, ...]) -> AtMill:
    """An outside slab, boards, and what is left on the bed, as thick as the heights make them."""

    def board(n: int, thick_steps: int) -> Comes:
        return Comes(f"W-{n}", True, "a board", "board", round(thick_steps * STEP_M, 9), 3.0)

    cuts = [Step(Kind.CUT, 0, "", 1, heights[0], Comes("", False, "Outside slab"))]
    cuts += [
        Step(Kind.CUT, 0, "", n, low, board(n, high - low - KERF_STEPS)) for n, (high, low) in enumerate(pairwise(heights), 2)
    ]
    left = Step(Kind.LEFT, 0, "", len(heights) + 1, comes=board(len(heights) + 1, heights[-1]))
    return AtMill("W", "", STEP_M, KERF_STEPS * STEP_M, 2, (), ((150, 160),), (*cuts, left))


def sawn(rng: random.Random, holds: Holds) -> list[tuple[float, CameOff | None, Stands]]:
    """A lie sawn by somebody whose blade does not always stand where the page wants it, and who tells the truth of each piece:
    for every step how thick the wood between the last cut and this one really is, in marks; what was written; what was shown."""
    assert holds.at_mill is not None
    told, last = [], 0
    for n, step in enumerate(holds.at_mill.steps):
        now = stands(holds.at_mill, holds.done)
        low_by = rng.choice([0, 0, rng.randint(-8, 8)]) if step.kind is Kind.CUT else 0
        blade = (now.height_steps or 0) - low_by
        real = float(last if step.kind is Kind.LEFT else last - blade - KERF_STEPS)
        act = tapped(holds, Tap(Off.THICK if low_by > 0 else Off.THIN if low_by else Off.AS_MEANT, low_by), identity(n))
        written = act if isinstance(act, CameOff) else None
        told.append((real, written, now))
        kind, what = ("came-off", written.how) if written else ("at-the-mill", Happened.OUTSIDE)
        cut = written.cut if written else None
        done = Done(identity(n), kind, what, "", cut, None if written else n, low_by)
        holds, last = replace(holds, done=(*holds.done, done)), blade
    return told


@pytest.mark.parametrize("seed", range(60))
def test_what_is_written_of_a_piece_is_the_wood_that_was_there(seed: int) -> None:
    """By the heights at which the blade really stood, however often it was missed."""
    rng = random.Random(seed)
    heights = tuple(sorted(rng.sample(range(64, 400, 24), 6), reverse=True))
    lie = a_lie(heights)
    told = sawn(rng, replace(day(rng), at_mill=lie, done=()))
    assert len(told) == 7 and told[0][1] is None
    for (real, act, now), step in zip(told[1:], lie.steps[1:], strict=True):
        assert act is not None and step.comes is not None and step.comes.thickness_m is not None
        planned = step.comes.thickness_m / STEP_M
        assert (act.thickness_m or 0.0) / STEP_M == pytest.approx(real)
        shown = now.thickness_m(lie)
        assert (planned if shown is None else shown / STEP_M) == pytest.approx(real - (act.off_by_m or 0.0) / STEP_M)


@pytest.mark.parametrize(
    ("misses", "height", "comes"),
    [
        ((-2,), 170, 2),
        ((-2, 0), 140, 0),
        ((-2, 2), 138, 0),  # thick beyond what was to come: the blade stood low
        ((-2, -2), 140, 2),
        ((4,), 166, 0),
        ((4, 0), 136, 0),
        ((4, -2), 136, 2),
        ((1,), 170, -1),  # nobody sees it: the next takes it up
        ((1, 0), 140, 0),
        ((0, 4, 0), None, -4),  # on the bed
        ((0, 0, -2), None, 2),
    ],
)
def test_after_a_miss_the_next_piece_is_told_as_thick_as_it_comes(
    misses: tuple[int, ...], height: int | None, comes: int
) -> None:
    lie = a_lie((200, 170, 140))
    done = [Done(identity(n), "came-off", Off.AS_MEANT, "", n, None, thick) for n, thick in enumerate(misses, 1)]
    now = stands(lie, done)
    assert (now.height_steps, now.comes_steps) == (height, comes)


def test_a_day_that_was_told_before_stands_at_the_heights_at_which_it_stood() -> None:
    """Told while every miss was counted from the plan: thin, and then thick by as much."""
    lie = a_lie((200, 170, 140, 110))
    before = [
        Done(identity(1), "at-the-mill", Happened.OUTSIDE, "", step=0),
        Done(identity(2), "came-off", Off.THIN, "", 2, None, -4, thickness_m=0.03810, height_steps=170),
        Done(identity(3), "came-off", Off.THICK, "", 3, None, 4, thickness_m=0.0508, height_steps=140),
    ]
    assert [stands(lie, before[:n]).height_steps for n in range(4)] == [200, 170, 140, 106]


def test_after_a_wedge_the_next_is_asked_about_and_the_log_clamped_again_leaves_what_is_to_come() -> None:
    lie = a_lie((200, 170, 140))
    wedge = Done(identity(1), "came-off", Off.WEDGE, "", 1)
    assert stands(lie, [wedge]).wedge and stands(lie, [wedge]).height_steps == 170
    assert not stands(lie, [wedge, Done(identity(2), "came-off", Off.AS_MEANT, "", 2)]).wedge
    thin = Done(identity(1), "came-off", Off.THIN, "", 1, None, -2)
    moved = Done(identity(2), "at-the-mill", Happened.CLAMPED_AGAIN, "", pith_steps=(154, 164))
    assert (stands(lie, [thin, moved]).height_steps, stands(lie, [thin, moved]).comes_steps) == (174, 2)


@pytest.mark.parametrize("how", [Off.WEDGE, Off.SHORT, Off.SPOILED])
def test_wedge_short_and_spoiled_move_nothing(how: Off) -> None:
    now = stands(a_lie((200, 170, 140)), [Done(identity(1), "came-off", how, "", 1)])
    assert (now.height_steps, now.comes_steps, now.shift_steps) == (170, 0, 0)


def test_where_the_blade_comes_lower_the_stops_come_lower_with_it() -> None:
    assert steps(thick=6).stops_steps == 163
    assert steps().stops_steps is None


def test_what_is_kept_as_a_cant_ends_the_sawing_and_leaves_what_came_off_to_be_edged() -> None:
    edge = Step(Kind.EDGE, 0, "Edge both together.")
    cuts = tuple(Step(Kind.CUT, 0, "", n + 1, 200 - 20 * n) for n in range(3))
    cant = Done(identity(1), "came-off", Off.CANT, "piece:x", name="W-1-1")
    mill = AtMill("W", "", STEP_M, 0.002, 2, (), ((150, 160),), (*cuts, Step(Kind.LEFT, 0, "", 4), edge))
    assert (stands(mill, [cant]).step, stands(mill, [cant]).order) == (4, 1)
    assert stands(mill, [cant, Done(identity(2), "at-the-mill", Happened.EDGED, "day:x", step=4)]).step is None
    assert stands(mill, []).step == 0  # taken back, it goes on where it was


def test_the_log_clamped_again_moves_every_height_of_this_lie_only() -> None:
    turned = AtMill(
        "W",
        "",
        STEP_M,
        0.002,
        2,
        (),
        ((150, 160), (80, 80)),
        (Step(Kind.CUT, 0, "", 1, 200), Step(Kind.CUT, 0, "", 2, 170), Step(Kind.TURN, 1, ""), Step(Kind.CUT, 1, "", 3, 120)),
    )
    moved = Done(identity(1), "at-the-mill", Happened.CLAMPED_AGAIN, "day:x", pith_steps=(154, 164))
    cut = [Done(identity(n + 2), "at-the-mill", Happened.OUTSIDE, "day:x", step=n) for n in range(3)]
    assert stands(turned, [moved]).height_steps == 204
    assert stands(turned, [moved, *cut[:1]]).height_steps == 174
    assert stands(turned, [moved, *cut]).height_steps == 120


def test_a_log_that_is_clamped_again_keeps_what_a_missed_cut_took_off_it() -> None:
    mill = AtMill("W", "", STEP_M, 0.002, 2, (), ((150, 160),), (Step(Kind.CUT, 0, "", 1, 200), Step(Kind.CUT, 0, "", 2, 170)))
    missed = Done(identity(1), "at-the-mill", Happened.OUTSIDE, "day:x", step=0, thick_steps=6)
    again = {
        pith: Done(identity(2), "at-the-mill", Happened.CLAMPED_AGAIN, "day:x", pith_steps=pith)
        for pith in ((150, 160), (152, 166))
    }
    assert stands(mill, [missed, again[150, 160]]).height_steps == 170 - 6  # it lies as before: the miss is still there
    aslant = stands(mill, [missed, again[152, 166]])  # 2 up at the butt, 6 at the top end: 4 in the middle
    assert (aslant.height_steps, aslant.off_steps) == (170 - 6 + 4, 4)


def test_ends_that_moved_unlike_are_told() -> None:
    mill = AtMill("W", "", STEP_M, 0.002, 2, (), ((150, 160),), (Step(Kind.CUT, 0, "", 1, 200),))
    assert stands(mill, [Done(identity(1), "at-the-mill", Happened.CLAMPED_AGAIN, "day:x", pith_steps=(150, 166))]).off_steps == 6
