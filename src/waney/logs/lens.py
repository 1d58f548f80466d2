"""Lenses of phones: how long they are for the size of their pictures."""

from __future__ import annotations

FOCAL = 0.76
FOCAL_SPREAD = 0.15
"""Focal length over the longer side of the picture, and the spread of its logarithm: main cameras of phones, 24 to 30 mm in
small-picture terms, are 0.67 to 0.83. Ours, from memory; a picture that was cut or zoomed is not of this kind."""
