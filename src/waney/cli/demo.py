"""waney demo: a yard in an invented place, and the main job on it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import PlanJson, Units, View

SHEETS = ("log", "mill", "wants")
TALLY = "tally.json"


@answering
def demo(
    folder: Annotated[Path, typer.Option(help="Where the yard lies, or is to be made.")] = Path("demo-yard"),
    units: Units = View.INCHES,
    json: PlanJson = None,
    serve: Annotated[bool, typer.Option(help="Serve the app afterwards (there is none yet).")] = True,
) -> None:
    """Make a demo yard if there is none, plan its log anew, write the height card and the yard book, and print the plans."""
    from waney.cli.files import OUTPUT, can_be_written, read_text

    can_be_written(json, folder)
    made = _make_yard(folder)
    print(f"{'Made' if made else 'Found'} the yard of Alder Hollow, an invented place, in {folder}.\n", file=sys.stderr)
    sheets = {name: read_text(folder / f"{name}.toml") for name in SHEETS}
    from waney.cli.offering import Outputs, offer_plans

    plans = (folder / "plan.json", *((json,) if json else ()))
    offer_plans(sheets, None, units, Outputs(plans, folder / "height-card.pdf", folder / "plan.svg"))
    from waney.cli.demo_book import write_down

    write_down(folder, sheets, read_text(folder / "plan.json"))
    if serve and json != OUTPUT:
        print("\nThe app is not there yet; the sheets in the yard can be changed and planned again.")


def _make_yard(folder: Path) -> bool:
    """Copy the sheets that are missing; whether any was."""
    from importlib.resources import files

    folder.mkdir(exist_ok=True)
    missing = [name for name in (*(f"{sheet}.toml" for sheet in SHEETS), TALLY) if not (folder / name).exists()]
    for name in missing:
        text = (files("waney") / "data" / "demo" / name).read_text(encoding="utf-8")
        (folder / name).write_text(text, encoding="utf-8")
    return bool(missing)
