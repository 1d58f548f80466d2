"""Values to JSON by their types alone, in the form that `typed_json` reads back."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import is_dataclass
from functools import partial
from itertools import repeat
from math import inf, isnan
from operator import index
from types import NoneType
from typing import Any, get_args

from waney.figures.typed_json import (
    BadJson,
    Json,
    Kept,
    Kind,
    dataclasses_of,
    field_kinds,
    is_array,
    is_union,
    kind_name,
    origin,
)

Writer = Callable[[Any], Json]
"""A value of one type to JSON."""


class Encoder:
    """Values to JSON. `tables` fills up with what is shared, each different value once, in the order it is met."""

    def __init__(self, shared: tuple[type, ...] = ()) -> None:
        self.tables: dict[type, list[Json]] = {cls: [] for cls in shared}
        self._places: dict[tuple[type, str], int] = {}
        self._met: dict[int, tuple[object, int]] = {}
        self._writers = Kept[Writer](self._writer) if shared else _NONE_SHARED

    def encode(self, value: object, kind: Kind) -> Json:
        """The value as JSON by its annotated type. Raises BadJson for inf."""
        return self._writers[kind](value)

    def _writer(self, kind: Kind) -> Writer:
        return partial(self._place, kind) if kind in self.tables else _writer(kind, self._writers)

    def _place(self, cls: Any, value: object) -> int:
        if id(value) in self._met:
            return self._met[id(value)][1]
        encoded = _fields(cls, self._writers)(value)
        place = self._places.setdefault((cls, json.dumps(encoded)), len(self.tables[cls]))
        if place == len(self.tables[cls]):
            self.tables[cls].append(encoded)
        self._met[id(value)] = (value, place)  # the value is kept so that its id stays its own
        return place


def _writer(kind: Kind, of: Kept[Writer]) -> Writer:
    """The writer of a type that is not shared; `of`: those of the types within it."""
    if is_union(kind):
        return _one_of(kind, of)
    if is_array(kind):
        return _array_out
    if origin(kind) is tuple:
        return _tuple(kind, of)
    return _fields(kind, of) if is_dataclass(kind) else PLAIN.get(kind, str)


_NONE_SHARED: Kept[Writer] = Kept(lambda kind: _writer(kind, _NONE_SHARED))


def _one_of(kind: Kind, of: Kept[Writer]) -> Writer:
    if len(dataclasses_of(kind)) > 1:
        own = Kept[Writer](lambda cls: _fields(cls, of))
        return lambda value: None if value is None else _told_apart(value, own)
    writer = of[next(member for member in get_args(kind) if member is not NoneType)]
    return lambda value: None if value is None else writer(value)


def _told_apart(value: object, own: Kept[Writer]) -> Json:
    cls: Any = type(value)
    return {"kind": kind_name(cls)} | own[cls](value)


def _tuple(kind: Kind, of: Kept[Writer]) -> Writer:
    members = get_args(kind)
    endless = len(members) == 2 and members[1] is Ellipsis
    writers = [of[each] for each in (members[:1] if endless else members)]

    def write(value: tuple[Any, ...]) -> Json:
        assert isinstance(value, tuple)
        return [writer(item) for writer, item in zip(repeat(writers[0], len(value)) if endless else writers, value, strict=True)]

    return write


def _fields(cls: Any, of: Kept[Writer]) -> Writer:
    kinds = field_kinds(cls)
    writers = Kept[Writer](lambda name: of[kinds[name]])
    return lambda value: {name: writers[name](getattr(value, name)) for name in kinds}


def _float_out(value: Any) -> float | None:
    number = float(value)
    if isnan(number):
        return None
    if number in (inf, -inf):
        raise BadJson("A figure without limit cannot be written as JSON.")
    return number


def _array_out(value: Any) -> dict[str, Json]:
    return {"shape": list(value.shape), "values": [_float_out(number) for number in value.ravel(order="C").tolist()]}


PLAIN: dict[Kind, Writer] = {float: _float_out, int: index, bool: bool}
"""Whatever numpy handed over becomes a plain int, float, bool or str."""
