"""Edging on paper: every board in its place, the right edge down, every height, no board forgotten."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from tests.sawing.test_edging import MILL, bench, plan_of

from waney.figures.estimate import Basis, Estimate, Ground
from waney.papers.card import Card, height_card
from waney.papers.cautions import cautions
from waney.papers.drawing import plan_drawing
from waney.papers.entry import Entry
from waney.papers.facts import CardFacts
from waney.papers.ink import PAPER
from waney.papers.subject import Subject
from waney.papers.summary import Offer, summary
from waney.papers.words import INCHES, METRIC, plain
from waney.sawing.facts.cut_facts import CutFacts
from waney.sawing.moves import EdgeTogether, Pass
from waney.sawing.plan import Plan
from waney.units.length import parse_length

SEEDS = (0, 3)


def subject(seed: int) -> Subject:
    return Subject(plan_of(seed), bench(seed).log.shape, MILL, INCHES)


def card(seed: int, facts: CardFacts | None = None) -> Card:
    rules = bench(seed).wants.rules
    return height_card(subject(seed), facts or CardFacts(), rules, plan_name="through", printed=date(2026, 5, 4))


def batches(plan: Plan) -> list[EdgeTogether]:
    return [move for move in plan.moves if isinstance(move, EdgeTogether)]


def standing(seed: int) -> list[Entry]:
    return [entry for entry in card(seed).entries if entry.heading.startswith("Edging: stand")]


@pytest.mark.parametrize("seed", SEEDS)
def test_heights_are_printed_in_the_order_they_are_sawn(seed: int) -> None:
    printed = [parse_length(str(entry.height), None) for entry in card(seed).entries if entry.label == "edging"]
    steps = [h for move in batches(plan_of(seed)) for h in (move.first_height_steps, *move.then_height_steps)]
    assert printed == pytest.approx([h * MILL.step_m for h in steps], abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_edge_that_the_card_puts_down_is_the_one_that_the_first_height_counts_from(seed: int) -> None:
    """Seen from the butt with the upper face up, u points to the left; from the outermost wood of the lower edge of both faces
    to the product's other edge it is the first height."""
    plan = plan_of(seed)
    planned = {p.piece.name.removeprefix("log-"): p for p in plan.pieces}
    seen = 0
    for move, entry in zip(batches(plan), standing(seed), strict=True):
        for name in move.names:
            short = name.removeprefix("log-")
            (line,) = [words for words in map(plain, entry.lines) if words.startswith(f"{short}: ")]
            p = planned[short]
            assert p.piece.to_log is not None
            to_saw = plan.lies[p.lie].after(p.piece.to_log)
            left = "left edge down" in line

            def u(y: float, to_saw: object = to_saw) -> float:
                return float(to_saw.there(np.array([0.0, y, 0.0]))[0])  # type: ignore[attr-defined]

            ys = np.concatenate([p.piece.low_y_m[[0, 2]], p.piece.high_y_m[[0, 2]]]).ravel()
            reach = [u(float(y)) for y in ys[np.isfinite(ys)]]
            down = max(reach) if left else min(reach)
            upper = min(u(p.worth.low_y_m), u(p.worth.high_y_m)) if left else max(u(p.worth.low_y_m), u(p.worth.high_y_m))
            assert abs(down - upper) == pytest.approx(move.first_height_steps * MILL.step_m, abs=1e-6)
            seen += 1
    assert seen >= 2


@pytest.mark.parametrize("seed", SEEDS)
def test_every_edged_board_stands_in_a_group_or_on_the_list_of_those_by_eye(seed: int) -> None:
    plan = plan_of(seed)
    edged = {p.piece.name.removeprefix("log-") for p in plan.pieces if np.isfinite(p.worth.low_y_m)}
    headings = [entry.heading for entry in card(seed).entries if entry.heading.startswith("Edging")]
    listed = [name for heading in headings for name in re.findall(r"\d+", heading)]
    assert sorted(listed) == sorted(edged)


def test_a_long_end_is_wedged_and_weights_stand_beside_the_board() -> None:
    plan = plan_of(0)
    passes = [move for move in plan.moves if isinstance(move, Pass)]
    heavy = Estimate(40.0, 30.0, 50.0, Basis(Ground.DEFAULT, ""))
    facts = CardFacts(cuts={i: CutFacts(weight_off=heavy) for i in range(1, len(passes) + 1)})
    lines = [plain(line) for e in card(0, facts).entries if e.heading.startswith("Edging: stand") for line in e.lines]
    boards = [line for line in lines if "edge down" in line]
    assert boards and any("under the top end" in line or "under the butt end" in line for line in boards)
    assert any(line.endswith("Up to 111 lb.") for line in boards)


def test_cautions_stand_where_boards_are_stood_up_and_stops_are_told_before_every_height() -> None:
    for entry in standing(0):
        assert {c.sentence for c in cautions("edging", "heavy piece")} <= set(entry.cautions)
    heights = [entry for entry in card(0).entries if entry.label == "edging"]
    for entry in heights:
        assert plain(entry.before[0]) == f"Backstops and clamps below {entry.height}"


def test_names_are_to_be_written_only_where_boards_are_told_apart_later() -> None:
    def first_lines(plan: Plan) -> str:
        of = replace(subject(0), plan=plan)
        entry = height_card(of, CardFacts(), bench(0).wants.rules, plan_name="", printed=date(2026, 5, 4)).entries[0]
        return " ".join(map(plain, entry.lines))

    plan = plan_of(0)
    bare = replace(plan, moves=tuple(move for move in plan.moves if not isinstance(move, EdgeTogether)))
    assert "name on its upper face" in first_lines(plan)
    assert first_lines(bare) == ""


@pytest.mark.parametrize("shop", [INCHES, METRIC], ids=["in", "mm"])
def test_the_drawing_shows_every_group(shop: object) -> None:
    of = replace(subject(0), shop=shop)  # type: ignore[arg-type]
    drawing = plan_drawing(of, PAPER)
    for move in batches(of.plan):
        assert f"<title>{', '.join(move.names)} on edge</title>" in drawing


def test_the_summary_prints_the_bound_without_what_grouping_gains() -> None:
    plan, wants = plan_of(0), bench(0).wants
    text = summary([Offer("through", plan)], wants, INCHES, full=False)
    row = next(line for line in text.splitlines() if line.startswith("edged one by one, none earns over"))
    assert row.split()[-1] == wants.rules.says(plan.bound_cents - plan.together_cents)
    assert "Edged together: " in text
