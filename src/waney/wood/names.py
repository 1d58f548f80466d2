"""Names of woods: turned about, taken apart and brought to one plain form for looking up."""

from __future__ import annotations

import re

_BRACKETS = re.compile(r"\(([^)]*)\)")
_NOT_LETTERS = re.compile(r"[^a-z0-9]+")


def plain(name: str) -> str:
    """Lower case, words of letters and digits with one blank between them.

    >>> plain("  Douglas-Fir,  coast ")
    'douglas fir coast'
    """
    return _NOT_LETTERS.sub(" ", name.lower().replace("'", "")).strip()


def slug(botanical: str) -> str:
    """An id from a botanical name: 'Quercus muehlenbergii' -> 'quercus_muehlenbergii'."""
    return plain(botanical).replace(" ", "_")


PROPER = ("Douglas", "Osage")
"""Nouns of wood names that keep their capital."""


def _low(noun: str) -> str:
    return noun if noun.startswith(PROPER) else noun[0].lower() + noun[1:]


def _turned(name: str) -> str:
    """'Walnut, black' -> 'black walnut'."""
    noun, comma, rest = name.partition(", ")
    return f"{rest} {_low(noun)}" if comma else _low(name)


def names_of(listed: str) -> tuple[str, ...]:
    """All names in a listed common name, the one to print first.

    >>> names_of("Tupelo, black (black gum)")
    ('black tupelo', 'Tupelo, black', 'black gum')
    """
    outside = _BRACKETS.sub("", listed).strip()
    return tuple(dict.fromkeys((_turned(outside), outside, *_BRACKETS.findall(listed))))
