"""waney demo: a yard in an invented place, and the main job on it."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import PlanJson, Units, View, shop_of

SHEETS = ("log", "mill", "wants")
TALLY = "tally.json"
BESIDE = ("kilns.toml", "load.toml", "piece.toml", "board.toml", "prices.toml", "terms.toml", "core-record.csv", TALLY)
"""laid beside the sheets, for other commands"""
BOOK = "book.sqlite"
"""named here too: asking the yard book where it lies takes half a second of loading"""


@answering
def demo(
    folder: Annotated[Path, typer.Option(help="Where the yard lies, or is to be made.")] = Path("demo-yard"),
    units: Units = View.INCHES,
    json: PlanJson = None,
    serve: Annotated[bool, typer.Option(help="Serve the app afterwards, until Ctrl-C.")] = True,
) -> None:
    """Make a demo yard with a book of an invented year if there is none, plan its log anew, print the plans, serve the yard."""
    from waney.cli.files import OUTPUT, can_be_written, read_text

    can_be_written(json, folder)
    made = _make_yard(folder)
    print(f"{'Made' if made else 'Found'} the yard of Alder Hollow, an invented place, in {folder}.\n", file=sys.stderr)
    sheets = {name: read_text(folder / f"{name}.toml") for name in SHEETS}
    from waney.cli.offering import Outputs, offer_plans

    plans = (folder / "plan.json", *((json,) if json else ()))
    offer_plans(sheets, None, units, Outputs(plans, folder / "height-card.pdf", folder / "plan.svg"))
    _write_down(folder, sheets, units)
    if serve and json != OUTPUT:
        print("\nThe first page asks for a name and a password of yours. Ctrl-C ends it.", flush=True)
        from waney.cli.serving import serve_yard

        serve_yard((str(folder),))


def _write_down(folder: Path, sheets: dict[str, str], units: View) -> None:
    """The yard's book, unless there is one."""
    from waney.cli.files import read_text
    from waney.cli.progress import working

    if (folder / BOOK).is_file():
        return
    with working("Writing down the year of Alder Hollow"):
        from waney.cli.demo_book import write_down

        write_down(folder, sheets, read_text(folder / "plan.json"), datetime.now(UTC), shop_of(units))


def _make_yard(folder: Path) -> bool:
    """Copy the sheets that are missing; whether any was."""
    from importlib.resources import files

    folder.mkdir(exist_ok=True)
    missing = [name for name in (*(f"{sheet}.toml" for sheet in SHEETS), *BESIDE) if not (folder / name).exists()]
    for name in missing:
        text = (files("waney") / "data" / "demo" / name).read_text(encoding="utf-8")
        (folder / name).write_text(text, encoding="utf-8")
    return bool(missing)
