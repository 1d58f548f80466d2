"""The yard book from the command line: where it lies, and waney backup, restore, export, examine, take-in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import Ended, WrittenWrong, answering
from waney.cli.views import Json

if TYPE_CHECKING:
    from waney.cli.answers import CopyWritten, ExaminedBook, ListTaken
    from waney.yard.book.copies import Copied
    from waney.yard.book.engine import Lies

Where = Annotated[
    str,
    typer.Option(
        "--book", "--yard", envvar="WANEY_BOOK", metavar="<folder|address>", help="The yard: a folder, or postgresql://..."
    ),
]
FilesIn = Annotated[
    Path | None, typer.Option("--files", envvar="WANEY_FILES", metavar="<folder>", help="The files of a book on a server.")
]
YARD = "yard"


def lies_at(book: str, files: Path | None) -> Lies:
    """Where a book lies. Raises WrittenWrong."""
    from waney.yard.book.engine import by_address, in_folder

    if not book.startswith(("postgresql://", "postgresql+psycopg://")):
        if files is not None:
            raise WrittenWrong("--files goes with a book on a server; a folder holds its own files.")
        return in_folder(Path(book))
    if files is None:
        raise WrittenWrong("A book on a server needs a folder for its files: add --files FOLDER, or name it in WANEY_FILES.")
    return by_address(book, files)


@answering
def backup(
    file: Annotated[Path, typer.Argument(help="The backup to be written, a new file.", metavar="{file}")],
    book: Where = YARD,
    files: FilesIn = None,
    json: Json = None,
) -> None:
    """Write the whole book with its photos, scans and plans into one file, from which `waney restore` makes it again.

    Keep it on another disk. Ends with code 3 when files of the book are missing; what is there is in the backup. Who may
    sign in, and with which password, is not in it: members.json in the yard's folder is kept apart, or they are let in anew.
    """
    from waney.cli.files import can_be_written
    from waney.yard.book.book import open_book
    from waney.yard.book.copies import back_up

    can_be_written(json, file)
    _copied(back_up(open_book(lies_at(book, files)), file), file, json)


@answering
def export(
    folder: Annotated[Path, typer.Argument(help="The folder to be written, new or empty.", metavar="{folder}")],
    book: Where = YARD,
    files: FilesIn = None,
    json: Json = None,
) -> None:
    """Write the whole book as plain files: events as JSON lines, every table as CSV, photos, scans and plans.

    A README in the folder says what is what; `waney restore` makes a book of it again.
    """
    from waney.cli.files import can_be_written
    from waney.yard.book.book import open_book
    from waney.yard.book.copies import export as export_book

    can_be_written(json, folder)
    _copied(export_book(open_book(lies_at(book, files)), folder), folder, json)


@answering
def restore(
    source: Annotated[Path, typer.Argument(help="A backup, or the folder of an export.", metavar="{file|folder}")],
    book: Where = YARD,
    files: FilesIn = None,
    json: Json = None,
) -> None:
    """Make a new book out of a backup or an export, where there is none yet.

    Who may sign in is in neither: put members.json back into the yard's folder, or the next start makes an owner anew.
    """
    from waney.cli.files import can_be_written
    from waney.yard.book.copies import restore as restore_book

    can_be_written(json)
    _copied(restore_book(source, lies_at(book, files), datetime.now(UTC)), source, json, book)


def _copied(copied: Copied, path: Path, json: Path | None, made: str | None = None) -> None:
    """made: where a book was made of the copy."""
    from waney.cli.answers import CopyWritten
    from waney.cli.saying import say

    answer = CopyWritten(str(path), copied.events, copied.files, copied.missing, made)
    say(answer, json, lambda: _copy_lines(answer))
    if copied.missing:
        raise typer.Exit(Ended.NO)


def _copy_lines(answer: CopyWritten) -> Iterator[str]:
    made = f" The book lies at {answer.book}." if answer.book else ""
    yield f"{answer.path}: {answer.events} events, {answer.files} files.{made}"
    for name in answer.missing:
        yield f"Missing or damaged: {name}"


@answering
def examine(
    book: Where = YARD,
    files: FilesIn = None,
    json: Json = None,
) -> None:
    """Look whether the book is sound: its events read anew give what it says, every file is there and whole, room is left.

    Ends with code 3 when something is not as it should be. Nothing is changed.
    """
    from waney.cli.answers import ExaminedBook
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.yard.book.book import open_book
    from waney.yard.book.examining import examine as examine_book

    can_be_written(json)
    with working("Reading all events anew"):
        found = examine_book(open_book(lies_at(book, files)))
    told = (found.events, found.files, found.open_tasks, found.waiting, found.free_bytes)
    answer = ExaminedBook(not found.unsound, *told, found.unsound, found.remarks)
    say(answer, json, lambda: _examined_lines(answer))
    if found.unsound:
        raise typer.Exit(Ended.NO)


def _examined_lines(answer: ExaminedBook) -> Iterator[str]:
    verdict = "The book is sound." if answer.sound else "The book is not sound."
    yield f"{verdict} {answer.events} events, {answer.files} files, {answer.open_tasks} tasks open."
    yield f"Room left on the disk: {answer.free_bytes / 1e9:.1f} GB."
    yield from answer.unsound
    yield from answer.remarks


@answering
def take_in(
    commands: Annotated[Path, typer.Argument(help="A list of commands (waney-commands/1).", metavar="{list}")],
    book: Where = YARD,
    files: FilesIn = None,
    json: Json = None,
) -> None:
    """Take in a list of commands that a phone, a take-along page or a typed tally gave; makes the book if there is none.

    Taking in the same list twice does nothing the second time. Ends with code 3 when something was refused.
    """
    from waney.cli.answers import ListTaken, TakenCommand
    from waney.cli.files import can_be_written, read_text
    from waney.cli.saying import say
    from waney.yard.book.book import make_book, open_book
    from waney.yard.problems import NoBook
    from waney.yard.services.lists import Came
    from waney.yard.services.lists import take_in as take_in_list

    can_be_written(json)
    text, now, lies = read_text(commands), datetime.now(UTC), lies_at(book, files)
    try:
        opened = open_book(lies)
    except NoBook:
        opened = make_book(lies, now)
    taken = take_in_list(opened, text, now)
    answer = ListTaken(tuple(TakenCommand(each.id, str(each.came), each.seq, each.sentence, each.tasks) for each in taken))
    say(answer, json, lambda: _taken_lines(answer))
    if any(each.came in (Came.REFUSED, Came.UNREADABLE) for each in taken):
        raise typer.Exit(Ended.NO)


def _taken_lines(answer: ListTaken) -> Iterator[str]:
    for came, count in Counter(each.came for each in answer.commands).items():
        yield f"{count} {came}"
    yield from (each.sentence for each in answer.commands if each.sentence)
    tasks = [task for each in answer.commands for task in each.tasks]
    if tasks:
        yield f"To be put right: {', '.join(tasks)}"
    if not answer.commands:
        yield "The list is empty."
