"""waney offered and crosscut as a person calls them: the answer first, money only where it was typed, slips told in a line."""

from __future__ import annotations

import json

import pytest

from waney.cli.app import Ended

from .calling import EXAMPLES, run

ASH = ("offered", "--wood", "white ash", "--girth", "60 in", "--length", "10 ft")


def test_an_offer_without_prices_gives_its_weight_and_what_is_missing() -> None:
    code, said, _ = run(*ASH, "--bears", "3500 lb")
    assert code == Ended.ANSWERED
    assert said.startswith("No answer in money.") and "what a board foot earns" in said
    assert "Weight with bark, green:" in said and "Chock a log" in said and "Left at the asked price" not in said


def test_a_dearer_tree_is_taken_only_for_nothing() -> None:
    costs = ("--board-foot", "2 USD", "--way", "40 mi", "--driving", "0.70 USD", "--hours", "2", "--hour", "20 USD")
    free, dear = (json.loads(run(*ASH, *costs, "--asked", asked, "--json", "-")[1]) for asked in ("0 USD", "5000 USD"))
    assert (free["format"], free["reply"], dear["reply"]) == ("waney-offer/1", "fetch", "only if free")
    assert free["money_cents"]["likely"] - dear["money_cents"]["likely"] == pytest.approx(500_000)
    assert free["fetching_cents"]["likely"] == pytest.approx(40 * 70 + 2 * 2000)  # to the cent: 28.00 and 40.00


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--by-eye", "--from-photo"), "do not go together"),
        (("--way", "far"), "is not a way"),
        (("--mill", "m.toml"), "--wants"),
        (("--asked", "10 USD", "--hour", "10 EUR"), "EUR"),
    ],
)
def test_slips_are_told(words: tuple[str, ...], told: str) -> None:
    code, _, error = run(*ASH, *words)
    assert code in (Ended.WRITTEN, Ended.SHEET) and told in error


def test_ways_to_cut_stand_best_first() -> None:
    code, said, _ = run("crosscut", str(EXAMPLES / "log-taped.toml"), "--way", "8 ft", "--way", "4 ft + 4 ft", "--json", "-")
    answer = json.loads(said)
    assert code == Ended.ANSWERED and answer["format"] == "waney-crosscut/1"
    feet = [way["board_feet"]["likely"] for way in answer["ways"]]
    assert feet == sorted(feet, reverse=True) and answer["gain"]["likely"] == pytest.approx(feet[0] - feet[1])
    assert run("crosscut", str(EXAMPLES / "log-taped.toml"), "--way", "80 ft", "--way", "4 ft")[0] == Ended.SHEET
