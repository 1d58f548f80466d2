"""Stack sheet: what hangs on a stack: since when, under what, its layers with their names, which pieces are weighed and where
they are drawn out, what it weighs on the ground, and what may lie on top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from waney.drying.bearing import Bears, PileWeight
from waney.drying.pile_parts import Pile
from waney.drying.pull_out import PullOut
from waney.figures.estimate import Estimate
from waney.papers.paper import Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.stack_drawing import Drawn, front, plans
from waney.papers.words import Shop, said
from waney.units.length import FOOT_NM, from_nanometres
from waney.units.mass import POUND

FOOT2_M2 = from_nanometres(FOOT_NM) ** 2


@dataclass(frozen=True)
class StackOnPaper:
    """facts: words and what they are of; proposed: nobody told the layers, and this is how they may be laid; chosen: pulls are
    weighed every week, else they are proposals; hidden: chosen, but not to be drawn out; woods: by the name of the piece;
    top_kg_m2: on the wood of the top layer."""

    name: str
    below: str
    facts: tuple[tuple[str, str], ...]
    pile: Pile
    proposed: bool
    pulls: tuple[PullOut, ...]
    chosen: bool
    hidden: tuple[str, ...]
    woods: Mapping[str, str]
    weight: PileWeight
    top_kg_m2: float
    bears: Bears | None
    left: tuple[tuple[str, str], ...]


def stack_sheet(told: StackOnPaper, shop: Shop, printed: date) -> Paper:
    """The paper."""
    parts = (*_stands(told), *_drawn(told, shop), *_on_the_ground(told, shop), *_weighed(told), *_listed(told, shop))
    return paper("Stack sheet", told.name, told.below, parts, shop, printed)


def _stands(told: StackOnPaper) -> Iterator[Part]:
    yield Table((Column("", 1.0), Column("", 2.6)), tuple((cell(what), cell(words)) for what, words in told.facts), strong=1)
    yield warn("stack", "straps")


def _drawn(told: StackOnPaper, shop: Shop) -> Iterator[Part]:
    drawn = Drawn(told.name, told.pile, {one.name: one for one in told.pulls}, shop)
    yield Heading("From the front")
    if told.proposed:
        yield Sentence(said("Nobody told its layers: this is how its pieces may be laid, stickers in line over bearers."))
    names = ", ".join(one.piece.name for layer in told.pile.layers for one in layer.laid)
    yield Picture(front(drawn), f"{told.name} from the front, {len(told.pile.layers)} layers: {names}")
    yield Sentence(
        said("Layers are drawn as high as each other; lengths and stickers are to scale. Shorter pieces: by turns at either end.")
    )
    yield Heading("Layer by layer, the lowest first")
    for svg, shows in plans(drawn):
        yield Picture(svg, shows)
    for name, why in told.left:
        yield Sentence(said(f"{name} is not drawn: {why}."))


def _weighed(told: StackOnPaper) -> Iterator[Part]:
    """Pull-out places, with room for a week's weights."""
    for name in told.hidden:
        yield Sentence(
            said(f"{name} is to be weighed and lies behind others: it cannot be drawn out. Choose one at the front or back.")
        )
    if not told.pulls:
        return
    yield Heading("Weighed every week" if told.chosen else "Pieces to weigh every week, proposed")
    yield Sentence(said("They are drawn out and put back: stickers above them are cut out, so that nothing holds them."))
    rows = tuple((cell(one.name), cell(_place(one)), cell(_cut_out(one)), (), ()) for one in told.pulls)
    heads = (("piece", 1.2), ("drawn out of", 1.6), ("stickers cut out", 1.5), ("day", 1.0), ("weight", 1.0))
    yield Table(tuple(Column(words, share) for words, share in heads), rows, 11.5, strong=1)


def _place(one: PullOut) -> str:
    return f"layer {one.layer}, from the {one.side}"


def _cut_out(one: PullOut) -> str:
    return f"the {len(one.cut_out)} over it" if one.cut_out else "none: it is on top"


def _on_the_ground(told: StackOnPaper, shop: Shop) -> Iterator[Part]:
    """Its weight, what a bearer and the ground get, what lies on top, and whether all bear it."""
    weight = told.weight
    most = max(weight.by_bearer_kg, key=lambda one: one.high)
    yield Heading("On the ground")
    rows = [
        ("all of it, as wet as it is", shop.heavy(weight.total_kg.high)),
        ("the bearer that gets most", shop.heavy(most.high)),
        ("the ground under that bearer", pressing(weight.under_bearer_kg_m2.high, shop)),
        ("the whole place it takes", pressing(weight.floor_kg_m2.high, shop)),
    ]
    if told.top_kg_m2:
        rows.append(("of that, on top", f"{shop.heavy(weight.top_kg)}, {pressing(told.top_kg_m2, shop)} of wood"))
    yield Table((Column("", 1.6), Column("up to", 1.2, figures=True)), tuple((cell(what), cell(words)) for what, words in rows))
    yield from (Sentence(said(words), large=True) for words in _over(told, most, shop))
    if told.bears is None:
        yield Sentence(said("What bearers and ground bear was not asked yet: look at both before anything heavy is laid on top."))


def _over(told: StackOnPaper, most: Estimate, shop: Shop) -> Iterator[str]:
    """What does not bear it, by the high ends."""
    if told.bears is None:
        return
    if most.high > told.bears.bearer_kg:
        bears = shop.bears(told.bears.bearer_kg)
        yield f"A bearer gets up to {shop.heavy(most.high)} and bears {bears}: more bearers, or less wood."
    under = told.weight.under_bearer_kg_m2.high
    if under > told.bears.ground_kg_m2:
        bears = pressing(told.bears.ground_kg_m2, shop)
        yield f"The ground gets up to {pressing(under, shop)} and bears {bears}: wider feet under the bearers, or less wood."


def pressing(kg_m2: float, shop: Shop) -> str:
    """A weight over an area, as this shop writes it."""
    return f"{kg_m2:.0f} kg/m2" if shop.sizes.metric else f"{POUND.of(kg_m2 * FOOT2_M2):.0f} lb/ft2"


def _listed(told: StackOnPaper, shop: Shop) -> Iterator[Part]:
    yield Heading("On it, the lowest first")
    rows = tuple(
        (
            cell(str(number)), cell(one.piece.name), cell(told.woods.get(one.piece.name, "")),
            cell(shop.read(one.piece.thickness_m)), cell(shop.have(one.piece.width_m)), cell(shop.long(one.piece.length_m)),
        )
        for number, layer in enumerate(told.pile.layers, 1)
        for one in layer.laid
    )  # fmt: skip
    columns = (
        Column("layer", 0.6, figures=True), Column("piece", 1.2), Column("wood", 1.6), Column("thick", figures=True),
        Column("widest", figures=True), Column("long", figures=True),
    )  # fmt: skip
    yield Table(columns, rows, strong=2)
