"""Codes of a tally, read from pictures."""

from __future__ import annotations

import zxingcpp

from waney.yard.services.pictures import opened

ONLY = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)


def codes_in(picture: bytes) -> tuple[str, ...]:
    """What the QR codes of a picture say. Raises BadPicture."""
    with opened(picture) as image:
        return tuple(code.text for code in zxingcpp.read_barcodes(image.convert("L"), formats=ONLY))
