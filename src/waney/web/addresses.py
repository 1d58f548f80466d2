"""Addresses: every page that the app has, for those who look at all of them."""

from __future__ import annotations

from waney.web.pages import all_routers

NOT_PAGES = ("/api/", "/built", "/photos/", "/jobs/", "/named")
"""asked by modules, files, parts of pages, and an address that only leads on"""
WHOLE = ("/along", ".html")
SAVED = (*WHOLE, ".pdf", ".csv", ".xlsx", ".svg", ".json", ".js", ".webmanifest", ".zip", ".png")
"""files, which a browser keeps or hands on"""


def paths() -> list[str]:
    """The paths of pages, with names in curly brackets where an id stands."""
    return [path for path in _asked_for() if not path.startswith(NOT_PAGES) and not path.endswith(SAVED)]


def whole_pages() -> list[str]:
    """The paths of pages that are handed out as one file, to be opened where there is no yard."""
    return [path for path in _asked_for() if path.endswith(WHOLE)]


def _asked_for() -> list[str]:
    routes = (route for router in all_routers() for route in router.routes)
    return sorted({route.path for route in routes if "GET" in (route.methods or ())})
