"""Addresses: every page that the app has, for those who look at all of them."""

from __future__ import annotations

from waney.web.pages import all_routers

NOT_PAGES = ("/api/", "/built", "/photos/", "/jobs/", "/named")
"""asked by modules, files, parts of pages, and an address that only leads on"""
SAVED = ("/along", ".html", ".pdf", ".csv", ".xlsx", ".svg", ".json", ".js", ".webmanifest", ".zip", ".png")
"""files, which a browser keeps or hands on"""


def paths() -> list[str]:
    """The paths of pages, with names in curly brackets where an id stands."""
    routes = (route for router in all_routers() for route in router.routes)
    found = {route.path for route in routes if "GET" in (route.methods or ())}
    return sorted(path for path in found if not path.startswith(NOT_PAGES) and not path.endswith(SAVED))
