"""What can be known of a wood, and how well: Trait, Status, Figure, and the spread of single trees about a printed mean."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.units.share import print_share


class Trait(StrEnum):
    """One figure of a wood; the text is how a page names it."""

    SG_GREEN = "specific gravity (oven-dry mass, green volume)"
    SG_12 = "specific gravity (oven-dry mass, volume at 12 % moisture)"
    SHRINK_RADIAL = "radial shrinkage, green to oven dry"
    SHRINK_TANGENTIAL = "tangential shrinkage, green to oven dry"
    SHRINK_VOLUMETRIC = "volumetric shrinkage, green to oven dry"
    GREEN_MC_HEART = "green moisture of the heartwood"
    GREEN_MC_SAP = "green moisture of the sapwood"
    GREEN_MC_WHOLE = "green moisture of the whole tree"
    BARK_SHARE = "bark volume as a share of the wood's"
    BARK_SG = "specific gravity of the bark (oven-dry mass, green volume)"
    BARK_MC = "green moisture of the bark"
    JANKA_12 = "Janka hardness on the side at 12 % moisture [N]"
    JANKA_GREEN = "Janka hardness on the side, green [N]"
    MOE_12 = "modulus of elasticity in bending at 12 % moisture [Pa]"
    CHANGE_RADIAL = "radial change coefficient per 1 % moisture, 6 to 14 %"
    CHANGE_TANGENTIAL = "tangential change coefficient per 1 % moisture, 6 to 14 %"


HARDNESS = frozenset({Trait.JANKA_12, Trait.JANKA_GREEN})
CHANGES = frozenset({Trait.CHANGE_RADIAL, Trait.CHANGE_TANGENTIAL})


class Status(StrEnum):
    """How far a figure can be trusted; the text is the mark printed beside it."""

    SEEN = "read in the source"
    CONFIRMED = "from memory, confirmed by change coefficients that were read"
    DERIVED = "worked back from change coefficients that were read"
    MEMORY = "from memory, unchecked"
    GENUS = "value of the genus or group, an estimate"
    DEFAULT = "the table's own default, an estimate"
    KIN = "from the spread of other woods, an estimate"


ESTIMATED = frozenset({Status.GENUS, Status.DEFAULT, Status.KIN})
"""Statuses of figures that were never measured on this species."""

TREE_SPREAD = {
    Trait.SG_GREEN: 0.10,
    Trait.SG_12: 0.10,
    Trait.SHRINK_RADIAL: 0.15,
    Trait.SHRINK_TANGENTIAL: 0.15,
    Trait.SHRINK_VOLUMETRIC: 0.15,
    Trait.JANKA_12: 0.20,
    Trait.JANKA_GREEN: 0.20,
    Trait.MOE_12: 0.22,
    Trait.CHANGE_RADIAL: 0.15,
    Trait.CHANGE_TANGENTIAL: 0.15,
}
"""Coefficient of variation within a species [-]: Wood Handbook FPL-GTR-190 ch. 4 and Table 5-6, from memory."""

GUESSED_SPREAD = {
    Trait.GREEN_MC_HEART: 0.20,
    Trait.GREEN_MC_SAP: 0.20,
    Trait.GREEN_MC_WHOLE: 0.20,
    Trait.BARK_SHARE: 0.25,
    Trait.BARK_SG: 0.10,
    Trait.BARK_MC: 0.25,
}
"""Coefficient of variation [-] where no source was found: ours, a guess."""

WIDENED = {Status.MEMORY: 1.5, Status.GENUS: 1.5, Status.DEFAULT: 2.5}
"""How much wider the range is drawn when the figure itself is in doubt: ours, a guess."""

WIDENED_GRAVITY = {**WIDENED, Status.GENUS: 2.2, Status.DEFAULT: 3.5}
"""The same for specific gravity: so wide that nearly nine in ten genus and default values hold the species' mean of the
Global Wood Density Database (Zanne and others 2009)."""


@dataclass(frozen=True)
class Figure:
    """One value of a wood with its range, its basis and its status."""

    value: Estimate
    status: Status

    @property
    def estimated(self) -> bool:
        """True when it was never measured on this species."""
        return self.status in ESTIMATED


def figure(trait: Trait, likely: float, key: str, status: Status, note: str = "", *, widen: float = 1.0) -> Figure:
    """A printed mean as a figure: the range is that of single trees about it, in the unit of `likely`."""
    sourced = trait in TREE_SPREAD
    trees = (TREE_SPREAD if sourced else GUESSED_SPREAD)[trait]
    doubt = (WIDENED_GRAVITY if trait is Trait.SG_GREEN else WIDENED).get(status, 1.0) * widen
    spread = trees * doubt
    said = f"{status}; trees vary by {print_share(trees)}, {'memory' if sourced else 'no source'}"
    if doubt > 1.0:
        said += f", drawn {doubt:.3g} times as wide, no source"
    basis = Basis(Ground.SOURCE, key, f"{said}; {note}" if note else said)
    reach = Z_95 * spread * likely
    return Figure(Estimate(likely, max(likely - reach, 0.0), likely + reach, basis, hard_min=0.0), status)


def reaching(figure: Figure, value: float, note: str) -> Figure:
    """The same figure with its range stretched to hold a second value that contradicts the first, same unit."""
    e = figure.value
    if e.low <= value <= e.high:
        return figure
    basis = Basis(e.basis.ground, e.basis.key, f"{e.basis.note}; {note}")
    wider = Estimate(e.likely, min(e.low, value), max(e.high, value), basis, e.hard_min, e.hard_max)
    return Figure(wider, figure.status)
