"""Routes: which function answers at which address, and what it is handed."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable, Iterable
from dataclasses import dataclass, field
from inspect import iscoroutinefunction, signature
from typing import Any, TypeVar

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from waney.web.forms import done_once, sent

Answers = TypeVar("Answers", bound=Callable[..., Response | Awaitable[Response]])
CONVERTED = re.compile(r"{(\w+):\w+}")
"""a part of an address that has to be a number, as Starlette writes it"""


@dataclass(frozen=True)
class Router:
    """The addresses of a page.

    A function that answers takes `request`, or `sent` (the form, from somebody who may write: whoever may not is refused before),
    and each part of the address by its name. One that does not await anything runs in a thread. A form that comes twice is done
    once (`forms.done_once`).
    """

    routes: list[Route] = field(default_factory=list)

    def get(self, path: str) -> Callable[[Answers], Answers]:
        """Looking."""
        return self._route("GET", path)

    def post(self, path: str, says_so: bool = False) -> Callable[[Answers], Answers]:
        """Writing. says_so: it sees itself that a form came twice, and tells whoever sent it."""
        return self._route("POST", path, says_so)

    def _route(self, method: str, path: str, says_so: bool = False) -> Callable[[Answers], Answers]:
        def routed(answers: Answers) -> Answers:
            self.routes.append(Route(path, _endpoint(answers, says_so), methods=[method], name=answers.__name__))
            return answers

        return routed


def _endpoint(answers: Callable[..., Any], says_so: bool) -> Callable[[Request], Awaitable[Response]]:
    takes = signature(answers).parameters

    async def endpoint(request: Request) -> Response:
        given: dict[str, object] = {**request.path_params, **({"request": request} if "request" in takes else {})}
        if "sent" not in takes:
            return await _answer(answers, given)
        form = await sent(request)
        return await done_once(form, lambda: _answer(answers, {**given, "sent": form}), says_so)

    endpoint.__module__ = answers.__module__
    return endpoint


async def _answer(answers: Callable[..., Any], given: dict[str, object]) -> Response:
    found: Response = await answers(**given) if iscoroutinefunction(answers) else await run_in_threadpool(answers, **given)
    return found


def openapi(routes: Iterable[Route]) -> dict[str, Any]:
    """The routes as an OpenAPI 3.1 document: addresses, methods, and the parts of an address."""
    paths: dict[str, dict[str, Any]] = {}
    for route in routes:
        parts = [{"name": name, "in": "path", "required": True, "schema": {"type": "string"}} for name in route.param_convertors]
        told = {"parameters": parts, "responses": {"default": {"description": "a page, or a sentence"}}}
        for method in (route.methods or set()) - {"HEAD"}:
            paths.setdefault(CONVERTED.sub(r"{\1}", route.path), {})[method.lower()] = told
    return {"openapi": "3.1.0", "info": {"title": "Waney", "version": "1"}, "paths": paths}
