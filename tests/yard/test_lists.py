"""Lists of commands: one format for phone, page and paper; each command is answered, one refusal stops no other."""

from __future__ import annotations

import json
import random
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from tests.fits import fits

from waney.yard.acts.every import ACTS
from waney.yard.acts.logs import LogArrived, PlanChosen
from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.people_places import Moved, SpotNamed
from waney.yard.book.applying.every import APPLY
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.looking import pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Command, Read, Unreadable, commands_schema, read_commands, write_commands
from waney.yard.names import Name
from waney.yard.problems import BadCommands
from waney.yard.services.lists import Came, take_in

from .conftest import NOW, Device, Ids
from .drawn import Drawn


def a_day(phone: Device) -> tuple[Command, ...]:
    """A log, a day, two pieces, one of them moved, and a choice on what is not there."""
    log, day, spot, piece = (phone.ids() for _ in range(4))
    return (
        phone.command(LogArrived(log, "sheet", "ash")),
        phone.command(DayOpened(day, "2026-05-04")),
        phone.command(CameOff(piece, day=day, log=log, name=str(Name("A", 1)), widths_m=(0.3, 0.35), thickness_m=0.054)),
        phone.command(PlanChosen(log, phone.ids()), Read(f"log:{log}", 0, after=phone.count)),
        phone.command(SpotNamed(spot, "rack 2")),
        phone.command(Moved(f"piece:{piece}", spot)),
    )


def test_a_list_is_read_as_it_was_written(phone: Device) -> None:
    commands = a_day(phone)
    assert read_commands(write_commands(phone.id, commands)) == commands


def test_a_list_fits_its_schema_and_a_wrong_one_does_not(phone: Device) -> None:
    document, form = json.loads(write_commands(phone.id, a_day(phone))), commands_schema()
    assert fits(document, form, form)
    document["commands"][2]["act"]["kind"] = "fell-off"
    assert not fits(document, form, form)


def test_the_list_on_the_page_about_the_book_is_one() -> None:
    page = (Path(__file__).parents[2] / "docs" / "design" / "yard.md").read_text(encoding="utf-8")
    text = page.partition("```json\n")[2].partition("```")[0]
    assert [type(each) for each in read_commands(text)] == [Command, Command]
    assert fits(json.loads(text), commands_schema(), commands_schema())


def test_every_act_is_told_how_it_is_applied() -> None:
    assert APPLY.keys() == ACTS.keys()


def test_a_list_is_taken_in_and_the_second_time_nothing_is_written(book: Book, phone: Device) -> None:
    text = write_commands(phone.id, a_day(phone))
    first = take_in(book, text, NOW)
    assert [each.came for each in first] == [Came.WRITTEN] * 3 + [Came.REFUSED] + [Came.WRITTEN] * 2
    assert "send first what made it" in first[3].sentence
    second = take_in(book, text, NOW)
    assert [each.came for each in second] == [Came.BEFORE] * 3 + [Came.REFUSED] + [Came.BEFORE] * 2
    assert [each.seq for each in second] == [each.seq for each in first]
    [piece] = pieces(book)
    assert piece.name == str(Name("A", 1)) and piece.spot and (piece.least_width_m, piece.most_width_m) == (0.3, 0.35)


def test_who_comes_second_reads_what_had_happened(book: Book, phone: Device, laptop: Device) -> None:
    log = phone.ids()
    phone.send(LogArrived(log, "sheet", "ash"))
    laptop.send(CameOff(laptop.ids(), log=log))
    late = phone.command(PlanChosen(log, phone.ids()), Read(f"log:{log}", 1))
    [taken] = take_in(book, write_commands(phone.id, (late,)), NOW)
    assert taken.came is Came.REFUSED and [each.kind for each in taken.since] == ["came-off"]


def broken(ids: Ids, **change: Any) -> str:
    """A list of one piece, with something in it changed."""
    act = {"kind": "came-off", "piece": ids(), "thickness_m": 0.05} | change.pop("act", {})
    command = {"id": ids(), "count": 1, "happened_at": "2026-05-04T09:00:00Z", "act": act} | change
    return json.dumps({"format": "waney-commands/1", "device": ids(), "commands": [command]})


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"act": {"kind": "fell-off"}}, "no act that this program knows"),
        ({"act": {"thickness_m": 54}}, "between 0.0005 and 3"),
        ({"act": {"thickness_m": "2 in"}}, "not an ordinary number"),
        ({"act": {"widths_m": [0.3, None]}}, "between"),
        ({"act": {"name": "A-1-9"}}, "check character"),
        ({"act": {"log": "the oak"}}, "no id"),
        ({"act": {"colour": "red"}}, "no such field"),
        ({"act": {"at": [1.0, 2.0]}}, "twelve numbers"),
        ({"act": {"how": "crooked"}}, "none of as meant"),
        ({"act": {"product": "two\nlines"}}, "one line"),
        ({"count": 0}, "counts its commands from 1"),
        ({"happened_at": "yesterday"}, "no moment"),
        ({"happened_at": "2026-05-04T09:00:00"}, "how far it is from UTC"),
        ({"id": "7"}, "no id"),
        ({"act": {"kind": "plan-chosen", "piece": "x"}}, "no such field"),
    ],
)
def test_a_command_that_cannot_be_is_named_with_its_place(ids: Ids, change: dict[str, Any], says: str) -> None:
    [found] = read_commands(broken(ids, **change))
    assert isinstance(found, Unreadable) and found.sentence.startswith("Command 1 of the list: ") and says in found.sentence


def test_a_decision_says_what_was_read(phone: Device) -> None:
    text = write_commands(phone.id, a_day(phone)).replace('"read"', '"raed"')
    assert "no such field" in next(each.sentence for each in read_commands(text) if isinstance(each, Unreadable))
    document = json.loads(write_commands(phone.id, a_day(phone)))
    del document["commands"][3]["read"]
    [found] = [each for each in read_commands(json.dumps(document)) if isinstance(each, Unreadable)]
    assert "is a decision" in found.sentence


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"format": "waney-commands/2", "commands": []}', '{"format": "waney-commands/1"}']
)
def test_what_is_no_list_is_answered_with_a_sentence(text: str) -> None:
    with pytest.raises(BadCommands, match="list of commands"):
        read_commands(text)


ODD: tuple[Any, ...] = (
    None, True, -1, 0, 10**30, 1e300, "", "x", "\0", "\ud800", "a\nb", "2026-13-40", [], [1, 2], {}, {"kind": "moved"}, "piece:",
    "9" * 300,
)  # fmt: skip


def spoiled(document: Any, draw: random.Random) -> Any:
    """The document with one value, somewhere in it, made odd."""
    if not isinstance(document, dict | list) or not document or draw.random() < 0.15:
        return draw.choice(ODD)
    keys = list(document) if isinstance(document, dict) else range(len(document))
    key = draw.choice(keys)
    changed = document.copy()
    changed[key] = spoiled(document[key], draw)
    return changed


def test_whatever_a_list_holds_the_answer_is_a_sentence_and_the_book_stays_sound(book: Book) -> None:
    drawn, draw = Drawn(4), random.Random(4)
    came = Counter[str]()
    for _ in range(250):
        command = drawn.command()
        for name in command.act.files():
            book.files.keep(drawn.contents[name])
        document = json.loads(write_commands(command.device, (command,)))
        try:
            odd = spoiled(document, draw) if draw.random() < 0.7 else document
            came.update(each.came for each in take_in(book, json.dumps(odd), NOW))
        except BadCommands:
            came["no list"] += 1
    assert min(came[each] for each in (Came.WRITTEN, Came.UNREADABLE, "no list")) > 50 and came[Came.REFUSED], came
    with reading(book.engine) as at:
        assert standing(at) == standing_anew(at)
