"""Everything a log's shape depends on that is not exactly known, by name, with its range and where that comes from.

Each part of a log names its own doubts: `rounds` (readings), `stem` (between and beyond them), `bark`, `centreline` (sweep and
crook), `ringfield` (piths), `hidden`. The log's length is taken as exact.
"""

from __future__ import annotations

from collections.abc import Mapping

from waney.figures.estimate import Estimate
from waney.figures.scenarios import likely
from waney.logs.bark import Barked, bark_doubts
from waney.logs.centreline import bend_doubts
from waney.logs.hidden import hidden_doubts
from waney.logs.measured import MeasuredLog
from waney.logs.ringfield import pith_doubts
from waney.logs.rounds import round_doubts
from waney.logs.shape import LogShape
from waney.logs.stem import ends_m, stem_doubts
from waney.logs.tape import build_shape, wood_rounds


def doubts(log: MeasuredLog, species: Barked | None = None) -> Mapping[str, Estimate]:
    """Every doubt about the shape, in the order one walks: readings, stem, bark, bends, piths, what is hidden.

    `species` tells how thick bark usually is; None: any species. The same names and order for the same log, always.
    Raises NothingRead, TwiceRead or BadOutline when the readings make no shape.
    """
    read = dict(round_doubts(log)) | dict(bark_doubts(log, species))
    wood = wood_rounds(log, likely(read))
    stem = stem_doubts(log, wood)
    butt_m, top_m = ends_m(log, wood, likely(stem))
    return {**read, **stem, **bend_doubts(log), **pith_doubts(log, butt_m, top_m), **hidden_doubts(log)}


def likely_shape(log: MeasuredLog, species: Barked | None = None) -> LogShape:
    """The shape with every doubt at its likely value."""
    return build_shape(log, likely(doubts(log, species)))
