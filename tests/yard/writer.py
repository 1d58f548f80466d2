"""Sends a drawn row of commands and says after each what became of it; made to be killed."""

from __future__ import annotations

import sys
from pathlib import Path

from waney.yard.book.book import Book, open_book
from waney.yard.book.engine import by_address, in_folder
from waney.yard.commands import Command
from waney.yard.problems import Refused

from .conftest import NOW
from .drawn import Drawn


def commands(seed: int, how_many: int) -> tuple[Drawn, list[Command]]:
    drawn = Drawn(seed)
    return drawn, [drawn.command() for _ in range(how_many)]


def send(book: Book, drawn: Drawn, command: Command) -> str:
    """Send a command with its files."""
    for name in command.act.files():
        book.files.keep(drawn.contents[name])
    try:
        book.send(command, NOW)
    except Refused:
        return "refused"
    return "written"


def main(folder: str, seed: str, how_many: str, start: str, address: str = "") -> None:
    """folder: of the book, or of its files alone where it lies at an address."""
    drawn, row = commands(int(seed), int(how_many))
    book = open_book(by_address(address, Path(folder)) if address else in_folder(Path(folder)))
    for place, command in list(enumerate(row))[int(start) :]:
        print(place, send(book, drawn, command), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
