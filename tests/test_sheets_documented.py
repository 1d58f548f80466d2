"""docs/sheets.md names every field of every sheet and no other, and its defaults are those of the code."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from waney.drying.kilns_sheet import read_kilns
from waney.drying.load_sheet import read_load_sheet
from waney.drying.meter_sheet import read_meter_sheet
from waney.drying.stack_sheet import read_stack_sheet
from waney.logs.sheet import log_sheet
from waney.prices.price_sheet import read_price_sheet
from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.trade.costs_sheet import read_costs_sheet
from waney.trade.terms import read_terms
from waney.units.sheet import SheetProblems, Table, open_sheet

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "sheets.md").read_text(encoding="utf-8")
EXAMPLES = ROOT / "docs" / "examples"

# One of everything, so that every field is asked for.
WHOLE_LOG = """format = "waney-log/1"
units = "in"
species = "white oak"
length = "10 ft"
bark = { thickness = 1 }
middle = { girth = 60 }
section = [{ distance = 30, girth = 66 }]
sweep = { depth = 1, clock = 3 }
crook = [{ distance = 60, depth = 1, clock = 3 }]
crotch = { from = 90 }
trimmed = { butt = 2, top = 1 }
flat = [{ clock = 3, halved = true }]
[butt]
diameter = 20
pith = { from_middle = 0 }
hollow = { across = 2 }
rot = { across = 2 }
stain = { across = 2 }
[top]
pith = { from_middle = 0 }
hollow = { across = 2 }
rot = { across = 2 }
stain = { across = 2 }
[top.outline]
scale = { from = [0, 0], to = [10, 0], length = 10 }
points = [[9, 0], [6, 6], [0, 9], [-6, 6], [-9, 0], [-6, -6], [0, -9], [6, -6]]
"""
WHOLE_LOG += "".join(f"[[{kind}]]\ndistance = 50\n" for kind in ("metal", "rot", "hollow", "stain", "knot", "split"))
SCANNED_LOG = """format = "waney-log/1"
units = "in"
species = "white oak"
[scan]
file = "log.ply"
butt = [0, 0, 0]
top = [0, 0, 3]
mark = [0, 1, 0]
"""
WIDER = "[[{0}.wider]]\nfrom_width = 12\nfactor = 1.2\n"
WHOLE_WANTS = (EXAMPLES / "wants-slabs-and-boards.toml").read_text(encoding="utf-8").replace("[[then]]", "[then]")
WHOLE_WANTS += WIDER.format("then") + WIDER.format("rest") + "[[lost]]\nshare = 5\n"


def wants(text: str) -> Any:
    return read_wants_sheet(text, 3.0)


WHOLE_MILL = (EXAMPLES / "mill-full.toml").read_text(encoding="utf-8")

WHOLE_KILN = """format = "waney-kilns/1"
units = "in"
[[kiln]]
[kiln.plates]
at = "140 F"
[kiln.radio]
at = "140 F"
[kiln.cycle]
dry_bulb = "140 F"
"""
PRICES_BY_AREA = 'format = "waney-prices/1"\nunits = "mm"\n[[wood]]\nspecies = "ash"\n'

WHOLE_METER = """format = "waney-meter/1"
units = "in"
[[wood]]
species = "white oak"
reads = [7, 12]
is = [8, 13]
"""

IN_THE_SUN = (EXAMPLES / "stack-chamber.toml").read_text(encoding="utf-8")
READERS: dict[str, tuple[str, Callable[[str], Any], list[str]]] = {
    "Log sheet": ("waney.logs.sheet", log_sheet, [WHOLE_LOG, WHOLE_LOG.replace("[top.outline]", "[butt.outline]"), SCANNED_LOG]),
    "Mill sheet": (
        "waney.sawing.sheets.mill_sheet",
        read_mill_sheet,
        [(EXAMPLES / "mill-full.toml").read_text(encoding="utf-8")],
    ),
    "Stack sheet": (
        "waney.drying.stack_sheet",
        read_stack_sheet,
        [(EXAMPLES / "stack-mixed.toml").read_text(encoding="utf-8"), IN_THE_SUN, IN_THE_SUN.replace('"sun"', '"dehumidifier"')],
    ),
    "Meter sheet": ("waney.drying.meter_sheet", read_meter_sheet, [WHOLE_METER]),
    "Kilns sheet": (
        "waney.drying.kilns_sheet",
        read_kilns,
        [WHOLE_KILN, (EXAMPLES / "kiln-sun.toml").read_text(encoding="utf-8")],
    ),
    "Load sheet": ("waney.drying.load_sheet", read_load_sheet, [(EXAMPLES / "load-mixed.toml").read_text(encoding="utf-8")]),
    "Wants sheet": ("waney.sawing.sheets.wants_sheet", wants, [WHOLE_WANTS]),
    "Prices sheet": (
        "waney.prices.price_sheet",
        read_price_sheet,
        [(EXAMPLES / "prices-shelf.toml").read_text(encoding="utf-8"), PRICES_BY_AREA],
    ),
    "Terms sheet": ("waney.trade.terms", read_terms, [(EXAMPLES / "terms-custom.toml").read_text(encoding="utf-8")]),
    "Costs sheet": ("waney.trade.costs_sheet", read_costs_sheet, ['format = "waney-costs/1"\nunits = "in"\n']),
}
COMMON = {"format", "units", "comma", "currency"}


def part(title: str) -> str:
    """The text below a second-level heading."""
    found = re.search(rf"^## {title}\n(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL)
    assert found is not None, title
    return found[1]


def rows(title: str) -> dict[str, str]:
    """Dotted field -> its row, for every heading that a table stands under."""
    documented = {}
    for heading, body in re.findall(r"^### (.*)\n((?:(?!^### ).*\n?)*)", part(title), re.MULTILINE):
        names = re.findall(r"`\[+([a-z_.]+)\]+`", heading) or [""]
        for field, row in re.findall(r"^\| `([a-z_]+)` \|(.*)\|$", body, re.MULTILINE):
            documented |= {f"{name}.{field}".strip("."): row for name in names}
    return documented


def headings(title: str) -> set[str]:
    return {
        name for line in re.findall(r"^### (.*)$", part(title), re.MULTILINE) for name in re.findall(r"`\[+([a-z_.]+)\]+`", line)
    }


def asked_by(title: str, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Every dotted field that the reader of a sheet asks for."""
    module, reader, texts = READERS[title]
    opened: list[Table] = []

    def watched(text: str, format_name: str) -> Table:
        opened.append(open_sheet(text, format_name))
        return opened[-1]

    monkeypatch.setattr(f"{module}.open_sheet", watched)
    for text in texts:
        try:
            reader(text)
        except SheetProblems:  # what is wrong does not matter here: all fields have been asked for
            continue
    return {field for table in opened for field in table.asked}


@pytest.mark.parametrize("title", READERS)
def test_every_field_is_documented_and_nothing_else(title: str, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = asked_by(title, monkeypatch) - COMMON
    documented = rows(title).keys() | headings(title)
    assert asked - documented == set(), "fields without a row"
    assert rows(title).keys() - asked == set(), "rows without a field"


def test_what_all_sheets_share_is_documented() -> None:
    assert rows("All sheets").keys() == COMMON


@pytest.mark.parametrize("title", READERS)
def test_the_short_example_of_each_sheet_can_be_read(title: str) -> None:
    (short,) = re.findall(r"```toml\n(.*?)```", part(title), re.DOTALL)
    assert READERS[title][1](short)


MILL = (
    'format = "waney-mill/1"\nunits = "{}"\nkerf = "2 mm"\nwidest_cut = "28 in"\n'
    'highest = "30 in"\nlowest = "1 in"\nbed_length = "20 ft"\n'
)
WANTS = (
    'format = "waney-wants/1"\nunits = "{}"\ncurrency = "EUR"\nleast_width = "4 in"\n'
    '[first]\nthickness = "8/4"\ngrain = "flat"\nprice = 3\nper = "m3"\n'
    '[rest]\nthickness = "4/4"\nprice = 3\nper = "board foot"\n'
)


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize(("title", "text"), [("Mill sheet", MILL), ("Wants sheet", WANTS)])
def test_every_default_is_documented_as_it_is_printed(title: str, text: str, units: str) -> None:
    documented, words = rows(title), " ".join(part(title).split())
    for default in READERS[title][1](text.format(units)).defaults:
        assert default.value in documented.get(default.field, words), default.field
