"""A paper tally typed in: its lines become the same list of commands that a phone would have sent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from uuid import UUID, uuid5

from waney.yard.acts.every import Act
from waney.yard.acts.mill import CameOff, Off
from waney.yard.acts.people_places import NoteWritten
from waney.yard.book.looking import pieces
from waney.yard.commands import Command, write_commands
from waney.yard.here import kept
from waney.yard.services.hand import Hand
from waney.yard.services.lists import Taken, take_in


@dataclass(frozen=True)
class TypedLine:
    """One line of the paper; what the pencil left out is left out. widths_m: at the butt and the top end, as far as written."""

    name: str = ""
    thickness_m: float | None = None
    widths_m: tuple[float, ...] = ()
    length_m: float | None = None
    how: Off = Off.AS_MEANT
    remark: str = ""


def take_in_typed(hand: Hand, paper: str, day: str, log: str, spot: str, lines: Sequence[TypedLine]) -> tuple[Taken, ...]:
    """Every line a piece, in the order of the paper; a remark is a note on its piece.

    paper: an id of this sheet of paper, which counts as a device: sent twice it is written once.
    Raises BookFull, BookBusy.
    """
    now, own = hand.now(), {_piece(paper, n) for n in range(1, len(lines) + 1)}
    before = sum(one.id not in own for one in pieces(hand.book, log)) if log else 0
    acts = _acts(paper, day, log, spot, before, lines)
    commands = tuple(Command(ident, paper, count, hand.person, kept(now), act) for count, (ident, act) in enumerate(acts, 1))
    return take_in(hand.book, write_commands(paper, commands), now)


def _acts(paper: str, day: str, log: str, spot: str, before: int, lines: Sequence[TypedLine]) -> Iterator[tuple[str, Act]]:
    for n, line in enumerate(lines, 1):
        piece = _piece(paper, n)
        yield _own(paper, f"line {n}"), _came_off(line, piece, day, log, spot, before + n)
        if line.remark:
            yield _own(paper, f"remark {n}"), NoteWritten(f"piece:{piece}", line.remark)


def _own(paper: str, what: str) -> str:
    """An id that belongs to the sheet of paper."""
    return str(uuid5(UUID(paper), what))


def _piece(paper: str, line: int) -> str:
    return _own(paper, f"piece {line}")


def _came_off(line: TypedLine, piece: str, day: str, log: str, spot: str, order: int) -> CameOff:
    return CameOff(
        piece,
        day,
        log,
        name=line.name,
        order=order if log else None,
        how=line.how,
        thickness_m=line.thickness_m,
        length_m=line.length_m,
        widths_m=line.widths_m,
        spot=spot,
    )
