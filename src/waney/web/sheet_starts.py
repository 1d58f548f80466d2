"""Sheets to begin with: the questions that must be answered, with nothing answered that only the shop can know."""

from __future__ import annotations

MILL = """\
format = "waney-mill/1"
units = "in"

# Measured on your mill. These five are needed; docs/sheets.md has the others.
name = ""
kerf = 0.083                     # measured on a cut in scrap
widest_cut =                     # between the guides
highest =                        # underside of the blade above the bed
lowest = 1
bed_length = ""
"""
WANTS = """\
format = "waney-wants/1"
units = "in"

# Three answers are enough; prices make the comparison one of money.
first = "live-edge slabs 8/4"
rest = "edged 4/4"
least_width = 4
"""
KILNS = """\
format = "waney-kilns/1"
units = "in"

# Room inside, and what the floor or cart bears; docs/sheets.md has the other fields. Someone else's: say whose it is.
[[kiln]]
name = ""
length = ""
width =
height =
bears = ""
heat = "air"                     # or plates, cycles, radio, sun
whose = ""
"""
