"""What people write: typographic signs made plain, and the errors that say what could not be read.

Problem
└── Unreadable      the text is no quantity of that kind
    ├── NoUnit      a bare number where nothing says what it counts
    └── TwoReadings the text can be read in two ways that differ
"""

from __future__ import annotations

import re
import unicodedata

from waney.figures.problem import Problem

MOST_SIGNS = 80
"""No length, weight or price needs more; longer text is refused before it is looked at."""

_PLAIN = str.maketrans(
    {
        "′": "'",
        "’": "'",
        "‘": "'",
        "″": '"',
        "”": '"',
        "“": '"',
        "⁄": "/",
        "∕": "/",
        "‐": "-",
        "‑": "-",
        "‒": "-",
        "–": "-",
        "−": "-",
    }
)
_SMALL = {ord(sign): str(digit) for row in ("⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉") for digit, sign in enumerate(row)}
_BUILT = re.compile("(?P<after>(?<=[0-9])-?)?(?P<top>[⁰¹²³⁴⁵⁶⁷⁸⁹]+)[/⁄](?P<bottom>[₀₁₂₃₄₅₆₇₈₉]+)")
_ONE_SIGN = re.compile("(?P<after>(?<=[0-9])-?)?(?P<sign>[¼-¾⅐-⅞↉])")


class Unreadable(Problem):
    """The text is no quantity of the kind that belongs there."""


class NoUnit(Unreadable):
    """A bare number, and nothing says what it counts."""


class TwoReadings(Unreadable):
    """The text can be read in two ways; both are shown."""


def shown(text: str) -> str:
    """The text as an error sentence quotes it: short, on one line, without signs that cannot be seen."""
    visible = "".join(sign if sign.isprintable() else "?" for sign in text[: MOST_SIGNS + 1])
    return f'"{visible[:30]}..."' if len(visible) > 40 else f'"{visible}"'


def tidy(text: str, kind: str, example: str) -> str:
    """Plain quotes, dashes, slashes and single spaces; fractions of one sign or built from small digits as n/d.

    kind and example fill the sentence: "a length", "54 mm". Raises Unreadable when nothing or far too much is written.
    """
    if len(text) > MOST_SIGNS:
        raise Unreadable(f"{shown(text)} is too long for {kind}; write for instance {example}.")
    plain = _ONE_SIGN.sub(_fraction_of_one_sign, _BUILT.sub(_built_fraction, text)).translate(_PLAIN)
    plain = " ".join(plain.split())
    if not plain:
        raise Unreadable(f"Nothing is written where {kind} belongs; write for instance {example}.")
    return plain


def _fraction_of_one_sign(match: re.Match[str]) -> str:
    parts = unicodedata.normalize("NFKC", match["sign"])
    return (" " if match["after"] is not None else "") + parts


def _built_fraction(match: re.Match[str]) -> str:
    fraction = f"{match['top']}/{match['bottom']}".translate(_SMALL)
    return (" " if match["after"] is not None else "") + fraction


def split_sign(plain: str) -> tuple[int, str]:
    """1 or -1, and the text without its leading sign."""
    return (-1, plain[1:].lstrip()) if plain.startswith("-") else (1, plain)
