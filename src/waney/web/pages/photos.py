"""Photos that wait: many sent at once; one with a tag files itself, the others are offered beside the day's record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.papers.words import Shop as Writes
from waney.web.forms import Sent, wet_of
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import page, shop_of
from waney.web.telling import told
from waney.yard.book.looking import named, names_of
from waney.yard.book.stories import Photo, Told, unfiled_photos
from waney.yard.problems import NotInBook
from waney.yard.services.heap import Heaped, offers, take_photos
from waney.yard.services.pictures import small
from waney.yard.services.pieces import file_photo
from waney.yard.streams import Stream

router = Router()
A_PAGE = 20
FILED_UNDER = ("piece", "log", "day")


@dataclass(frozen=True)
class Near:
    """Something that was told near the time of a photo: what a tap files it under."""

    about: str
    called: str
    what: str
    minutes: int


@dataclass(frozen=True)
class Waits:
    """A photo of which nobody has said what it is about."""

    photo: Photo
    near: tuple[Near, ...]


@router.get("/photos")
def photos(request: Request) -> Response:
    """Those that wait, by the time they were taken."""
    return _shown(request, ())


def _shown(request: Request, taken: tuple[Heaped, ...], problem: str = "") -> Response:
    shop = shop_of(request)
    book = shop.book
    waiting = unfiled_photos(book)
    write = writes(shop.settled())
    offered = [(photo, offers(book, photo.taken_at)) for photo in waiting[:A_PAGE]]
    names = names_of(book, {*_streams(offered), *(each.about for each in taken if each.about)})
    shown = {
        "waits": [Waits(photo, _near(photo, told, names, write)) for photo, told in offered],
        "count": len(waiting),
        "taken": taken,
        "names": names,
        "problem": problem,
    }
    return page(request, "photos.html", shown, status=422 if problem else 200)


def _streams(offered: list[tuple[Photo, tuple[Told, ...]]]) -> set[str]:
    return {_about(each) for _, told in offered for each in told}


def _about(each: Told) -> str:
    """What a photo taken near an event is of: its piece, else its log, else its day."""
    streams = each.event.act.streams()
    return min(streams, key=lambda stream: (*FILED_UNDER, _kind(stream)).index(_kind(stream)))


def _kind(stream: Stream) -> str:
    return stream.partition(":")[0]


def _near(photo: Photo, offered: tuple[Told, ...], names: dict[str, str], write: Writes) -> tuple[Near, ...]:
    """One tap for each thing, the nearest in time first."""
    found: dict[str, Near] = {}
    for each in offered:
        about = _about(each)
        apart = datetime.fromisoformat(each.event.happened_at) - datetime.fromisoformat(photo.taken_at)
        found.setdefault(
            about, Near(about, names.get(about, "the day"), told((each,), write)[0].what, round(apart.total_seconds() / 60))
        )
    return tuple(found.values())


@router.post("/photos")
def take(sent: Sent) -> Response:
    """Keep what was sent, and say what became of each. Raises BookFull, BookBusy."""
    files = [each for each in sent.form.getlist("photos") if isinstance(each, UploadFile) and each.filename]
    heap = [(each.filename or "", each.file.read()) for each in files]
    if not heap:
        return _shown(sent.request, (), "Choose one photo or more.")
    taken = take_photos(sent.hand, heap, shop_of(sent.request).zone(), wet_of(sent))
    return _shown(sent.request, taken)


@router.post("/photos/{photo}/file")
def file(photo: str, sent: Sent) -> Response:
    """Say what a photo is about: one of the offers, or a name. Raises BadName, NotInBook."""
    file_photo(sent.hand, photo, sent.text("about") or _named(sent), wet_of(sent))
    return RedirectResponse("/photos", 303)


def _named(sent: Sent) -> str:
    found = named(shop_of(sent.request).book, sent.text("name"))
    if found is None:
        raise NotInBook(f"{sent.text('name')} stands on nothing in the book; look at the tag again.")
    return found


@router.get("/photos/{name}")
def picture(request: Request, name: str) -> Response:
    """A picture as it is kept. Only pictures are ever handed out, as what they are. Raises NotInBook."""
    return _handed_out(_read(request, name))


@router.get("/photos/{name}/small")
def little(request: Request, name: str) -> Response:
    """The same, small. Raises NotInBook."""
    return _handed_out(small(_read(request, name)))


def _read(request: Request, name: str) -> bytes:
    content = shop_of(request).book.files.read(name)
    if not kind_of(content):
        raise NotInBook("There is no such picture.")
    return content


def kind_of(content: bytes) -> str:
    """What a picture is, by how it begins; empty for anything else."""
    if content.startswith(b"RIFF") and content[8:12] == b"WEBP":
        return "image/webp"
    return "image/jpeg" if content.startswith(b"\xff\xd8") else "image/png" if content.startswith(b"\x89PNG") else ""


def _handed_out(content: bytes) -> Response:
    headers = {"cache-control": "private, max-age=31536000, immutable"}
    return Response(content, media_type=kind_of(content), headers=headers)
