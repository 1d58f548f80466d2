"""Passwords: kept as scrypt hashes, compared in constant time."""

from __future__ import annotations

import hashlib
import hmac
import secrets

from waney.figures.problem import Problem

COST, BLOCK, LANES, MEMORY = 2**15, 8, 1, 64 * 2**20
"""scrypt's n, r, p and most memory [bytes]: about a tenth of a second on a laptop. From memory: the usual values for sign-in."""
SHORTEST, LONGEST = 8, 200


class BadPassword(Problem):
    """A password that cannot be taken."""


def hashed(password: str) -> str:
    """Salt and hash, as they are kept. Raises BadPassword."""
    if not SHORTEST <= len(password) <= LONGEST:
        raise BadPassword(f"A password has {SHORTEST} characters or more (at most {LONGEST}); four short words are good.")
    salt = secrets.token_bytes(16)
    return f"{salt.hex()}:{_scrypt(password, salt).hex()}"


def nobodys() -> str:
    """Like what is kept, of no password anybody knows: drawn, so that nothing is hashed for it."""
    return f"{secrets.token_bytes(16).hex()}:{secrets.token_bytes(64).hex()}"


def fits(password: str, kept: str) -> bool:
    """Whether it is the password that was hashed."""
    salt, _, hash_ = kept.partition(":")
    return len(password) <= LONGEST and hmac.compare_digest(_scrypt(password, bytes.fromhex(salt)).hex(), hash_)


def _scrypt(password: str, salt: bytes) -> bytes:
    return hashlib.scrypt(password.encode("utf-8", "surrogatepass"), salt=salt, n=COST, r=BLOCK, p=LANES, maxmem=MEMORY)
