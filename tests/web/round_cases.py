"""Drawn weighings for the page's module: what each is asked about, and the act that comes of it, as the server says."""

from __future__ import annotations

import random
from typing import Any

from waney.units.mass import KILOGRAM, POUND
from waney.web.weighing import Before, doubts
from waney.yard.acts.every import act_json
from waney.yard.acts.people_places import Weighed

PIECE = "00000000-0000-4000-8000-000000000001"


def round_case(seed: int) -> dict[str, Any]:
    rng = random.Random(seed)
    unit = rng.choice([POUND, KILOGRAM])
    last = rng.choice([None, rng.uniform(5, 60)])
    dry = rng.choice([None, rng.uniform(3, 50)])
    known = Before(last, "2026-05-04", last and last * 1.01, dry and dry * 0.9, dry)
    typed = {"weight": f"{rng.uniform(1, 120):.1f}", "other": rng.choice(["", f"{rng.uniform(1, 60):.1f}"])}
    typed |= {"tare": rng.choice(["", f"{rng.uniform(0, 6):.1f}"]), "mark": rng.choice(["", f"{rng.choice([0.05, 0.1, 1, 5])}"])}
    kg = {name: round(unit.in_si(float(text)), 6) if text else None for name, text in typed.items()}
    ends = (kg["weight"], kg["other"]) if kg["other"] else ()
    wood = round(sum(ends or (kg["weight"],)) - (kg["tare"] or 0.0), 6)
    mark = unit.in_si(float(typed["mark"])) if typed["mark"] else 0.05
    act = None
    if wood > 0.0:
        told = Weighed(f"piece:{PIECE}", wood, None, ends, kg["tare"] or None, kg["mark"])
        act = {"kind": "weighed"} | act_json(told)
    return {
        "holds": {"unit": unit.name, "unit_kg": unit.in_si(1.0), "mark_kg": 0.05},
        "item": {"piece": PIECE, "known": vars(known)},
        "typed": typed,
        "act": act,
        "doubts": [str(one) for one in doubts(wood, mark, known)],
        "mark_kg": mark,
        "wood_kg": wood,
    }
