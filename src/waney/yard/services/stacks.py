"""What a person does with stacks, loads of the kiln and the moisture meter."""

from __future__ import annotations

from waney.yard.acts.stacks import IntoKiln, MoistureRead, OutOfKiln, PutOnStack, StackBuilt, TakenOffStack
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand, Made


def build_stack(hand: Hand, stack: StackBuilt, rest: tuple[str, ...] = ()) -> Answer:
    """A stack stands there, with the layers that are known; rest: what lies on it somewhere."""
    lies = [PutOnStack(stack.stack, rest)] if rest else []  # if it cannot be read, nothing is written
    answer = hand.write(stack)
    for act in lies:
        hand.write(act)
    return answer


def put_on(hand: Hand, stack: str, pieces: tuple[str, ...], layer: int | None = None) -> Answer:
    """Pieces were laid on a stack."""
    return hand.write(PutOnStack(stack, pieces, layer))


def take_off(hand: Hand, stack: str, pieces: tuple[str, ...], spot: str = "") -> Answer:
    """Pieces are on it no more."""
    return hand.write(TakenOffStack(stack, pieces, spot))


def load_kiln(hand: Hand, kiln: str, stacks: tuple[str, ...] = (), pieces: tuple[str, ...] = (), words: str = "") -> Made:
    """A load goes in."""
    ident = hand.new_id()
    return Made(ident, hand.write(IntoKiln(ident, kiln, stacks, pieces, words)))


def unload_kiln(hand: Hand, load: str, words: str = "") -> Answer:
    """It is out."""
    return hand.write(OutOfKiln(load, words))


def read_moisture(hand: Hand, reading: MoistureRead) -> Answer:
    """The meter was read, or a sample weighed oven-dry."""
    return hand.write(reading)
