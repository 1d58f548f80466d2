"""Frames: a list of commands that came as pictures of QR codes, put together again.

Each code holds WANEYLIST1:number/of:hash:part. The parts are base64url of the list's UTF-8, in order; hash is the first twelve
hex digits of FNV-1a (64 bits) of those bytes, so that parts of two lists are never mixed.
`client/src/along/frames.ts` writes them.
"""

from __future__ import annotations

import binascii
import re
from base64 import urlsafe_b64decode
from collections.abc import Iterable

from waney.yard.problems import BadCommands

FORM = re.compile(r"WANEYLIST1:(\d{1,4})/(\d{1,4}):([0-9a-f]{12}):([A-Za-z0-9_-]*)")
TWO = "These are codes of two lists; take in one after the other."
NONE = "None of these is a code of a tally."
BEGINNING, PRIME, SIXTY_FOUR = 0xCBF29CE484222325, 0x100000001B3, 2**64 - 1


def fnv1a(content: bytes) -> str:
    """The first twelve hex digits of FNV-1a with 64 bits.

    The published test vector of "a" is af63dc4c8601ec8c.
    >>> fnv1a(b"a")
    'af63dc4c8601'
    """
    found = BEGINNING
    for byte in content:
        found = (found ^ byte) * PRIME & SIXTY_FOUR
    return f"{found:016x}"[:12]


def joined(codes: Iterable[str]) -> str:
    """The list that some codes hold, in whatever order they were read. Raises BadCommands, saying which are missing."""
    parts: dict[int, str] = {}
    lists: set[tuple[int, str]] = set()
    for code in codes:
        found = FORM.fullmatch(code.strip())
        if found is None:
            continue
        lists.add((int(found[2]), found[3]))
        parts[int(found[1])] = found[4]
    if len(lists) != 1:
        raise BadCommands(
            "These are codes of two lists; take in one after the other." if lists else "None of these is a code of a tally."
        )
    many, hash_ = lists.pop()
    missing = [str(number) for number in range(1, many + 1) if number not in parts]
    if missing:
        raise BadCommands(f"Of {many} codes these are missing: {', '.join(missing[:20])}. Take their pictures too.")
    return _text("".join(parts[number] for number in range(1, many + 1)), hash_)


def _text(written: str, hash_: str) -> str:
    try:
        content = urlsafe_b64decode(written + "=" * (-len(written) % 4))
        if fnv1a(content) == hash_:
            return content.decode("utf-8")
    except (binascii.Error, UnicodeDecodeError):
        pass
    raise BadCommands("The codes do not fit together; take their pictures once more.")
