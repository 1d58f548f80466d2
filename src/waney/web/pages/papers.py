"""Papers: tags printed ahead, tallies, maps, histories, lists; the page that offers them, and each paper at its address."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.boule import BoulePiece, boule_map
from waney.papers.history import Happened, Known, piece_history
from waney.papers.label_stock import label_stock, sold_everywhere
from waney.papers.paper import Paper, paper_pdf
from waney.papers.tags import Calibration, try_out, try_out_pdf
from waney.papers.tally import TallyLine, blank_lines, tally_sheet
from waney.papers.target import target_pdf
from waney.papers.words import day as written_day
from waney.units.length import parse_length
from waney.web.asked.kinds import OF_PLAN, TAGS
from waney.web.asked.paper import LabelAsked, LabelsAsked, PlanPaperAsked, SheetsAsked, TagsAsked, asked_bytes
from waney.web.asking import KINDS, Job, answer_of, ask
from waney.web.forms import BadField, Sent
from waney.web.pages.day import day_at
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.web.telling import told
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import PieceStands, next_free, plan_file
from waney.yard.book.stories import PieceStory, day_story, log_story, piece_story
from waney.yard.names import Name, read_name
from waney.yard.problems import NotPossible
from waney.yard.services.mill import names_for_paper
from waney.yard.services.printer import NOT_AT_ALL, Misses, keep_misses, kept_misses, plain_stock

router = Router()
PDF = "application/pdf"
USUAL = {"in": "letter 4 x 2", "mm": "a4 99 x 57"}
AT_ONCE = 20
"""so many tags are drawn in a third of a second (measured); more are a job"""
MOST_NAMES = 500
HOW = ("stock", "used", "glued")
"""what is said of how tags are printed; kept in the address, so that a sheet can be printed again"""


@dataclass(frozen=True)
class How:
    """How tags are printed. Raises Problem for what cannot be read."""

    stock: str
    unit: str
    used: int
    calibration: Calibration
    stapled: bool

    @classmethod
    def of(cls, told: Mapping[str, str], settled: Mapping[str, str]) -> How:
        """From the fields of a form or of an address; how the printer misses, as it is kept where they say nothing of it."""
        unit = unit_of(settled)
        stock = told.get("stock", "").strip() or USUAL[unit]
        label_stock(stock, unit)
        kept = kept_misses(settled).get(plain_stock(stock), NOT_AT_ALL)
        calibration = calibration_of(told, unit, kept)
        return cls(stock, unit, _whole(told.get("used", ""), 0, MOST_NAMES), calibration, not told.get("glued"))

    def tags(self, code: str, numbers: tuple[int, ...], lines: tuple[str, ...], printed: date) -> TagsAsked:
        """Tags to be printed so."""
        return TagsAsked(code, numbers, lines, self._sheets(printed))

    def labels(self, labels: tuple[LabelAsked, ...], printed: date) -> LabelsAsked:
        """Price labels to be printed so."""
        return LabelsAsked(labels, self._sheets(printed))

    def _sheets(self, printed: date) -> SheetsAsked:
        moved = (self.calibration.right_mm, self.calibration.down_mm, self.calibration.size)
        return SheetsAsked(self.stock, self.unit, printed.isoformat(), self.used, *moved, self.stapled)


def calibration_of(told: Mapping[str, str], unit: str, kept: Misses) -> Calibration:
    """As it was typed; kept: what stands for a field that says nothing. Raises BadField, BadTag, Problem."""
    right, down = (
        _mm(told.get(name, ""), unit, otherwise) for name, otherwise in (("right", kept.right_mm), ("down", kept.down_mm))
    )
    return Calibration(right, down, float(_number(told.get("size", ""), f"{kept.size:g}")))


def _number(text: str, otherwise: str) -> str:
    written = text.strip() or otherwise
    if not written.replace(".", "", 1).isdecimal():
        raise BadField(f'"{written[:30]}" is no number; write one such as {otherwise}.')
    return written


def _whole(text: str, least: int, most: int) -> int:
    written = text.strip() or str(least)
    if not written.isdecimal() or not least <= int(written[:9]) <= most:
        raise BadField(f'"{written[:30]}" is not a number from {least} to {most}.')
    return int(written)


def _mm(text: str, unit: str, otherwise: float) -> float:
    return parse_length(text, unit, signed=True) * 1000 if text.strip() else otherwise


@router.get("/papers")
def papers(request: Request) -> Response:
    """What can be printed; ?printer=: the sheet or roll of which it is told how the printer misses."""
    return _offered(request, {}, "")


def _offered(request: Request, typed: Mapping[str, str], problem: str, missing: Mapping[str, str] | None = None) -> Response:
    """missing: what was typed of the printer, where that is the problem."""
    shop = shop_of(request)
    settled = shop.settled()
    unit, kept = unit_of(settled), kept_misses(settled)
    usual = next(iter(kept), USUAL[unit])
    stock = request.query_params.get("printer", "").strip() or usual
    shown = {
        "typed": {name: typed.get(name, "") for name in (*HOW, "code", "count", "first")},
        "problem": "" if missing else problem,
        "usual": USUAL[unit],
        "kept": {name: _in_words(misses) for name, misses in kept.items()},
        "missing": missing or {"stock": stock, **_typed_as(kept.get(plain_stock(stock), NOT_AT_ALL))},
        "missing_problem": problem if missing else "",
        "stocks": tuple(sold_everywhere()),
        "logs": logs(shop.book, in_yard=True),
    }
    return page(request, "papers.html", shown, status=422 if problem else 200)


def _typed_as(misses: Misses) -> dict[str, str]:
    """As it is typed: millimetres, whatever the shop counts in, because so the try-out sheet is read to a tenth."""
    lengths = {"right": misses.right_mm, "down": misses.down_mm}
    told = {name: f"{value:g} mm" if value else "" for name, value in lengths.items()}
    return {**told, "size": "" if misses.size == 1.0 else f"{misses.size:g}"}


def _in_words(misses: Misses) -> str:
    ways = ((misses.right_mm, "right", "left"), (misses.down_mm, "down", "up"))
    told = [f"{abs(by):g} mm {one if by > 0 else other}" for by, one, other in ways if by]
    return ", ".join([*told, *([f"size {misses.size:g}"] if misses.size != 1.0 else [])])


@router.post("/papers/printer")
def keep(sent: Sent) -> Response:
    """Keep how the printer misses on a sheet or roll: all that is printed on it from now on is moved so."""
    told = {name: sent.text(name) for name in ("stock", "right", "down", "size")}
    unit = unit_of(shop_of(sent.request).settled())
    try:
        label_stock(told["stock"], unit)
        found = calibration_of(told, unit, NOT_AT_ALL)
    except Problem as slip:
        return _offered(sent.request, {}, str(slip), told)
    keep_misses(sent.hand, told["stock"], Misses(round(found.right_mm, 3), round(found.down_mm, 3), found.size))
    return RedirectResponse("/papers#printer", 303)


@router.post("/papers/tags")
def take(sent: Sent) -> Response:
    """Take names out of the book, and go to the sheet that has them."""
    told = {name: sent.text(name) for name in (*HOW, "code", "count")}
    try:
        how = How.of(told, shop_of(sent.request).settled())
        count = _whole(told["count"] or str(_room(how)), 1, MOST_NAMES)
        names = names_for_paper(sent.hand, count, told["code"].upper())
    except Problem as slip:
        return _offered(sent.request, told, str(slip))
    asked = {"code": names[0].code, "first": str(names[0].number), "count": str(count)}
    kept = {name: told[name] for name in HOW if told[name]}
    return RedirectResponse(f"/papers/tags.pdf?{urlencode({**asked, **kept})}", 303)


def _room(how: How) -> int:
    return max(label_stock(how.stock, how.unit).each_sheet - how.used, 1)


@router.get("/papers/tags.pdf")
def tags(request: Request) -> Response:
    """Tags with names that were taken before; the same address prints them again. Raises NotPossible."""
    shop, asked = shop_of(request), dict(request.query_params)
    names = _taken(shop, asked)
    how = How.of(asked, shop.settled())
    given = how.tags(names[0].code, tuple(name.number for name in names), (), shop.today())
    called = f"tags-{names[0]}-to-{names[-1]}.pdf"
    return made(request, TAGS, asked_bytes(given), called, PDF, at_once=len(names) <= AT_ONCE)


def _taken(shop: Shop, asked: Mapping[str, str]) -> tuple[Name, ...]:
    """Names that the book gave out; printing others would put one name on two pieces."""
    first, count = _whole(asked.get("first", ""), 1, 999_999), _whole(asked.get("count", ""), 1, MOST_NAMES)
    names = tuple(Name(asked.get("code", ""), number) for number in range(first, first + count))
    if first + count > next_free(shop.book, names[0].code)[0]:
        raise NotPossible(f"The names {names[0]} to {names[-1]} were not all given out yet; take them under Papers.")
    return names


@router.get("/papers/try-out.pdf")
def trying(request: Request) -> Response:
    """The sheet that shows how far the printer misses."""
    shop = shop_of(request)
    how = How.of(request.query_params, shop.settled())
    content = try_out_pdf(try_out(label_stock(how.stock, how.unit), how.calibration), shop.today())
    return file(content, "try-out.pdf", PDF)


@router.get("/pieces/{piece}/tag.pdf")
def piece_tag(request: Request, piece: str) -> Response:
    """The tag of one piece: its wood, thickness and length beside the code."""
    shop = shop_of(request)
    found, write = piece_story(shop.book, piece).piece, writes(shop.settled())
    sizes = [write.read(found.thickness_m)] if found.thickness_m is not None else []
    sizes += [write.long(found.length_m)] if found.length_m is not None else []
    return _one_tag(request, found.name, (Figures.wood(found.species), *map(str, sizes)))


@router.get("/logs/{log}/tag.pdf")
def log_tag(request: Request, log: str) -> Response:
    """The log's own tag."""
    found = log_at(request, log)
    felled = (f"felled {Figures.day(found.felled_on)}",) if found.felled_on else ()
    return _one_tag(request, found.name, ("LOG", Figures.wood(found.species), *felled))


def _one_tag(request: Request, written: str, lines: tuple[str, ...]) -> Response:
    shop, name = shop_of(request), read_name(written)
    how = How.of(request.query_params, shop.settled())
    given = how.tags(name.code, (name.number,), lines, shop.today())
    return made(request, TAGS, asked_bytes(given), f"tag-{name}.pdf", PDF, at_once=True)


@router.post("/papers/tally")
def take_for_tally(sent: Sent) -> Response:
    """Names of a log for a tally that is filled in by pencil."""
    log = log_at(sent.request, sent.text("log"))
    count = _whole(sent.text("count"), 1, MOST_NAMES)
    names = names_for_paper(sent.hand, count, read_name(log.name).code)
    return RedirectResponse(f"/papers/tally.pdf?log={log.id}&code={names[0].code}&first={names[0].number}&count={count}", 303)


@router.get("/papers/target.pdf")
def target_sheet(request: Request) -> Response:
    """The target that lies on a piece in its photo."""
    shop = shop_of(request)
    return file(target_pdf(writes(shop.settled()), shop.today()), "target.pdf", PDF)


@router.get("/papers/tally.pdf")
def blank_tally(request: Request) -> Response:
    """A tally to be filled in: without a log, of a log, with names ahead that were taken before."""
    shop, asked = shop_of(request), request.query_params
    log = log_at(request, asked["log"]) if asked.get("log") else None
    names = tuple(map(str, _taken(shop, asked))) if asked.get("first") else ()
    below = Figures.wood(log.species) if log else "day ______________"
    sheet = tally_sheet(log.name if log else "Tally", below, blank_lines(names), writes(shop.settled()), shop.today())
    return _paper(shop, sheet, f"tally-{log.name if log else 'blank'}.pdf")


@router.get("/day/{day}/tally.pdf")
def day_tally(request: Request, day: str) -> Response:
    """What came off on a day."""
    shop, found = shop_of(request), day_at(request, day)
    lines = tuple(_line(piece) for piece in day_story(shop.book, day).pieces)
    sheet = tally_sheet("Sawing day", written_day(date.fromisoformat(found.on)), lines, writes(shop.settled()), shop.today())
    return _paper(shop, sheet, f"tally-{found.on}.pdf")


def _line(piece: PieceStands) -> TallyLine:
    """Which of its widths is the butt's nobody told; those are left to the pencil."""
    wood = Figures.wood(piece.species) if piece.species else ""
    return TallyLine(piece.name, wood, piece.thickness_m, length_m=piece.length_m, remark=piece.ended or wood)


@router.get("/logs/{log}/boule.pdf")
def boule(request: Request, log: str) -> Response:
    """The map of a boule: out of its pieces, or as its plan has it while nothing is sawn. Raises NoBoule, NotPossible."""
    shop, story = shop_of(request), log_story(shop_of(request).book, log)
    if not story.pieces:
        return _of_plan(request, log, "boule")
    there = tuple(BoulePiece(one.name, one.thickness_m or 0.0) for one in story.pieces if not one.parent)
    sheet = boule_map(story.log.name, Figures.wood(story.log.species), there, writes(shop.settled()), shop.today())
    return _paper(shop, sheet, f"boule-{story.log.name}.pdf")


@router.get("/logs/{log}/crayon.pdf")
def crayon(request: Request, log: str) -> Response:
    """What to write on the butt end. Raises NotPossible."""
    return _of_plan(request, log, "crayon")


def _of_plan(request: Request, log: str, paper: str) -> Response:
    shop, found = shop_of(request), log_at(request, log)
    if not found.chosen:
        raise NotPossible(f"No plan is chosen for {found.name} yet; choose one, and this can be drawn.")
    plan = plan_file(shop.book, found.chosen).decode("utf-8")
    given = PlanPaperAsked(paper, plan, unit_of(shop.settled()) == "mm", shop.today().isoformat())
    return made(request, OF_PLAN, asked_bytes(given), f"{paper}-{found.name}.pdf", PDF, at_once=False)


@router.get("/pieces/{piece}/history.pdf")
def history(request: Request, piece: str) -> Response:
    """All of one piece."""
    shop, story = shop_of(request), piece_story(shop_of(request).book, piece)
    happened = tuple(
        Happened(date.fromisoformat(line.when[:10]), f"{line.what}{f' ({line.more})' if line.more else ''}", line.who)
        for line in reversed(told(story.events, writes(shop.settled())))
    )
    wood = Figures.wood(story.piece.species)
    sheet = piece_history(story.piece.name, wood, _known(shop, story), happened, writes(shop.settled()), shop.today())
    return _paper(shop, sheet, f"history-{story.piece.name}.pdf")


def _known(shop: Shop, story: PieceStory) -> tuple[Known, ...]:
    write, piece = writes(shop.settled()), story.piece
    sizes = (("narrowest", piece.least_width_m), ("widest", piece.most_width_m))
    return (
        Known("wood", Figures.wood(piece.species)),
        Known("from log", piece.log_name or None),
        *_saw_tree(story),
        Known("thickness, green", None if piece.thickness_m is None else write.read(piece.thickness_m)),
        *(Known(what, None if size is None else write.have(size)) for what, size in sizes),
        Known("length", None if piece.length_m is None else write.long(piece.length_m)),
        Known("weight, last", None if piece.mass_kg is None else write.heavy(piece.mass_kg)),
        Known("spot", piece.spot_called or None),
        *((Known("it is no more", piece.ended),) if piece.ended else ()),
    )


def _saw_tree(story: PieceStory) -> tuple[Known, ...]:
    """What it was sawn from, and what was sawn from it."""
    of, piece = story.came_of, story.piece
    whole = None if of is None else f"{of.name}, {piece.transform}" if piece.transform else of.name
    came = Known("came off", piece.how or None) if whole is None else Known("part of", whole)
    gave = ", ".join(f"{one.name} ({one.transform})" if one.transform else one.name for one in story.gave)
    return (came, *((Known("what came of it", gave),) if gave else ()))


def _paper(shop: Shop, sheet: Paper, called: str) -> Response:
    return file(paper_pdf(sheet, shop.today()), called, PDF)


def made(request: Request, kind: str, given: bytes, called: str, media: str, *, at_once: bool) -> Response:
    """A file: made now, or by a job that the page waits for; the same address then has the file."""
    if at_once:
        return file(KINDS[kind](given, lambda _share, _words: None), called, media)
    shop = shop_of(request)
    job: Job = ask(shop, kind, given)
    content = answer_of(shop, job)
    if content is None:
        return page(request, "paper_waits.html", {"job": job, "called": called})
    return file(content, called, media)


def file(content: bytes, called: str, media: str) -> Response:
    """A file under its name; papers open in the browser, lists are kept."""
    way = "inline" if media == PDF else "attachment"
    return Response(content, media_type=media, headers={"content-disposition": f"{way}; filename*=UTF-8''{quote(called)}"})
