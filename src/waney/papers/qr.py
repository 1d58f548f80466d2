"""QR: the code beside a name. It holds `WANEY:` and the name as it is written, `WANEY:AB-12-P`.

A phone that knows nothing of Waney shows the name. Capitals, digits, colon and dash are all of QR's own small alphabet, so the
squares stay large.
"""

from __future__ import annotations

from functools import lru_cache

import segno

from waney.yard.names import Name, read_name
from waney.yard.problems import BadName

MARK = "WANEY:"
QUIET = 4
"""white squares that must stay free around a code; ISO/IEC 18004, from memory"""
LEVEL = "q"
"""a quarter of the code may be dirty, torn or wet; the level is raised where that costs no more squares"""


def content(name: Name) -> str:
    """What the code of a name holds.

    >>> content(Name("AB", 12))
    'WANEY:AB-12-P'
    """
    return f"{MARK}{name}"


def name_in(held: str) -> Name | None:
    """The name that a code holds; None for a code that is not ours or whose check character does not fit."""
    if not held.startswith(MARK):
        return None
    try:
        name = read_name(held.removeprefix(MARK))
    except BadName:
        return None
    return name if content(name) == held else None


def squares(name: Name) -> int:
    """Squares along a side, the white ones around it among them."""
    return int(_code(name).symbol_size(border=QUIET)[0])


def code_svg(name: Name) -> str:
    """The code as an SVG drawing with its white border."""
    return str(_code(name).svg_inline(border=QUIET, omitsize=True, dark="#000000", light="#ffffff"))


@lru_cache(maxsize=1024)
def _code(name: Name) -> segno.QRCode:
    return segno.make_qr(content(name), error=LEVEL, boost_error=True)
