"""Pages that are loaded after the first ones: whoever asks for one meanwhile waits for it, and sees what everybody sees."""

from __future__ import annotations

import subprocess
import sys

from starlette.routing import Route
from starlette.testclient import TestClient

from waney.web.app import make_app
from waney.web.pages import FIRST, LATER, all_routers, first_routers
from waney.web.shop import Shop

from .conftest import ROOT

HEAVY = (
    *("numpy", "PIL", "sqlalchemy.dialects.postgresql"),
    *("waney.sawing", "waney.papers.paper", "waney.drying.stack", "waney.web.pages.logs"),
)
BEGIN = "import sys, waney.web.app; from waney.web.pages import first_routers; first_routers(); print(*sys.modules)"


def paths(app: object) -> set[str]:
    return {route.path for route in getattr(app, "routes", ()) if isinstance(route, Route)}


def test_a_page_that_is_not_loaded_yet_is_loaded_when_it_is_asked_for(shop: Shop, owner: object) -> None:
    app = make_app(shop, at_once=False)
    assert "/logs" not in paths(app) and "/" in paths(app)
    client = TestClient(app)
    assert client.get("/").status_code == 200 and "/logs" not in paths(app), "the first page waits for no other"
    assert client.get("/logs").status_code == 200
    assert client.get("/no-such-page").status_code == 404
    assert paths(app) == paths(make_app(shop))


def test_every_module_of_a_page_is_one_of_those_that_are_loaded() -> None:
    folder = ROOT / "src" / "waney" / "web" / "pages"
    there = {path.stem for path in folder.glob("*.py") if "router = Router()" in path.read_text(encoding="utf-8")}
    assert there == {*FIRST, *LATER} and len(all_routers()) == len(there)
    assert len(first_routers()) == len(FIRST)


def test_what_comes_before_the_first_page_loads_nothing_that_only_others_need() -> None:
    told = subprocess.run([sys.executable, "-c", BEGIN], capture_output=True, text=True, check=True, timeout=120)
    assert not [name for name in told.stdout.split() if name.startswith(HEAVY)]
