"""Plan files: what is written reads back the same to the byte; old files stay readable; what was changed is refused."""

from __future__ import annotations

import copy
import importlib.util
import json
import re
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.fits import fits

from waney import __version__
from waney.logs.frames import Placing
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.pieces.piece import Piece, PieceZone
from waney.prices.worth import Term, Worth
from waney.sawing.moves import EdgeTogether, Pass, PithHeights, RollOn, Turn
from waney.sawing.outcome.plan_outcome import Outcome, PlanOutcome, Stays
from waney.sawing.plan import Grid, Plan, PlannedPiece, Setting, Standing
from waney.sawing.plan_file import FORMAT, BadPlanFile, Head, plan_schema, read_plan, sha256, write_plan, written_by
from waney.sawing.wants import Pattern, Tip

ROOT = Path(__file__).parents[2]
SHEETS = {"log": 'format = "waney-log/1"\nname = "Küchenbaum"\n', "mill": "# mill\r\n", "wants": ""}

numbers = st.floats(-1e6, 1e6) | st.sampled_from([0.0, -0.0, 1 / 3, 5e-324, 1e308])
maybe_nan = numbers | st.just(float("nan"))
words = st.text(max_size=8)
cents = st.integers(-(10**15), 10**15)
steps = st.integers(-5, 500)


def some(item: st.SearchStrategy[Any], most: int = 3) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(item, max_size=most).map(tuple)


def arrays(draw: st.DrawFn, *shape: int) -> np.ndarray:
    count = int(np.prod(shape))
    return np.array(draw(st.lists(maybe_nan, min_size=count, max_size=count))).reshape(shape)


@st.composite
def ring_fields(draw: st.DrawFn) -> RingField:
    k, n, m = draw(st.tuples(st.integers(1, 2), st.integers(2, 3), st.integers(1, 4)))
    return RingField(arrays(draw, n), arrays(draw, k, n, 2), arrays(draw, k, n, m))


vectors = st.tuples(numbers, numbers, numbers)
placings = st.builds(Placing, st.tuples(vectors, vectors, vectors), vectors)
zones = st.builds(PieceZone, st.sampled_from(Hidden), vectors, vectors, numbers, numbers, words)
terms = some(st.builds(Term, words, cents))
worths = st.builds(Worth, st.none() | words, terms, numbers, numbers, maybe_nan, maybe_nan, numbers, numbers, numbers)
flags = st.tuples(st.booleans(), st.booleans())


@st.composite
def pieces(draw: st.DrawFn, rings: tuple[RingField, ...]) -> Piece:
    n, k = draw(st.integers(2, 3)), draw(st.integers(0, 2))
    return Piece(
        draw(words),
        draw(words),
        draw(st.floats(1e-4, 1.0)),
        arrays(draw, n),
        arrays(draw, 3, n),
        arrays(draw, 3, n),
        arrays(draw, k, n, 2),
        draw(some(zones, 2)),
        draw(st.none() | words),
        draw(st.none() | placings),
        draw(st.sampled_from([None, *rings])),
        draw(flags),
    )


moves = st.one_of(
    st.builds(RollOn, numbers, st.sampled_from(Tip), numbers, numbers, st.none() | st.builds(PithHeights, numbers, numbers)),
    st.builds(Turn, st.integers(1, 3), st.booleans()),
    st.builds(Pass, steps, words, numbers),
    st.builds(EdgeTogether, some(words), some(st.booleans()), steps, some(steps), some(steps)),
)
settings_of = st.builds(Setting, words, steps, *[numbers] * 10)
grids = st.builds(Grid, numbers, numbers, some(numbers), some(st.sampled_from(Tip)), steps)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    rings = draw(some(ring_fields(), 2))
    planned = st.builds(PlannedPiece, pieces(rings), worths, steps, steps, st.none() | steps, st.none() | steps)
    return Plan(
        draw(words),
        draw(st.sampled_from(Pattern)),
        draw(numbers),
        draw(st.sampled_from(Tip)),
        draw(numbers),
        draw(some(placings, 2)),
        draw(some(moves)),
        draw(some(planned, 2)),
        draw(some(settings_of, 1)),
        draw(terms),
        draw(cents),
        draw(cents),
        draw(st.sampled_from(Standing)),
        draw(grids),
        draw(steps),
        draw(steps),
    )


sheets_of = st.dictionaries(words, st.text(), max_size=3)


def a_plan() -> Plan:
    """One piece, one zone, every kind of move."""
    rings = RingField(np.array([0.0, 2.5]), np.zeros((1, 2, 2)), np.full((1, 2, 8), 0.15))
    edges = np.array([[-0.1, -0.09], [-0.11, np.nan], [-0.12, -0.1]])
    piece = Piece(
        "A1-1",
        "juglans_nigra",
        0.054,
        np.array([-1.25, 1.25]),
        edges,
        -edges,
        np.zeros((1, 2, 2)),
        (PieceZone(Hidden.METAL, (0.1, 0.0, 0.0), (0.2, 0.0, 0.0), 0.01, 0.5, "nail"),),
        "A1",
        Placing(((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)), (0.0, 0.02, 1.25)),
        rings,
    )
    worth = Worth(
        "slab", (Term("price", 12500), Term("drying", -310)), 0.0, 2.4384, float("nan"), float("nan"), 0.19, 0.04445, 9.5
    )
    return Plan(
        log="A1",
        pattern=Pattern.THROUGH,
        roll_deg=40.0,
        tip=Tip.PITH,
        tip_m=0.0125,
        lies=(Placing(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.21, 0.0)),),
        moves=(
            RollOn(40.0, Tip.PITH, 0.0125),
            Pass(130, "outside slab", 0.2),
            Turn(2, True),
            EdgeTogether(("A1-1",), (True,), 90, (64,), (64,)),
        ),
        pieces=(PlannedPiece(piece, worth, 0, 96, 130),),
        settings=(Setting("slab", 36, 0.054, 0.04445, 0.003175, 0.0015875, 0.001, 0.0021, 0.0013, 0.0004, 0.95, 0.01),),
        terms=(Term("loading", -500),),
        cents=11690,
        bound_cents=11690,
        standing=Standing.OPTIMAL,
        grid=Grid(0.0015875, 0.0015875, (40.0,), (Tip.PITH,), 34),
        work=1234,
        seed=7,
    )


@settings(max_examples=60, deadline=None)
@given(plans(), sheets_of)
def test_what_is_written_reads_back_and_writes_the_same_bytes(plan: Plan, sheets: dict[str, str]) -> None:
    text = write_plan(plan, sheets)
    back, sheets_back = read_plan(text)
    assert write_plan(back, sheets_back) == text
    assert sheets_back == sheets
    assert text.endswith("}\n")


@settings(max_examples=30, deadline=None)
@given(plans())
def test_every_figure_comes_back_to_the_last_bit(plan: Plan) -> None:
    back, _ = read_plan(write_plan(plan, {}))
    simple = [item.name for item in fields(Plan) if item.name not in ("pieces",)]
    assert [getattr(back, name) for name in simple] == [getattr(plan, name) for name in simple]
    for there, here in zip(back.pieces, plan.pieces, strict=True):
        for item in fields(Piece):
            one, other = getattr(there.piece, item.name), getattr(here.piece, item.name)
            if isinstance(one, np.ndarray):
                np.testing.assert_array_equal(one, other)
                assert one.shape == other.shape
            elif not isinstance(one, RingField):
                assert one == other
        np.testing.assert_equal(there.worth.low_y_m, here.worth.low_y_m)


def test_an_outcome_goes_into_the_file_with_its_plan_and_a_plan_may_have_none() -> None:
    three = Outcome(1.0, 2.5, 4.0)
    plan = replace(a_plan(), outcome=PlanOutcome(three, three, three, (Stays("W1-1", 0.75),), 0.0, 256))
    assert read_plan(write_plan(plan, SHEETS))[0].outcome == plan.outcome
    assert read_plan(write_plan(a_plan(), SHEETS))[0].outcome is None


def test_rings_stand_once_and_all_pieces_share_them_again() -> None:
    plan = a_plan()
    twice = replace(plan, pieces=plan.pieces * 2)
    text = write_plan(twice, SHEETS)
    assert text.count('"reach_m"') == 1
    back, _ = read_plan(text)
    assert back.pieces[0].piece.rings is back.pieces[1].piece.rings is not None


def test_sheets_are_held_word_for_word_with_the_hash_of_their_bytes() -> None:
    document = json.loads(write_plan(a_plan(), SHEETS))
    held = {sheet["role"]: sheet for sheet in document["sheets"]}
    assert {role: sheet["text"] for role, sheet in held.items()} == SHEETS
    # sha256 of nothing, FIPS 180-4 test vector
    assert held["wants"]["sha256"] == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"


def test_a_sheet_changed_afterwards_is_refused() -> None:
    text = write_plan(a_plan(), SHEETS)
    with pytest.raises(BadPlanFile, match="The log sheet inside this plan was changed"):
        read_plan(text.replace("Küchenbaum", "Nachbars Baum"))


def test_the_order_in_which_sheets_were_handed_over_does_not_matter() -> None:
    assert write_plan(a_plan(), SHEETS) == write_plan(a_plan(), dict(reversed(SHEETS.items())))


def test_a_plan_says_which_program_wrote_it() -> None:
    assert written_by(write_plan(a_plan(), SHEETS)) == __version__
    assert written_by(write_plan(a_plan(), SHEETS, "9.9")) == "9.9"


def test_head_and_plan_share_no_field_name() -> None:
    assert not {item.name for item in fields(Head)} & {item.name for item in fields(Plan)}


def changed(change: dict[str, Any]) -> str:
    return json.dumps(json.loads(write_plan(a_plan(), SHEETS)) | change)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "not JSON"),
        ("[]", "braces"),
        ("{}", re.escape(f'this program reads "{FORMAT}"')),
        (changed({"format": "waney-plan/2"}), "waney-plan/2"),
        (changed({"seed": 1.5}), "plan.seed: 1.5 is not a whole number"),
        (changed({"cents": None}), "plan.cents"),
        (changed({"moves": [{"kind": "pass"}]}), r"plan.moves\[0\].height_steps: this field is missing"),
        (changed({"tip": "sideways"}), "plan.tip"),
        (changed({"grid": None}), "plan.grid"),
        (changed({"colour": "red"}), "plan.colour: this program knows no such field"),
        (changed({"rings": []}), "no ring-field number 0"),
        (changed({"sheets": [{"role": "log", "sha256": sha256(""), "text": ""}] * 2}), "two sheets"),
    ],
)
def test_what_is_no_plan_gets_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(BadPlanFile, match=sentence):
        read_plan(text)


def test_a_piece_whose_arrays_do_not_fit_is_named() -> None:
    document = json.loads(write_plan(a_plan(), SHEETS))
    document["pieces"][0]["piece"]["along_m"] = {"shape": [3], "values": [0, 1, 2]}
    with pytest.raises(BadPlanFile, match=r"plan.pieces\[0\].piece: A piece needs"):
        read_plan(json.dumps(document))


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_damaged_file_is_read_or_answered_with_a_sentence(data: st.DataObject) -> None:
    text = write_plan(a_plan(), SHEETS)
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 20)))
        text = (
            text[:start]
            + data.draw(st.text(max_size=5) | st.sampled_from(["null", "1e999", "[", "-0", '"', "9" * 400]))
            + text[end:]
        )
    try:
        assert isinstance(read_plan(text)[0], Plan)
    except BadPlanFile as problem:
        assert 10 < len(str(problem)) < 400  # noqa: PT017


def test_the_schema_on_file_is_fresh() -> None:
    spec = importlib.util.spec_from_file_location("schemas", ROOT / "tools" / "schemas.py")
    assert spec is not None
    assert spec.loader is not None
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    for name, text in tool.schemas().items():
        assert (ROOT / "docs" / "schemas" / name).read_text(encoding="utf-8") == text, f"run python tools/schemas.py for {name}"


@settings(max_examples=40, deadline=None)
@given(plans(), sheets_of)
def test_every_written_plan_fits_the_schema(plan: Plan, sheets: dict[str, str]) -> None:
    schema = plan_schema()
    assert fits(json.loads(write_plan(plan, sheets)), schema, schema)


def spots(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value inside a document."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path] + [spot for key, item in inner for spot in spots(item, (*path, key))]


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_what_the_schema_refuses_is_not_read_either(data: st.DataObject) -> None:
    schema, document = plan_schema(), json.loads(write_plan(a_plan(), SHEETS))
    *way, last = data.draw(st.sampled_from([path for path in spots(document) if path]))
    parent = document
    for key in way:
        parent = parent[key]
    parent[last] = copy.deepcopy(data.draw(st.sampled_from([None, -1, 0.5, "x", True, [], {}, [0.5], {"kind": "turn"}])))
    if not fits(document, schema, schema):
        with pytest.raises(BadPlanFile):
            read_plan(json.dumps(document))


@pytest.mark.parametrize("path", sorted((ROOT / "tests" / "data").glob("plan-1-*.json")), ids=lambda path: path.stem)
def test_old_plan_files_stay_readable(path: Path) -> None:
    schema, text = plan_schema(), path.read_text(encoding="utf-8")
    plan, sheets = read_plan(text)
    assert fits(json.loads(text), schema, schema)
    assert sheets.keys() >= {"log", "mill", "wants"}
    assert plan.cents == sum(each.worth.cents for each in plan.pieces) + sum(term.cents for term in plan.terms)


def test_the_first_plan_file_says_what_was_put_into_it() -> None:
    plan, sheets = read_plan((ROOT / "tests" / "data" / "plan-1-first.json").read_text(encoding="utf-8"))
    assert (plan.log, plan.pattern, plan.roll_deg, plan.tip, plan.cents) == ("A1", Pattern.THROUGH, 40.0, Tip.PITH, 11690)
    assert plan.moves[-1] == EdgeTogether(("A1-1",), (True,), 90, (64,), (64,))
    assert plan.pieces[0].piece.zones[0].note == "nail"
    assert np.isnan(plan.pieces[0].piece.low_y_m[1, 1])
    assert sheets == SHEETS
