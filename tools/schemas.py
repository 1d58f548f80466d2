"""Writes docs/schemas from the types of the code: python tools/schemas.py"""

from __future__ import annotations

import json
from pathlib import Path

from waney.cli.formats import FORMATS, schema
from waney.sawing.plan_file import plan_schema
from waney.yard.commands import commands_schema

FOLDER = Path(__file__).parents[1] / "docs" / "schemas"


def schemas() -> dict[str, str]:
    """Name of the file -> its text."""
    answers = {form.replace("/", "-"): schema(kind) for kind, form in FORMATS.items()}
    forms = {"waney-plan-1": plan_schema(), "waney-commands-1": commands_schema(), **answers}
    return {f"{name}.json": json.dumps(form, indent=2, ensure_ascii=False) + "\n" for name, form in forms.items()}


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in schemas().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
