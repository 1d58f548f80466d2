"""One piece: what it is, where it lay in its log, what happened to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.asked.kinds import PLACE
from waney.web.asked.packing import as_bytes
from waney.web.asked.place import PlaceAsked
from waney.web.asking import answer_of, ask
from waney.web.forms import Fields, Sent, photo, wet_of
from waney.web.pages import readings
from waney.web.pages.binding import on_photo
from waney.web.rooms import ready_for_room
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import page, shop_of
from waney.web.sides_form import CHOICES, sides_shown, sides_told
from waney.web.telling import told
from waney.yard.acts.people_places import Moved, NoteWritten
from waney.yard.acts.pieces import FigureSeen, PieceEnd, PieceEnded, Tagged
from waney.yard.book.around import spots
from waney.yard.book.kiln_seen import at_kiln
from waney.yard.book.looking import names_of, pieces_by_id, plan_file
from waney.yard.book.stories import PieceStory, log_story, piece_story
from waney.yard.book.tags import known_tags
from waney.yard.known_tags import in_the_way, meant
from waney.yard.problems import FileLost, NotInBook
from waney.yard.services.drying import tell_sides
from waney.yard.services.pieces import OfPiece, keep_photo, tell_of_piece
from waney.yard.services.ready import ready

router = Router()


@router.get("/pieces/{piece}")
def piece(request: Request, piece: str) -> Response:
    """All that is known. Raises NotInBook."""
    return _shown(request, piece, {}, {})


def _shown(request: Request, ident: str, wrong: dict[str, str], typed: Mapping[str, str]) -> Response:
    from waney.yard.services.for_sale import beside

    shop = shop_of(request)
    book = shop.book
    story = piece_story(book, ident)
    shown = {
        "piece": story.piece,
        "story": story,
        "boule": log_story(book, story.piece.log).pieces if story.piece.log else (),
        "spots": spots(book),
        "ends": list(PieceEnd),
        "history": told(story.events, writes(shop.settled())),
        "sides": sides_shown([story.piece.sides]),
        **CHOICES,
        "wrong": wrong,
        "typed": typed,
        **_place(shop, story),
        "beside": beside(book, story, shop.today().isoformat()),
        "at_kiln": at_kiln(book, ident),
        "came_back": ready(book, ident),
        "room": None if story.piece.ended else ready_for_room(shop, story),
        **readings.of_piece(shop, story.piece),
    }
    return page(request, "piece.html", shown, status=422 if wrong else 200)


def _place(shop: Shop, story: PieceStory) -> dict[str, object]:
    """Its place in the log: drawn, being drawn, or a sentence on why it is not known."""
    if not story.piece.log:
        return {"no_place": "Log not known: it is older than the book, or was bought.", "job": None, "place": ""}
    if not story.plan:
        return {"no_place": "It was sawn without a plan; its place in the log is not known.", "job": None, "place": ""}
    metric = unit_of(shop.settled()) == "mm"
    try:
        plan = plan_file(shop.book, story.plan).decode("utf-8")
    except FileLost as lost:  # the piece is there all the same
        return {"no_place": str(lost), "job": None, "place": ""}
    asked = PlaceAsked.of(shop.book, story, plan, metric=metric)
    job = ask(shop, PLACE, as_bytes(asked))
    drawn = answer_of(shop, job)
    return {"no_place": "", "job": job, "place": drawn.decode("utf-8") if drawn else "", "heights": asked.height_m}


@router.post("/pieces/{piece}")
async def write(piece: str, sent: Sent) -> Response:
    """What was told of it: any of the fields, one is enough. Raises BadName, BadAct, BadField, NotInBook."""
    fields, stream = Fields(sent), f"piece:{piece}"
    name = await _tag(sent, fields, piece)
    figure = _figure(sent, fields, piece)
    if fields.wrong:
        return _shown(sent.request, piece, fields.wrong, sent.typed)
    picture = await photo(sent)
    acts = tuple(_acts(sent, piece, name, figure))
    if picture:
        keep_photo(sent.hand, picture.content, stream, picture.taken_at, wet_of(sent))
    tell_of_piece(sent.hand, acts)
    return RedirectResponse(f"/pieces/{piece}", 303)


async def _tag(sent: Sent, fields: Fields, piece: str) -> str:
    """The name on the tag that was stapled on, typed (four characters are enough) or on a photo; empty for none, and for one that
    cannot be: then the field is wrong."""
    typed, book, stream = sent.text("name"), shop_of(sent.request).book, f"piece:{piece}"
    try:
        seen = None if typed else await on_photo(sent, "tag")
        if not (typed or seen):
            return ""
        known = known_tags(book)
        name = seen or meant(known, typed)
        said = in_the_way(known, name, names_of(book, [stream]).get(stream, ""))
    except Problem as slip:
        said = str(slip)
    if said:
        fields.wrong["name" if typed else "tag"] = said
        return ""
    return str(name)


@router.post("/pieces/{piece}/sides")
def sides(piece: str, sent: Sent) -> Response:
    """Its bark and its ends. Raises BadAct, BadField, NotInBook."""
    fields = Fields(sent)
    told = sides_told(fields, [piece])
    if fields.wrong or not pieces_by_id(shop_of(sent.request).book, [piece]):
        return _shown(sent.request, piece, fields.wrong, {name: sent.text(name) for name in ("bark", "ends", "as_of")})
    if told is not None:
        tell_sides(sent.hand, told)
    return RedirectResponse(f"/pieces/{piece}", 303)


def _figure(sent: Sent, fields: Fields, piece: str) -> FigureSeen | None:
    """What was told of its figure; None for nothing new, or for what cannot be kept: then the field is wrong."""
    stands = pieces_by_id(shop_of(sent.request).book, [piece])
    if not stands:
        raise NotInBook("There is no such piece in the book.")
    if "figure" not in sent.form or sent.text("figure") == stands[0].figure:
        return None
    try:
        return FigureSeen(piece, sent.text("figure"))
    except Problem as slip:
        fields.wrong["figure"] = str(slip)
        return None


def _acts(sent: Sent, piece: str, name: str, figure: FigureSeen | None) -> Iterator[OfPiece]:
    stream, spot, words = f"piece:{piece}", sent.text("spot"), sent.text("words")
    if spot:
        yield Moved(stream, spot)
    if name:
        yield Tagged(piece, name)
    if figure is not None:
        yield figure
    if words:
        yield NoteWritten(stream, words)
    if sent.text("how"):
        yield PieceEnded(piece, sent.choice("how", PieceEnd))
