"""Records: what the compiled functions are handed, as named tuples of plain arrays. SI and cents."""

from __future__ import annotations

from typing import NamedTuple, cast

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

# columns of Orders.sizes: metres, cents, shares
THICKNESS, TAKEN, LEAST_WIDTH, MOST_WIDTH, TRIM = 0, 1, 2, 3, 4
PER_PIECE, PER_M, PER_M2, FINISHING, DAYS, LOSS, LOSS_PITH, PITH_FACTOR, GRAIN_SHARE, SET_FACTOR = (
    5,
    6,
    7,
    8,
    9,
    10,
    11,
    12,
    13,
    14,
)
# columns of Orders.kinds
EDGED, CUPS, WIDTH_RULE, BLOCKED_BY, GRAIN, SET_OF, FIXED = 0, 1, 2, 3, 4, 5, 6
# entries of Orders.rates
SALVAGE, DRYING, EDGING, RADIAL, TANGENTIAL, DRYNESS, FLAT_ABOVE, QUARTER_UP_TO = 0, 1, 2, 3, 4, 5, 6, 7

FLAT, RIFT, QUARTER = 0, 1, 2
NARROW, MEAN, MIDDLE, WIDEST = 0, 1, 2, 3
PITH_BIT, METAL_BIT = 1 << 20, 1 << 21
"""Kinds of obstacles that the kernel itself knows; the other bits are the caller's."""


YES, NO = cast(bool, np.bool_(True)), cast(bool, np.bool_(False))
"""Flags that compiled functions hand to each other: numba compiles a body for True and one more for False, for these one."""


class Orders(NamedTuple):
    """sizes (J, 15) and kinds (J, 7) by the columns above; widths (J, ·) and lengths (J, ·) [m], falling, padded with nan;
    wide (J, ·, 2): from width [m], factor; rates (8,). kinds FIXED: steps set by the person, 0 = to be found; GRAIN -1 = any;
    FLAT_ABOVE, QUARTER_UP_TO: squared cosines that part the grains."""

    sizes: Array
    kinds: Whole
    widths: Array
    lengths: Array
    wide: Array
    rates: Array


class Sections(NamedTuple):
    """Stations w (W,) from w0 to w1 and the log's polygons there: u, v inside bark and over bark, each (W, m) [m]."""

    w: Array
    wood_u: Array
    wood_v: Array
    bark_u: Array
    bark_v: Array


class Rings(NamedTuple):
    """A ring field (z (n,), pith (k, n, 2), reach (k, n, m)) and the move of its log to the saw; nearer to the pith than
    blind_m, ring angles are undefined."""

    z: Array
    pith: Array
    reach: Array
    turn: Array
    shift: Array
    blind_m: float


class Obstacles(NamedTuple):
    """Zones and piths as rods along the bed. u, v (Z, W): centre at each station; radius (Z,) [m]; first, last (Z,): stations at
    which it is felt; kind (Z,) bit; chance (Z,). The piths come first, felt everywhere."""

    u: Array
    v: Array
    radius: Array
    first: Whole
    last: Whole
    kind: Whole
    chance: Array
    piths: int


class Effort(NamedTuple):
    """A mill as plain numbers: limits [m] and rates [cents]; feed widths and speeds (F,), empty = feeding takes no time."""

    widest: float
    lowest: float
    highest: float
    backstop: float
    thickest: float
    cents_per_min: float
    pass_min: float
    turn_min: float
    load_min: float
    edge_min: float
    feed_width: Array
    feed_speed: Array
    wear_per_m2: float
    blade: float
    metal_margin: float


class Variation(NamedTuple):
    """Standard deviation of thickness between boards set alike, the bed scale's own error [m], and the share that must finish."""

    sd: float
    scale_error: float
    share: float


class Ask(NamedTuple):
    """Everything about a search that is the same in every lie: orders, mill, how the settings are found, grid."""

    orders: Orders
    effort: Effort
    own: bool
    variation: Variation
    step: float
    kerf: float
