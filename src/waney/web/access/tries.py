"""Tries: how often somebody may get a password wrong."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable
from threading import Lock

MOST, WITHIN_S = 5, 60.0
"""wrong tries from one address, and in which time; common practice, no source"""
MOST_OF_ALL = 50
"""from all addresses together"""


class Tries:
    """Wrong tries of late, by address."""

    def __init__(self, seconds: Callable[[], float]) -> None:
        self._seconds, self._lock = seconds, Lock()
        self._wrong: defaultdict[str, deque[float]] = defaultdict(deque)

    def allowed(self, address: str) -> bool:
        """Whether one more try is heard."""
        with self._lock:
            self._forget()
            return len(self._wrong.get(address, ())) < MOST and sum(map(len, self._wrong.values())) < MOST_OF_ALL

    def wrong(self, address: str) -> None:
        """It was not the password."""
        with self._lock:
            self._wrong[address].append(self._seconds())

    def _forget(self) -> None:
        since = self._seconds() - WITHIN_S
        for address, times in list(self._wrong.items()):
            while times and times[0] <= since:
                times.popleft()
            if not times:
                del self._wrong[address]
