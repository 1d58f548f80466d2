"""waney tags: tags printed ahead with free names, and the sheet to try a printer out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.books import FilesIn
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import TagsPrinted
    from waney.papers.tags import Tag
    from waney.yard.services.printer import Misses

USUAL = {View.INCHES: "letter 4 x 2", View.MILLIMETRES: "a4 99 x 57"}


@answering
def tags(
    file: Annotated[Path, typer.Argument(help="The tags to be written (PDF).", metavar="{file}")],
    code: Annotated[str, typer.Option(metavar="<code>", help="The letters that the names begin with, as in AB.")] = "",
    first: Annotated[
        int | None, typer.Option(min=1, metavar="<number>", help="The first number that is free, 1 where none is said.")
    ] = None,
    count: Annotated[int | None, typer.Option(min=1, metavar="<number>", help="How many; else as many as fill a sheet.")] = None,
    log_tag: Annotated[bool, typer.Option("--log-tag", help="The tag of the log itself comes first.")] = False,
    line: Annotated[
        list[str] | None, typer.Option(metavar="<words>", help="A line beside the code: species, thickness. Up to three.")
    ] = None,
    stock: Annotated[
        str | None, typer.Option(metavar="<sheet|roll>", help="What is printed on: a common size, or your own as written below.")
    ] = None,
    used: Annotated[int, typer.Option(min=0, metavar="<number>", help="Labels that are gone from the first sheet.")] = 0,
    shift: Annotated[
        str | None,
        typer.Option(
            metavar="<right,down>",
            help='How far the print must move, as in "1 mm, -0.5 mm"; else as the yard keeps it for this sheet or roll.',
        ),
    ] = None,
    size: Annotated[
        float | None,
        typer.Option(
            metavar="<number>", help="What the try-out sheet says: 100 over what you measured; else as the yard keeps it."
        ),
    ] = None,
    glued: Annotated[bool, typer.Option("--glued", help="No room for hole or staple.")] = False,
    try_out: Annotated[
        bool, typer.Option("--try-out", help="Instead: the edges of the labels and rulers, on plain paper.")
    ] = False,
    yard: Annotated[
        str | None,
        typer.Option(
            "--yard", "--book", metavar="<folder|address>", help="A yard: it gives the names, and to nobody else after."
        ),
    ] = None,
    files: FilesIn = None,
    json: Json = None,
    units: Units = View.INCHES,
) -> None:
    """Tags with names that are free, to be stapled on the pieces as they come off and bound to them by a scan or by their name.

    Each has its name large, its check character in it, and a QR code. Begin with --first behind the last tag that was printed.
    Should a name come up twice all the same, the book keeps both pieces and asks for a new tag for the later one.

    With --yard the book gives the names, as the app does: none that a piece bears or that was given out before, of the letters
    of --code or of the next that are free. It keeps them for these tags, so that each is printed once.

    A sheet of your own: "letter, 2 x 5 of 4 in x 2 in, from 5/32 in x 1/2 in, every 4 3/16 in x 2 in" (page; labels across x
    down and their size; where the first begins; from one to the next), "210 mm x 297 mm, 2 x 4 of 95 mm x 65 mm" (labels that
    touch, in the middle of the sheet) or "roll, 4 in x 2 in".
    """
    from waney.cli.answers import TagsPrinted
    from waney.cli.files import can_be_written, write
    from waney.cli.saying import say
    from waney.papers import tags as printing
    from waney.papers.label_stock import label_stock
    from waney.yard.services.printer import NOT_AT_ALL

    can_be_written(file, json)
    sheet = label_stock(stock or USUAL[units], units.value)
    kept = NOT_AT_ALL if yard is None or try_out else _kept_by(yard, files, sheet.name)
    moved = (kept.right_mm, kept.down_mm) if shift is None else _shift(shift, units)
    calibration = printing.Calibration(*moved, kept.size if size is None else size)
    if try_out:
        write(file, printing.try_out_pdf(printing.try_out(sheet, calibration), date.today()))
        answer = TagsPrinted(str(file), sheet.name, 1, ())
    else:
        many = count or sheet.each_sheet - used - log_tag or 1
        lines = tuple(line or ())
        if yard is None:
            wanted = _tags(code, first or 1, many, log_tag, lines)
        else:
            _fit_the_yard(first, log_tag)
            tried = _tags(code or "A", 1, many, False, lines)  # what cannot be printed must not be given out
            printing.laid_out(tried[:1], sheet, calibration, used=used, stapled=not glued)
            wanted = _given_by(yard, files, code, many, lines)
        laid = printing.laid_out(wanted, sheet, calibration, used=used, stapled=not glued)
        write(file, printing.tags_pdf(laid, date.today()))
        answer = TagsPrinted(str(file), sheet.name, len(laid.sheets), tuple(str(tag.name) for tag in wanted))
    say(answer, json, lambda: _lines(answer))


def _tags(code: str, first: int, count: int, log: bool, lines: tuple[str, ...]) -> tuple[Tag, ...]:
    from waney.papers.tags import Tag, log_tag, names_ahead

    if not code:
        raise WrittenWrong("Tags need the letters their names begin with: add --code AB, or --try-out for the printer alone.")
    of_log = (log_tag(code, *lines),) if log else ()
    return (*of_log, *(Tag(ahead.name, lines) for ahead in names_ahead(code, first, max(count, 1))))


def _fit_the_yard(first: int | None, log_tag: bool) -> None:
    if first is not None:
        raise WrittenWrong("A yard knows which number is free; leave out --first, or --yard to print names again.")
    if log_tag:
        raise WrittenWrong("The tag of a log bears its number 0, which the yard gave it already; leave out --log-tag, or --yard.")


def _kept_by(yard: str, files: Path | None, stock: str) -> Misses:
    """How the printer of a yard misses on a sheet or roll, as far as it is kept. Raises NoBook."""
    from waney.cli.books import lies_at
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings
    from waney.yard.services.printer import NOT_AT_ALL, kept_misses, plain_stock

    book = open_book(lies_at(yard, files))
    try:
        return kept_misses(settings(book)).get(plain_stock(stock), NOT_AT_ALL)
    finally:
        book.close()


def _given_by(yard: str, files: Path | None, code: str, count: int, lines: tuple[str, ...]) -> tuple[Tag, ...]:
    """Tags with names that a yard gives out for them. Raises NoBook, BookBusy, Stale, NotPossible."""
    from waney.cli.books import lies_at
    from waney.cli.money import hand_of
    from waney.papers.tags import Tag
    from waney.yard.book.book import open_book
    from waney.yard.services.mill import names_for_paper

    book = open_book(lies_at(yard, files))
    try:
        return tuple(Tag(name, lines) for name in names_for_paper(hand_of(book), count, code))
    finally:
        book.close()


def _shift(written: str, units: View) -> tuple[float, float]:
    """Right and down [mm]."""
    from waney.units.length import parse_length

    parts = written.split(",")
    if len(parts) != 2:
        raise WrittenWrong('A shift is two lengths, right and down: --shift "1 mm, -0.5 mm".')
    right, down = (parse_length(part, units.value, signed=True) * 1000 for part in parts)
    return right, down


def _lines(answer: TagsPrinted) -> Iterator[str]:
    sheets = f"{answer.sheets} {'sheet' if answer.sheets == 1 else 'sheets'} of {answer.stock}"
    if answer.names:
        yield f"{len(answer.names)} tags, {answer.names[0]} to {answer.names[-1]}, on {sheets}. Print at 100 %, not fitted."
    else:
        yield f"The try-out sheet of {answer.stock}. Print it at 100 % on plain paper and lay it over a sheet of labels."
