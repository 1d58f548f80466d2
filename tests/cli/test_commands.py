"""The commands as a person calls them: what they print, what they write, how they end."""

from __future__ import annotations

import subprocess
import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest
from typer.testing import CliRunner

from waney.cli.main import app

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "docs" / "examples"
NAMES = ("scale", "plan", "replay", "wood", "emc", "weight", "demo")
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


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(app, list(words))
    return result.exit_code, result.output


def test_page_of_commands_is_fresh() -> None:
    spec = spec_from_file_location("commands_page", ROOT / "tools" / "commands_page.py")
    assert spec is not None and spec.loader is not None
    writer = module_from_spec(spec)
    spec.loader.exec_module(writer)
    assert writer.NAMES == NAMES
    assert (ROOT / "docs" / "commands.md").read_text(encoding="utf-8") == writer.page(), "run: python tools/commands_page.py"


def test_every_command_has_an_example_in_its_help() -> None:
    for name in NAMES:
        code, said = run(name, "--help")
        assert code == 0 and f"waney {name}" in said


def test_plan_writes_a_card_a_drawing_and_a_plan_that_replays(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    files = {name: tmp_path / f"out.{name}" for name in ("json", "pdf", "svg")}
    code, said = run(
        "plan", str(EXAMPLES / "log-taped.toml"), "--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants),
        "--json", str(files["json"]), "--card", str(files["pdf"]), "--svg", str(files["svg"]), "--full", "--filled-in",
    )  # fmt: skip
    assert code == 0, said
    assert "optimal on the stated" in said.lower().replace("\n", " ")
    assert "Filled in, because nobody typed it" in said
    assert files["pdf"].read_bytes().startswith(b"%PDF") and files["svg"].read_text(encoding="utf-8").startswith("<svg")
    assert run("replay", str(files["json"])) == (0, "Every lie, pass, piece and cent was found again.\n")
    spoilt = files["json"].read_text(encoding="utf-8").replace('"roll_deg": ', '"roll_deg": 9', 1)
    (tmp_path / "spoilt.json").write_text(spoilt, encoding="utf-8")
    assert run("replay", str(tmp_path / "spoilt.json"))[0] == 1


def test_a_log_that_does_not_fit_is_answered_with_the_plans_that_follow(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    sheets = ("--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants))
    code, said = run("plan", str(EXAMPLES / "log-flared.toml"), *sheets, "--json", str(tmp_path / "out.json"))
    assert code == 3, said
    first, *rest = said.splitlines()
    assert first.startswith("Flared oak does not fit this mill: ") and first.endswith(" too wide for the guides.")
    said = "\n".join(rest)
    assert "widest cut between the guides" in said and "the mill has" in said
    assert "trim the butt by" in said and '  [trimmed]\n  butt = "' in said and "halved = true" in said
    assert "Helmet, eyes, ears and leg cover on" in said, "caution at the point of danger"
    written = sorted(path for path in tmp_path.iterdir() if path.suffix == ".json")
    assert written
    for path in written:
        assert run("replay", str(path))[0] == 0


def test_a_cant_set_aside_is_planned_from_its_flats(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    out = tmp_path / "out.json"
    sheets = ("--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants))
    code, said = run("plan", str(EXAMPLES / "log-cant.toml"), *sheets, "--json", str(out), "--card", str(tmp_path / "card.pdf"))
    assert code == 0, said
    assert run("replay", str(out))[0] == 0


@pytest.mark.parametrize("name", ["log-rough", "log-girth", "log-sections", "log-taped", "log-crotch"])
def test_scale_answers_for_half_known_logs(name: str) -> None:
    code, said = run("scale", str(EXAMPLES / f"{name}.toml"))
    assert code == 0, said
    assert "International 1/4-inch" in said and "Wood inside bark" in said


def test_what_the_person_can_mend_is_a_sentence_and_code_one(tmp_path: Path) -> None:
    sheet = tmp_path / "log.toml"
    sheet.write_text('format = "waney-log/1"\nunits = "in"\nspecies = "black wallnut"\nlenght = 96\n', encoding="utf-8")
    code, said = run("scale", str(sheet))
    assert code == 1 and "length" in said and "Traceback" not in said
    assert run("scale", str(tmp_path / "nothing.toml"))[0] == 1
    assert run("emc", "70 F", "165")[0] == 1
    assert run("wood", "no such wood")[0] == 1
    assert run("plan")[0] == 2


def test_emc_is_the_handbook_s() -> None:
    # Wood Handbook Table 4-2: 12.0 % at 70 °F and 65 % relative humidity
    assert run("emc", "70 F", "65")[1].startswith("12 %")


def test_help_starts_without_the_engines() -> None:
    code = "import sys; import waney.cli.main; print([m for m in ('numpy', 'scipy', 'numba') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "[]"


def test_demo_makes_a_yard_and_its_plan_replays(tmp_path: Path) -> None:
    yard = tmp_path / "yard"
    code, said = run("demo", "--no-serve", "--folder", str(yard))
    assert code == 0, said
    assert {path.name for path in yard.iterdir()} == {
        "log.toml", "mill.toml", "wants.toml", "plan.json", "plan.svg", "height-card.pdf",
    }  # fmt: skip
    assert run("replay", str(yard / "plan.json"))[0] == 0
