"""Answers as JSON: they fit their schemas and do not depend on the view."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from waney.cli.formats import FORMATS

from .calling import EXAMPLES, LOG, ROOT, asked, run

JSON_ASKED = [
    ("waney-scale/1", ["scale", str(EXAMPLES / "log-rough.toml")]),
    ("waney-weight/1", ["weight", LOG, "--bears", "3500 lb"]),
    ("waney-weight/1", ["weight", LOG, str(EXAMPLES / "log-rough.toml")]),
    ("waney-wood/1", ["wood", "pear"]),
    ("waney-wood/1", ["wood", "black walnut"]),
    ("waney-emc/1", ["emc", "70 F", "65"]),
    ("waney-emc/1", ["emc", "--state", "CO", "--place", "Denver", "--indoors", "68 F"]),
    ("waney-places/1", ["emc", "--state", "CO"]),
]


@pytest.mark.parametrize(("form", "words"), JSON_ASKED)
def test_json_fits_its_schema_and_does_not_depend_on_units(form: str, words: list[str]) -> None:
    document = asked(*words)
    assert document["format"] == form
    assert asked(*words, "--units", "mm") == document


def test_every_schema_is_on_file() -> None:
    names = {f"{form.replace('/', '-')}.json" for form in ("waney-plan/1", "waney-commands/1", *FORMATS.values())}
    assert {path.name for path in (ROOT / "docs" / "schemas").iterdir()} == names


def test_json_to_a_file_leaves_the_text_on_the_output(tmp_path: Path) -> None:
    code, said, told = run("wood", "pear", "--json", str(tmp_path / "pear.json"))
    assert code == 0 and said.startswith("pear (Pyrus communis)") and "Written" in told
    assert json.loads((tmp_path / "pear.json").read_text(encoding="utf-8")) == asked("wood", "pear")


@pytest.mark.long
def test_plan_writes_json_alone_to_the_output_and_it_replays(in_yard: Path) -> None:
    sheets = ("demo-yard/log.toml", "--mill", "demo-yard/mill.toml", "--wants", "demo-yard/wants.toml")
    document = asked("plan", *sheets, "--pattern", "through")
    (in_yard / "out.json").write_text(json.dumps(document), encoding="utf-8")
    assert asked("replay", "out.json")["holds"] is True
    asked("plan", *sheets, "--pattern", "through", "--pith-at", "13 1/4 in, 12 in")
