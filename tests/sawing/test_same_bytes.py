"""The same plan files, to the byte, from other processes: with other hash seeds, with more threads, with and without counts."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

from tests.sawing.drawn_logs import INCH, drawn
from tests.sawing.test_counts import bench_of, others_of
from tests.sawing.test_edging import bench as boards

from waney.sawing.plan_file import write_plan
from waney.sawing.search import plan_cant, plan_half_turn, plan_through, plans
from waney.sawing.wants import Pattern

ROOT = Path(__file__).parents[2]
SEED = 5


def digest(threads: int) -> str:
    """Of five plan files: through-and-through, half turn, cant, with counts, and with flitches that stand together."""
    case = drawn(SEED)
    free, counted = bench_of(case, {}), bench_of(case, others_of(case))
    free = replace(free, wants=replace(free.wants, face_step_m=INCH))
    with ThreadPoolExecutor(threads) as pool:
        each = (plan(free, pool.map) for plan in (plan_through, plan_half_turn, plan_cant))
        found = (*each, *plans(counted, (Pattern.THROUGH,), pool.map), plan_through(boards(0), pool.map))
    texts = [write_plan(plan, {"log": "", "mill": "", "wants": ""}) for plan in found]
    return hashlib.sha256("\n".join(texts).encode()).hexdigest()


def in_a_process_of_its_own(hash_seed: str, threads: int) -> str:
    code = f"from tests.sawing.test_same_bytes import digest; print(digest({threads}))"
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=ROOT, env=environment
    ).stdout.strip()


def test_processes_and_threads_write_the_same_bytes() -> None:
    assert in_a_process_of_its_own("1", 1) == in_a_process_of_its_own("77", 4) == digest(2)
