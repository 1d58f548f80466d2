"""Stacks, loads of the kiln, and what the moisture meter says."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Fact, between, filled_lines, ids, ids_if_any, lines
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id, checked_stream, stream

MOST_PIECES = 2000
MOST_LAYERS = 200
THICKEST_STICKER_M = 0.2
HAVE_MOISTURE = ("piece", "stack", "load", "log")


def each_once(pieces: tuple[str, ...], least: int = 1) -> None:
    """Ids of pieces, none twice. Raises BadAct."""
    for each in pieces:
        checked_id(each, "pieces")
    if not least <= len(pieces) <= MOST_PIECES or len(set(pieces)) < len(pieces):
        raise BadAct(f"pieces are {least} to {MOST_PIECES}, each once.")


@dataclass(frozen=True)
class StackBuilt(Fact):
    """A stack stands there. layers: its pieces, layer by layer from the bottom, as far as known.

    sticker_m: thickness of the stickers; apart_m: from one to the next along the boards.
    """

    stack: str
    called: str
    spot: str = ""
    layers: tuple[tuple[str, ...], ...] = ()
    sticker_m: float | None = None
    apart_m: float | None = None

    def __post_init__(self) -> None:
        ids(stack=self.stack)
        ids_if_any(spot=self.spot)
        filled_lines(called=self.called)
        if len(self.layers) > MOST_LAYERS:
            raise BadAct(f"a stack has at most {MOST_LAYERS} layers.")
        each_once(self.pieces(), 0)
        between(0.001, THICKEST_STICKER_M, sticker_m=self.sticker_m)
        between(0.05, 5.0, apart_m=self.apart_m)

    def pieces(self) -> tuple[str, ...]:
        """All pieces, from the bottom."""
        return tuple(piece for layer in self.layers for piece in layer)

    def streams(self) -> tuple[Stream, ...]:
        """The stack; it counts in its spot and its pieces."""
        spot = [stream("spot", self.spot)] if self.spot else []
        return (self.makes(), *spot, *(stream("piece", each) for each in self.pieces()))

    def makes(self) -> Stream:
        """The stack."""
        return stream("stack", self.stack)


@dataclass(frozen=True)
class PutOnStack(Fact):
    """Pieces were laid on a stack; layer: counted from the bottom, from 1."""

    stack: str
    pieces: tuple[str, ...]
    layer: int | None = None

    def __post_init__(self) -> None:
        ids(stack=self.stack)
        each_once(self.pieces)
        between(1, MOST_LAYERS, layer=self.layer)

    def streams(self) -> tuple[Stream, ...]:
        """The stack and each piece."""
        return (stream("stack", self.stack), *(stream("piece", each) for each in self.pieces))


@dataclass(frozen=True)
class TakenOffStack(Fact):
    """Pieces are on a stack no more; spot: where they went."""

    stack: str
    pieces: tuple[str, ...]
    spot: str = ""

    def __post_init__(self) -> None:
        ids(stack=self.stack)
        ids_if_any(spot=self.spot)
        each_once(self.pieces)

    def streams(self) -> tuple[Stream, ...]:
        """The stack, each piece, and the spot."""
        spot = [stream("spot", self.spot)] if self.spot else []
        return (stream("stack", self.stack), *(stream("piece", each) for each in self.pieces), *spot)


@dataclass(frozen=True)
class IntoKiln(Fact):
    """A load was closed into the kiln: whole stacks, single pieces, or both. kiln: what it is called."""

    load: str
    kiln: str
    stacks: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    words: str = ""

    def __post_init__(self) -> None:
        ids(load=self.load)
        filled_lines(kiln=self.kiln)
        lines(words=self.words)
        each_once(self.stacks, 0)
        each_once(self.pieces, 0)
        if not self.stacks and not self.pieces:
            raise BadAct("a load has at least one stack or piece in it.")

    def streams(self) -> tuple[Stream, ...]:
        """The load, its stacks and its single pieces."""
        stacks, pieces = (stream("stack", each) for each in self.stacks), (stream("piece", each) for each in self.pieces)
        return (self.makes(), *stacks, *pieces)

    def makes(self) -> Stream:
        """The load."""
        return stream("load", self.load)


@dataclass(frozen=True)
class OutOfKiln(Fact):
    """The door was opened for good: the load is out."""

    load: str
    words: str = ""

    def __post_init__(self) -> None:
        ids(load=self.load)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The load."""
        return (stream("load", self.load),)


class Depth(StrEnum):
    """Where in the thickness it was read."""

    WHOLE = "whole thickness"
    SHELL = "shell"
    CORE = "core"


class ReadBy(StrEnum):
    """What it was read with."""

    PINS = "pin meter"
    PINLESS = "pinless meter"
    OVEN = "oven-dry sample"
    TOLD = "told by whoever dried it"


@dataclass(frozen=True)
class MoistureRead(Fact):
    """A moisture content, as a fraction of the oven-dry mass. wood_c: temperature of the wood; set_to: species on the meter.

    corrected: for species and temperature already. along_m: distance from the end nearer the butt.
    """

    what: str
    mc: float
    by: ReadBy
    depth: Depth = Depth.WHOLE
    along_m: float | None = None
    wood_c: float | None = None
    set_to: str = ""
    corrected: bool = False

    def __post_init__(self) -> None:
        checked_stream(self.what, "what", HAVE_MOISTURE)
        between(0.0, 3.0, mc=self.mc)
        between(0.0, 40.0, along_m=self.along_m)
        between(-40.0, 120.0, wood_c=self.wood_c)
        lines(set_to=self.set_to)

    def streams(self) -> tuple[Stream, ...]:
        """What was read."""
        return (Stream(self.what),)
