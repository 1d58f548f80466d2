"""Wants sheets: three answers are enough; prices, liking or volume; every blank is said; every mistake has its line."""

from __future__ import annotations

from itertools import pairwise
from math import inf
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.estimate import Estimate, Ground
from waney.figures.sources import sources
from waney.figures.tables import table
from waney.logs.measured import Hidden
from waney.prices.product import Edges, Grain, Per, Product, Surface, WidthRule
from waney.prices.rules import Ranking
from waney.sawing.sheets.length_fields import in_steps
from waney.sawing.sheets.lost_fields import OF_SHEET, Lost, lost_lines, read_lost
from waney.sawing.sheets.product_words import spelled_out
from waney.sawing.sheets.quarters import NoStandard, finished_m
from waney.sawing.sheets.wants_sheet import WantsSheet, read_wants_sheet
from waney.sawing.wants import Pattern, Tip
from waney.units.sheet import SheetProblems, open_sheet
from waney.units.sheet_measures import Measures

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
FOOT = 0.3048
TEN_FEET = 10 * FOOT
HEAD = 'format = "waney-wants/1"\nunits = "in"\nleast_width = 4\n'
THREE = HEAD + 'first = "live-edge slabs 8/4"\nrest = "edged 4/4"\n'
ONE = HEAD + 'rest = "nothing"\n[first]\nthickness = 1\n'
PRICED = (
    'format = "waney-wants/1"\nunits = "in"\ncurrency = "USD"\nleast_width = 4\n'
    '[first]\nthickness = "8/4"\nprice = 10\nper = "board foot"\n'
    '[rest]\nthickness = "4/4"\nedges = "edged"\nprice = 4\nper = "board foot"\n'
)


def example(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


def read(text: str, length_m: float = TEN_FEET) -> WantsSheet:
    return read_wants_sheet(text, length_m)


def first(fields: str, head: str = HEAD, length_m: float = TEN_FEET) -> Product:
    return read(f'{head}rest = "nothing"\n[first]\n{fields}\n', length_m).wants.products[0]


def problems_of(text: str) -> dict[str, tuple[int, str]]:
    with pytest.raises(SheetProblems) as caught:
        read(text)
    return {problem.key: (problem.line, problem.sentence) for problem in caught.value.problems}


def test_three_answers_are_enough() -> None:
    wants = read(THREE).wants
    live_edge, board = wants.products
    assert (live_edge.edges, live_edge.nominal_quarters, board.edges, board.nominal_quarters) == (Edges.LIVE, 8, Edges.EDGED, 4)
    assert (wants.least_width_m, live_edge.least_width_m) == (pytest.approx(0.1016), pytest.approx(0.1016))
    assert wants.rules.ranking is Ranking.VOLUME
    assert wants.allowances.keys() == {"live edge 8/4", "edged 4/4"}


def test_every_default_says_its_basis_and_none_is_money() -> None:
    sheet = read(THREE)
    for default in sheet.defaults:
        assert default.basis is None or default.basis.ground is Ground.DEFAULT or default.basis.key in sources()
    rules = sheet.wants.rules
    assert (rules.salvage_cents_per_m3, rules.drying_cents_per_m3_day, rules.edging_cents) == (0, 0, 0)
    assert {"target_mc", "first.trim", "rest.planing", "first.loss", "search.rolls_every"} <= {d.field for d in sheet.defaults}


def test_unpriced_costs_are_said_to_cost_nothing() -> None:
    said = {default.field: default.value for default in read(PRICED).defaults}
    for field in ("costs.salvage", "costs.drying_a_day", "costs.edging", "costs.finishing"):
        assert said[field].startswith("not typed")


@pytest.mark.parametrize(
    ("words", "fields"),
    [
        ("edged 4/4 quartersawn", {"edges": "edged", "grain": "quarter", "thickness": "4/4"}),
        ("Waney-edged boards 27 mm, planed", {"edges": "live", "surface": "planed", "thickness": "27 mm"}),
        ("rough 5/4 flat-sawn square-edged planks", {"edges": "edged", "surface": "rough", "grain": "flat", "thickness": "5/4"}),
        ("2 1/8 in live edge", {"edges": "live", "thickness": "2 1/8 in"}),
        ("rift sawn 4/4", {"grain": "rift", "thickness": "4/4"}),
        ("edged", {"edges": "edged"}),
        ("purple 4/4", {"thickness": "purple 4/4"}),
    ],
)
def test_words_of_the_trade(words: str, fields: dict[str, str]) -> None:
    assert spelled_out(words) == fields


# Rough and surfaced on two sides (inches), typed again from memory of the NHLA rules.
S2S = {4: (1.0, 0.8125), 5: (1.25, 1.0625), 6: (1.5, 1.3125), 8: (2.0, 1.75), 10: (2.5, 2.25), 12: (3.0, 2.75), 16: (4.0, 3.75)}


@pytest.mark.parametrize("quarters", S2S)
def test_a_quarter_thickness_stands_for_the_tables_dry_thickness(quarters: int) -> None:
    rough, surfaced = (finished_m(quarters, surface) / 0.0254 for surface in (Surface.ROUGH, Surface.PLANED))
    assert (rough, surfaced) == pytest.approx(S2S[quarters], abs=1e-9)
    for surface, inches in (("rough", rough), ("planed", surfaced)):
        product = first(f'thickness = "{quarters}/4"\nsurface = "{surface}"')
        assert product.thickness_m == pytest.approx(inches * 0.0254, abs=1e-9)


def test_surfacing_takes_the_same_from_every_row_of_a_class() -> None:
    # the table takes 3/16 in off thin stock (under 8/4) and 1/4 in from 8/4 on; a slip of the pen in one row would show
    for row in table("lumber_thickness"):
        taken = float(row["rough_in"]) - float(row["surfaced_two_sides_in"])
        assert taken == (0.25 if float(row["rough_in"]) >= 2 else 0.1875)


def test_quarters_without_a_standard_ask_for_the_finished_thickness() -> None:
    with pytest.raises(NoStandard, match="finished"):
        finished_m(7, Surface.PLANED)
    assert problems_of(HEAD + 'first = "live edge 7/4"\nrest = "nothing"\n').keys() == {"first.thickness"}
    assert first('thickness = "7/4"\nfinished = 1.5').thickness_m == pytest.approx(0.0381)


def test_an_exact_thickness_is_the_finished_one() -> None:
    product = first("thickness = 0.75")
    assert (product.thickness_m, product.nominal_quarters) == (pytest.approx(0.01905), None)


def test_planing_and_flattening_go_with_the_surface() -> None:
    planed, rough = first('thickness = "4/4"'), first('thickness = "4/4"\nsurface = "rough"')
    assert (planed.planing_m, planed.flattening_m) == (pytest.approx(0.003175), pytest.approx(0.0015875))
    assert (rough.planing_m, rough.flattening_m) == (0, 0)


def test_lengths_rise_from_the_least_to_the_log_in_whole_feet() -> None:
    lengths = first('thickness = "4/4"\nleast_length = "6 ft"\ntrim = 3').lengths_m
    # 10 ft less 3 in of trim is 9 ft 9 in: 6, 7, 8, 9 ft
    assert lengths == pytest.approx([6 * FOOT, 7 * FOOT, 8 * FOOT, 9 * FOOT])


def test_lengths_rise_in_quarter_metres_in_a_metric_sheet() -> None:
    head = 'format = "waney-wants/1"\nunits = "mm"\nleast_width = 90\n'
    assert first("thickness = 27\nleast_length = 1900\ntrim = 0", head, 2.6).lengths_m == pytest.approx([1.9, 2.0, 2.25, 2.5])


@given(st.floats(0.1, 6.0), st.floats(0.1, 8.0), st.booleans())
def test_stepped_lengths_never_leave_the_range_and_never_miss_a_step(least: float, most: float, imperial: bool) -> None:
    lengths = in_steps(least, most, imperial)
    step = FOOT if imperial else 0.25
    assert all(least - 1e-8 <= length <= most + 1e-8 for length in lengths)
    assert list(lengths) == sorted(set(lengths))
    assert (not lengths) == (least > most + 1e-9)
    assert all(b - a <= step + 1e-8 for a, b in pairwise(lengths))
    if lengths:
        assert most - lengths[-1] < step + 1e-8


def test_a_log_too_short_for_what_is_wanted_still_has_a_length_to_look_for() -> None:
    assert first('thickness = "4/4"\nleast_length = "12 ft"').lengths_m == pytest.approx([12 * FOOT])
    assert first('thickness = "4/4"', length_m=0.25).lengths_m == pytest.approx([0.25 - 0.0508])
    assert first('thickness = "4/4"', length_m=3.2 * FOOT).lengths_m == pytest.approx([3 * FOOT])


def test_without_prices_a_litre_of_dry_wood_is_a_point_times_the_liking() -> None:
    liked = read(HEAD + '[first]\nthickness = "8/4"\nliking = 3\n[rest]\nthickness = "4/4"\n')
    rule = liked.wants.products[0].price
    assert liked.wants.rules.ranking is Ranking.LIKING
    # a piece of 0.3 x 2 m and 1.75 in finished: 0.3 * 2 * 0.04445 m3 = 26.67 litres, three points each
    assert rule.cents * 0.3 * 2 * liked.wants.products[0].thickness_m == pytest.approx(26.67 * 3 * 100)
    assert (rule.per, rule.by_nominal) == (Per.CUBIC_METRE, False)
    assert liked.wants.rules.says(8001) == "80.01 points"
    assert [d.value for d in liked.defaults if d.field == "rest.liking"] == ["1"]


def test_prices_are_kept_per_measure_in_cents() -> None:
    def price(amount: str, per: str) -> tuple[Per, float]:
        rule = first(
            f'thickness = "4/4"\nprice = {amount}\nper = "{per}"', HEAD.replace("least", 'currency = "USD"\nleast')
        ).price
        return rule.per, rule.cents

    assert price("4.50", "board foot") == (Per.BOARD_FOOT, 450)
    assert price("4500", "thousand board feet") == (Per.BOARD_FOOT, 450)
    assert price('"$900"', "m3") == (Per.CUBIC_METRE, 90000)
    # 1 m3 = 35.3147 cubic feet (1 ft = 0.3048 m exactly)
    assert price("10", "cubic foot") == (Per.CUBIC_METRE, pytest.approx(35314.67, abs=0.01))
    assert price("80", "piece") == (Per.PIECE, 8000)


def test_rates_of_the_costs_are_turned_into_m3_and_m2() -> None:
    costs = (
        '[costs]\nsalvage = 20\nsalvage_per = "thousand board feet"\nfinishing = 1\nfinishing_per = "square foot"\nedging = 0.8\n'
    )
    wants = read(PRICED + costs).wants
    # 424 board feet in a m3 (423.776); 10.7639 square feet in a m2
    assert wants.rules.salvage_cents_per_m3 == pytest.approx(2000 * 0.423776, rel=1e-6)
    assert wants.products[0].finishing_cents_per_m2 == pytest.approx(1076.39, abs=0.01)
    assert wants.rules.edging_cents == 80


def test_costs_without_prices_are_not_counted_and_that_is_said() -> None:
    sheet = read(THREE + 'currency = "EUR"\n[costs]\nedging = 3\n')
    assert sheet.wants.rules.edging_cents == 0
    assert [d.value for d in sheet.defaults if d.field == "costs"] == ["not counted, because the products have no prices"]


def test_drying_defaults_grow_with_thickness_and_with_the_pith() -> None:
    allowances = [read(f'{HEAD}first = "{q}/4"\nrest = "nothing"\n').wants.allowances[f"live edge {q}/4"] for q in (4, 8, 12, 16)]
    for thin, thick in pairwise(allowances):
        assert thin.days.likely < thick.days.likely
        assert thin.loss.likely < thick.loss.likely
        assert thin.loss_with_pith.likely < thick.loss_with_pith.likely
    for allowance in allowances:
        assert allowance.loss.likely < allowance.loss_with_pith.likely
        assert str(allowance.loss.basis) == "common practice, no source"


def test_what_a_shop_loses_by_thickness_counts_for_products_that_say_nothing() -> None:
    lost = '[[lost]]\nshare = [1, 40, 60]\n[[lost]]\nup_to = "32 mm"\nshare = 3\n'
    sheet = read(f'{HEAD}rest = "edged 4/4"\n[first]\nthickness = "8/4"\n{lost}')
    thick, thin = (sheet.wants.allowances[product.name] for product in sheet.wants.products)
    assert (thick.loss.low, thick.loss.likely, thick.loss.high) == pytest.approx((0.01, 0.4, 0.6))
    assert (thin.loss.low, thin.loss.high, thin.loss.basis) == (pytest.approx(0.03), pytest.approx(0.03), OF_SHEET)
    built = next(row for row in table("drying_defaults") if row["up_to_mm"] == "51")
    assert thick.loss_with_pith.likely == pytest.approx(max(0.4, float(built["pith_loss_likely"])))
    assert thick.loss_with_pith.low == pytest.approx(float(built["pith_loss_low"])), "no less with the pith inside"
    assert {str(one) for one in sheet.defaults if one.field == "rest.loss"} == {f"rest.loss: 3 % (3 to 3) ({OF_SHEET})"}
    own = read(f'{HEAD}rest = "nothing"\n[first]\nthickness = "8/4"\nloss = 7\n{lost}').wants
    assert own.allowances[own.products[0].name].loss.likely == pytest.approx(0.07), "what a product says goes before it"


def test_a_thickness_that_no_row_tells_keeps_what_is_built_in() -> None:
    told, plain = (read(THREE + more).wants.allowances for more in ('[[lost]]\nup_to = "32 mm"\nshare = 3\n', ""))
    thick = next(name for name in plain if "8/4" in name)
    assert told[thick] == plain[thick] and told != plain


@given(st.lists(st.tuples(*[st.integers(0, 1000)] * 3), min_size=1, max_size=4))
def test_rows_of_losses_are_read_back_as_they_were_written(drawn: list[tuple[int, int, int]]) -> None:
    ends = [0.032, 0.051, 0.077, inf][-len(drawn) :]
    shares = [[point / 1000.0 for point in sorted(points)] for points in drawn]
    some = [
        Lost(end, Estimate(likely, low, high, OF_SHEET, 0.0, 1.0)) for end, (low, likely, high) in zip(ends, shares, strict=True)
    ]
    text = "".join("[[lost]]\n" + "\n".join(lines) + "\n" for lines in lost_lines(some))
    sheet = open_sheet(f'format = "waney-wants/1"\nunits = "in"\n{text}', "waney-wants/1")
    found = read_lost(sheet, Measures.of(sheet))
    sheet.check()
    assert [one.up_to_m for one in found] == pytest.approx(ends)
    for one, other in zip(found, some, strict=True):
        points = [(each.share.low, each.share.likely, each.share.high) for each in (one, other)]
        assert points[0] == pytest.approx(points[1], abs=1e-9)


def test_a_typed_loss_is_one_figure_or_three_in_per_cent() -> None:
    wants = read(f'{HEAD}rest = "nothing"\n[first]\nthickness = "4/4"\nloss = [2, 5, 20]\ndrying_days = 60\n').wants
    allowance = wants.allowances["live edge 4/4"]
    assert (allowance.loss.low, allowance.loss.likely, allowance.loss.high) == pytest.approx((0.02, 0.05, 0.2))
    assert (allowance.days.low, allowance.days.likely, allowance.days.high) == (60, 60, 60)


def test_two_products_of_one_name_are_told_apart() -> None:
    wants = read(HEAD + 'first = "4/4"\nthen = ["4/4", "8/4"]\nrest = "4/4"\n').wants
    names = [product.name for product in wants.products]
    assert names == ["live edge 4/4", "live edge 4/4 (2)", "live edge 8/4", "live edge 4/4 (3)"]
    assert wants.allowances.keys() == set(names)


def test_the_live_edge_slab_example_is_read_field_by_field() -> None:
    wants = read(example("wants-slabs-and-boards.toml")).wants
    live_edge, pair, board = wants.products
    assert (live_edge.name, live_edge.lengths_m, live_edge.at_most) == ("table slab", pytest.approx((7 * FOOT, 8 * FOOT)), 3)
    assert (live_edge.price.cents, live_edge.price.width_rule, live_edge.pith_factor) == (1100, WidthRule.MEAN_OF_FACES, 0.6)
    assert live_edge.price.wide_factors == ((pytest.approx(0.508), 1.25),)
    assert (pair.set_of, pair.set_factor, pair.pith_kept, pair.may_hold) == (2, 1.3, False, {Hidden.KNOT})
    assert (pair.nominal_quarters, pair.thickness_m) == (5, pytest.approx(0.0254))
    assert board.edges is Edges.EDGED
    assert (wants.rules.ranking, wants.rules.currency) == (Ranking.MONEY, "USD")
    assert wants.patterns == (Pattern.THROUGH, Pattern.HALF_TURN, Pattern.CANT)
    assert wants.tips == (Tip.AS_IT_LIES, Tip.PITH, Tip.BARK)
    assert (wants.face_step_m, wants.metal_margin_m) == (pytest.approx(0.00635), pytest.approx(0.0254))
    assert len(wants.rolls_deg) == 36


def test_the_stair_example_is_read_field_by_field() -> None:
    wants = read(example("wants-stairs.toml"), 3.2).wants
    tread, rest = wants.products
    assert (tread.widths_m, tread.least_width_m, tread.most_width_m) == ((0.14, 0.28), 0.14, inf)
    assert (tread.grain, tread.grain_share, tread.at_least, tread.at_most) == (Grain.QUARTER, 0.7, 4, 14)
    assert (tread.planing_m, tread.flattening_m, tread.lengths_m) == (0.004, 0.002, (1.05,))
    assert (rest.green_m, rest.most_width_m) == (0.03, 0.22)
    assert (wants.rules.ranking, wants.target_mc, wants.share_finishing) == (Ranking.LIKING, 0.09, 0.9)
    assert (wants.rolls_deg, wants.patterns) == ((0, 45, 90, 135), (Pattern.CANT,))


@pytest.mark.parametrize(
    ("text", "key", "word"),
    [
        (HEAD + 'first = "8/4"\n', "rest", "needed"),
        (HEAD + 'first = "edged boards"\nrest = "nothing"\n', "first.thickness", "needed"),
        (HEAD + 'first = "purple 4/4"\nrest = "nothing"\n', "first.thickness", "not a length"),
        (HEAD + 'first = 3\nrest = "nothing"\n', "first", "[first]"),
        (THREE + "then = 5\n", "then", "[[then]]"),
        (THREE + 'start = "cant"\n', "start", "told by the log sheet"),
        (THREE + "target_mc = 50\n", "target_mc", "3 % to 30 %"),
        (THREE + "target_mc = 0.08\n", "target_mc", "%"),
        (THREE + "[search]\npatterns = ['live']\n", "search.patterns", "through"),
        (THREE + "[search]\ntips = []\n", "search.tips", "at least one"),
        (THREE + "[search]\nroll = [0]\n", "search.roll", "did you mean rolls?"),
        (THREE + "[cost]\nedging = 1\n", "cost", "did you mean costs?"),
        (PRICED.replace("price = 4\n", ""), "rest.price", "give all of them one, or none"),
        (ONE + 'price = 10\nper = "board foot"\n', "first.price", "currency"),
        (PRICED.replace('per = "board foot"\n', "", 1), "first.per", "needed"),
        (PRICED.replace('per = "board foot"\n', 'per = "boardfoot"\n', 1), "first.per", "did you mean board foot?"),
        (ONE + 'per = "m3"\n', "first.per", "no line `price`"),
        (ONE + "widths = [4]\n", "first.widths", "live edge"),
        (ONE + 'surface = "rough"\nplaning = 0.1\n', "first.planing", "rough"),
        (ONE + "grain_share = 50\n", "first.grain_share", "`grain`"),
        (
            ONE + "lengths = [90]\nleast_length = 80\n",
            "first.least_length",
            "one of the two",
        ),
        (
            ONE + "green_thickness = 1\n",
            "first.green_thickness",
            "less than the finished",
        ),
        (ONE + "most_width = 2\n", "first", "least width"),
        (ONE + "at_least = 5\nat_most = 2\n", "first", "at most"),
        (ONE + "loss = [20, 5, 2]\n", "first.loss", "low, likely, high"),
        (ONE + "loss = [2, 5]\n", "first.loss", "low, likely, high"),
        (ONE + 'may_hold = ["bark"]\n', "first.may_hold", "knot"),
        (PRICED + "[costs]\nsalvage = 2\n", "costs.salvage_per", "needed"),
    ],
)
def test_a_mistake_is_named_with_what_to_write(text: str, key: str, word: str) -> None:
    found = problems_of(text)
    assert list(found) == [key]
    assert word in found[key][1]


def test_a_top_line_written_below_a_heading_is_said_to_belong_above_it() -> None:
    text = HEAD.replace("least_width = 4\n", "") + '[first]\nthickness = "8/4"\n[rest]\nthickness = "4/4"\nleast_width = 4\n'
    assert "above the first heading" in problems_of(text)["least_width"][1]


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_a_damaged_sheet_is_read_or_answered_with_sentences(data: st.DataObject) -> None:
    text = example(data.draw(st.sampled_from(["wants-slabs-and-boards.toml", "wants-stairs.toml", "wants-three-answers.toml"])))
    noise = st.text(max_size=8) | st.sampled_from(["= ", '"', "[", "-9e99", "0xFF", "\n[x]\n", "[]", "0"])
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 30)))
        text = text[:start] + data.draw(noise) + text[end:]
    try:
        assert isinstance(read(text, data.draw(st.floats(0.2, 20.0))), WantsSheet)
    except SheetProblems as problem:
        lines = text.count("\n") + 2
        assert all(1 <= each.line <= lines and 10 < len(each.sentence) < 300 for each in problem.problems)  # noqa: PT017
