"""The shop window: pieces for sale as plain pages with photos, to publish anywhere; no script, no figure of our own, no name."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from waney.papers.cautions import cautions
from waney.papers.listing import csv_text
from waney.papers.lists import for_sale_list
from waney.papers.sale import CARE
from waney.web.as_sold import Opened, as_sold, sale_line, small_photo
from waney.web.loads_asked import moistures_in_words
from waney.web.measured import measured_before, newest_shaped
from waney.web.shop import currency_of, unit_of, writes, yard_called
from waney.web.showing import Figures, part
from waney.yard.book.looking import PieceStands
from waney.yard.book.stories import PieceStory, piece_story
from waney.yard.problems import NotPossible
from waney.yard.services.for_sale import OnSale, asked_for_all, going_together, whole_sets

LIST = "for-sale.csv"
WRITTEN = "written-here.txt"
"""names the files of a window in its folder, so that the next one takes away what is sold"""


def pages_of(yard: Opened, some: Sequence[OnSale]) -> dict[str, bytes]:
    """Files by their names: index.html, a page and a photo for each piece, the list as CSV."""
    photos = {one.piece.name: photo for one in some if (photo := small_photo(yard.book, one.photo))}
    common = {
        "yard": yard_called(yard.settled),
        "show": Figures(writes(yard.settled)),
        "currency": currency_of(yard.settled),
        "photos": photos,
        "state": state_told,
        "on": yard.today.isoformat(),
        "moist": lambda one: moistures_in_words(one.moistures),
    }
    asked = {one.piece.id: (one.cents, "") for one in some}
    going = [(one, asked_for_all(one.pieces, asked)) for one in going_together(yard.book, _free(some))]
    # what is left of a set may lie outside of what is shown: then the set is not told
    sets = [one for one in whole_sets(yard.book, some) if all(piece.id in asked for piece in one.pieces)]
    files = {"index.html": part("window.html", {"rows": some, "going": going, "sets": sets, **common})}
    for one in some:
        told = {"one": one, "told": _told(yard, piece_story(yard.book, one.piece.id)), "care": CARE, **common}
        files[f"{one.piece.name}.html"] = part("window_piece.html", {**told, "cautions": _cautions()})
    rows = [sale_line(one, state_told(one), yard.today) for one in some]
    listed = csv_text(for_sale_list(rows, writes(yard.settled), currency_of(yard.settled) or ""))
    made = {name: text.encode("utf-8") for name, text in files.items()}
    return made | {LIST: listed.encode("utf-8-sig")} | {f"photos/{name}.jpg": photo for name, photo in photos.items()}


def state_told(one: OnSale) -> str:
    """Who may still have it, for everybody to read: without days, and nobody's name."""
    if one.away is not None:
        return "in a kiln"
    return "free" if one.promised is None else "held" if one.promised.kind == "hold" else "taken along to be sold"


def _free(some: Sequence[OnSale]) -> list[PieceStands]:
    return [one.piece for one in some if one.free]


def _cautions() -> list[str]:
    return [caution.sentence for caution in cautions("sale")]


def _told(yard: Opened, story: PieceStory) -> object:
    last = newest_shaped(story)
    answer = None if last is None else measured_before(yard.book, last, metric=unit_of(yard.settled) == "mm")
    return as_sold(yard, story, answer)


def zipped(files: Mapping[str, bytes], on: date) -> bytes:
    """All of it as one file; the same pages and day give the same bytes."""
    out = io.BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as packed:
        for name, content in sorted(files.items()):
            packed.writestr(ZipInfo(f"for-sale/{name}", (on.year, on.month, on.day, 0, 0, 0)), content)
    return out.getvalue()


def written_to(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write a window into a new or an empty folder, or over a window: what is not for sale any more is taken away.

    Raises NotPossible for a folder with something else in it.
    """
    names = folder / WRITTEN
    if not names.is_file() and folder.is_dir() and any(folder.iterdir()):
        raise NotPossible(f"{folder} holds something else; name a new folder, or one that a window was written to before.")
    before = names.read_text(encoding="utf-8").splitlines() if names.is_file() else []
    for name in set(before) - files.keys():
        inside = folder / name
        if inside.resolve().is_relative_to(folder.resolve()):
            inside.unlink(missing_ok=True)
    (folder / "photos").mkdir(parents=True, exist_ok=True)
    # first, so that a window that breaks off can be written again
    names.write_text("".join(f"{name}\n" for name in sorted({*before, *files})), encoding="utf-8")
    for name, content in files.items():
        (folder / name).write_bytes(content)
    names.write_text("".join(f"{name}\n" for name in sorted(files)), encoding="utf-8")
