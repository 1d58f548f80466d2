"""Commands over a book in PostgreSQL: a tally comes in, a log is planned, a piece is priced and sold, the book is copied."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.yard.conftest import new_schema

from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.book import make_book, open_book
from waney.yard.book.engine import Lies, by_address
from waney.yard.book.looking import pieces
from waney.yard.names import OF_LOG, Name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log

from .calling import DEMO, WANTS, asked, run

NOW = datetime(2026, 5, 4, 8, tzinfo=UTC)


@pytest.fixture
def lies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Lies]:
    """An empty book, named as somebody does who works on a server: by the environment."""
    monkeypatch.chdir(tmp_path)
    address, drop = new_schema()
    monkeypatch.setenv("WANEY_BOOK", address)
    monkeypatch.setenv("WANEY_FILES", str(tmp_path / "files"))
    found = by_address(address, tmp_path / "files")
    make_book(found, NOW).close()
    yield found
    drop()


def test_on_postgresql_a_day_from_the_tally_to_the_sale_and_a_backup_that_becomes_a_folder(lies: Lies) -> None:
    assert "7 written" in run("take-in", str(DEMO / "tally.json"))[1]
    book = open_book(lies)
    ids = iter(f"00000000-0000-4000-8000-{n:012d}" for n in range(1, 99))
    hand = Hand(book, next(ids), "", lambda: NOW, lambda: next(ids))
    add_log(hand, NewLog((DEMO / "log.toml").read_text("utf-8"), code="BC"))
    hand.write(PieceCounted(next(ids), "white oak", "", 0.054, 2.4, (0.3, 0.34)))
    [counted] = pieces(book)
    book.close()
    Path("wants.toml").write_text(WANTS, encoding="utf-8")
    plan = asked("plan", str(Name("BC", OF_LOG)), "--yard", lies.url, "--mill", str(DEMO / "mill.toml"), "--wants", "wants.toml")
    assert plan["format"] == "waney-plan/1"
    for words in (("price", counted.name, "--at", "180 USD"), ("sell", counted.name, "--price", "180 USD", "--to", "Jo")):
        code, _, told = run(*words)
        assert code == 0, told
    assert asked("examine")["sound"] is True
    copied = asked("backup", "kept.zip")
    assert run("export", "plain")[0] == 0 and Path("plain/piece.csv").is_file()
    room = {"free_bytes": 0}
    there = asked("examine") | room
    assert copied["events"] == there["events"] > 8
    for kept in ("kept.zip", "plain"):
        with pytest.MonkeyPatch.context() as folder:
            folder.delenv("WANEY_FILES")
            assert asked("restore", kept, "--book", f"from-{kept}")["events"] == there["events"]
            assert asked("examine", "--book", f"from-{kept}") | room == there
