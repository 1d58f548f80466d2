"""Whose wood a piece is, where somebody else's logs are sawn beside the shop's own."""

from __future__ import annotations

from collections.abc import Iterable


def whose(line: Iterable[tuple[str, str]]) -> str:
    """The custom job whose customer a piece belongs to; empty for wood of the shop's own, its part on shares included.

    line: of the piece, of the one that it was cut out of, and so on: the custom job of its log, and the one on whose shares it
    stays with the sawyer; each empty for none. What is cut out of a piece is whose the piece was.
    """
    known = tuple(line)
    shares = {share for _, share in known}
    return min((job for job, _ in known if job and job not in shares), default="")
