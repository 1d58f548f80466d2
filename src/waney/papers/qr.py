"""QR: the code beside a name, drawn. What it holds is `yard.tag_codes`."""

from __future__ import annotations

from functools import lru_cache

import segno

from waney.yard.names import Name
from waney.yard.tag_codes import content

QUIET = 4
"""white squares that must stay free around a code; ISO/IEC 18004, from memory"""
LEVEL = "q"
"""a quarter of the code may be dirty, torn or wet; the level is raised where that costs no more squares"""


def squares(name: Name) -> int:
    """Squares along a side, the white ones around it among them."""
    return int(_code(name).symbol_size(border=QUIET)[0])


def code_svg(name: Name) -> str:
    """The code as an SVG drawing with its white border."""
    return str(_code(name).svg_inline(border=QUIET, omitsize=True, dark="#000000", light="#ffffff"))


@lru_cache(maxsize=1024)
def _code(name: Name) -> segno.QRCode:
    return segno.make_qr(content(name), error=LEVEL, boost_error=True)
