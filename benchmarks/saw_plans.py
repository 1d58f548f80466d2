"""Times the saw plans of the benchmark log and writes docs/performance.md: ratios to the readable reference and to HiGHS in one run.

usage: python3 dev.py prove saw_plans.py
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path

import numpy as np
from pages import write_plans
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

from waney.logs.doubts import likely_shape
from waney.logs.sheet import read_log_sheet
from waney.pieces.shrinking import Shrinking
from waney.prices.worth import worth
from waney.sawing.bench import Bench
from waney.sawing.cants import opened_in, plan_cant
from waney.sawing.kernel.cant import cant_cents
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.kernel.path import NEVER, best_above, best_above_reference
from waney.sawing.kernel.through import Side, side_of
from waney.sawing.lie import lies
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.make_pieces import slice_piece
from waney.sawing.orders import wanted
from waney.sawing.plan import Plan
from waney.sawing.search import plan_half_turn, plan_through
from waney.sawing.sheets.agreement import agreed_mill
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.sawing.wants import NAMED_TIPS, Tip
from waney.wood.species import Group, species

HERE = Path(__file__).parent
CORES = os.cpu_count() or 1
INCH = 0.0254


def benchmark(**search: object) -> Bench:
    """The benchmark log on its mill, with changes to the search."""
    text = {name: (HERE / "sheets" / f"{name}.toml").read_text(encoding="utf-8") for name in ("log", "mill", "wants")}
    measured = read_log_sheet(text["log"])
    wood = species(measured.species)
    wants_sheet = read_wants_sheet(text["wants"], measured.length_m)
    wants = replace(wants_sheet.wants, **search)  # type: ignore[arg-type]
    radial, tangential = wood.shrink_radial, wood.shrink_tangential
    assert radial is not None and tangential is not None
    log = LogToSaw(
        measured.name,
        wood.id,
        wood.group is Group.HARD,
        likely_shape(measured, wood),
        Shrinking(radial.likely, tangential.likely, wants.target_mc),
    )
    return Bench.of(log, agreed_mill(read_mill_sheet(text["mill"]), wants_sheet), wants)


@dataclass(frozen=True)
class Timed:
    """The least time of a few runs by the clock and by the processors' own time [s], and the last result."""

    seconds: float
    worked: float
    plan: Plan

    def __str__(self) -> str:
        return f"{self.seconds:.2f} s ({self.worked:.2f} s)"


def least_of(runs: int, search: Callable[[], Plan]) -> Timed:
    """The least time of some runs after one that is not counted."""
    search()
    times, worked = [], []
    for _ in range(runs):
        start, used = time.perf_counter(), time.process_time()
        plan = search()
        times.append(time.perf_counter() - start)
        worked.append(time.process_time() - used)
    return Timed(min(times), min(worked), plan)


def side_by_side(bench: Bench) -> float:
    """How many times as much two threads get done as one, on this machine as it is now."""
    laid = [bench.lay(lie) for lie in bench.lies()[:24]]

    def work(_: int) -> None:
        for lie in laid:
            side_of(bench.ask, lie.sections, lie.rings, lie.obstacles)

    start = time.perf_counter()
    work(0)
    alone = time.perf_counter() - start
    with ThreadPoolExecutor(2) as pool:
        start = time.perf_counter()
        list(pool.map(work, range(2)))
        both = time.perf_counter() - start
    return 2.0 * alone / both


def reference_seconds(bench: Bench, slices: int = 12) -> float:
    """What `prices.worth` takes for one slice [s], over slices spread through the log."""
    lie = bench.lies()[0]
    laid = bench.lay(lie)
    t = side_of(bench.ask, laid.sections, laid.rings, laid.obstacles).tables
    starts = np.linspace(0.15 * t.passes, 0.75 * t.passes, slices).astype(int)
    products, wants = wanted(bench.wants), bench.wants
    start = time.perf_counter()
    for p in starts:
        piece = slice_piece(bench.log, laid, t, int(p), 36, on_flat=False, name="x")
        worth(piece, products, wants.rules, wants.allowances, bench.log.shrinking)
    return (time.perf_counter() - start) / slices


def by_highs(side: Side, free: np.ndarray) -> tuple[int, float]:
    """The best chain of one lie as a flow through passes, by HiGHS: cents and seconds (building the rows left out)."""
    arcs, cost, top = side.arcs, side.cost, len(side.cost)
    heads: list[int] = []
    tails: list[int] = []
    gains: list[int] = []

    def arc(tail: int, head: int, gain: int) -> None:
        tails.append(tail)
        heads.append(head)
        gains.append(gain)

    for p in range(top):
        if cost[p] == NEVER:
            continue
        for c in range(arcs.span.shape[1]):
            after = p + int(arcs.span[p, c])
            if arcs.span[p, c] > 0 and after < top and cost[after] != NEVER:
                arc(p, after, int(arcs.worth[p, c]) - int(cost[p]))
    source, sink = top, top + 1
    for p in range(top):
        if cost[p] != NEVER:
            arc(source, p, 0)
            if free[p]:
                arc(p, sink, -int(cost[p]))
    n = len(gains)
    row, column = np.array([*tails, *heads]), np.array([*range(n), *range(n)])
    flow = coo_matrix((np.repeat([1.0, -1.0], n), (row, column)), shape=(top + 2, n))
    supply = np.zeros(top + 2)
    supply[source], supply[sink] = 1.0, -1.0
    start = time.perf_counter()
    found = milp(
        -np.array(gains, float),
        constraints=LinearConstraint(flow, supply, supply),
        integrality=np.ones(n, int),
        bounds=Bounds(0, 1),
    )
    assert found.fun is not None, "HiGHS found no chain"
    return round(-float(found.fun)), time.perf_counter() - start


def first_call_seconds() -> float:
    """A plan in a new process with an empty folder of machine code [s]."""
    with tempfile.TemporaryDirectory() as folder:
        code = "import sys; sys.path.insert(0, sys.argv[1]); import saw_plans as s; s.plan_through(s.benchmark(rolls_deg=(0.0,)))"
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", code, str(HERE)], check=True, env={**os.environ, "XDG_CACHE_HOME": folder})
        return time.perf_counter() - start


def pairs_of_faces(bench: Bench) -> tuple[int, float]:
    """How many cants all lies hold, and the time that one takes when it is judged to the end [s], over pairs spread through one lie."""
    opened = opened_in(bench, bench.lies()[0])
    n = len(opened.faces)
    some = [(opened.faces[i], opened.faces[n - 1 - i]) for i in range(0, n // 3, 4)]
    for _ in range(2):  # the first loads its machine code
        start = time.perf_counter()
        for a, b in some:
            cant_cents(bench.ask, opened.standing, a, b)
        seconds = (time.perf_counter() - start) / len(some)
    return len(bench.lies()) * n * (n - 1) // 2, seconds


def demo() -> Bench:
    """The demo log: live-edge slabs first, metal and rot inside."""
    folder = files("waney") / "data" / "demo"
    return ready({name: (folder / f"{name}.toml").read_text(encoding="utf-8") for name in ("log", "mill", "wants")}).bench


def rows() -> list[str]:
    """Everything that is measured, one line of the page each."""
    pool = ThreadPoolExecutor(CORES)
    three = benchmark(tips=NAMED_TIPS)
    through = least_of(8, lambda: plan_through(three, pool.map))
    half = least_of(4, lambda: plan_half_turn(three, pool.map))
    two = benchmark(tips=(Tip.AS_IT_LIES, Tip.PITH), face_step_m=INCH / 4)
    cant = least_of(3, lambda: plan_cant(two, pool.map))
    fine = benchmark(tips=(Tip.AS_IT_LIES, Tip.PITH))
    cant_fine = least_of(1, lambda: plan_cant(fine, pool.map))
    live = demo()
    cant_live = least_of(1, lambda: plan_cant(live, pool.map))
    pairs, pair_seconds = pairs_of_faces(two)
    slice_seconds = reference_seconds(three)
    laid = three.lay(lies(three.log.shape, (0.0,), (Tip.AS_IT_LIES,))[0])
    side = side_of(three.ask, laid.sections, laid.rings, laid.obstacles)
    free = can_be_first(three.ask.effort, side.tables)
    best_above(side.arcs.worth, side.arcs.span, side.cost, free)  # loads its machine code
    start = time.perf_counter()
    ours, _, _ = best_above(side.arcs.worth, side.arcs.span, side.cost, free)
    our_path = time.perf_counter() - start
    start = time.perf_counter()
    sys.setrecursionlimit(10_000)
    plain = best_above_reference(side.arcs.worth, side.arcs.span, side.cost, free)
    plain_path = time.perf_counter() - start
    highs, highs_seconds = by_highs(side, free)
    assert int(ours.max()) == highs == plain, (int(ours.max()), highs, plain)
    judged = through.plan.work
    by_reference = slice_seconds * judged
    return [
        f"| through-and-through, 1/16 in, rolls every 10°, three tips | {through} | 0.5 s | {_know(through.plan)} |",
        f"| the same with a half turn | {half} | none set | {_know(half.plan)} |",
        f"| cant, faces on 1/4 in, cuts on 1/16 in, rolls every 10°, two tips | {cant} | 2 s, gap 0 | {_know(cant.plan)} |",
        f"| cant, faces and cuts on 1/16 in, the same rolls and tips | {cant_fine} | to be reported | {_know(cant_fine.plan)} |",
        f"| cant, demo log: live-edge slabs, metal, rot; all on 1/8 in, rolls every 30°, three tips | {cant_live} | none set | {_know(cant_live.plan)} |",
        f"| first call, empty folder of machine code | {first_call_seconds():.0f} s | to be reported | |",
        "",
        f"Two threads got {side_by_side(three):.2f} times as much done as one in this run (2 on two cores that nobody else uses).",
        "",
        f"Slices judged for through-and-through: {judged}. The readable reference takes {slice_seconds * 1e3:.1f} ms a slice, so "
        f"{by_reference:.0f} s for all of them in one thread: {by_reference / through.seconds:.0f} times as long (settings and tables "
        "of the kernel counted in, those of the reference not).",
        "",
        f"Cants with faces on 1/4 in: {pairs} pairs of faces, of which {cant.plan.work} boxes were looked into. A cant judged to the end takes "
        f"{pair_seconds * 1e3:.1f} ms, so {pairs * pair_seconds:.0f} s for all of them in one thread: {pairs * pair_seconds / cant.worked:.0f} times as much work.",
        "",
        f"Longest path of one lie: kernel {our_path * 1e3:.2f} ms, recursive reference {plain_path * 1e3:.0f} ms "
        f"({plain_path / our_path:.0f} times), HiGHS interval model {highs_seconds * 1e3:.0f} ms ({highs_seconds / our_path:.0f} times); "
        f"all three find {highs} cents.",
    ]


def _know(plan: Plan) -> str:
    return f"{plan.cents} cents, bound {plan.bound_cents}, {plan.standing}"


def main() -> None:
    """Measure and write the page."""
    machine = f"{CORES} cores, {platform.machine()}, Python {platform.python_version()}, {platform.system()}"
    page = f"""# How long plans take

Written by `python3 dev.py prove saw_plans.py` on {time.strftime("%Y-%m-%d")} ({machine}; other work shared the machine). The benchmark log:
24 in at the small end, 27 in at the butt, 10 ft, 1 in of sweep, three thicknesses (`benchmarks/sheets/`). Least of a few runs after
one that is not counted; by the clock with {CORES} threads and, in brackets, the processors' own time.

| what | time | target | what is known of the answer |
|---|---|---|---|
""" + "\n".join(rows())
    write_plans(page + "\n\n" + (HERE / "notes.md").read_text(encoding="utf-8"))
    print(page)


if __name__ == "__main__":
    main()
