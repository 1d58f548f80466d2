"""Where in a TOML text each key stands, so that a complaint can name its line."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Mapping

Path = tuple[str | int, ...]
"""Keys and, within lists, positions: ("product", 1, "price")."""

_GAP = re.compile(r"(?:[\s]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}\n#]*")
_BASIC = re.compile(r'"(?:\\.|[^"\\])*"')
_LITERAL = re.compile(r"'[^']*'")
_LONG_BASIC = re.compile(r'"""(?:\\.|[^\\])*?"{3,5}(?!")', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''.*?'{3,5}(?!')", re.DOTALL)
_STRINGS = (_LONG_BASIC, _LONG_LITERAL, _BASIC, _LITERAL)


def lines_of(text: str) -> Mapping[Path, int]:
    """The line (from 1) of every key and list item. The text must already have been read as TOML without error.

    >>> lines_of("a = 1\\n[b]\\nc = [2,\\n3]\\n")[("b", "c", 1)]
    4
    """
    walk = _Walk(text)
    walk.statements()
    return walk.lines


class _Walk:
    """One walk over a TOML text that is known to be sound; `at` is where it stands."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.lines: dict[Path, int] = {}
        self._starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self._entries: dict[Path, int] = {}

    def statements(self) -> None:
        table: Path = ()
        self._skip(_GAP)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip(_GAP)

    def _header(self) -> Path:
        start, many = self.at, self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        keys = self._keys()
        self.at += 2 if many else 1
        path = self._resolved(keys[:-1]) + keys[-1:]
        if many:
            self._mark(path, start)
            self._entries[path] = self._entries.get(path, -1) + 1
        path = self._resolved(keys)
        self._mark(path, start)
        return path

    def _resolved(self, keys: Path) -> Path:
        """Each list of tables on the way stands for its newest entry."""
        path: Path = ()
        for key in keys:
            path += (key,)
            if path in self._entries:
                path += (self._entries[path],)
        return path

    def _pair(self, table: Path) -> None:
        start = self.at
        path = table + self._keys()
        self.at += 1  # the equals sign
        self._mark(path, start)
        self._value(path)

    def _keys(self) -> Path:
        keys: list[str] = []
        while True:
            self._skip(_GAP)
            quoted = self.text[self.at] in "\"'"
            word = self._string() if quoted else self._skip(_BARE_KEY)
            keys.append(word[1:-1] if quoted else word)
            self._skip(_GAP)
            if self.text[self.at] != ".":
                return tuple(keys)
            self.at += 1

    def _value(self, path: Path) -> None:
        self._skip(_GAP)
        first = self.text[self.at]
        if first == "[":
            self._items(path)
        elif first == "{":
            self._inline(path)
        elif first in "\"'":
            self._string()
        else:
            self._skip(_SCALAR)

    def _items(self, path: Path) -> None:
        self.at += 1
        index = 0
        self._skip(_GAP)
        while self.text[self.at] != "]":
            self._mark((*path, index), self.at)
            self._value((*path, index))
            self._comma()
            index += 1
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        self._skip(_GAP)
        while self.text[self.at] != "}":
            self._pair(path)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        self._skip(_GAP)
        if self.text[self.at] == ",":
            self.at += 1
            self._skip(_GAP)

    def _string(self) -> str:
        return next((word for pattern in _STRINGS if (word := self._skip(pattern))), "")

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            return ""
        self.at = match.end()
        return match.group()

    def _mark(self, path: Path, at: int) -> None:
        self.lines.setdefault(path, bisect_right(self._starts, at))
