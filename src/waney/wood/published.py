"""Rows of the packaged species tables as figures. What a table does not give stays out."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.tables import Row
from waney.units.share import print_share
from waney.wood.shrinkage import shrinkage_of_coefficient
from waney.wood.traits import Figure, Status, Trait, figure, reaching

Figures = dict[Trait, Figure]

GENUS_CODES = frozenset({"23", "24", "25"})
"""FIA citation codes whose values are those of a genus or group: 189 of the 193 rows of code 24 repeat the genus row."""
DEFAULT_CODES = frozenset({"26", ""})
"""26 marks the FIA table's defaults; a blank gives no citation and is taken for no better."""

_STATUS = {"seen": Status.SEEN, "memory": Status.MEMORY, "confirmed": Status.CONFIRMED, "derived": Status.DERIVED}


@dataclass(frozen=True)
class Column:
    """Which column of `species.csv` holds a trait, its factor to SI or shares, and the stem of its source and status columns."""

    trait: Trait
    name: str
    factor: float
    stem: str


COLUMNS = (
    Column(Trait.SG_GREEN, "sg_green", 1.0, "sg_green"),
    Column(Trait.SG_12, "sg_12", 1.0, "sg_12"),
    Column(Trait.SHRINK_RADIAL, "shrink_radial_pct", 0.01, "shrink"),
    Column(Trait.SHRINK_TANGENTIAL, "shrink_tangential_pct", 0.01, "shrink"),
    Column(Trait.SHRINK_VOLUMETRIC, "shrink_volumetric_pct", 0.01, "shrink"),
    Column(Trait.GREEN_MC_HEART, "green_mc_heart_pct", 0.01, "green_mc"),
    Column(Trait.GREEN_MC_SAP, "green_mc_sap_pct", 0.01, "green_mc"),
    Column(Trait.JANKA_12, "janka_12_n", 1.0, "strength"),
    Column(Trait.JANKA_GREEN, "janka_green_n", 1.0, "strength"),
    Column(Trait.MOE_12, "moe_12_gpa", 1e9, "strength"),
    Column(Trait.CHANGE_RADIAL, "change_radial_per_pct", 1.0, "change"),
    Column(Trait.CHANGE_TANGENTIAL, "change_tangential_per_pct", 1.0, "change"),
)

FIA_COLUMNS = (
    (Trait.SG_GREEN, "sg_wood", 1.0),
    (Trait.GREEN_MC_WHOLE, "mc_wood", 0.01),
    (Trait.BARK_SHARE, "bark_volume", 0.01),
    (Trait.BARK_SG, "sg_bark", 1.0),
    (Trait.BARK_MC, "mc_bark", 0.01),
)

OF_COEFFICIENT = {Trait.SHRINK_RADIAL: Trait.CHANGE_RADIAL, Trait.SHRINK_TANGENTIAL: Trait.CHANGE_TANGENTIAL}


def _fia_status(citation: str) -> Status:
    if citation in DEFAULT_CODES:
        return Status.DEFAULT
    return Status.GENUS if citation in GENUS_CODES else Status.SEEN


def of_fia(row: Row) -> Figures:
    """Figures of one row of `fia_species.csv`: wood, whole-tree moisture and bark."""
    found: Figures = {}
    for trait, stem, factor in FIA_COLUMNS:
        text = row[stem] if stem in row else row[f"{stem}_pct"]
        if text:
            status = _fia_status(row[f"{stem}_cit"])
            if row["botanical"].endswith(" spp."):
                status = Status.GENUS if status is Status.SEEN else status
            found[trait] = figure(trait, float(text) * factor, "fia-ref-species", status)
    return found


def _of_columns(row: Row) -> Figures:
    widen = 1.5 if row["low_confidence"] else 1.0
    return {
        column.trait: figure(
            column.trait,
            float(row[column.name]) * column.factor,
            row[f"{column.stem}_source"],
            _STATUS[row[f"{column.stem}_seen"]],
            widen=widen,
        )
        for column in COLUMNS
        if row[column.name]
    }


def _held_against_coefficients(found: Figures) -> None:
    """Stretch a shrinkage whose published change coefficient implies another value: both stay inside the range."""
    for shrink, change in OF_COEFFICIENT.items():
        if shrink in found and change in found:
            implied = shrinkage_of_coefficient(found[change].value.likely)
            note = f"its change coefficient implies {print_share(implied, 1)}"
            found[shrink] = reaching(found[shrink], implied, note)


def of_species(row: Row, fia: Row | None) -> Figures:
    """Figures of one row of `species.csv`, completed from its FIA row; a gravity taken over from FIA keeps FIA's status."""
    found = {**(of_fia(fia) if fia is not None else {}), **_of_columns(row)}
    if fia is not None and row["sg_green_source"] == "fia-ref-species":
        found[Trait.SG_GREEN] = of_fia(fia)[Trait.SG_GREEN]
    _held_against_coefficients(found)
    return found
