"""Shelves: the rows of the read models, in the database for one command, in memory while all events are read anew.

Both do the same few things, so that one code applies an act; `examine` holds what the one wrote against what the other says.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from itertools import chain, islice
from operator import itemgetter
from typing import Any, Protocol

from sqlalchemy import Connection, Delete, Select, Table, bindparam, delete, func, insert, select
from sqlalchemy.dialects import sqlite

from waney.yard.book import models

Row = Mapping[str, Any]
AT_A_TIME = 2000
MOST_PLACES = 2000
"""for values in one statement; SQLite takes 32,766 at least, and gains nothing more by them"""


class Shelf(Protocol):
    """Rows by their keys, and by the few columns that rules ask for."""

    def get(self, table: Table, *key: Any) -> Row | None:
        """The row of a primary key."""

    def find(self, table: Table, **columns: Any) -> list[Row]:
        """Rows with these values, in the order of their keys."""

    def put(self, table: Table, row: Row) -> None:
        """A whole row, new or in place of the one with its key."""

    def change(self, table: Table, key: tuple[Any, ...], values: Row) -> None:
        """Some columns of a row that is there, none of its key."""

    def remove(self, table: Table, *key: Any) -> None:
        """The row of a primary key goes."""

    def count(self, table: Table) -> int:
        """How many rows there are."""

    def advance(self, streams: Iterable[str], seq: int) -> dict[str, int]:
        """An event counts in streams: each goes on by one; the number that the event has in each."""

    def touches(self, stream: str) -> list[int]:
        """The events that count in a stream, in order."""

    def made(self, stream: str) -> bool:
        """Whether the thing of a stream is in the book."""

    def make(self, stream: str) -> None:
        """From now on it is; an event counts in the stream already."""


@cache
def keys_of(table: Table) -> tuple[str, ...]:
    """The columns of a primary key."""
    return tuple(column.name for column in table.primary_key)


@cache
def values_of(columns: tuple[str, ...]) -> Callable[[Row], tuple[Any, ...]]:
    """What reads these columns of a row."""
    if len(columns) > 1:
        return itemgetter(*columns)
    (only,) = columns
    return lambda row: (row[only],)


class Database:
    """Rows where they are kept for good; for one writing transaction, in which nobody else changes any."""

    def __init__(self, at: Connection) -> None:
        self.at = at
        self._seen: dict[tuple[str, tuple[Any, ...]], Row | None] = {}

    def get(self, table: Table, *key: Any) -> Row | None:
        """The row of a primary key."""
        if (table.name, key) not in self._seen:
            self._seen[table.name, key] = next(iter(self._asked(table, keys_of(table), key)), None)
        return self._seen[table.name, key]

    def find(self, table: Table, **columns: Any) -> list[Row]:
        """Rows with these values."""
        return self._asked(table, tuple(columns), columns.values())

    def _asked(self, table: Table, columns: tuple[str, ...], values: Iterable[Any]) -> list[Row]:
        return [dict(row) for row in self.at.execute(_finding(table, columns), _named(columns, values)).mappings()]

    def put(self, table: Table, row: Row) -> None:
        """A whole row."""
        self.at.execute(_putting(table, self.at.dialect.name), dict(row))
        self._seen[table.name, values_of(keys_of(table))(row)] = row

    def change(self, table: Table, key: tuple[Any, ...], values: Row) -> None:
        """Some columns of a row."""
        self.put(table, {**_there(self.get(table, *key), table, key), **values})

    def remove(self, table: Table, *key: Any) -> None:
        """The row goes."""
        self.at.execute(_removing(table), _named(keys_of(table), key))
        self._seen[table.name, key] = None

    def count(self, table: Table) -> int:
        """How many rows there are."""
        return int(self.at.execute(select(func.count()).select_from(table)).scalar_one())

    def advance(self, streams: Iterable[str], seq: int) -> dict[str, int]:
        """An event counts in streams."""
        numbers = {stream: self._head(stream)["version"] + 1 for stream in streams}
        for stream, number in numbers.items():
            self.put(models.head, {**self._head(stream), "version": number})
        self.at.execute(insert(models.touched), [{"stream": s, "number": n, "seq": seq} for s, n in numbers.items()])
        return numbers

    def touches(self, stream: str) -> list[int]:
        """The events of a stream."""
        t = models.touched
        return list(self.at.execute(select(t.c.seq).where(t.c.stream == stream).order_by(t.c.number)).scalars())

    def made(self, stream: str) -> bool:
        """Whether the thing is in the book."""
        return bool(self._head(stream)["made"])

    def make(self, stream: str) -> None:
        """It is."""
        self.put(models.head, {**self._head(stream), "made": 1})

    def _head(self, stream: str) -> Row:
        return self.get(models.head, stream) or {"stream": stream, "version": 0, "made": 0}


def _named(columns: Iterable[str], values: Iterable[Any]) -> dict[str, Any]:
    """Values for the places of a statement; the prefix keeps them apart from the columns that are set."""
    return {f"is_{name}": value for name, value in zip(columns, values, strict=True)}


@cache
def _finding(table: Table, columns: tuple[str, ...]) -> Select[Any]:
    asked = (table.c[name] == bindparam(f"is_{name}", type_=table.c[name].type) for name in columns)
    return select(table).where(*asked).order_by(*table.primary_key)


@cache
def _removing(table: Table) -> Delete:
    return delete(table).where(*(table.c[name] == bindparam(f"is_{name}") for name in keys_of(table)))


@cache
def _putting(table: Table, dialect: str) -> Any:
    new: Any = sqlite.insert(table)
    if dialect != "sqlite":
        from sqlalchemy.dialects import postgresql  # most books need none of it, and the first page comes sooner

        new = postgresql.insert(table)
    rest = {name: new.excluded[name] for name in table.c.keys() if name not in keys_of(table)}  # noqa: SIM118 - a column collection
    if not rest:
        return new.on_conflict_do_nothing()
    return new.on_conflict_do_update(index_elements=keys_of(table), set_=rest)


ASKED_FOR: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "piece": (("code", "number"), ("plan", "cut")),
    "log": (("code",),),
    "code": (("shed",),),
    "waiting": (("missing",), ("seq",)),
    "together_piece": (("together",),),
    "hold_piece": (("hold",),),
    "lease_piece": (("lease",),),
    "sale_piece": (("sale",),),
    "sale": (("hold",),),
    "money": (("about",),),
    "deposit_kept": (("hold",),),
    "spent": (("seq",),),
    "wish": (("person",),),
    "custom_log": (("custom",),),
    "custom_share": (("custom",),),
    "stack_piece": (("stack",),),
    "load_piece": (("piece",), ("load",)),
    "weight": (("about",),),
    "stapled": (("piece",),),
}
"""What rules look rows up by, besides their keys."""
LOOKED_UP = {table: frozenset(chain.from_iterable(lookups)) for table, lookups in ASKED_FOR.items()}
NOTHING = frozenset[str]()


def _there(row: Any, table: Table, key: tuple[Any, ...]) -> Any:
    assert row is not None, f"{table.name} {key} is made before it is changed"
    return row


Found = dict[tuple[Any, ...], set[tuple[Any, ...]]]
"""The keys of the rows with some values."""


class Memory:
    """Rows in dictionaries, until they are written all at once."""

    def __init__(self) -> None:
        self._rows: dict[str, dict[tuple[Any, ...], dict[str, Any]]] = defaultdict(dict)
        self._found: dict[tuple[str, tuple[str, ...]], Found] = {}
        self._lookups: dict[str, list[tuple[Callable[[Row], tuple[Any, ...]], Found]]] = {}
        self._touched: dict[str, list[int]] = defaultdict(list)
        self._made: set[str] = set()
        for table, lookups in ASKED_FOR.items():
            self._found |= {(table, columns): defaultdict(set) for columns in lookups}
            self._lookups[table] = [(values_of(columns), self._found[table, columns]) for columns in lookups]

    def get(self, table: Table, *key: Any) -> Row | None:
        """The row of a primary key."""
        return self._rows[table.name].get(key)

    def find(self, table: Table, **columns: Any) -> list[Row]:
        """Rows with these values."""
        keys = self._found[table.name, tuple(columns)].get(tuple(columns.values()))
        return [self._rows[table.name][key] for key in sorted(keys)] if keys else []

    def put(self, table: Table, row: Row) -> None:
        """A whole row."""
        name, key = table.name, values_of(keys_of(table))(row)
        if name in ASKED_FOR:
            self._find_anew(name, key, row)
        self._rows[name][key] = dict(row)

    def change(self, table: Table, key: tuple[Any, ...], values: Row) -> None:
        """Some columns of a row, in place where nobody looks it up by them."""
        row = _there(self._rows[table.name].get(key), table, key)
        if not LOOKED_UP.get(table.name, NOTHING).isdisjoint(values):
            self._find_anew(table.name, key, {**row, **values})
        row.update(values)

    def remove(self, table: Table, *key: Any) -> None:
        """The row goes."""
        self._find_anew(table.name, key, None)
        del self._rows[table.name][key]

    def _find_anew(self, table: str, key: tuple[Any, ...], row: Row | None) -> None:
        """Whoever looks for what a row held, or holds now, finds it there; most changes touch nothing that is looked for."""
        former = self._rows[table].get(key)
        for values, found in self._lookups.get(table, ()):
            was = None if former is None else values(former)
            now = None if row is None else values(row)
            if was != now:
                if was is not None:
                    found[was].discard(key)
                if now is not None and None not in now:
                    found[now].add(key)

    def count(self, table: Table) -> int:
        """How many rows there are."""
        return len(self._rows[table.name])

    def advance(self, streams: Iterable[str], seq: int) -> dict[str, int]:
        """An event counts in streams."""
        numbers = {}
        for stream in streams:
            told = self._touched[stream]
            told.append(seq)
            numbers[stream] = len(told)
        return numbers

    def touches(self, stream: str) -> list[int]:
        """The events of a stream."""
        return list(self._touched.get(stream, ()))

    def made(self, stream: str) -> bool:
        """Whether the thing is in the book."""
        return stream in self._made

    def make(self, stream: str) -> None:
        """It is."""
        self._made.add(stream)

    def rows(self, table: Table) -> Iterable[tuple[Any, ...]]:
        """Every row of a read model, its values in the order of the columns."""
        if table is models.head:
            return ((stream, len(told), int(stream in self._made)) for stream, told in self._touched.items())
        if table is models.touched:
            return ((stream, n, seq) for stream, told in sorted(self._touched.items()) for n, seq in enumerate(told, 1))
        return map(values_of(tuple(table.c.keys())), self._rows[table.name].values())

    def write(self, at: Connection) -> None:
        """Write everything into empty tables. An index is made of what is there faster than it grows row by row."""
        for table in models.MODELS.sorted_tables:
            for index in table.indexes:
                index.drop(at)
            _write_many(at, table, self.rows(table))
            for index in table.indexes:
                index.create(at)


def _write_many(at: Connection, table: Table, rows: Iterable[tuple[Any, ...]]) -> None:
    """Write whole rows, many at once, straight through the driver; no column of ours is turned into anything on the way.

    SQLite takes a statement of many rows in half the time of as many statements.
    """
    sql, names, rest = insert(table).compile(dialect=at.dialect), table.c.keys(), iter(rows)
    if sql.positional:
        begins, values, places = str(sql).rpartition("VALUES ")
        while some := list(islice(rest, MOST_PLACES // len(names))):
            at.exec_driver_sql(begins + values + ", ".join([places] * len(some)), tuple(chain.from_iterable(some)))
    else:
        while some := list(islice(rest, AT_A_TIME)):
            at.exec_driver_sql(str(sql), [dict(zip(names, row, strict=True)) for row in some])
