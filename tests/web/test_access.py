"""Who may do what: first start, sign-in, roles, tokens, headers."""

from __future__ import annotations

import re
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from waney.web.access.members import Members, NoMember, Role
from waney.web.access.passwords import BadPassword, fits, hashed
from waney.web.access.tries import MOST, WITHIN_S
from waney.web.shop import Shop
from waney.yard.book.around import people
from waney.yard.book.logs_seen import logs

from .conftest import WORDS, Clock, Person

SCHEME = "https:"
SHEET = {"species": "black walnut", "length": "8'", "top_diameter": "14"}


@pytest.fixture
def quick_passwords() -> None:
    """None here: passwords are what is tested."""


def test_before_there_is_an_owner_every_page_is_the_first_one(browser: Callable[[], Person]) -> None:
    person = browser()
    for page in ("/", "/logs", "/settings", "/api/token"):
        answer = person.client.get(page, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/first")


def test_the_first_start_makes_an_owner_who_is_signed_in(browser: Callable[[], Person], shop: Shop) -> None:
    person = browser()
    answer = person.send("/first", {"called": " Ada ", "password": WORDS}, token=person.token("/first"))
    assert (answer.status_code, answer.headers["location"]) == (303, "/settings")
    assert [(one.called, one.role) for one in shop.members.all] == [("Ada", Role.OWNER)]
    assert [one.called for one in people(shop.book)] == ["Ada"]
    assert "Ada, owner" in person.get("/").text


def test_a_password_that_is_too_short_leaves_nobody_behind(browser: Callable[[], Person], shop: Shop) -> None:
    person = browser()
    answer = person.send("/first", {"called": "Ada", "password": "short"}, token=person.token("/first"))
    assert answer.status_code == 400
    assert "8 characters" in answer.text
    assert (shop.members.all, people(shop.book)) == ((), ())


def test_a_second_first_start_makes_nobody(anybody: Person, shop: Shop) -> None:
    answer = anybody.send("/first", {"called": "Eve", "password": WORDS})
    assert (answer.status_code, answer.headers["location"]) == (303, "/sign-in")
    assert [one.called for one in shop.members.all] == ["Ada"]


def test_from_another_machine_no_first_password_is_made(browser: Callable[[], Person], shop: Shop) -> None:
    person = browser()
    person.client._transport.client = ("192.0.2.7", 50000)  # type: ignore[attr-defined]
    answer = person.send("/first", {"called": "Eve", "password": WORDS}, token=person.token("/first"))
    assert answer.status_code == 403
    assert shop.members.all == ()


def test_looking_needs_no_password_and_writing_does(anybody: Person, shop: Shop) -> None:
    assert anybody.get("/logs").status_code == 200
    answer = anybody.send("/logs/new", SHEET)
    assert answer.status_code == 401
    assert "Sign in first" in answer.text
    assert logs(shop.book) == ()


def test_a_wrong_password_and_a_wrong_name_read_alike(anybody: Person) -> None:
    wrong_name, wrong_password = anybody.signs_in("Eve"), anybody.signs_in("Ada", "not the words")
    assert wrong_name.status_code == wrong_password.status_code == 401
    read = [re.sub('name="blank" value="[^"]+"|Eve|Ada', "", answer.text) for answer in (wrong_name, wrong_password)]
    assert read[0] == read[1]


def test_after_five_wrong_tries_even_the_right_words_wait_a_minute(anybody: Person, clock: Clock) -> None:
    for _ in range(MOST):
        assert anybody.signs_in("Ada", "not the words").status_code == 401
    assert anybody.signs_in("Ada").status_code == 429
    clock.wait(WITHIN_S + 1)
    assert anybody.signs_in("Ada").status_code == 303


def test_a_form_without_the_token_of_its_session_is_not_taken(owner: Person, shop: Shop) -> None:
    for token in ("", "0" * 64, "é", "\0"):
        assert owner.send("/logs/new", SHEET, token=token).status_code == 403
    assert logs(shop.book) == ()


def test_a_token_of_another_session_is_worth_nothing(owner: Person, helper: Person) -> None:
    assert owner.send("/logs/new", SHEET, token=helper.token()).status_code == 403


def test_a_form_from_another_site_is_not_taken(owner: Person) -> None:
    token = owner.token()
    answer = owner.client.post("/logs/new", data={**SHEET, "token": token}, headers={"sec-fetch-site": "cross-site"})
    assert answer.status_code == 403


def test_after_signing_in_one_stays_in_the_yard(anybody: Person) -> None:
    for elsewhere in (SCHEME + "//elsewhere/", "//elsewhere/", "/\\elsewhere", "javascript:alert(1)"):
        answer = anybody.send("/sign-in", {"called": "Ada", "password": WORDS, "after": elsewhere})
        assert answer.headers["location"] == "/"


def test_signing_out_ends_writing(owner: Person) -> None:
    owner.send("/sign-out")
    assert owner.send("/logs/new", SHEET).status_code == 401


def test_a_new_password_ends_the_sessions_of_the_old_one(owner: Person, shop: Shop) -> None:
    shop.members.new_password(shop.members.all[0].person, "four other words")
    assert owner.send("/logs/new", SHEET).status_code == 401
    assert owner.signs_in("Ada", "four other words").status_code == 303


def test_an_owner_forgets_a_member_or_somebody_who_left(owner: Person, helper: Person, shop: Shop) -> None:
    ada, jo = (one.person for one in shop.members.all)
    assert helper.send(f"/members/{jo}", {"do": "forget"}).status_code == 403
    assert owner.send(f"/members/{ada}", {"do": "forget"}).status_code >= 400  # somebody must be left who decides
    assert [one.called for one in shop.members.all] == [one.called for one in people(shop.book)] == ["Ada", "Jo"]
    assert owner.send(f"/members/{jo}", {"do": "put out"}).status_code == 303
    assert "Forget Jo" in owner.get("/settings").text
    assert owner.send(f"/members/{jo}", {"do": "forget"}).status_code == 303
    assert [one.called for one in people(shop.book)] == ["Ada"] and "Jo" not in owner.get("/settings").text
    assert owner.send("/members", {"called": "Kit", "role": "helper", "password": WORDS}).status_code == 303
    kit = next(one.person for one in shop.members.all if one.called == "Kit")
    assert owner.send(f"/members/{kit}", {"do": "forget"}).status_code == 303
    assert [one.called for one in shop.members.all] == [one.called for one in people(shop.book)] == ["Ada"]


def test_who_was_put_out_writes_no_more(owner: Person, helper: Person, shop: Shop) -> None:
    jo = next(one for one in shop.members.all if one.called == "Jo")
    assert owner.send(f"/members/{jo.person}", {"do": "put out"}).status_code == 303
    assert helper.send("/logs/new", SHEET).status_code == 401


def test_a_helper_writes_facts_and_decides_nothing(helper: Person, shop: Shop) -> None:
    assert helper.send("/logs/new", SHEET).status_code == 303
    assert helper.send("/settings", {"yard": "Mine"}).status_code == 403
    assert helper.send("/members", {"called": "Eve", "role": "owner", "password": WORDS}).status_code == 403
    assert shop.settled() == {}


def test_a_helper_changes_nobodys_password_but_their_own(helper: Person, shop: Shop) -> None:
    ada, jo = (one.person for one in shop.members.all)
    assert helper.send(f"/members/{ada}", {"do": "password", "password": "four other words"}).status_code == 403
    assert helper.send(f"/members/{jo}", {"do": "password", "password": "four other words"}).status_code == 303
    assert helper.signs_in("Jo", "four other words").status_code == 303


def test_the_last_owner_stays(owner: Person, shop: Shop) -> None:
    answer = owner.send(f"/members/{shop.members.all[0].person}", {"do": "put out"})
    assert answer.status_code == 400
    assert "another owner" in answer.text


@pytest.mark.parametrize("page", ["/", "/logs", "/sign-in", "/built/look.css", "/nothing", "/api/openapi.json"])
def test_every_answer_tells_the_browser_what_it_may_load(anybody: Person, page: str) -> None:
    headers = anybody.client.get(page).headers
    assert "default-src 'self'" in headers["content-security-policy"]
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(anybody: Person) -> None:
    cookie = anybody.signs_in("Ada").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert "Secure" not in cookie  # plain http on loopback


def test_on_https_the_cookie_stays_on_https(shop: Shop, browser: Callable[[], Person], anybody: Person) -> None:
    object.__setattr__(shop, "secure", True)
    assert "Secure" in anybody.signs_in("Ada").headers["set-cookie"]


def test_a_cookie_that_was_tampered_with_is_nobodys(owner: Person) -> None:
    value = owner.client.cookies["waney"]
    owner.client.cookies.clear()
    owner.client.cookies.set("waney", ("A" if value[0] != "A" else "B") + value[1:])
    assert "Sign in" in owner.get("/").text


# passwords and members


def test_a_password_fits_its_hash_and_no_other() -> None:
    kept = hashed(WORDS)
    assert fits(WORDS, kept)
    assert not fits(WORDS + " ", kept)
    assert WORDS not in kept
    assert kept != hashed(WORDS)


@pytest.mark.parametrize("password", ["", "1234567", "x" * 201])
def test_passwords_too_short_or_too_long_are_told(password: str) -> None:
    with pytest.raises(BadPassword):
        hashed(password)


def test_members_are_read_again_as_they_were_written(tmp_path: Path) -> None:
    members = Members.of(tmp_path / "members.json")
    members.let_in("p-1", "Ada", Role.OWNER, WORDS)
    again = Members.of(tmp_path / "members.json")
    assert (again.all, again.secret) == (members.all, members.secret)
    assert again.signs_in("ada", WORDS) == members.all[0]


def test_the_file_of_members_is_for_its_owner_only(tmp_path: Path) -> None:
    Members.of(tmp_path / "members.json")
    assert stat.S_IMODE((tmp_path / "members.json").stat().st_mode) == 0o600


def test_two_members_do_not_share_a_name(tmp_path: Path) -> None:
    members = Members.of(tmp_path / "members.json")
    members.let_in("p-1", "Ada", Role.OWNER, WORDS)
    with pytest.raises(NoMember, match="another name"):
        members.let_in("p-2", "ADA ", Role.HELPER, WORDS)
