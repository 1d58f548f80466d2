"""Commands called as a person calls them: how they end, what they print."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

from tests.fits import fits
from typer.testing import CliRunner

from waney.cli.app import Ended
from waney.cli.formats import FORMATS, schema
from waney.cli.main import app
from waney.sawing.plan_file import plan_schema

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "docs" / "examples"
DEMO = ROOT / "src" / "waney" / "data" / "demo"
WANEY = (sys.executable, "-m", "waney")
HERE = os.environ | {"PYTHONPATH": str(ROOT / "src")}
SLIP, WRITTEN, NO = Ended.SHEET, Ended.WRITTEN, Ended.NO
WANTS = """format = "waney-wants/1"
units = "in"
currency = "USD"
least_width = 4
target_mc = 8
[first]
name = "slab"
thickness = "8/4"
edges = "live"
least_length = "6 ft"
price = 11.00
per = "board foot"
[rest]
thickness = "4/4"
edges = "edged"
least_length = "6 ft"
most_width = 10
price = 6.00
per = "board foot"
[search]
patterns = ["through"]
rolls_every = 90
"""
METER = """format = "waney-meter/1"
units = "in"
made_for = "68 F"
[[wood]]
species = "white oak"
reads = [7, 12, 20]
is = [8, 13.5, 22]
"""
LOG = str(DEMO / "log.toml")
SHEETS = (LOG, "--mill", str(DEMO / "mill.toml"), "--wants", str(DEMO / "wants.toml"))


def run(*words: str) -> tuple[int, str, str]:
    """Exit code, what stands on the output, what stands on the error stream."""
    result = CliRunner().invoke(app, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


def asked(*words: str) -> dict[str, object]:
    """The JSON that a command writes to its output, held against its schema."""
    code, said, told = run(*words, "--json", "-")
    assert code == 0, told
    document: dict[str, object] = json.loads(said)
    form = plan_schema() if document["format"] == "waney-plan/1" else None
    for kind, name in FORMATS.items():
        form = schema(kind) if name == document["format"] else form
    assert form is not None and fits(document, form, form)
    return document
