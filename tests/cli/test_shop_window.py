"""waney shop-window: what is for sale stands in a folder, what is sold is taken away, and nothing else there is touched."""

from __future__ import annotations

from pathlib import Path

import pytest

from waney.yard.services import selling

from .calling import SLIP
from .test_money import Small


@pytest.fixture
def small(tmp_path: Path) -> Small:
    return Small(tmp_path / "yard")


def test_a_window_holds_what_has_a_price_and_lets_go_of_what_is_sold(small: Small, tmp_path: Path) -> None:
    folder = tmp_path / "window"
    for ident in small.ids[:2]:
        selling.price_piece(small.hand, ident, 400_00)
    first, second, without = small.names
    answer = small.asked("shop-window", str(folder))
    assert answer["pieces"] == [first, second] and (folder / f"{first}.html").is_file()
    assert answer["files"] == sorted([f"{first}.html", f"{second}.html", "for-sale.csv", "index.html"])
    index = (folder / "index.html").read_text("utf-8")
    assert first in index and without not in index and "$400.00" in index and "$45.00" not in index
    (folder / "our-sign.txt").write_text("open on Saturday", "utf-8")
    assert small.run("sell", first, "--price", "400 USD")[0] == 0
    code, said, _ = small.run("shop-window", str(folder))
    assert code == 0 and said.startswith("1 piece for sale, 3 files")
    assert not (folder / f"{first}.html").exists() and (folder / f"{second}.html").is_file()
    assert (folder / "our-sign.txt").is_file(), "what somebody else put there stays"
    assert first not in (folder / "index.html").read_text("utf-8")


def test_a_folder_with_something_else_in_it_is_left_alone(small: Small, tmp_path: Path) -> None:
    folder = tmp_path / "letters"
    folder.mkdir()
    (folder / "index.html").write_text("mine", "utf-8")
    code, _, told = small.run("shop-window", str(folder))
    assert code == SLIP and "holds something else" in told
    assert (folder / "index.html").read_text("utf-8") == "mine" and len(list(folder.iterdir())) == 1


def test_only_what_is_free_where_that_is_asked(small: Small, tmp_path: Path) -> None:
    for ident in small.ids[:2]:
        selling.price_piece(small.hand, ident, 400_00)
    selling.hold_for(small.hand, [small.ids[0]], "Jo", "2999-01-01", 0)
    assert small.asked("shop-window", str(tmp_path / "window"), "--free")["pieces"] == [small.names[1]]
