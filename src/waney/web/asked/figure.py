"""A figure as a page shows it: what, how much, and what it stands on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """says: likely, and from where to where; basis: what it stands on; source: its key on the page of sources, if any.

    own: it is money of the shop's own; a page shows it to those who may see that (`Session.sees_own`).
    """

    what: str
    says: str
    basis: str = ""
    source: str = ""
    own: bool = False
