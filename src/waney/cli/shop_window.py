"""waney shop-window: the pieces for sale as plain pages in a folder, to publish anywhere."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.books import YARD, FilesIn, Where, lies_at
from waney.cli.views import Json

if TYPE_CHECKING:
    from waney.cli.answers_money import WindowWritten


MENDABLE = 3
"""how the app's program ends where a person can mend it"""


@answering
def shop_window(
    folder: Annotated[Path, typer.Argument(help="Where the pages go: a new folder, or one that has them.", metavar="{folder}")],
    book: Where = YARD,
    files: FilesIn = None,
    free: Annotated[bool, typer.Option("--free", help="Only what is promised to nobody today.")] = False,
    json: Json = None,
) -> None:
    """Write the pieces for sale as plain pages: a list, a page and a photo for each, and the list as CSV.

    They need no program and no script to be looked at. No figure of our own is in them and nobody's name; photos hold nothing of
    where they were taken. Written again, pages of what is sold are taken away. Sizes are in the units of the yard's settings.
    """
    from waney.cli.answers_money import WindowWritten
    from waney.cli.files import can_be_written
    from waney.cli.saying import say

    can_be_written(json)
    lies_at(book, files)
    told = _published([str(folder), book, *(["--files", str(files)] if files else []), *(["--free"] if free else [])])
    answer = WindowWritten(str(folder), tuple(told["pieces"]), tuple(told["files"]))
    say(answer, json, lambda: _lines(answer))


def _published(words: list[str]) -> dict[str, list[str]]:
    """What the app's own program for it answers. Raises Problem with the sentence that it ended with."""
    from json import loads

    from waney.figures.problem import Problem

    done = subprocess.run((sys.executable, "-m", "waney.web.publishing", *words), capture_output=True, text=True, check=False)
    if done.returncode == MENDABLE:
        raise Problem(done.stderr.strip())
    done.check_returncode()
    found: dict[str, list[str]] = loads(done.stdout)
    return found


def _lines(answer: WindowWritten) -> Iterator[str]:
    count = len(answer.pieces)
    pieces = "1 piece" if count == 1 else f"{count} pieces"
    yield f"{pieces} for sale, {len(answer.files)} files in {answer.folder}; index.html is the first to open."
    if not count:
        yield "Nothing has a price yet; waney price asks one."
