"""The whole line on logs that somebody measured: sheets, plan, checker.

Eucalypts: sections of Brink & von Gadow 1986 (dyntaper 1.1, MIT); no table has the shrinkage of E. cloeziana, E. robusta lends
its own. Scans: ITSMe stems (MIT). Sweetgums: Lenhart, Texas 1992 (FAwR, does not ship).
"""

from __future__ import annotations

import csv
from base64 import b64encode
from collections import defaultdict
from pathlib import Path

import pytest

from waney.figures.tables import table
from waney.sawing.check.check import check_plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern

DATA = Path(__file__).parents[1] / "data"
MILL = """format = "waney-mill/1"
units = "mm"
kerf = 2
widest_cut = 900
lowest = 25
highest = 950
bed_length = 8000
step = "1 mm"
"""
WANTS = """format = "waney-wants/1"
units = "mm"
least_width = 60
target_mc = 10
[first]
name = "slab"
thickness = 40
edges = "live"
least_length = 1200
least_width = 120
price = 900
per = "m3"
[rest]
thickness = 22
edges = "edged"
least_length = 1200
most_width = 200
price = 700
per = "m3"
[search]
patterns = ["through", "half-turn"]
rolls_every = 180
tips = ["as it lies", "pith"]
"""
WANTS = WANTS.replace('units = "mm"\n', 'units = "mm"\ncurrency = "EUR"\n', 1)


def sheet(name: str, species: str, unit: str, length: float, sections: list[tuple[float, float]]) -> str:
    rows = "\n".join(f'    {{ distance = {at:g}, diameter = {d:g}, over = "wood" }},' for at, d in sections)
    return (
        f'format = "waney-log/1"\nunits = "{unit}"\nname = "{name}"\nspecies = "{species}"\nlength = {length:g}\n'
        f"butt_log = true\nsection = [\n{rows}\n]\n"
    )


def eucalypt_sheets() -> dict[str, str]:
    """The first lengths of each stem, up to about 4 m, in cm."""
    stems: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in table("eucalyptus_cloeziana_sections"):
        if float(row["height_m"]) <= 4.5:
            stems[row["tree"]].append((100.0 * float(row["height_m"]), float(row["dib_cm"])))
    return {tree: sheet(f"E{tree}", "Eucalyptus robusta", "cm", rows[-1][0], rows) for tree, rows in stems.items()}


def replays(sheets: dict[str, str]) -> int:
    """Plan a log by every pattern asked for and have each plan checked; how many pieces the best one gives."""
    bench = ready(sheets).bench
    found = plans(bench, (Pattern.THROUGH, Pattern.HALF_TURN))
    shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
    for plan in found:
        verdict = check_plan(plan, bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=bench.log.hardwood)
        assert verdict.accepted, f"{plan.pattern}: {verdict.sentence}"
    return sum(piece.worth.product is not None for piece in found[0].pieces)


@pytest.mark.parametrize("tree", sorted(eucalypt_sheets()))
def test_plans_of_measured_eucalypts_replay(tree: str) -> None:
    assert replays({"log": eucalypt_sheets()[tree], "mill": MILL, "wants": WANTS}) > 0


@pytest.mark.long
@pytest.mark.parametrize("stem", ["buttressed_stem_a", "leaning_stem_a"])
def test_plans_of_scanned_stems_replay(stem: str) -> None:
    file = f"{stem}.csv.gz"
    log = (
        f'format = "waney-log/1"\nunits = "m"\nname = "S"\nspecies = "American beech"\n[scan]\nfile = "{file}"\n'
        f"butt = {[0, 0, 0.6]}\ntop = {[0, 0, 4.6]}\nmark = {[0, 0.2, 0.6]}\nreach = 0.8\n"
    )
    scan = b64encode((DATA / file).read_bytes()).decode("ascii")
    assert replays({"log": log, "scan": scan, "mill": MILL, "wants": WANTS}) > 0


@pytest.mark.long
@pytest.mark.outside
def test_plans_of_measured_sweetgums_replay(shared: Path) -> None:
    stems: dict[str, list[tuple[float, float]]] = defaultdict(list)
    with (shared / "datasets" / "trees" / "sweetgum_tx_sections.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if row["dib_in"] and float(row["height_above_stump_ft"]) <= 12.0:
                stems[row["tree"]].append((12.0 * float(row["height_above_stump_ft"]), float(row["dib_in"])))
    large = {tree: rows for tree, rows in stems.items() if min(d for _, d in rows) > 8.0}
    assert len(large) >= 5
    for tree, rows in list(large.items())[:8]:
        log = sheet(f"G{tree}", "sweetgum", "in", rows[-1][0], rows)
        assert replays({"log": log, "mill": MILL, "wants": WANTS}) > 0
