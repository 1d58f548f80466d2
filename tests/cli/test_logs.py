"""waney scale and waney weight: half-known logs are answered."""

from __future__ import annotations

from pathlib import Path

import pytest

from .calling import EXAMPLES, LOG, asked, run


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
