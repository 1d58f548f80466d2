"""Publishing as a program: python -m waney.web.publishing FOLDER BOOK. `waney shop-window` starts it; it answers with JSON."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from pathlib import Path

from waney.figures.problem import Problem
from waney.web.__main__ import lies_at
from waney.web.as_sold import Opened
from waney.web.window import pages_of, written_to
from waney.yard.book.book import open_book
from waney.yard.book.looking import settings
from waney.yard.services.for_sale import Choice, chosen, on_sale

MENDABLE = 3
"""how this program ends where a person can mend it"""


def main(words: list[str]) -> int:
    """Write the window; names of the pieces and of the files go to the output, what a person can mend to the error stream."""
    parser = argparse.ArgumentParser(prog="waney shop-window")
    parser.add_argument("folder", type=Path)
    parser.add_argument("book")
    parser.add_argument("--files", type=Path)
    parser.add_argument("--free", action="store_true")
    asked = parser.parse_args(words)
    today = date.today()
    try:
        book = open_book(lies_at(asked.book, asked.files))
        some = chosen(on_sale(book, today.isoformat()), Choice(free=asked.free))
        pages = pages_of(Opened(book, settings(book), today), some)
        written_to(asked.folder, pages)
        book.close()
    except Problem as why:
        print(why, file=sys.stderr)
        return MENDABLE
    print(json.dumps({"pieces": [one.piece.name for one in some], "files": sorted(pages)}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
