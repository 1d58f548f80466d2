"""Typed JSON: what goes out comes back the same; what does not fit its type gets a sentence with its place."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from enum import StrEnum
from math import inf, isnan, nan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from waney.figures.json_out import Encoder
from waney.figures.json_schema import SchemaBuilder
from waney.figures.problem import Problem
from waney.figures.typed_json import BadJson, Decoder, kind_name, parsed


class Side(StrEnum):
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class LongNail:
    """A nail."""

    depth_m: float


@dataclass(frozen=True)
class Staple:
    """A staple."""

    side: Side
    legs: int = 2

    def __post_init__(self) -> None:
        if self.legs < 1:
            raise Problem("a staple has a leg or more.")


@dataclass(frozen=True, eq=False)
class Grid:
    """A grid that several boards share."""

    points: NDArray[np.float64]


@dataclass(frozen=True)
class Board:
    """A board."""

    name: str
    metal: tuple[LongNail | Staple, ...]
    corner: tuple[float, float]
    grid: Grid | None = None
    sawn: bool = False
    note: str | None = None
    extra: tuple[int, ...] = field(default=())


def there_and_back(value: Any, kind: Any, shared: tuple[type, ...] = ()) -> Any:
    encoder = Encoder(shared)
    text = json.dumps(encoder.encode(value, kind))
    tables = {cls: [Decoder().fields(item, cls, "t") for item in items] for cls, items in encoder.tables.items()}
    return Decoder(tables).decode(parsed(text), kind, "board")


floats = st.floats(-1e300, 1e300)
metal = st.one_of(st.builds(LongNail, floats), st.builds(Staple, st.sampled_from(Side), st.integers(1, 9)))
boards = st.builds(
    Board,
    st.text(),
    st.lists(metal, max_size=3).map(tuple),
    st.tuples(floats, floats),
    st.none(),
    st.booleans(),
    st.none() | st.text(),
    st.lists(st.integers(), max_size=3).map(tuple),
)


@given(boards)
def test_what_goes_out_comes_back_the_same(board: Board) -> None:
    assert there_and_back(board, Board) == board


@given(st.lists(st.floats(-1e300, 1e300) | st.just(nan), min_size=0, max_size=12), st.sampled_from([(-1,), (1, -1), (-1, 1, 1)]))
def test_arrays_keep_shape_and_every_bit(values: list[float], shape: tuple[int, ...]) -> None:
    grid = Grid(np.array(values, dtype=np.float64).reshape(shape if values else (0, 3)))
    back = there_and_back(grid, Grid)
    assert back.points.shape == grid.points.shape
    assert back.points.tobytes() == np.where(np.isnan(grid.points), nan, grid.points).tobytes()


def test_nan_is_null_and_comes_back_while_a_figure_without_limit_is_refused() -> None:
    assert Encoder().encode(LongNail(nan), LongNail) == {"depth_m": None}
    assert isnan(there_and_back(LongNail(nan), LongNail).depth_m)
    with pytest.raises(BadJson, match="without limit"):
        Encoder().encode(LongNail(inf), LongNail)


def test_numbers_of_numpy_go_out_as_plain_numbers() -> None:
    assert json.dumps(Encoder().encode(Staple(Side.LEFT, np.int64(3)), Staple)) == '{"side": "left", "legs": 3}'  # type: ignore[arg-type]


def test_one_of_several_is_told_apart_by_its_kind() -> None:
    encoded = Encoder().encode(Board("b", (LongNail(0.1), Staple(Side.RIGHT)), (0.0, 1.0)), Board)
    assert [item["kind"] for item in encoded["metal"]] == ["long-nail", "staple"]
    assert kind_name(LongNail) == "long-nail"


def test_what_is_shared_is_written_once_even_when_two_equal_copies_come_in() -> None:
    one, copy, other = Grid(np.array([1.0])), Grid(np.array([1.0])), Grid(np.array([2.0]))
    encoder = Encoder((Grid,))
    kind = tuple[Board, ...]
    encoded = encoder.encode(tuple(Board("b", (), (0.0, 0.0), grid) for grid in (one, copy, other, one, None)), kind)
    assert [item["grid"] for item in encoded] == [0, 0, 1, 0, None]
    assert len(encoder.tables[Grid]) == 2


def test_a_field_with_a_default_may_be_missing_in_an_older_text() -> None:
    old = {"name": "b", "metal": [], "corner": [0, 1]}
    assert Decoder().decode(old, Board, "board") == Board("b", (), (0.0, 1.0))


GOOD = {"name": "b", "metal": [{"kind": "staple", "side": "left"}], "corner": [0.5, 1.0]}


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"name": 3}, "board.name: 3 is not text."),
        ({"sawn": 1}, "board.sawn: 1 is not true or false."),
        ({"extra": [1, 2.5]}, r"board.extra\[1\]: 2.5 is not a whole number."),
        ({"extra": [True]}, r"board.extra\[0\]: true is not a whole number."),
        ({"corner": [1.0]}, "board.corner: the list has 1 items; it must have 2."),
        ({"corner": [1.0, "2"]}, r"board.corner\[1\]: \"2\" is not an ordinary number."),
        ({"corner": [1.0, 10**400]}, r"board.corner\[1\]: 1000"),
        ({"metal": {}}, "board.metal: {} is not a list."),
        ({"metal": [{"kind": "screw"}]}, r"board.metal\[0\].kind: \"screw\" is none of long-nail, staple."),
        ({"metal": [{"kind": ["staple"]}]}, r"board.metal\[0\].kind"),
        ({"metal": [{"kind": "staple", "side": "up"}]}, r"board.metal\[0\].side: \"up\" is none of left, right."),
        ({"metal": [{"kind": "staple", "side": ["left"]}]}, r"board.metal\[0\].side"),
        ({"metal": [{"kind": "staple"}]}, r"board.metal\[0\].side: this field is missing."),
        ({"metal": [{"kind": "staple", "side": "left", "legs": 0}]}, r"board.metal\[0\]: a staple has a leg or more."),
        ({"colour": "red"}, "board.colour: this program knows no such field"),
        ({"grid": {"points": {"shape": [2], "values": [1.0]}}}, "the shape .* asks for 2 values; there are 1."),
        ({"grid": {"points": {"shape": [-1], "values": [1.0]}}}, "asks for"),
        ({"grid": {"points": {"shape": [1] * 70, "values": [1.0]}}}, "one to 4 sizes"),
        ({"grid": {"points": {"shape": [], "values": [1.0]}}}, "one to 4 sizes"),
        ({"grid": {"points": {"shape": 1, "values": [1.0]}}}, "a shape and values"),
        ({"grid": {"points": [1.0]}}, "is not an object"),
        ({"grid": {"points": {"shape": [1], "values": ["x"]}}}, r"values\[0\]"),
    ],
)
def test_what_does_not_fit_is_named_with_its_place(change: dict[str, Any], sentence: str) -> None:
    Decoder().decode(GOOD, Board, "board")
    with pytest.raises(BadJson, match=sentence):
        Decoder().decode(parsed(json.dumps(GOOD | change)), Board, "board")


def test_a_place_beyond_the_shared_list_is_refused() -> None:
    with pytest.raises(BadJson, match="no grid number 1"):
        Decoder({Grid: [Grid(np.array([1.0]))]}).decode(GOOD | {"grid": 1}, Board, "board")


@pytest.mark.parametrize(
    "text", ["", "{", '{"a": NaN}', '{"a": 1, "a": 2}', "[" * 100_000, "1" * 5000, '"\ud800', "[1,]", "\x00", '{"a": Infinity}']
)
def test_what_is_no_json_gets_a_sentence(text: str) -> None:
    with pytest.raises(BadJson) as caught:
        parsed(text)
    assert len(str(caught.value)) < 300


def test_the_schema_asks_for_fields_without_default_and_knows_all() -> None:
    schema = SchemaBuilder().fields(Board)
    assert schema["required"] == ["name", "metal", "corner"]
    assert list(schema["properties"]) == ["name", "metal", "corner", "grid", "sawn", "note", "extra"]
    assert schema["description"] == "A board."
