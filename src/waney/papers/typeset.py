"""Typeset: a paper's words to PDF or picture. The faces are the ones the typesetter brings: every machine gives the same bytes.

Every PDF is tagged: what reads aloud finds headings, tables and the words of each figure.
"""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from datetime import UTC, date, datetime
from importlib.resources import files
from typing import Any

import typst

MINUS = re.compile(r"(?<![\w-])-(?=[$€£]?\d)")
"""a hyphen that means below zero"""


def pdf(form: str, words: Any, printed: date) -> bytes:
    """Words (a dataclass) set in a form (`card`, `paper`, `tags` ...) as PDF; the day is the one in the file's own record."""
    made: bytes = typst.compile(_sources(form, words), format="pdf", ignore_system_fonts=True, timestamp=_noon(printed))
    return made


def pictures(form: str, words: Any, printed: date, dots_per_inch: float) -> tuple[bytes, ...]:
    """The same as PNG pictures, one a page."""
    made: bytes | list[bytes] = typst.compile(
        _sources(form, words), format="png", ppi=dots_per_inch, ignore_system_fonts=True, timestamp=_noon(printed)
    )
    return (made,) if isinstance(made, bytes) else tuple(made)


def _sources(form: str, words: Any) -> Any:
    """Its stubs do not know that sources may be handed over in memory."""
    return {"main.typ": _source(f"{form}.typ"), "sheet.typ": _source("sheet.typ"), f"{form}.json": _json(words)}


def _noon(printed: date) -> int:
    return int(datetime(printed.year, printed.month, printed.day, tzinfo=UTC).timestamp())


def _source(name: str) -> bytes:
    return (files("waney") / "papers" / name).read_bytes()


def _json(words: Any) -> bytes:
    return json.dumps(_minused(asdict(words)), ensure_ascii=False).encode()


def _minused(words: Any) -> Any:
    """The same with true minus signs before figures: at a hyphen a line may break.

    >>> _minused({"left": ("-$614.36", "AB-12-P", "2026-05-04")})
    {'left': ['−$614.36', 'AB-12-P', '2026-05-04']}
    """
    if isinstance(words, str):
        return MINUS.sub("−", words)
    if isinstance(words, dict):
        return {name: _minused(value) for name, value in words.items()}
    return [_minused(value) for value in words] if isinstance(words, list | tuple) else words
