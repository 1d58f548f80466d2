"""Names along: names of many pieces with their ids, and nothing else, for pages that are taken along; in few characters."""

from __future__ import annotations

from base64 import urlsafe_b64encode
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

ID_BYTES = 16
ID_LENGTH = 22
_ROOM = 24
"""characters of 18 bytes in base 64: those of an id and two that are cut off"""


@dataclass(frozen=True)
class Run:
    """Pieces whose names follow each other, from code-first on. ids: 22 characters each, a UUID in base 64."""

    code: str
    first: int
    ids: str


def runs(some: Iterable[tuple[str, int, str]]) -> tuple[Run, ...]:
    """Code, number and id of pieces, in any order, as runs by name."""
    ordered = sorted(some)
    ids = _short([ident for _, _, ident in ordered])
    found = []
    for (code, _), together in groupby(enumerate(ordered), key=lambda at: (at[1][0], at[1][1] - at[0])):
        (begin, (_, number, _)), *rest = together
        found.append(Run(code, number, ids[ID_LENGTH * begin : ID_LENGTH * (begin + 1 + len(rest))]))
    return tuple(found)


def _short(ids: Sequence[str]) -> str:
    """Their ids one behind the other."""
    raw = np.frombuffer(bytes.fromhex("".join(ids).replace("-", "")), dtype=np.uint8).reshape(-1, ID_BYTES)
    padded = np.zeros((len(ids), _ROOM * 3 // 4), dtype=np.uint8)
    padded[:, :ID_BYTES] = raw
    letters = np.frombuffer(urlsafe_b64encode(padded.tobytes()), dtype=np.uint8).reshape(-1, _ROOM)
    return letters[:, :ID_LENGTH].tobytes().decode("ascii")
