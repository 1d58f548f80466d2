"""Once: a form that comes twice, by a double tap or sent again over a slow connection, is done once and answered the same."""

from __future__ import annotations

from asyncio import Lock
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from weakref import WeakValueDictionary

from starlette.responses import RedirectResponse, Response

MOST_KEPT = 500


@dataclass
class Once:
    """Where forms led that were answered lately, by what each is known by."""

    _led: dict[str, Response] = field(default_factory=dict)
    _locks: WeakValueDictionary[str, Lock] = field(default_factory=WeakValueDictionary)

    async def answer(self, form: str, answers: Callable[[], Awaitable[Response]], remembers: bool) -> Response:
        """The answer to a form. While it is worked out whoever sends the same waits; where it led is remembered, and they are led
        there too. Raises what `answers` raises."""
        async with self._locks.setdefault(form, Lock()):
            held = self._led.get(form)
            if held is not None:
                return held
            answer = await answers()
            if remembers and isinstance(answer, RedirectResponse):
                self._led[form] = answer
                for oldest in list(self._led)[:-MOST_KEPT]:
                    del self._led[oldest]
            return answer
