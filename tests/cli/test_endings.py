"""How a command ends: one line that says what to change, and a code of its own."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

from waney.cli.app import Ended

from .calling import DEMO, EXAMPLES, HERE, LOG, NO, SHEETS, SLIP, WANEY, WRITTEN, run


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


@pytest.mark.parametrize("words", [["plan", "--help"], ["wood", "white oak"]])
def test_whoever_reads_no_further_hears_nothing_of_it(words: list[str]) -> None:
    reads, writes = os.pipe()
    os.close(reads)
    done = subprocess.run([*WANEY, *words], env=HERE, stdout=writes, stderr=subprocess.PIPE, text=True)
    os.close(writes)
    assert (done.returncode, done.stderr) == (Ended.ANSWERED, "")
