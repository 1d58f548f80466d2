"""The form of a log: every answer comes into its sheet, what cannot be read is told, what is found later is added."""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import fields

import pytest

from waney.logs.measured import Hidden, Inside, MeasuredLog
from waney.logs.sheet import log_sheet
from waney.web.shop import Shop
from waney.yard.book.logs_seen import logs
from waney.yard.book.stories import log_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log

from .conftest import ROOT, Person
from .test_pages import EXAMPLE, photo


def test_three_answers_book_a_log_in(owner: Person, shop: Shop) -> None:
    answer = owner.send("/logs/new", {"species": "black walnut", "length": "8' 6\"", "top_diameter": "16"})
    (log,) = logs(shop.book)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/logs/{log.id}")
    assert (log.name, log.species) == ("A-0-1", "walnut_black")
    page = owner.get(f"/logs/{log.id}").text
    assert "Black walnut" in page
    assert "diameter = &#34;16&#34;" in page


def test_every_answer_of_the_form_comes_into_the_sheet(owner: Person, shop: Shop) -> None:
    told = {
        "species": "white oak", "name": 'the "big" one',
        "felled": "2024-03-16", "place": "Alder Hollow", "notes": "scar \\ road side",
        "length": "10' 4\"", "butt_log": "yes", "butt_diameter": "27", "butt_other": "25 1/2", "butt_clock": "12",
        "butt_pith": "1 1/4", "butt_pith_clock": "2", "bark_thickness": "7/8",
        "girth": "78", "girth_distance": "4' 6\"", "sweep_depth": "1 1/4",
        "sweep_clock": "10", "top_diameter": "22", "top_other": "21 1/4", "top_pith": "3/4", "top_pith_clock": "4",
        "found_kind": ["metal", "metal"], "found_sure": ["", ""], "found_distance": ["3' 4\"", ""], "found_clock": ["3", ""],
        "found_depth": ["2", ""], "found_across": ["", ""], "found_to": ["", ""],
    }  # fmt: skip
    assert owner.send("/logs/new", told).status_code == 303
    (log,) = logs(shop.book)
    by_form, by_hand = _read(log.sheet), _read(EXAMPLE)
    for field in fields(by_hand):
        if field.name not in OTHERWISE:
            assert getattr(by_form, field.name) == getattr(by_hand, field.name), field.name
    assert (by_form.name, by_form.notes) == ('the "big" one', "scar \\ road side")
    metal = [one for one in by_hand.hidden if one.kind is Hidden.METAL]
    assert [(one.from_m, one.clock_h, one.depth_m) for one in by_form.hidden] == [
        (one.from_m, one.clock_h, one.depth_m) for one in metal
    ]


def test_an_end_that_was_measured_over_the_bark_is_read_so(owner: Person, shop: Shop) -> None:
    told = {"species": "white oak", "length": "10 ft", "butt_diameter": "21", "butt_over": "bark", "top_diameter": "16"}
    assert owner.send("/logs/new", told).status_code == 303
    (log,) = logs(shop.book)
    assert [one.over for one in _read(log.sheet).rounds] == [Inside.BARK, Inside.WOOD]


OTHERWISE = ("name", "notes", "place", "paid_cents", "sheet_sha256", "hidden")
"""what the form does not ask, or what was typed otherwise"""


def _read(sheet: str) -> MeasuredLog:
    return log_sheet(sheet).log


TRACED = (ROOT / "docs" / "examples" / "log-traced.toml").read_text(encoding="utf-8")


def test_an_end_traced_on_a_photo_comes_into_the_sheet_with_the_photo(owner: Person, shop: Shop) -> None:
    outline = tomllib.loads(TRACED)["butt"]["outline"]
    outline["scale"]["length"] = "12 in"
    told = {"species": "sugar maple", "length": "6' 3\"", "butt_log": "yes", "top_diameter": "14", "top_other": "13 1/2"}
    files = {"butt_photo": ("butt.jpg", photo(80), "image/jpeg")}
    assert owner.send("/logs/new", {**told, "butt_outline": json.dumps(outline)}, files).status_code == 303
    (log,) = logs(shop.book)
    by_form, by_hand = _read(log.sheet), _read(TRACED)
    assert (by_form.rounds, by_form.piths) == (by_hand.rounds, by_hand.piths)
    assert [one.shows for one in log_story(shop.book, log.id).photos] == ["butt end"]


@pytest.mark.parametrize("traced", ["nonsense", "[]", "3", '{"scale": {"from": [1, 2]}}', '{"points": [[1, 2]], "up": 12}'])
def test_a_trace_that_is_none_is_told(owner: Person, shop: Shop, traced: str) -> None:
    told = {"species": "sugar maple", "length": "6'", "top_diameter": "14", "butt_outline": traced}
    assert owner.send("/logs/new", told).status_code == 422
    assert logs(shop.book) == ()


def test_a_log_that_cannot_be_read_is_told_and_nothing_typed_is_lost(owner: Person, shop: Shop) -> None:
    answer = owner.send("/logs/new", {"species": "black walnut", "length": "about ten", "top_diameter": "16"})
    assert answer.status_code == 422
    assert 'value="about ten"' in answer.text
    assert "about ten" in re.sub("value=.*?>", "", answer.text)
    assert logs(shop.book) == ()


def test_a_pasted_sheet_is_kept_word_for_word(owner: Person, shop: Shop) -> None:
    assert owner.send("/logs/new", {"sheet": EXAMPLE}).status_code == 303
    assert logs(shop.book)[0].sheet.strip() == EXAMPLE.strip()


def test_a_sheet_written_anew_keeps_the_former_one(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    assert owner.send(f"/logs/{log.id}/sheet", {"sheet": EXAMPLE.replace("W14", "W15")}).status_code == 303
    assert [("W15" in sheet.text) for sheet in log_story(shop.book, log.id).sheets] == [False, True]
    assert owner.send(f"/logs/{log.id}/sheet", {"sheet": "length = "}).status_code == 422


def test_metal_found_later_is_added_to_the_sheet_in_the_shops_own_unit(owner: Person, shop: Shop) -> None:
    metric = (ROOT / "docs" / "examples" / "log-sections.toml").read_text(encoding="utf-8")
    owner.send("/logs/new", {"sheet": metric})
    (log,) = logs(shop.book)
    told = {"found_kind": ["metal", "rot", "knot"], "found_sure": ["", "suspected", ""], "found_distance": ["40", "1 m", ""]}
    told |= {"found_clock": ["3", "", ""], "found_depth": ["1 1/2", "", ""], "found_to": ["", "60", ""]}
    answer = owner.send(f"/logs/{log.id}/found", told)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/logs/{log.id}#found")
    first, second = log_story(shop.book, log.id).sheets
    assert second.text.startswith(first.text.rstrip())
    nail, rot = (one for one in _read(second.text).hidden if one.kind in (Hidden.METAL, Hidden.ROT))
    # 40 in and 1 1/2 in, though the sheet counts in cm
    assert (nail.middle_m, nail.clock_h, nail.depth_m) == pytest.approx((40 * 0.0254, 3.0, 1.5 * 0.0254))
    assert (rot.from_m, rot.to_m, rot.clock_h, rot.chance) == pytest.approx((1.0, 60 * 0.0254, None, 0.5))
    page = owner.get(f"/logs/{log.id}").text
    assert 'data-placing="unrolled"' in page
    assert "&#34;words&#34;: &#34;metal&#34;" in page


def test_what_cannot_be_in_the_log_is_told_and_stays_typed(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    told = {"found_kind": "split", "found_sure": "suspected", "found_distance": "90 ft", "found_clock": "13"}
    answer = owner.send(f"/logs/{log.id}/found", told)
    assert answer.status_code == 422
    assert 'value="90 ft"' in answer.text
    assert "<option selected>split</option>" in answer.text
    assert len(log_story(shop.book, log.id).sheets) == 1


def test_metal_can_be_told_of_a_scanned_log_without_its_scan_again(owner: Person, shop: Shop, hand: Hand) -> None:
    scanned = 'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\n[scan]\nfile = "a.xyz"\nbutt = [0, 0, 0]\n'
    scanned += "top = [0, 0, 2.4]\nmark = [0, 0.2, 1]\n"
    log = add_log(hand, NewLog(scanned, scan=b"0 0.2 1\n")).id
    assert owner.send(f"/logs/{log}/found", {"found_kind": "metal", "found_distance": "30"}).status_code == 303
    first, second = log_story(shop.book, log).sheets
    assert first.scan == second.scan != ""


def test_an_end_of_a_log_in_the_book_is_traced_later(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    outline = tomllib.loads(TRACED)["butt"]["outline"]
    outline["scale"]["length"] = "12 in"
    del outline["pith"]  # the sheet has it already
    files = {"butt_photo": ("butt.jpg", photo(80), "image/jpeg")}
    assert owner.send(f"/logs/{log.id}/outline", {"butt_outline": json.dumps(outline)}, files).status_code == 303
    story = log_story(shop.book, log.id)
    traced = next(one for one in _read(story.log.sheet).rounds if one.at_m == 0)
    assert traced.trace_m == next(one for one in _read(TRACED).rounds if one.at_m == 0).trace_m
    (kept,) = story.photos
    assert kept.shows == "butt end"
    assert f'src="/photos/{kept.file}"' in owner.get(f"/logs/{log.id}").text
    assert owner.send(f"/logs/{log.id}/outline", {"butt_outline": "nonsense"}).status_code == 422
