"""Every route of the application with drawn fields (schemathesis over its OpenAPI document), signed in and not.

Whatever is sent: no fault, a sentence with each refusal, nothing written by what is refused or only looked at, and no page
that what was written breaks. The document does not say which fields a form has; they are taken from the code of its page.
"""

from __future__ import annotations

import ast
import re
import shutil
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
import requests
import schemathesis
from anyio.from_thread import BlockingPortal
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import Case, GenerationMode
from schemathesis.transport.serialization import Binary
from starlette.routing import Route
from starlette.testclient import TestClient

import waney.web.log_form
import waney.web.showing
from waney.web.access.members import Members, Role
from waney.web.access.tries import Tries
from waney.web.app import make_app
from waney.web.built import Built
from waney.web.pages import all_routers
from waney.web.routes import openapi
from waney.web.shop import Shop
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.mill import CameOff, Happened, Off
from waney.yard.acts.offers import Reply, TreeOffered
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, ReadBy, StackBuilt
from waney.yard.book.book import open_book
from waney.yard.book.engine import in_folder
from waney.yard.book.examining import examine
from waney.yard.book.jobs import last_jobs
from waney.yard.book.looking import open_tasks
from waney.yard.book.stories import last_events
from waney.yard.commands import commands_schema
from waney.yard.names import Name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day
from waney.yard.services.offers import note_offer
from waney.yard.services.pieces import keep_photo, name_spot, put_boule_in_order
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, load_kiln

from .conftest import WORDS, Clock, Person, asking, let_in
from .test_pages import EXAMPLE, MILL, WANTS, photo

EXAMPLES = 10
"""for each of some 80 routes: a quarter of a minute for all"""
BOUNDED = settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, database=None, phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
SCHEME = "http:"
WITHOUT_SIGN_IN = ("/first", "/sign-in")
TEMPLATES = "".join(path.read_text("utf-8") for path in sorted(waney.web.showing.TEMPLATES.glob("*.html")))
NAMED = set(re.findall(r"""(?:name="|field\(')([a-z_]+)""", TEMPLATES))
"""every field that a form has"""
NAMES = "names-taken"
"""a device gets names together with the page it saws from, if who looks may write: the one thing that looking writes"""
FILES = {"photo", "photos", "files", "scan", "tag", "tags", "butt_photo", "top_photo"}


def routes() -> dict[tuple[str, str], Route]:
    """Every route of every page, by method and path as the document writes it."""
    each = (route for router in all_routers() for route in router.routes)
    return {(method.upper(), path): one for one in each for path, told in openapi([one])["paths"].items() for method in told}


ROUTES = routes()


@cache
def fields_of(module: ModuleType) -> tuple[str, ...]:
    """The fields that a page's code knows by their names."""
    sources = [module, *([waney.web.log_form] if hasattr(module, "answers_of") else [])]
    trees = [ast.parse(Path(source.__file__ or "").read_text("utf-8")) for source in sources]
    texts = {node.value for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    return tuple(sorted(NAMED & {text for text in texts if isinstance(text, str)}))


LENGTHS = ["8'", "2 1/4", "0.4 m", "60 mm", "-3", "1e9", "14"]
WORDS_OF: dict[str, list[str]] = {
    **dict.fromkeys(("length", "girth", "small_end", "thickness", "width", "other_width", "sticker", "apart", "right"), LENGTHS),
    **dict.fromkeys(("thinnest", "thickest", "top_diameter", "butt_diameter", "down"), LENGTHS),
    "mass": ["41 kg", "90 lb", "0 kg"], "mc": ["12", "12 %", "900"], "wood": ["20 C", "70 F"], "asked": ["40", "$40", "-1"],
    "how": [*LogEnd, *PieceEnd, *Off], "reply": [*Reply], "by": [*ReadBy], "depth": [*Depth], "role": [*Role],
    "do": ["sawn", "undo", "thickness", *Happened, "put out", "forget", "password"], "password": [WORDS, "short"],
    "called": ["Ada", "Kit", "Rack 4"], "units": ["in", "mm", "ell"], "mill": [MILL, "x = 1"], "wants": [WANTS, "x = 1"],
    "sheet": [EXAMPLE, "x = 1"], "species": ["white oak", "unknown"], "name": [str(Name("AB", 3)), "AB-3-Q"],
    "holds": ["later", "first"], "seen": ["0", "1", "x"], "count": ["3", "0", "501"], "layer": ["1", "999"],
    "plan": ["1", "x"], "felled": ["2026-04-01", "soon"], "stock": ["letter 4 x 2", "no such sheet"],
}  # fmt: skip
"""what people write in some fields, and slips of theirs; whatever else is drawn"""


@dataclass(frozen=True)
class Served:
    """A yard with something of every kind.

    sessions: cookies and token of somebody who has not signed in, and of the owner; ids: of each kind, as fields have them.
    """

    shop: Shop
    client: TestClient
    sessions: tuple[tuple[dict[str, str], str], ...]
    ids: dict[str, list[str]]

    def words(self, name: str) -> list[str]:
        """What may well stand in a field, or in an address."""
        return WORDS_OF.get(name, []) + self.ids.get(name, [])

    def written(self) -> tuple[object, ...]:
        """All that must not change when something is refused: events, who may sign in, files, jobs."""
        book = self.shop.book
        return *self.told(), sorted(book.files.names()), len(last_jobs(book, 10_000))

    def told(self, but: str = "") -> tuple[object, ...]:
        """The last event, but for one kind, and who may sign in."""
        last = (each.event for some in (1, 200) for each in last_events(self.shop.book, some))
        seq = next(event.seq for event in last if event.kind != but)
        return seq, self.shop.members.all

    def ask(self, case: Case, signed_in: bool) -> Any:
        """Send what was drawn, as a browser with this session would, or as one without."""
        cookies, token = self.sessions[signed_in]
        if case.path in WITHOUT_SIGN_IN and isinstance(case.body, dict):
            case.body = case.body | {"token": token}
        sent = requests.Request(**case.as_transport_kwargs(base_url=f"{SCHEME}//testserver")).prepare()
        headers = {"content-type": str(sent.headers.get("content-type", "")), "x-waney-token": token}
        self.client.cookies = cookies  # type: ignore[assignment]
        return self.client.request(str(sent.method), str(sent.url), content=sent.body, headers=headers, follow_redirects=False)

    def look(self, address: str) -> Any:
        """Where an answer leads to."""
        self.client.cookies = self.sessions[True][0]  # type: ignore[assignment]
        return self.client.get(address, follow_redirects=False)


@pytest.fixture(scope="module")
def served(
    empty_yard: Path, plain_files: Path, portal: BlockingPortal, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("drawn") / "yard"
    shutil.copytree(empty_yard, folder)
    book, clock = open_book(in_folder(folder)), Clock()
    shop = Shop(book, Members.of(folder / "members.json"), Built(plain_files), now=clock, tries=Tries(clock.seconds))
    ada, jo = let_in(shop, "Ada", Role.OWNER), let_in(shop, "Jo", Role.HELPER)
    ids = something_of_every_kind(shop, shop.hand(ada))
    client = asking(make_app(shop), portal)
    owner, sessions = Person(client), []
    for come_in in (lambda: None, lambda: owner.signs_in("Ada")):
        come_in()
        sessions.append((owner.token(), dict(client.cookies)))
    ids["job"] = [owner.get(f"/logs/{ids['log'][0]}/plans") and last_jobs(book)[0].id]
    yield Served(shop, client, tuple((cookies, token) for token, cookies in sessions), ids | {"person": [jo]})
    assert examine(book).unsound == ()
    book.close()


def something_of_every_kind(shop: Shop, hand: Hand) -> dict[str, list[str]]:
    """A yard with a log that was sawn, pieces, a stack, a load, a tree, a photo, and something to put right; the ids."""
    log, spot, day = add_log(hand, NewLog(EXAMPLE)).id, name_spot(hand, "Shed").id, open_day(hand, "2026-05-04").id
    pieces, stack, tree = [shop.new_id() for _ in range(3)], shop.new_id(), shop.new_id()
    for piece in pieces:
        hand.write(CameOff(piece, day, log, thickness_m=0.05, length_m=2.4, widths_m=(0.3, 0.4), spot=spot))
    put_boule_in_order(hand, log, tuple(pieces))
    build_stack(hand, StackBuilt(stack, "North", spot, ((pieces[0],),)))
    load = load_kiln(hand, "kiln", (stack,), (), "").id
    note_offer(hand, TreeOffered(tree, "elm"))
    picture = keep_photo(hand, photo(), f"log:{log}").id
    for what, text in ((Setting.MILL, MILL), (Setting.WANTS, WANTS)):
        settle_for_shop(hand, what, text)
    about = [f"log:{log}", f"piece:{pieces[0]}", f"stack:{stack}", f"load:{load}"]
    task = [each.id for each in open_tasks(shop.book)]
    return {
        "log": [log], "spot": [spot], "within": [spot], "day": [day], "piece": pieces, "stack": [stack], "load": [load],
        "tree": [tree], "photo": [picture], "task": task, "what": about, "about": about, "names": [str(Name("A", 1))],
    }  # fmt: skip


ANYTHING = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=40)
A_FILE = (st.sampled_from([photo(), photo(30, "PNG"), b"no picture"]) | st.binary(max_size=99)).map(Binary)


def drawn(served: Served, name: str, where: str) -> dict[str, Any]:
    """What stands in a field of a form, or in an address: mostly what may well stand there, else anything."""
    known, form = st.sampled_from(served.words(name) or [""]), f"{where}-{name}"
    schemathesis.openapi.format(form, A_FILE if where == "form" and name in FILES else st.one_of(known, known, known, ANYTHING))
    return {"type": "string", "format": form}


def document(served: Served, method: str, path: str) -> dict[str, Any]:
    """The OpenAPI document of one route, with the fields that its page reads."""
    whole = openapi([ROUTES[method, path]])
    told = whole["paths"][path][method.lower()]
    for parameter in told.get("parameters", []):
        parameter["schema"] = drawn(served, parameter["name"], "path")
    module = sys.modules[ROUTES[method, path].endpoint.__module__]
    if path == "/api/commands":
        schema = commands_schema()
        whole["$defs"] = schema.pop("$defs")
        told["requestBody"] = {"required": True, "content": {"application/json": {"schema": schema}}}
    elif method == "POST":
        fields = {name: drawn(served, name, "form") for name in fields_of(module)}
        schema = {"type": "object", "properties": fields, "additionalProperties": False}
        told["requestBody"] = {"required": True, "content": {"multipart/form-data": {"schema": schema}}}
    else:
        asked = [{"name": name, "in": "query", "schema": drawn(served, name, "query")} for name in fields_of(module)]
        told["parameters"] = [*told.get("parameters", []), *asked]
    return whole


def says_a_sentence(answer: Any) -> bool:
    """Whether somebody who reads it knows why."""
    if answer.headers["content-type"] == "application/json":
        return str(answer.json()["sentence"]).endswith((".", "?", ")"))
    return bool(re.search(r'role="alert"[^>]*>[^<]*\w[^<]*\.', answer.text))


@pytest.mark.long
@pytest.mark.parametrize(("method", "path"), [pytest.param(*key, id=" ".join(key)) for key in ROUTES])
def test_whatever_is_sent_a_route_answers_in_words_and_a_refusal_writes_nothing(served: Served, method: str, path: str) -> None:
    operation = schemathesis.openapi.from_dict(document(served, method, path))[path][method]
    cases = operation.as_strategy()
    if path == "/api/commands":
        cases |= operation.as_strategy(GenerationMode.NEGATIVE)

    @BOUNDED
    @given(case=cases, signed_in=st.sampled_from([True, True, False]))
    def holds(case: Case, signed_in: bool) -> None:
        before = served.written() if method == "POST" else served.told(NAMES)
        told = served.told()
        if method == "POST" and isinstance(case.body, dict) and path != "/api/commands":
            case.body = case.body | {"blank": served.shop.new_id()}
        answer = served.ask(case, signed_in)
        assert answer.status_code < 500, case.as_curl_command()
        if method == "POST" and answer.status_code < 400 and path not in WITHOUT_SIGN_IN:
            stands = served.told(NAMES)
            assert served.ask(case, signed_in).status_code < 500 and served.told(NAMES) == stands, "sent twice it writes once"
        if answer.status_code >= 400:
            assert says_a_sentence(answer), case.as_curl_command()
        if answer.status_code >= 400 and method == "POST":
            assert served.written() == before
        if not signed_in:
            assert served.told() == told
        if method == "GET":
            assert served.told(NAMES) == before
        elsewhere = any("%2F" in str(told) for told in (case.path_parameters or {}).values())  # led nowhere, or on
        if method == "POST" and not signed_in and path not in WITHOUT_SIGN_IN:
            assert answer.status_code in ((404, 307) if elsewhere else (401, 403))
        if answer.status_code == 303:
            assert served.look(answer.headers["location"]).status_code < 500

    holds()


def test_the_routes_that_are_drawn_for_are_those_of_the_application(served: Served) -> None:
    there = [route for route in make_app(served.shop).routes if isinstance(route, Route)]
    others = [route.path for route in there if route not in ROUTES.values()]
    assert sorted(others) == ["/api/openapi.json", "/authority.pem", "/worker.js"]
    assert len(there) == len(ROUTES) + len(others)
    told = served.look("/api/openapi.json").json()["paths"]
    assert {(method.upper(), path) for path, each in told.items() for method in each} == set(ROUTES)


def test_every_form_that_writes_can_be_told_from_the_same_one_sent_again() -> None:
    """What the book is told goes through a form with a token and a blank, or through a list of commands that have ids."""
    forms = re.findall(r'<form[^>]*method="post".*?</form>', TEMPLATES, re.DOTALL)
    without = [one for one in forms if "token(session)" not in one and "held()" not in one]
    assert without == [one for one in forms if 'action="/sign-out"' in one], "it writes nothing into the book"
    macros = [re.search(rf"macro {name}\(.*?endmacro", TEMPLATES, re.DOTALL) for name in ("token", "held")]
    assert ['name="blank"' in told[0] or "token(session)" in told[0] for told in macros if told] == [True, True]
    assert len(forms) > 100
