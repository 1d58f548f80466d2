"""The height card: everything in its order, no danger without its caution, figures that a wet glove can read."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from waney.figures.estimate import Basis, Estimate, Ground
from waney.papers.card import DANGERS, Card, card_pdf, dangers, every_kind_of_move, height_card
from waney.papers.cautions import cautions
from waney.papers.facts import CardFacts, WouldChange
from waney.papers.subject import Subject
from waney.papers.words import INCHES, METRIC, Shop, plain
from waney.prices.rules import PriceRules, Ranking
from waney.sawing.facts.blocks import Block
from waney.sawing.facts.cut_facts import CutFacts, Look, TurnFacts
from waney.sawing.mill import End
from waney.sawing.moves import Pass, PithHeights
from waney.sawing.recount import Comparison
from waney.units.length import parse_length

from .conftest import INCH, STEP, Case, through_case

DAY = date(2026, 5, 4)
RULES = PriceRules(Ranking.MONEY, "USD")
GUESS = Basis(Ground.DEFAULT, "")

needs_poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs pdftoppm (poppler-utils)")


def kilograms(likely: float) -> Estimate:
    return Estimate(likely, likely * 0.8, likely * 1.25, GUESS)


FACTS = CardFacts(
    log_weight=kilograms(800.0),
    blocks=(Block(End.TOP, 2.125 * INCH, 2.7, 4),),
    cuts={
        1: CutFacts(kilograms(40.0), (14 * INCH, 12 * INCH), (Look.FIRST_FACE,)),
        3: CutFacts(kilograms(70.0), metal=True, heavy=True),
    },
    turns={1: TurnFacts(kilograms(200.0), (0.25, 0.5), helped=True)},
    would_change=(WouldChange("4/4 boards pay more than $6.10 a board foot", "plan B"),),
)


def card_of(case: Case, facts: CardFacts = FACTS, shop: Shop = INCHES) -> Card:
    return height_card(Subject(case.plan, case.shape, case.mill, shop), facts, RULES, plan_name="plan A", printed=DAY)


def text_of(card: Card) -> str:
    """All words of a card in their order, drawings left out."""
    words = asdict(card) | {"butt": "", "side": ""}
    for entry in words["entries"]:
        entry["drawing"] = ""
    return json.dumps(words, ensure_ascii=False)


def passes_of(case: Case) -> list[Pass]:
    return [move for move in case.plan.moves if isinstance(move, Pass)]


def test_every_kind_of_move_has_its_dangers() -> None:
    assert set(DANGERS) == set(every_kind_of_move())
    assert all(cautions(*steps) for steps in DANGERS.values())


@pytest.mark.parametrize("name", ["through", "half_turn", "edging"])
def test_no_dangerous_step_is_without_its_caution(name: str, request: pytest.FixtureRequest) -> None:
    case: Case = request.getfixturevalue(name)
    text = text_of(card_of(case))
    for caution in cautions(*sorted(dangers(case.plan)), "hand over"):
        assert caution.sentence in text


def test_a_caution_stands_at_the_point_of_danger(edging: Case) -> None:
    card = card_of(edging)
    turn = next(entry for entry in card.entries if entry.heading.startswith("Turn"))
    stand = next(entry for entry in card.entries if entry.heading.startswith("Edging"))
    assert [c.sentence for c in cautions("turning")] == list(turn.cautions)
    assert {c.sentence for c in cautions("edging")} <= set(stand.cautions)
    assert [c.sentence for c in cautions("metal")] == list(next(e for e in card.entries if e.label == "cut 3").cautions)
    assert {c.sentence for c in cautions("first cut", "at the blade")} <= set(card.first_cautions)


def test_every_pass_is_printed_once_in_order_at_its_height(half_turn: Case) -> None:
    printed = [entry.height for entry in card_of(half_turn).entries if entry.label.startswith("cut")]
    metres = [parse_length(str(height), None) for height in printed]
    assert metres == pytest.approx([move.height_steps * STEP for move in passes_of(half_turn)], abs=1e-9)


def test_a_drop_is_the_difference_of_two_heights_and_starts_afresh_after_a_turn(half_turn: Case) -> None:
    cuts = [entry for entry in card_of(half_turn).entries if entry.label.startswith("cut")]
    last = None
    for entry, move in zip(cuts, passes_of(half_turn), strict=True):
        first = plain(entry.lines[0])
        if first == "First height here.":
            last = None
        else:
            assert last is not None
            drop = re.fullmatch(r"Drop (.+) with kerf\.", first)
            assert drop
            assert parse_length(drop[1], None) == pytest.approx((last - move.height_steps) * STEP, abs=1e-9)
        last = move.height_steps
    assert [plain(entry.lines[0]) for entry in cuts].count("First height here.") == 2


def test_stops_are_said_before_every_pass_that_may_meet_them(half_turn: Case, through: Case) -> None:
    for case in (half_turn, through):
        allowed = None
        lie_of = {id(move): lie for lie in range(2) for move in Subject(case.plan, case.shape, case.mill, INCHES).passes(lie)}
        cuts = [entry for entry in card_of(case).entries if entry.label.startswith("cut")]
        lie = None
        for entry, move in zip(cuts, passes_of(case), strict=True):
            if lie_of[id(move)] != lie:
                lie, allowed = lie_of[id(move)], case.mill.backstop_highest_m
            for line in entry.before:
                said = parse_length(plain(line).removeprefix("Backstops and clamps below "), None)
                assert said <= move.backstop_at_most_m + 1e-9
                allowed = said
            assert allowed is not None
            assert allowed <= move.backstop_at_most_m + 1e-9


def test_weights_are_the_high_end_beside_the_act(half_turn: Case) -> None:
    card = card_of(half_turn)
    # 800 · 1.25 kg = 2204.6 lb, up to three figures; 70 · 1.25 kg = 192.9 lb; 200 · 1.25 kg = 551.2 lb
    assert plain(card.setting_up[0]) == "The log weighs up to 2210 lb."
    third = next(entry for entry in card.entries if entry.label == "cut 3")
    assert any("193 lb" in plain(line) for line in third.lines)
    turn = next(entry for entry in card.entries if entry.heading.startswith("Turn"))
    assert plain(turn.lines[0]) == "It weighs up to 552 lb. Too heavy to turn alone."


def test_what_is_not_known_is_said_to_be(half_turn: Case) -> None:
    card = card_of(half_turn, CardFacts())
    text = text_of(card)
    assert "The weight of the log is not known." in text
    assert "Weight not known: lift it as heavy." in text
    assert "Not worked out for this card." in text
    assert "None" not in text


def test_a_tip_is_a_height_at_a_crossbar_never_an_angle(through: Case) -> None:
    text = " ".join(plain(line) for line in card_of(through).setting_up)
    assert "Put 2 1/8 in under the top end, on crossbar 4" in text
    assert "°" not in text_of(card_of(through))
    without = " ".join(plain(line) for line in card_of(through, CardFacts()).setting_up)
    assert "Lift the top end 2 1/8 in" in without  # 0.0535 m by this plan


def test_pith_heights_read_are_printed_with_what_follows(through: Case) -> None:
    wanted, read = PithHeights(15.25 * INCH, 14 * INCH), PithHeights(15 * INCH, 14.5 * INCH)
    found = Comparison(
        wanted,
        read,
        STEP,
        kept_cents=90_000,
        kept_cuts_too_wide=False,
        counted_cents=100_000,
        again_cents=104_120,
        laying_cents=300,
    )
    card = card_of(through, replace(FACTS, pith_read=found))
    assert [str(row.wanted) for row in card.pith] == ["15 1/4 in", "14 in"]
    assert [str(row.read) for row in card.pith] == ["15 in", "14 1/2 in"]
    assert "Lay it again as the card before this count wants it: that leaves $41.20 more" in text_of(card)
    assert "The heights on the card before would lose $100.00." in text_of(card)
    kept = card_of(through, replace(FACTS, pith_read=replace(found, kept_cents=100_000, again_cents=100_500)))
    assert "Keep the heights on the card before this count" in text_of(kept)
    assert [row.read for row in card_of(through).pith] == [None, None]


def test_what_stays_on_the_bed_is_named_at_the_end(half_turn: Case, through: Case) -> None:
    last = [entry for entry in card_of(half_turn).entries if entry.height][-1]
    assert "Left on the bed: W12-7 slab, 1 1/4 in." in [plain(line) for line in last.lines]
    last = [entry for entry in card_of(through).entries if entry.height][-1]
    assert "Left on the bed: outside slab." in [plain(line) for line in last.lines]


def test_the_same_card_and_day_give_the_same_bytes(through: Case) -> None:
    assert card_pdf(card_of(through), DAY) == card_pdf(card_of(through), DAY)
    later = date(2026, 5, 5)
    assert card_pdf(card_of(through), DAY) != card_pdf(replace(card_of(through), printed="5 May 2026"), later)


def test_names_are_never_read_as_markup(through: Case) -> None:
    card = replace(card_of(through), log='#panic("no") $x$ *b* @a \\ "')
    assert card_pdf(card, DAY).startswith(b"%PDF")


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("card") / "card.pdf"
    path.write_bytes(card_pdf(card_of(through_case()), DAY))
    return path


def pages(path: Path, *options: str) -> list[Image.Image]:
    subprocess.run(["pdftoppm", "-png", *options, str(path), str(path.with_suffix(""))], check=True)
    return [Image.open(page).convert("L") for page in sorted(path.parent.glob("card-*.png"))]


@needs_poppler
def test_every_sheet_carries_name_page_day_and_plan_in_the_same_corner(printed: Path) -> None:
    boxes = subprocess.run(["pdftotext", "-bbox", str(printed), "-"], check=True, capture_output=True, text=True).stdout
    sheets = list(ElementTree.fromstring(boxes).iter("{http://www.w3.org/1999/xhtml}page"))
    corners = set()
    for number, sheet in enumerate(sheets, 1):
        words = [(word.text, float(word.get("xMax", "")), float(word.get("yMax", ""))) for word in sheet]
        top = [word for word in words if word[2] < 115]
        said = " ".join(text or "" for text, _, _ in top)
        assert f"plan A · page {number} of {len(sheets)}" in said
        assert "printed 4 May 2026" in said
        corners.add(next((x, y) for text, x, y in top if text == "W12"))
    assert len(sheets) > 3
    assert len(corners) == 1


def tallest_mark_mm(page: Image.Image, dpi: int, left_mm: float, right_mm: float) -> float:
    """The tallest unbroken run of rows with black in a strip of the page."""
    dark = np.array(page)[:, int(left_mm / 25.4 * dpi) : int(right_mm / 25.4 * dpi)].min(axis=1) < 128
    edges = np.flatnonzero(np.diff(np.concatenate([[0], dark.astype(int), [0]])))
    return float((edges[1::2] - edges[::2]).max() / dpi * 25.4)


@needs_poppler
def test_heights_are_at_least_24_mm_tall(printed: Path) -> None:
    # the strip holds the first figure of every height and nothing else that is tall
    tall = [tallest_mark_mm(page, 100, 26.5, 40.0) for page in pages(printed, "-r", "100")]
    assert max(tall) >= 24.0
    assert sum(mm >= 24.0 for mm in tall) >= 2


@needs_poppler
def test_a_half_quality_jpeg_600_pixels_wide_stays_readable(printed: Path) -> None:
    """The figures themselves were looked at; this guards what can be counted: contrast after JPEG, and letter size."""
    for page in pages(printed, "-scale-to-x", "600", "-scale-to-y", "-1"):
        packed = io.BytesIO()
        page.save(packed, "JPEG", quality=50)
        seen = np.array(Image.open(packed)).astype(float)
        dark, light = np.percentile(seen[np.array(page) < 40], 95), np.percentile(seen[np.array(page) > 250], 5)
        linear = [((value / 255 + 0.055) / 1.055) ** 2.4 for value in (light, dark)]
        assert (linear[0] + 0.05) / (linear[1] + 0.05) >= 7.0
    boxes = subprocess.run(["pdftotext", "-bbox", str(printed), "-"], check=True, capture_output=True, text=True).stdout
    words = [
        w for w in ElementTree.fromstring(boxes).iter("{http://www.w3.org/1999/xhtml}word") if re.search("[a-z]{3}", w.text or "")
    ]
    # of the line's box of 1.16 letter heights on a page 612 points wide
    smallest = min(float(w.get("yMax", "")) - float(w.get("yMin", "")) for w in words) * 600 / 612
    assert smallest >= 9.0


def test_metric_cards_show_millimetres_and_kilograms() -> None:
    case = through_case()
    metric = replace(case, mill=replace(case.mill, step_m=0.001))
    text = text_of(card_of(metric, shop=METRIC))
    assert '"mm"' in text
    assert '"in"' not in text
    assert "1000 kg" in text
