"""The application: its pages, and what becomes of a problem."""

from __future__ import annotations

import logging
from asyncio import to_thread
from collections.abc import AsyncIterator, Awaitable, Callable, Iterable
from contextlib import asynccontextmanager
from threading import Event, Lock, Thread, Timer

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware.base import BaseHTTPMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Match, Route
from starlette.staticfiles import StaticFiles

from waney.figures.problem import Problem
from waney.web.access.sessions import session_of
from waney.web.asking import AT_THE_MILL, KINDS, WARM
from waney.web.forms import CameTwice, NotAllowed, NotSignedIn, OldForm
from waney.web.headers import Wrapped
from waney.web.pages import all_routers, first_routers, later_routers
from waney.web.pages.sign_in import FIRST, SIGN_IN
from waney.web.routes import Router, openapi
from waney.web.serving import AUTHORITY
from waney.web.shop import Shop
from waney.web.showing import page
from waney.web.sizing import Sizing
from waney.yard.problems import BookBusy, BookFull, NotInBook, Stale
from waney.yard.services.jobs import run_jobs

STATUS: dict[type[Problem], int] = {
    NotSignedIn: 401,
    NotAllowed: 403,
    OldForm: 403,
    CameTwice: 409,
    NotInBook: 404,
    Stale: 409,
    BookBusy: 503,
    BookFull: 507,
}
OURS = "Something went wrong here that is no fault of yours. Nothing was half written; go back and try once more."
NOT_THERE = "There is no such page. The address may have been cut off, or what it was about is no more."
LATER_S = 0.5
"""so long after the start the other pages are loaded, whatever is asked (ours): the first page comes before"""
log = logging.getLogger("waney.web")


def make_app(shop: Shop, at_once: bool = True) -> Starlette:
    """The app over one yard. The yard stays the caller's to close.

    at_once: all pages are loaded here; else the first ones are, and the rest soon after, or when one of them is asked for.
    """
    app = Starlette(routes=_routes(first_routers()), lifespan=_working)
    app.state.shop = shop
    app.state.later = Later(app)
    if at_once:
        app.state.later.load()
    app.add_middleware(BaseHTTPMiddleware, dispatch=_who)
    app.add_middleware(Wrapped)
    app.add_exception_handler(Problem, _problem)
    app.add_exception_handler(HTTPException, _not_there)
    app.add_exception_handler(Exception, _fault)
    app.add_route("/worker.js", _worker)
    app.add_route(f"/{AUTHORITY}", _authority)
    app.add_route("/api/openapi.json", lambda _request: JSONResponse(openapi(_routes(all_routers()))))
    if shop.built.folder.is_dir():
        app.mount("/built", Kept(directory=shop.built.folder))
    return app


def _routes(routers: Iterable[Router]) -> list[Route]:
    return [route for router in routers for route in router.routes]


class Later:
    """The pages that are loaded after the first ones."""

    def __init__(self, app: Starlette) -> None:
        self._app, self._lock, self.there = app, Lock(), False

    def load(self) -> None:
        """Have them; whoever comes while they are loaded waits."""
        with self._lock:
            if not self.there:
                self._app.router.routes.extend(_routes(later_routers()))
                self.there = True


@asynccontextmanager
async def _working(app: Starlette) -> AsyncIterator[None]:
    """While the app is served, a thread hands jobs to processes; what is not done when it ends waits for the next start."""
    ended = Event()
    more = {"warm": WARM, "urgent": AT_THE_MILL, "beside": Sizing(app.state.shop).look}
    worker = Thread(target=run_jobs, args=(app.state.shop.book, KINDS, ended.is_set), kwargs=more, daemon=True)
    worker.start()
    soon = Timer(LATER_S, app.state.later.load)
    soon.daemon = True
    soon.start()
    yield
    soon.cancel()
    ended.set()
    await to_thread(worker.join, 10.0)


def _worker(request: Request) -> Response:
    """The worker stands at the root, because it keeps only pages below its own address."""
    return FileResponse(request.app.state.shop.built.folder / "worker.js", media_type="text/javascript")


def _authority(request: Request) -> Response:
    """What a phone is told to trust: the certificate alone; its key never leaves this machine."""
    file = request.app.state.shop.authority
    if not file:
        raise HTTPException(404)
    return FileResponse(file, media_type="application/x-x509-ca-cert", filename=AUTHORITY)


class Kept(StaticFiles):
    """Files whose names change with their content: a browser may keep them."""

    async def get_response(self, path: str, scope: object) -> Response:
        """One file."""
        answer = await super().get_response(path, scope)  # type: ignore[arg-type]
        if answer.status_code == 200:
            answer.headers["cache-control"] = "public, max-age=31536000, immutable"
        return answer


async def _who(request: Request, go_on: Callable[[Request], Awaitable[Response]]) -> Response:
    """Says who looks; before there is an owner, every page is the first one."""
    shop: Shop = request.app.state.shop
    request.state.session = session_of(request, shop.members)
    path = request.url.path
    if not shop.members.all and not path.startswith((FIRST, "/built")):
        return Response(status_code=303, headers={"location": FIRST})
    later: Later = request.app.state.later
    if later.there or _is_first(request):
        return await go_on(request)
    await to_thread(later.load)
    return await go_on(request)


def _is_first(request: Request) -> bool:
    """Whether what answers is there without the pages that come later."""
    return any(route.matches(request.scope)[0] is Match.FULL for route in request.app.router.routes)


def wants_json(request: Request) -> bool:
    """Whether it is a page's module that asks, not a person."""
    return request.url.path.startswith("/api/")


async def _problem(request: Request, problem: Exception) -> Response:
    status = next((code for kind, code in STATUS.items() if isinstance(problem, kind)), 400)
    return said(request, str(problem), status)


def said(request: Request, sentence: str, status: int) -> Response:
    """A sentence, as a page or as an answer."""
    if wants_json(request):
        return JSONResponse({"sentence": sentence}, status)
    return page(request, "said.html", {"sentence": sentence, "sign_in": SIGN_IN if status == 401 else ""}, status=status)


async def _not_there(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, HTTPException)
    return said(request, NOT_THERE if problem.status_code == 404 else str(problem.detail), problem.status_code)


async def _fault(request: Request, problem: Exception) -> Response:
    log.error("%s %s", request.method, request.url.path, exc_info=problem)
    return said(request, OURS, 500)
