"""The same plan files, to the byte, from other processes: with other hash seeds, with more threads, with and without counts."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from tests.sawing.drawn_logs import INCH, drawn
from tests.sawing.test_counts import bench_of, others_of
from tests.sawing.test_edging import bench as boards

from waney.sawing.plan_file import write_plan
from waney.sawing.search import plan_cant, plan_half_turn, plan_through, plans
from waney.sawing.wants import Pattern

ROOT = Path(__file__).parents[2]
SEED = 5


def digests(threads: int) -> dict[str, str]:
    """Of five plan files: through-and-through, half turn, cant, with counts, and with flitches that stand together."""
    case = drawn(SEED)
    free, counted = bench_of(case, {}), bench_of(case, others_of(case))
    free = replace(free, wants=replace(free.wants, face_step_m=INCH))
    with ThreadPoolExecutor(threads) as pool:
        found = {
            "through": plan_through(free, pool.map),
            "half turn": plan_half_turn(free, pool.map),
            "cant": plan_cant(free, pool.map),
            "counts": plans(counted, (Pattern.THROUGH,), pool.map)[0],
            "together": plan_through(boards(0), pool.map),
        }
    texts = {name: write_plan(plan, {"log": "", "mill": "", "wants": ""}) for name, plan in found.items()}
    return {name: hashlib.sha256(text.encode()).hexdigest()[:16] for name, text in texts.items()}


def in_a_process_of_its_own(hash_seed: str, threads: int) -> dict[str, str]:
    code = f"import json; from tests.sawing.test_same_bytes import digests; print(json.dumps(digests({threads})))"
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT)}
    said = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=ROOT, env=environment
    ).stdout
    read: dict[str, str] = json.loads(said)
    return read


@pytest.mark.long
def test_processes_and_threads_write_the_same_bytes() -> None:
    here = digests(2)
    assert in_a_process_of_its_own("1", 1) == here
    assert in_a_process_of_its_own("77", 4) == here
