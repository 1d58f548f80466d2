"""Names that stand on the wood: code of the log, number, check character.

The check character makes 1·check + 2·last + 3·last but one + ... a multiple of 31. As 31 is a prime and the weights of neighbours
differ by one, one wrong character or two swapped neighbours never give a multiple again (weighted sum modulo a prime).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from waney.yard.problems import BadName

LETTERS = "ABCDEFGHJKLMNPRTUVWXY"
"""Letters that a wet crayon tells from each other and from the digits."""
CHARACTERS = "0123456789" + LETTERS
VALUES = {each: value for value, each in enumerate(CHARACTERS)}
PRIME = len(CHARACTERS)
LIKE = str.maketrans("IOSZ", "1052")
"""Letters that no name has, read as the digits they look like."""
LONGEST_CODE, LONGEST_NUMBER = 4, 6
FORM = re.compile(rf"([{LETTERS}]{{1,{LONGEST_CODE}}})(0|[1-9][0-9]{{0,{LONGEST_NUMBER - 1}}})([{CHARACTERS}])")
CODE = re.compile(rf"[{LETTERS}]{{1,{LONGEST_CODE}}}")
MARK = "WANEY:"
"""What stands before a name in the code beside it on a tag."""
OF_LOG = 0
"""The number on the log's own tag."""


@dataclass(frozen=True, order=True)
class Name:
    """A name of a log (number 0) or of a piece."""

    code: str
    number: int

    def __post_init__(self) -> None:
        if not CODE.fullmatch(self.code):
            raise BadName(f'"{self.code}" is no code; a code is one to four of the letters {LETTERS}.')
        if not 0 <= self.number < 10**LONGEST_NUMBER:
            raise BadName(f"{self.number} is no number of a piece; numbers go from 0 to {10**LONGEST_NUMBER - 1}.")

    def __str__(self) -> str:
        return _written(self.code, self.number)


@lru_cache(maxsize=32768)
def _written(code: str, number: int) -> str:
    """Lists write the names of a yard over and over."""
    return f"{code}-{number}-{check_character(f'{code}{number}')}"


def maybe_name(code: str | None, number: int | None) -> Name | None:
    """The name of both; None where there is none."""
    return None if code is None or number is None else Name(code, number)


def check_character(body: str) -> str:
    """The character that goes behind code and number.

    A = 10, B = 11, so 2·2 + 3·1 + 4·11 + 5·10 = 101; 23 more are 4·31, and P is 23.

    >>> check_character("AB12")
    'P'
    """
    return CHARACTERS[-_weighted(body, 2) % PRIME]


def _weighted(characters: str, first: int) -> int:
    """Sum of values times weights; the last character has the weight `first`, each before it one more."""
    return sum([weight * VALUES[each] for weight, each in enumerate(reversed(characters), first)])


def holds(written: str) -> bool:
    """Whether characters, the check character last, fit together."""
    return all(each in CHARACTERS for each in written) and _weighted(written, 1) % PRIME == 0


def read_name(written: str) -> Name:
    """The name somebody wrote; dashes, spaces and small letters do not matter. Raises BadName."""
    characters = re.sub(r"[\s\-]", "", written).upper().translate(LIKE)
    parts = FORM.fullmatch(characters)
    if parts is None:
        raise BadName(f'"{written}" is no name; a name looks like {Name("AB", 12)}: letters, a number, a check character.')
    if not holds(characters):
        raise BadName(f'"{written}" has a wrong or a swapped character: its check character does not fit. Look at the tag again.')
    return Name(parts[1], int(parts[2]))


def nth_code(n: int) -> str:
    """Codes in order: A, B ... Y, AA, AB ... (n from 0).

    >>> [nth_code(n) for n in (0, 20, 21, 22)]
    ['A', 'Y', 'AA', 'AB']
    """
    code = ""
    while n >= 0:
        n, place = divmod(n, len(LETTERS))
        code, n = LETTERS[place] + code, n - 1
    return code
