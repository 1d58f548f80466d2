"""Frozen dataclasses from JSON, guided by their types alone; `json_out` writes them. Nothing is kept that the types do not name.

float: a number, null for nan (inf is refused). Array: {"shape": [...], "values": [...]} in row order. Tuple: a list. StrEnum: its
value. Dataclass: an object in the order of its fields; where one of several may stand, "kind" says which. A type named as
*shared* is written once into a list of its own and stands elsewhere as its place in that list.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import StrEnum
from functools import cache
from itertools import repeat
from math import prod
from sys import float_info
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from waney.figures.problem import Problem

Json = Any
Kind = Any
"""A type as it stands in an annotation: a class, tuple[int, ...], float | None, NDArray[np.float64] ..."""


LARGEST = float_info.max
"""A whole number beyond it has no float; 1e999 reads as infinite."""
MOST_DIMENSIONS = 4
"""No array of ours has more."""


class BadJson(Problem):
    """The text is not JSON, or does not hold what its types ask for."""


Way = TypeVar("Way")


class Kept(dict[Any, Way]):
    """Readers or writers by what they are for, each put together when it is first asked for; a type may so hold itself."""

    def __init__(self, put_together: Callable[[Any], Way]) -> None:
        super().__init__()
        self._put_together = put_together

    def __missing__(self, what: Any) -> Way:
        way = self[what] = self._put_together(what)
        return way


@cache
def field_kinds(cls: type) -> Mapping[str, Kind]:
    """The resolved type of each field of a dataclass, in order."""
    hints = get_type_hints(cls)
    return {item.name: hints[item.name] for item in fields(cls)}


@cache
def kind_name(cls: type) -> str:
    """The word that stands for a class: EdgeTogether is "edge-together"."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", cls.__name__).lower()


@cache
def origin(kind: Kind) -> Any:
    """What stands before the square brackets of an annotation; None without any."""
    return get_origin(kind)


def is_union(kind: Kind) -> bool:
    """Whether an annotation offers several types."""
    return origin(kind) in (Union, UnionType)


def is_array(kind: Kind) -> bool:
    """Whether an annotation is a numpy array. numpy is not loaded for it: what reads no arrays starts without."""
    of = origin(kind)
    return of is not None and (of.__module__, of.__qualname__) == ("numpy", "ndarray")


def dataclasses_of(kind: Kind) -> tuple[type, ...]:
    """The dataclasses among the members of a union."""
    return tuple(member for member in get_args(kind) if is_dataclass(member) and isinstance(member, type))


def optional_field(item: Field[Any]) -> bool:
    """Whether a field has a default, so that it may be missing from an older text."""
    return item.default is not MISSING or item.default_factory is not MISSING


@cache
def _required(cls: type) -> dict[str, None]:
    """The fields of a dataclass that have no default, in order."""
    return {item.name: None for item in fields(cls) if not optional_field(item)}


class _Misfit(Exception):
    """What is there does not fit its type. Its place is put together on the way out, so that what fits needs none."""

    def __init__(self, sentence: str, at: str = "") -> None:
        self.sentence, self.at = sentence, at


Reader = Callable[[Json], Any]
"""JSON to a value of one type. Raises _Misfit, or what a dataclass itself raises as BadJson."""


class Decoder:
    """JSON to values. `tables` holds what is shared, in the order of its list.

    The questions about a type are asked once; what is left of them is a reader that only looks at the data.
    """

    def __init__(self, tables: Mapping[type, Sequence[object]] | None = None) -> None:
        self._tables = tables or {}
        self._of_kind = Kept[Reader](self._reader)
        self._of_fields = Kept[Reader](self._fields)

    def decode(self, data: Json, kind: Kind, at: str) -> Any:
        """A value of the annotated type. Raises BadJson with the place (`at`), or what the dataclass itself raises."""
        return _told(self._of_kind[kind], data, at)

    def fields(self, data: Json, cls: Any, at: str) -> Any:
        """A dataclass from an object whose keys are its fields; those with a default may be missing."""
        return _told(self._of_fields[cls], data, at)

    def _reader(self, kind: Kind) -> Reader:
        if is_union(kind):
            return self._one_of(kind)
        if is_array(kind):
            return _array_in
        if origin(kind) is tuple:
            return self._tuple(kind)
        if kind in self._tables:
            return self._shared(kind)
        return self._of_fields[kind] if is_dataclass(kind) else _plain(kind)

    def _fields(self, cls: Any) -> Reader:
        kinds, needed = field_kinds(cls), _required(cls)
        readers = Kept[Reader](lambda name: self._of_kind[kinds[name]])

        def read(data: Json) -> Any:
            keys = _object(data).keys()
            if not keys <= kinds.keys():
                key = next(key for key in keys if key not in kinds)
                raise _Misfit("this program knows no such field; a newer program may have written it.", f".{key}")
            if not needed.keys() <= keys:
                name = next(name for name in needed if name not in keys)
                raise _Misfit("this field is missing.", f".{name}")
            values = {}
            try:
                for name, item in data.items():
                    values[name] = readers[name](item)
            except _Misfit as slip:
                slip.at = f".{name}{slip.at}"
                raise
            try:
                return cls(**values)
            except BadJson:
                raise
            except (Problem, ValueError) as error:
                raise _Misfit(str(error)) from None

        return read

    def _one_of(self, kind: Kind) -> Reader:
        members = get_args(kind)
        known = {kind_name(cls): cls for cls in dataclasses_of(kind)}
        reader = self._told_apart(known) if len(known) > 1 else self._of_kind[next(m for m in members if m is not NoneType)]
        return (lambda data: None if data is None else reader(data)) if NoneType in members else reader

    def _told_apart(self, known: Mapping[str, type]) -> Reader:
        def read(data: Json) -> Any:
            keys = dict(_object(data))
            name = keys.pop("kind", None)
            if not isinstance(name, str) or name not in known:
                raise _Misfit(f"{shown(name)} is none of {', '.join(known)}.", ".kind")
            return self._of_fields[known[name]](keys)

        return read

    def _tuple(self, kind: Kind) -> Reader:
        members = get_args(kind)
        endless = len(members) == 2 and members[1] is Ellipsis
        readers = [self._of_kind[each] for each in (members[:1] if endless else members)]

        def read(data: Json) -> Any:
            if not isinstance(data, list):
                raise _Misfit(f"{shown(data)} is not a list.")
            if not endless and len(readers) != len(data):
                raise _Misfit(f"the list has {len(data)} items; it must have {len(readers)}.")
            return tuple(_each(readers * len(data) if endless else readers, data))

        return read

    def _shared(self, kind: Kind) -> Reader:
        table, whole = self._tables[kind], _plain(int)

        def read(data: Json) -> Any:
            place = whole(data)
            if not 0 <= place < len(table):
                raise _Misfit(f"there is no {kind_name(kind)} number {place}.")
            return table[place]

        return read


def _told(reader: Reader, data: Json, at: str) -> Any:
    try:
        return reader(data)
    except _Misfit as slip:
        raise BadJson(f"{at}{slip.at}: {slip.sentence}") from None


def _each(readers: Iterable[Reader], data: Sequence[Json], at: str = "") -> list[Any]:
    """Every item of a list, each by its reader."""
    values: list[Any] = []
    try:
        for reader, item in zip(readers, data, strict=True):
            values.append(reader(item))
    except _Misfit as slip:
        slip.at = f"{at}[{len(values)}]{slip.at}"
        raise
    return values


def parsed(text: str) -> Json:
    """The text as JSON. Raises BadJson: not JSON, too deep, a number that is none, or the same key twice."""
    try:
        return json.loads(text, parse_constant=_no_constant, object_pairs_hook=_once)
    except RecursionError:
        raise BadJson("brackets lie within brackets too deeply to be read.") from None
    except json.JSONDecodeError as error:
        raise BadJson(f"line {error.lineno}, column {error.colno}: this is not JSON: {error.msg}.") from None
    except ValueError as error:
        raise BadJson(f"this is not JSON: {error}.") from None


def shown(data: Json) -> str:
    """What was read, short enough for a sentence."""
    words = json.dumps(data, ensure_ascii=True)
    return words if len(words) <= 60 else f"{words[:57]}..."


def _no_constant(word: str) -> Json:
    raise BadJson(f"{word} is not a number that JSON knows; write null where a figure is not defined.")


def _once(pairs: list[tuple[str, Json]]) -> dict[str, Json]:
    keys = dict(pairs)
    if len(keys) < len(pairs):
        twice = next(key for i, (key, _) in enumerate(pairs) if key in dict(pairs[:i]))
        raise BadJson(f"the key {shown(twice)} stands twice in one object.")
    return keys


def _object(data: Json) -> Mapping[str, Json]:
    if not isinstance(data, dict):
        raise _Misfit(f"{shown(data)} is not an object.")
    return data


WORDS = {bool: "true or false", int: "a whole number", str: "text"}


def _plain(kind: Kind) -> Reader:
    """The reader of what is neither an object nor a list."""
    if kind is float:
        return _float_in
    if kind in WORDS:
        return _just(kind)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return _word_in(kind)
    raise TypeError(f"{kind} has no form in JSON")


def _just(kind: type) -> Reader:
    def read(data: Json) -> Any:
        if type(data) is not kind:
            raise _Misfit(f"{shown(data)} is not {WORDS[kind]}.")
        return data

    return read


def _word_in(kind: type[StrEnum]) -> Reader:
    words = {str(word): word for word in kind}

    def read(data: Json) -> StrEnum:
        if not isinstance(data, str) or data not in words:
            raise _Misfit(f"{shown(data)} is none of {', '.join(words)}.")
        return words[data]

    return read


def _float_in(data: Json) -> float:
    if data is None:
        return float("nan")
    if type(data) not in (int, float) or not abs(data) <= LARGEST:
        raise _Misfit(f"{shown(data)} is not an ordinary number.")
    return float(data)


def _array_in(data: Json) -> Any:
    import numpy as np

    keys = _object(data)
    shape, values = keys.get("shape"), keys.get("values")
    if len(keys) != 2 or not isinstance(shape, list) or not isinstance(values, list):
        raise _Misfit("an array has a shape and values, and nothing else.")
    sizes = _each(repeat(_plain(int), len(shape)), shape, ".shape")
    if not 1 <= len(sizes) <= MOST_DIMENSIONS:
        raise _Misfit(f"the shape {shown(shape)} must have one to {MOST_DIMENSIONS} sizes.")
    if any(size < 0 for size in sizes) or prod(sizes) != len(values):
        raise _Misfit(f"the shape {shown(shape)} asks for {prod(sizes)} values; there are {len(values)}.")
    return np.array(_each(repeat(_float_in, len(values)), values, ".values"), dtype=np.float64).reshape(sizes)
