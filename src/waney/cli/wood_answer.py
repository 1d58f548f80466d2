"""A wood's figures as the answer that goes out as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from waney.cli.answers import AtMoisture, Figures, Known, Wood, range_of, ranged
from waney.figures.estimate import Estimate
from waney.wood.at_moisture import AtMoisture as At
from waney.wood.species import Species
from waney.wood.traits import CHANGES, HARDNESS, Figure, Trait


def _field(trait: Trait) -> str:
    """The trait's own name, and its unit where it has one."""
    unit = "_n" if trait in HARDNESS else "_pa" if trait is Trait.MOE_12 else "_per_pct" if trait in CHANGES else ""
    return trait.name.lower() + unit


FIGURE_OF: Mapping[Trait, str] = MappingProxyType({trait: _field(trait) for trait in Trait})
"""Which field of `Figures` holds a trait."""


def wood_answer(wood: Species, at: At, green: Estimate | None) -> Wood:
    """Everything that is known of a wood."""
    return Wood(
        id=wood.id,
        common=wood.common,
        botanical=wood.botanical,
        also_called=wood.synonyms,
        group=str(wood.group),
        figures=Figures(**{name: _known(wood.figure(trait)) for trait, name in FIGURE_OF.items()}),
        sawn_green_m3_kg=range_of(green),
        at=AtMoisture(
            mc=at.mc,
            density_kg_m3=range_of(at.density_kg_m3),
            sawn_m3_kg=range_of(at.sawn_m3_kg),
            shrunk_radial=range_of(at.shrunk_radial),
            shrunk_tangential=range_of(at.shrunk_tangential),
        ),
        notes=wood.notes,
    )


def _known(figure: Figure | None) -> Known | None:
    return None if figure is None else Known(ranged(figure.value), str(figure.status))
