"""The commands that plan: card, drawing, plan file, a log that does not fit, pith heights that were read."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from .calling import DEMO, EXAMPLES, NO, SLIP, WANTS, run


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
    plan = json.loads(files["json"].read_text(encoding="utf-8"))
    outcome = plan["outcome"]
    assert outcome["cents"]["bad"] < outcome["cents"]["likely"] < outcome["cents"]["good"]
    assert all(f"${outcome['cents'][word] / 100:.2f}" in said for word in ("bad", "likely", "good"))
    products = [p["piece"]["name"] for p in plan["pieces"] if p["worth"]["product"] is not None]
    assert [piece["name"] for piece in outcome["as_planned"]] == products


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


@pytest.mark.long
def test_plan_says_that_counts_leave_out_half_turn_and_cant(in_yard: Path) -> None:
    wants = (DEMO / "wants.toml").read_text(encoding="utf-8").replace("least_width = 14", "least_width = 14\nat_most = 2")
    (in_yard / "wants.toml").write_text(wants, encoding="utf-8")
    sheets = ("demo-yard/log.toml", "--mill", "demo-yard/mill.toml", "--wants", "wants.toml")
    code, said, told = run("plan", *sheets)
    assert code == 0, told
    assert "only through-and-through keeps counts, so half turn and cant were left out" in said
    assert "left out" not in run("plan", *sheets, "--pattern", "through")[1]
    assert "and-through alone; then it is the only pattern" in " ".join(run("plan", "--help")[1].split())


@pytest.mark.long
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


def test_demo_makes_a_yard_once_and_plans_it_anew(in_yard: Path) -> None:
    folder = in_yard / "demo-yard"
    assert {path.name for path in folder.iterdir()} == {
        "log.toml", "mill.toml", "wants.toml", "plan.json", "plan.svg", "height-card.pdf", "tally.json", "book.sqlite", "files",
        "board.toml", "core-record.csv", "kilns.toml", "load.toml", "piece.toml", "prices.toml", "terms.toml",
    }  # fmt: skip
    (folder / "plan.svg").unlink()
    code, said, told = run("demo", "--no-serve", "--json", "-")
    assert code == 0 and "Found the yard" in told
    assert said == (folder / "plan.json").read_text(encoding="utf-8") and (folder / "plan.svg").exists()
