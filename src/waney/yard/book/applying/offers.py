"""Trees offered, and stems."""

from __future__ import annotations

from waney.yard.acts.offers import StemFelled, TreeAnswered, TreeOffered, TreeToldAgain
from waney.yard.book import models
from waney.yard.book.applying.pen import Pen
from waney.yard.book.truth import Event, packed


def tree_offered(pen: Pen, event: Event, act: TreeOffered) -> None:
    """An offer, not answered yet."""
    kept = {"photo": act.photo or None, "reply": "", "reason": "", "money_cents": packed(()), "seq": event.seq}
    unread = {"girth_off": None, "small_end_off": None, "length_off": None, "girth_at_m": None, "taps": ""}
    pen.insert(models.tree, id=act.tree, **_told(act), **kept, **unread)


def tree_told_again(pen: Pen, _event: Event, act: TreeToldAgain) -> None:
    """What was told anew, each size with how far off it is; the rest stays."""
    anew = {name: value for name, value in {**_told(act), "taps": act.taps}.items() if value not in (None, "")}
    off = {"girth_m": act.girth_off, "small_end_m": act.small_end_off, "length_m": act.length_off}
    known = {size.replace("_m", "_off"): share for size, share in off.items() if size in anew}
    at = {"girth_at_m": act.girth_at_m} if "girth_m" in anew else {}
    pen.change(models.tree, act.tree, **anew, **known, **at)


def _told(act: TreeOffered | TreeToldAgain) -> dict[str, object]:
    yard_tree = None if act.yard_tree is None else int(act.yard_tree)
    far = {"how": act.how and str(act.how), "yard_tree": yard_tree, "way_m": act.way_m, "hours": act.hours}
    sizes = {"girth_m": act.girth_m, "small_end_m": act.small_end_m, "length_m": act.length_m, "asked_cents": act.asked_cents}
    return {"species": act.species, "place": act.where, "words": act.words, **sizes, **far}


def tree_answered(pen: Pen, _event: Event, act: TreeAnswered) -> None:
    """The answer that counts is the last."""
    pen.change(models.tree, act.tree, reply=str(act.reply), reason=act.reason, money_cents=packed(act.money_cents))


def stem_felled(pen: Pen, event: Event, act: StemFelled) -> None:
    """A stem."""
    told = {"species": act.species, "length_m": act.length_m, "felled_on": act.felled_on, "words": act.words}
    pen.insert(models.stem, id=act.stem, tree=act.tree or None, **told, seq=event.seq)
