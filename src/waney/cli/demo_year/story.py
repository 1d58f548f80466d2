"""The story: what happened in an invented year, as values (data/demo/year.toml). Days are counted back from one day."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

INCH_M, FOOT_M = 0.0254, 0.3048


@dataclass(frozen=True)
class Told:
    """What somebody who offers a tree says of it; inches and feet, 0 for not read. asked: whole money, below 0 they pay.

    way_miles: there and back; hours: of driving and loading, everybody's.
    """

    wood: str
    girth_in: float
    small_end_in: float
    length_ft: float
    asked: int
    where: str
    words: str
    way_miles: float = 0.0
    hours: float = 0.0


@dataclass(frozen=True)
class Answered:
    """What was answered, why, and on what money, bad, likely, good; in whole money."""

    reply: str
    reason: str
    money: tuple[int, ...] = ()


@dataclass(frozen=True)
class Offer:
    """A tree that was offered; key: what its stem is called by, in the story alone."""

    ago: int
    told: Told
    answer: Answered | None = None
    key: str = ""
    photo: bool = False


@dataclass(frozen=True)
class LogTold:
    """A log. came: when it came and when it was felled; read: length [ft], butt and thin end [in]; stem: its place in it [ft].

    cuts: thickness in quarters of an inch, and how many, first off first; edged: all to one width [in]; cant: sawn again later.
    """

    code: str
    wood: str
    came: tuple[int, int]
    read: tuple[float, float, float]
    of: str = ""
    stem: float | None = None
    sawn: int | None = None
    cuts: tuple[tuple[int, int], ...] = ()
    edged: float = 0.0
    cant: bool = False
    planned: bool = False
    metal: float = 0.0
    """inches from the butt"""
    note: str = ""
    photo: bool = False
    gone: tuple[int, str, str] | None = None


@dataclass(frozen=True)
class Found:
    """A piece without a log: wood, quarters of an inch thick, feet long, its two widths, whether it was bought."""

    wood: str
    quarters: int
    length_ft: float
    widths_in: tuple[float, float]
    bought: bool


@dataclass(frozen=True)
class Later:
    """What became of pieces: days ago, code of the log, places in the boule, one word or more."""

    ago: int
    code: str
    places: tuple[int, ...]
    what: str
    words: str = ""


@dataclass(frozen=True)
class Story:
    """The whole year."""

    people: tuple[str, ...]
    place: str
    log_spot: str
    wet_stack: str
    racks: tuple[str, ...]
    spots: tuple[tuple[str, str], ...]
    offers: tuple[Offer, ...]
    logs: tuple[LogTold, ...]
    found_ago: int
    found: tuple[Found, ...]
    noted: tuple[Later, ...]
    gone: tuple[Later, ...]
    kept: tuple[Later, ...]
    days: tuple[int, ...] = field(default=())
    """the sawing days"""


@cache
def story() -> Story:
    """The story as it ships."""
    told = tomllib.loads((files("waney") / "data" / "demo" / "year.toml").read_text(encoding="utf-8"))
    logs = tuple(LogTold(**_tuples(row)) for row in told["log"])
    return Story(
        tuple(told["people"]),
        told["place"],
        told["log_spot"],
        told["wet_stack"],
        tuple(told["racks"]),
        tuple((called, within) for called, within in told["spots"]),
        tuple(map(_offer, told["offer"])),
        logs,
        told["found"]["ago"],
        tuple(Found(row[0], row[1], row[2], (row[3], row[4]), row[5]) for row in told["found"]["pieces"]),
        tuple(Later(ago, code, (place,), words) for ago, code, place, words in told["noted"]),
        tuple(Later(ago, code, (place,), how, words) for ago, code, place, how, words in told["gone"]),
        tuple(Later(ago, code, tuple(places), what) for ago, code, places, what in told["kept"]),
        tuple(sorted({log.sawn for log in logs if log.sawn is not None}, reverse=True)),
    )


def _offer(row: dict[str, Any]) -> Offer:
    answer = row.get("answer")
    answered = None if answer is None else Answered(answer[0], answer[1], tuple(answer[2:]))
    return Offer(row["ago"], Told(*row["told"]), answered, row.get("key", ""), row.get("photo", False))


def _tuples(row: dict[str, Any]) -> dict[str, Any]:
    """Lists as tuples, all the way down."""

    def frozen(value: Any) -> Any:
        return tuple(map(frozen, value)) if isinstance(value, list) else value

    return {name: frozen(value) for name, value in row.items()}


@dataclass(frozen=True)
class Slice:
    """One slice of a log sawn through and through: how high its lower face lies above the bed, its thickness, its widths."""

    height_m: float
    thickness_m: float
    widths_m: tuple[float, float]


KERF_M, LEAST_WIDTH_M = 0.0024, 0.08


def slices(log: LogTold) -> Iterator[Slice]:
    """Made-up slices of a round log, the first off first: the widths are chords at the thin end and at the butt."""
    thick = [quarters * INCH_M / 4 for quarters, count in log.cuts for _ in range(count)]
    stack = sum(thick) + KERF_M * (len(thick) - 1)
    butt, thin = (diameter * INCH_M / 2 for diameter in log.read[1:])
    top = stack / 2
    for each in thick:
        middle = top - each / 2
        chord = [2 * max(radius**2 - middle**2, 0.0) ** 0.5 for radius in (thin, butt)]
        narrow, wide = (log.edged * INCH_M,) * 2 if log.edged else (max(chord[0], LEAST_WIDTH_M), max(chord[1], LEAST_WIDTH_M))
        yield Slice(round(butt + top - each, 4), each, (round(narrow, 3), round(wide, 3)))
        top -= each + KERF_M
