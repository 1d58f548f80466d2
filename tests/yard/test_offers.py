"""Trees offered and answered; logs keep their place in the stem."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.offers import Reply, StemFelled, TreeAnswered, TreeOffered
from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.commands import Read
from waney.yard.problems import BadAct, Stale

from .conftest import Device


def test_an_offer_is_answered_once_on_what_was_read(book: Book, phone: Device, laptop: Device) -> None:
    tree = phone.ids()
    phone.send(TreeOffered(tree, "walnut", girth_m=2.1, length_m=3.4, where="Alder Hollow, behind the school"))
    laptop.send(TreeAnswered(tree, Reply.IF_FREE, "nails in the butt", (-4000, 12000, 31000)), Read(f"tree:{tree}", 1))
    with pytest.raises(Stale, match="tree answered"):
        phone.send(TreeAnswered(tree, Reply.FETCH), Read(f"tree:{tree}", 1))
    with reading(book.engine) as at:
        row = at.execute(select(models.tree)).one()
        assert (row.reply, row.money_cents) == ("only if free", "[-4000,12000,31000]")
        assert standing(at) == standing_anew(at)


def test_logs_keep_their_place_in_the_stem(book: Book, phone: Device) -> None:
    stem, logs = phone.ids(), [phone.ids() for _ in range(2)]
    for log, from_butt_m in zip(logs, (0.0, 2.5), strict=True):
        phone.send(LogArrived(log, "sheet", "ash", stem=stem, from_butt_m=from_butt_m))
    phone.send(StemFelled(stem, species="ash", length_m=5.1))
    with reading(book.engine) as at:
        rows = at.execute(select(models.log.c.id, models.log.c.from_butt_m).where(models.log.c.stem == stem)).all()
        assert sorted(map(tuple, rows)) == sorted(zip(logs, (0.0, 2.5), strict=True))
        assert standing(at) == standing_anew(at)


def test_what_no_offer_can_be_is_refused(phone: Device) -> None:
    with pytest.raises(BadAct, match="rising order"):
        TreeAnswered(phone.ids(), Reply.FETCH, money_cents=(3, 2, 1))
    with pytest.raises(BadAct, match="girth_m is 210"):
        TreeOffered(phone.ids(), girth_m=210)
    with pytest.raises(BadAct, match="needs the stem"):
        LogArrived(phone.ids(), "sheet", "ash", from_butt_m=1.0)
