"""The commands as a person calls them: what they print, what they write, how they end."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from time import perf_counter
from types import ModuleType

import pytest
from tests.fits import fits
from typer.testing import CliRunner

from waney.cli.answers import FORMATS, Figures, schema
from waney.cli.app import Ended
from waney.cli.main import COMMANDS, app
from waney.cli.wood_answer import FIGURE_OF
from waney.sawing.plan_file import plan_schema
from waney.wood.traits import Trait

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


def run(*words: str) -> tuple[int, str, str]:
    """Exit code, what stands on the output, what stands on the error stream."""
    result = CliRunner().invoke(app, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


def script(name: str) -> ModuleType:
    spec = spec_from_file_location(name, ROOT / "tools" / f"{name}.py")
    assert spec is not None and spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which `waney demo` has made its yard, as a process of its own would."""
    folder = tmp_path_factory.mktemp("newcomer")
    done = subprocess.run([*WANEY, "demo", "--no-serve"], cwd=folder, env=HERE, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "optimal on the stated" in done.stdout
    return folder


@pytest.fixture
def in_yard(yard: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(yard, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path


# help


def test_page_of_commands_is_fresh() -> None:
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    assert page == script("commands_page").page(), "run: python tools/commands_page.py"


def test_page_of_commands_lists_every_exit_code_and_every_format() -> None:
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    assert all(f"| {code.value} |" in page for code in Ended)
    assert all(f"`{name}`" in page for name in (*FORMATS.values(), "waney-plan/1"))


def test_every_command_has_units_json_and_examples_that_can_be_copied() -> None:
    for name, told in COMMANDS.items():
        code, said, _ = run(name, "--help")
        assert code == 0
        assert "--units <in|mm>" in said and "--json <path|->" in said
        assert all(f"    {line}\n" in f"{said}\n" for line in told.examples), said


@pytest.mark.parametrize("line", [line for told in COMMANDS.values() for line in told.examples])
def test_every_example_runs_where_the_demo_has_made_its_yard(line: str, in_yard: Path) -> None:
    program, *words = shlex.split(line)
    code, said, told = run(*words)
    assert program == "waney" and code == 0, told
    assert said.strip()


def test_the_bare_command_shows_what_there_is() -> None:
    code, said, _ = run()
    assert code == 0 and all(f"\n  {name} " in said for name in COMMANDS)


def test_help_starts_without_the_engines() -> None:
    code = "import sys; import waney.cli.main; print([m for m in ('numpy', 'scipy', 'numba') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], env=HERE, capture_output=True, text=True).stdout.strip() == "[]"


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_takes_under_four_tenths_of_a_second_of_work(name: str) -> None:
    # seconds of work, not of the clock: what else runs on the machine is no fault of the command
    def seconds() -> float:
        began, before = perf_counter(), os.times()
        subprocess.run([*WANEY, *name.split(), "--help"], env=HERE, capture_output=True, check=True)
        after = os.times()
        worked = after.children_user + after.children_system - before.children_user - before.children_system
        return min(perf_counter() - began, worked)

    assert min(seconds() for _ in range(3)) < 0.4


# how a command ends

LOG = str(DEMO / "log.toml")
SHEETS = (LOG, "--mill", str(DEMO / "mill.toml"), "--wants", str(DEMO / "wants.toml"))


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["wood", "walnut"], SLIP, "walnut_black"),
        (["wood", "black wallnut"], SLIP, "'black walnut'"),
        (["wood", "oak", "--units", "ft"], WRITTEN, "'ft' is not one of 'in', 'mm'"),
        (["wood", "pear", "--mc", "wet"], SLIP, "12 %"),
        (["wood"], WRITTEN, "waney wood --help"),
        (["emc"], WRITTEN, "--state CO"),
        (["emc", "70", "65"], SLIP, "70 F or 70 °C"),
        (["emc", "70 F"], WRITTEN, "--mc 8"),
        (["emc", "70 F", "165"], SLIP, "0 to 100 %"),
        (["emc", "70 F", "65", "--place", "Denver"], WRITTEN, "--place does not go"),
        (["emc", "--place", "Denver"], WRITTEN, "--state CO --place Denver"),
        (["emc", "--state", "XX"], SLIP, "CO, CT"),
        (["emc", "--state", "CO", "--place", "denvr"], SLIP, "Denver"),
        (["emc", "--state", "CO", "--place", "Denver", "--month", "13"], WRITTEN, "october, oct or 10"),
        (["emc", "--state", "CO", "--place", "Denver", "--indoors", "68 F, 70 F"], WRITTEN, "one temperature or four"),
        (["emc", "--state", "CO", "--place", "Denver", "--highest-humidity", "50"], WRITTEN, "--indoors"),
        (["scale", "nothing.toml"], SLIP, "nothing.toml is not there; look at the name and the folder."),
        (["scale", str(EXAMPLES)], SLIP, "is a folder; name a file in it."),
        (["scale", LOG, "--json", "nowhere/out.json"], SLIP, "there is no folder nowhere; make it first"),
        (["weight", LOG, "--bears", "3500"], SLIP, "350 lb, 160 kg"),
        (["weight"], WRITTEN, "waney weight --help"),
        (["replay", LOG], SLIP, "This plan cannot be read"),
        (["plan", LOG, "--mill", str(DEMO / "mill.toml")], WRITTEN, "--wants"),
        (["plan", LOG, "--mill", LOG, "--wants", str(DEMO / "wants.toml")], SLIP, "waney-mill/1"),
        (["plan", *SHEETS, "--pith-at", "9 1/2, 8 3/4"], SLIP, "needs its unit"),
        (["plan", *SHEETS, "--pith-at", "9 1/2 in"], SLIP, "two are needed"),
        (["paln"], WRITTEN, "paln"),
        (["wood", "oak", "--unit", "in"], WRITTEN, "--units"),
    ],
)  # fmt: skip
def test_what_the_person_can_mend_is_one_line_that_says_what_to_change(words: list[str], code: int, says: str) -> None:
    ended, said, told = run(*words)
    assert (ended, said) == (code, "")
    assert says in told and told.count("\n") == 1 and told.strip().endswith((".", "--help")), told


def test_a_sheet_with_several_slips_is_answered_with_a_line_for_each(tmp_path: Path) -> None:
    sheet = tmp_path / "log.toml"
    sheet.write_text('format = "waney-log/1"\nunits = "in"\nspecies = "black walnut"\nlenght = 96\n', encoding="utf-8")
    code, _, told = run("scale", str(sheet))
    assert code == SLIP and "length" in told and "Traceback" not in told
    assert all("line" in line or "length" in line or "diameter" in line for line in told.splitlines()[1:])


def test_what_is_no_text_is_no_sheet(tmp_path: Path) -> None:
    (tmp_path / "log.toml").write_bytes(b"\xff\xfe\x00")
    assert run("scale", str(tmp_path / "log.toml"))[0] == SLIP


def test_a_fault_of_the_program_says_so_and_has_a_code_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.wood.species.species", lambda name: 1 // 0)
    code, _, told = run("wood", "oak")
    assert code == Ended.FAULT and "ZeroDivisionError" in told and "fault of Waney" in told


def test_stopping_it_is_neither_answer_nor_slip(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(name: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("waney.wood.species.species", stopped)
    assert run("wood", "oak") == (Ended.STOPPED, "", "Stopped.\n")


def test_a_plan_that_cannot_be_had_is_an_answer_of_its_own(in_yard: Path) -> None:
    wants = (DEMO / "wants.toml").read_text(encoding="utf-8").replace("least_width = 14", "least_width = 14\nat_least = 90")
    (in_yard / "wants.toml").write_text(wants, encoding="utf-8")
    code, said, told = run("plan", "demo-yard/log.toml", "--mill", "demo-yard/mill.toml", "--wants", "wants.toml", "--json", "-")
    assert (code, said) == (NO, "") and "table slab" in told


def test_a_plan_that_was_changed_is_answered_with_code_three(in_yard: Path) -> None:
    plan = in_yard / "demo-yard" / "plan.json"
    assert run("replay", str(plan)) == (0, "W14, through: Every lie, pass, piece and cent was found again.\n", "")
    plan.write_text(plan.read_text(encoding="utf-8").replace('"roll_deg": ', '"roll_deg": 9', 1), encoding="utf-8")
    code, said, _ = run("replay", str(plan), "--json", "-")
    found = json.loads(said)
    assert code == NO and found["holds"] is False and found["reason"] in ("grid", "roll")


# JSON


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
    names = {f"{form.replace('/', '-')}.json" for form in ("waney-plan/1", *FORMATS.values())}
    assert {path.name for path in (ROOT / "docs" / "schemas").iterdir()} == names


def test_json_to_a_file_leaves_the_text_on_the_output(tmp_path: Path) -> None:
    code, said, told = run("wood", "pear", "--json", str(tmp_path / "pear.json"))
    assert code == 0 and said.startswith("pear (Pyrus communis)") and "Written" in told
    assert json.loads((tmp_path / "pear.json").read_text(encoding="utf-8")) == asked("wood", "pear")


def test_plan_writes_json_alone_to_the_output_and_it_replays(in_yard: Path) -> None:
    sheets = ("demo-yard/log.toml", "--mill", "demo-yard/mill.toml", "--wants", "demo-yard/wants.toml")
    document = asked("plan", *sheets, "--pattern", "through")
    (in_yard / "out.json").write_text(json.dumps(document), encoding="utf-8")
    assert asked("replay", "out.json")["holds"] is True
    asked("plan", *sheets, "--pattern", "through", "--pith-at", "13 1/4 in, 12 in")


# what each says


def test_plan_writes_a_card_a_drawing_and_a_plan_that_replays(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    files = {name: tmp_path / f"out.{name}" for name in ("json", "pdf", "svg")}
    code, said, told = run(
        "plan", str(EXAMPLES / "log-taped.toml"), "--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants),
        "--json", str(files["json"]), "--card", str(files["pdf"]), "--svg", str(files["svg"]), "--full", "--filled-in",
    )  # fmt: skip
    assert code == 0, told
    assert "optimal on the stated" in said.lower().replace("\n", " ")
    assert "Filled in, because nobody typed it" in said and "keeps counts" not in said
    assert files["pdf"].read_bytes().startswith(b"%PDF") and files["svg"].read_text(encoding="utf-8").startswith("<svg")
    assert run("replay", str(files["json"]))[0] == 0


@pytest.fixture
def few_ways(tmp_path: Path) -> list[str]:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    return ["plan", str(EXAMPLES / "log-taped.toml"), "--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants)]


def test_pith_heights_that_were_read_count_the_cuts_again_and_the_plan_replays(few_ways: list[str], tmp_path: Path) -> None:
    files = {name: tmp_path / f"out.{name}" for name in ("json", "pdf")}
    code, said, told = run(
        *few_ways, "--pith-at", "15 1/4 in, 16 in", "--json", str(files["json"]), "--card", str(files["pdf"])
    )  # fmt: skip
    assert code == 0, told
    ways = re.findall(r"^(heights on the card|heights counted again|laid again).*\$([\d.]+)$", said, re.MULTILINE)
    kept, counted, again = (float(money) for _, money in ways)
    assert kept < counted  # this log, these readings: its card's heights come too low in the wood
    assert again > 0
    assert "as it was read" in said and f"${counted:.2f}" in said.partition("Side by side")[2]
    plan = json.loads(files["json"].read_text(encoding="utf-8"))
    assert (plan["tip"], plan["moves"][0]["pith_read"]) == ("as read at the pith", {"butt_m": 0.38735, "top_m": 0.4064})
    assert run("replay", str(files["json"]))[0] == 0
    assert files["pdf"].read_bytes().startswith(b"%PDF")


def test_json_of_a_recount_stands_alone_on_the_output(few_ways: list[str]) -> None:
    code, said, told = run(*few_ways, "--pith-at", "387.35 mm; 406.4 mm", "--json", "-")
    assert code == 0 and json.loads(said)["tip"] == "as read at the pith"
    assert "As it lies now" in told


@pytest.mark.parametrize("at", ["0 in, 0 in", "13 in, 80 in", "60 in, 60 in"])
def test_pith_heights_that_no_log_can_have_are_answered(few_ways: list[str], at: str) -> None:
    code, said, told = run(*few_ways, "--pith-at", at)
    assert (code, said) == (SLIP, "")
    assert "read" in told and told.strip().count("\n") == 0


def test_plan_says_that_counts_leave_out_half_turn_and_cant(in_yard: Path) -> None:
    wants = (DEMO / "wants.toml").read_text(encoding="utf-8").replace("least_width = 14", "least_width = 14\nat_most = 2")
    (in_yard / "wants.toml").write_text(wants, encoding="utf-8")
    sheets = ("demo-yard/log.toml", "--mill", "demo-yard/mill.toml", "--wants", "wants.toml")
    code, said, told = run("plan", *sheets)
    assert code == 0, told
    assert "only through-and-through keeps counts, so half turn and cant were left out" in said
    assert "left out" not in run("plan", *sheets, "--pattern", "through")[1]
    assert "and-through alone; then it is the only pattern" in " ".join(run("plan", "--help")[1].split())


def test_a_log_that_does_not_fit_is_answered_with_the_plans_that_follow(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    sheets = ("--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants))
    code, said, told = run("plan", str(EXAMPLES / "log-flared.toml"), *sheets, "--json", str(tmp_path / "out.json"))
    assert code == NO, told
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
    code, said, told = run("plan", str(EXAMPLES / "log-flared.toml"), *sheets, "--json", "-")
    assert (code, said) == (NO, "") and "does not fit this mill" in told, "the plans are of another log than the one handed over"


def test_a_cant_set_aside_is_planned_from_its_flats(tmp_path: Path) -> None:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    out = tmp_path / "out.json"
    sheets = ("--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants))
    code, _, told = run(
        "plan", str(EXAMPLES / "log-cant.toml"), *sheets, "--json", str(out), "--card", str(tmp_path / "card.pdf")
    )
    assert code == 0, told
    assert run("replay", str(out))[0] == 0


@pytest.mark.parametrize("name", ["log-rough", "log-girth", "log-sections", "log-taped", "log-crotch"])
def test_scale_answers_for_half_known_logs(name: str) -> None:
    code, said, told = run("scale", str(EXAMPLES / f"{name}.toml"))
    assert code == 0, told
    assert "International 1/4-inch" in said and "Wood inside bark" in said


def test_weights_with_bark_and_without_and_of_a_load() -> None:
    one, other = asked("weight", LOG), asked("weight", str(EXAMPLES / "log-rough.toml"))
    both = asked("weight", LOG, str(EXAMPLES / "log-rough.toml"), "--bears", "3000 lb")

    def high(document: dict[str, object], what: str = "with_bark") -> float:
        load = document[f"load_{what}_kg"]
        assert isinstance(load, dict)
        return float(load["high"])

    assert high(one) > high(one, "without_bark") > 0.0
    assert high(both) == pytest.approx(high(one) + high(other), rel=1e-12)
    assert both["borne"] is (high(both) <= 3000 * 0.45359237)
    assert "3000 lb that you said it bears" in run("weight", LOG, "--bears", "3000 lb")[1]


def test_a_wood_without_green_moisture_still_scales_and_says_why_it_does_not_weigh(tmp_path: Path) -> None:
    text = (EXAMPLES / "log-rough.toml").read_text(encoding="utf-8").replace('"black walnut"', '"Acacia melanoxylon"')
    (tmp_path / "log.toml").write_text(text, encoding="utf-8")
    code, said, _ = run("weight", str(tmp_path / "log.toml"))
    assert code == 0 and "with bark: not known" in said and "No table gives a bark volume" in said
    assert asked("weight", str(tmp_path / "log.toml"))["load_with_bark_kg"] is None
    assert "Green weight with bark: not known" in run("scale", str(tmp_path / "log.toml"))[1]


def test_every_trait_of_a_wood_has_its_field() -> None:
    assert list(FIGURE_OF) == list(Trait)
    assert set(FIGURE_OF.values()) == set(Figures.__annotations__)


@pytest.mark.parametrize("name", ["black walnut", "Walnut, black", "Juglans nigra", "walnut_black", "American black walnut"])
def test_a_wood_is_found_by_all_its_names(name: str) -> None:
    assert asked("wood", name)["id"] == "walnut_black"


def test_a_wood_says_what_has_no_value_and_both_views_agree() -> None:
    inches, metric = run("wood", "pear")[1], run("wood", "pear", "--units", "mm")[1]
    assert inches.count("no value") == metric.count("no value") == 7
    # Wood Handbook FPL-GTR-282 Table 5-3b: black walnut 7,500 N and 11.6 GPa at 12 %; printed as 1,010 lbf and 1.68 million psi
    walnut, metric = run("wood", "black walnut")[1], run("wood", "black walnut", "--units", "mm")[1]
    for said, figures in ((walnut, ("1010 lbf", "1.68 million psi")), (metric, ("4493 N", "11.58 GPa"))):
        assert all(figure in said for figure in figures), said


def test_emc_is_the_handbook_s() -> None:
    # Wood Handbook Table 4-2: 12.0 % at 70 °F and 65 % relative humidity, and 7.9 % at 42 % between 7.7 (40 %) and 8.5 (45 %)
    assert run("emc", "70 F", "65")[1].startswith("12 % in still air of 70 °F and 65 % humidity")
    assert run("emc", "70 F", "65 %", "--units", "mm")[1].startswith("12 % in still air of 21 °C")
    assert "beyond the printed table" in run("emc", "-5 C", "80")[1]


def test_emc_answers_the_other_way_round_and_from_a_wet_bulb() -> None:
    (dry,) = asked("emc", "70 F", "--mc", "8 %")["airs"]  # type: ignore[misc]
    assert dry["emc"] == pytest.approx(0.08, abs=1e-12)
    (bulbs,) = asked("emc", "70 F", "--wet-bulb", "62 F")["airs"]  # type: ignore[misc]
    # psychrometric tables give 64 % for 70 and 62 °F at sea level (from memory)
    assert bulbs["humidity"] == pytest.approx(0.64, abs=0.01)


def test_a_place_has_twelve_months_and_says_how_they_were_averaged() -> None:
    code, said, _ = run("emc", "--state", "co", "--place", "denver")
    assert code == 0 and "from the month's mean temperature and humidity" in said and "Mean of the year" in said
    year = asked("emc", "--state", "CO", "--place", "Denver", "--indoors", "68 F, 70 F, 76 F, 70 F")["airs"]
    (october,) = asked("emc", "--state", "CO", "--place", "Denver", "--month", "oct")["airs"]  # type: ignore[misc]
    assert isinstance(year, list) and [air["month"] for air in year] == list(range(1, 13))
    assert october == year[9] | {"indoors": None}
    assert year[0]["indoors"]["temperature_c"] == pytest.approx(20.0)
    assert year[6]["indoors"]["temperature_c"] == pytest.approx((76 - 32) / 1.8)


def test_a_dehumidifier_that_is_typed_in_takes_its_doubt_away() -> None:
    words = ("emc", "--state", "FL", "--place", "Miami", "--indoors", "76 F")
    free, held = asked(*words)["airs"], asked(*words, "--highest-humidity", "45")["airs"]
    assert isinstance(free, list) and isinstance(held, list)
    for loose, dry in zip(free, held, strict=True):
        assert dry["indoors"]["humidity"]["high"] == 0.45 <= loose["indoors"]["humidity"]["high"]


def test_own_rows_stand_in_for_a_place_and_hours_are_averaged_by_the_hour(tmp_path: Path) -> None:
    rows = tmp_path / "hollow.csv"
    rows.write_text("month,temperature_f,humidity_pct\n" + "".join(f"{m},70,65\n" for m in range(1, 13)), encoding="utf-8")
    year = asked("emc", "--rows", str(rows))
    assert year["place"] == "hollow" and [round(air["emc"], 3) for air in year["airs"]] == [0.120] * 12  # type: ignore[attr-defined]
    hours = "".join(f"{m},70,{50 + 30 * (h % 2)}\n" for m in range(1, 13) for h in range(700))
    rows.write_text("month,temperature_f,humidity_pct\n" + hours, encoding="utf-8")
    assert asked("emc", "--rows", str(rows))["averaging"] == "mean of the hours"


def test_demo_makes_a_yard_once_and_plans_it_anew(in_yard: Path) -> None:
    folder = in_yard / "demo-yard"
    assert {path.name for path in folder.iterdir()} == {
        "log.toml", "mill.toml", "wants.toml", "plan.json", "plan.svg", "height-card.pdf",
    }  # fmt: skip
    (folder / "plan.svg").unlink()
    code, said, told = run("demo", "--no-serve", "--json", "-")
    assert code == 0 and "Found the yard" in told
    assert said == (folder / "plan.json").read_text(encoding="utf-8") and (folder / "plan.svg").exists()


# the front page


def test_the_sheets_and_commands_of_the_front_page_give_a_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    sheets = re.findall(r"```toml\n# ([a-z]+\.toml)\n(.*?)```", page, re.DOTALL)
    assert [name for name, _ in sheets] == ["log.toml", "mill.toml", "wants.toml"]
    for name, text in sheets:
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    lines = re.findall(r"^\.venv/bin/waney (.*)$", page, re.MULTILINE)
    assert [line.split()[0] for line in lines] == ["scale", "plan", "replay"]
    for line in lines:
        code, said, told = run(*shlex.split(line))
        assert code == 0, told
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF") and said.startswith("Log, through: Every lie")


def test_a_slip_in_one_of_three_sheets_names_the_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("log", "mill", "wants"):
        slip = (DEMO / f"{name}.toml").read_text(encoding="utf-8").replace('"in"', '"inches tall"')
        (tmp_path / "slip.toml").write_text(slip, encoding="utf-8")
        words = {"log": "log.toml", "mill": "mill.toml", "wants": "wants.toml"} | {name: "slip.toml"}
        shutil.copytree(DEMO, tmp_path, dirs_exist_ok=True)
        code, _, told = run("plan", words["log"], "--mill", words["mill"], "--wants", words["wants"])
        assert code == SLIP and told.startswith("slip.toml, line" if name == "log" else f"{name} sheet, line")


def test_the_first_time_says_that_it_prepares(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from waney.cli import offering

    monkeypatch.setattr(offering, "COMPILED", True)
    monkeypatch.setattr(offering, "cache_folder", lambda sources: tmp_path)
    (tmp_path / "kernel").mkdir()  # what an import leaves behind before anything is compiled
    offering._say_first_time()
    assert offering.FIRST_TIME in capsys.readouterr().err
    (tmp_path / "kernel" / "path.nbi").touch()
    offering._say_first_time()
    assert capsys.readouterr().err == ""
