"""What a person does with someone else's kiln: hands a load over, takes it back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.yard.acts.kilns import LoadHandedOver, LoadTakenBack, OwnersTold
from waney.yard.acts.people_places import Weighed
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand


@dataclass(frozen=True)
class ReadAtHome:
    """What a piece weighs and reads as it comes back; None: not told, and nothing is written."""

    piece: str
    mass_kg: float | None = None
    shell_mc: float | None = None
    core_mc: float | None = None
    by: ReadBy = ReadBy.TOLD


def hand_over(hand: Hand, act: LoadHandedOver) -> Answer:
    """Pieces go to someone else's kiln."""
    return hand.write(act)


def tell_owners(hand: Hand, act: OwnersTold) -> Answer:
    """Whose the pieces of a load are."""
    return hand.write(act)


def take_back(hand: Hand, act: LoadTakenBack, read: Sequence[ReadAtHome] = ()) -> Answer:
    """Pieces are home, with what was read of them; a load that is home and not read stands in the book all the same."""
    readings = [each for one in read for each in _readings(one)]  # if one cannot be read, nothing is written
    answer = hand.write(act)
    for each in readings:
        hand.write(each)
    return answer


def _readings(one: ReadAtHome) -> list[Weighed | MoistureRead]:
    about = f"piece:{one.piece}"
    depths = ((Depth.SHELL, one.shell_mc), (Depth.CORE, one.core_mc))
    found: list[Weighed | MoistureRead] = [MoistureRead(about, mc, one.by, depth) for depth, mc in depths if mc is not None]
    return [*found, Weighed(about, one.mass_kg)] if one.mass_kg is not None else found
