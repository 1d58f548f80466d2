"""Codes of a tally, read from pictures."""

from __future__ import annotations

import io

import zxingcpp
from PIL import Image, UnidentifiedImageError

from waney.web.pictures import FORMATS, MOST_PIXELS, BadPicture


def codes_in(picture: bytes) -> tuple[str, ...]:
    """What the QR codes of a picture say. Raises BadPicture."""
    try:
        with Image.open(io.BytesIO(picture), formats=FORMATS) as image:
            if image.width * image.height > MOST_PIXELS:
                raise BadPicture("This picture has more than 80 million pixels; send a smaller one.")
            grey = image.convert("L")
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        raise BadPicture("This is no photo in JPEG, PNG or WebP, or it is damaged; take it once more.") from None
    return tuple(
        code.text for code in zxingcpp.read_barcodes(grey, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    )
