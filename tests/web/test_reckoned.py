"""Sums of the whole book: worked out beside the pages, once for what the book says, told as old where it has heard more."""

from __future__ import annotations

from threading import Event

import pytest

from waney.web.reckoned import MOST_KEPT, Answer, Reckoned

SOON_S, LONG_S = 0.01, 60.0


class Sums:
    """A sum that takes until it is let go."""

    def __init__(self) -> None:
        self.may_end, self.made = Event(), 0

    def __call__(self) -> int:
        self.made += 1
        assert self.may_end.wait(LONG_S)
        return self.made


def test_a_page_does_not_wait_and_shows_the_sum_when_it_is_there() -> None:
    kept, work = Reckoned(), Sums()
    assert kept.ask("year", 1, work, SOON_S) == Answer(None, of_now=False)
    assert kept.ask("year", 1, work, SOON_S) == Answer(None, of_now=False)
    work.may_end.set()
    assert kept.ask("year", 1, work, LONG_S) == Answer(1, of_now=True)
    assert kept.ask("year", 1, work, LONG_S) == Answer(1, of_now=True)
    assert work.made == 1, "asked four times, worked out once"


def test_what_the_book_heard_since_makes_a_sum_old_until_it_is_made_anew() -> None:
    kept, work = Reckoned(), Sums()
    work.may_end.set()
    kept.ask("year", 1, work, LONG_S)
    work.may_end.clear()
    assert kept.ask("year", 2, work, SOON_S) == Answer(1, of_now=False)
    work.may_end.set()
    assert kept.ask("year", 2, work) == Answer(2, of_now=True)


def test_a_paper_waits_for_what_the_book_says_now_even_behind_an_older_sum() -> None:
    kept, older = Reckoned(), Sums()
    kept.ask("year", 1, older, SOON_S)
    older.may_end.set()
    assert kept.ask("year", 2, lambda: 7) == Answer(7, of_now=True)


def test_what_went_wrong_is_raised_to_everybody_who_asks() -> None:
    kept = Reckoned()

    def wrong() -> int:
        raise ValueError("the costs sheet cannot be read")

    for _ in range(2):
        with pytest.raises(ValueError, match="costs sheet"):
            kept.ask("year", 1, wrong, LONG_S)
    assert kept.ask("year", 1, lambda: 2, LONG_S) == Answer(2, of_now=True), "a fault that passed stays no longer than its look"
    with pytest.raises(ValueError, match="costs sheet"):
        kept.ask("year", 2, wrong, LONG_S)
    kept.ask("week", 2, lambda: 1, LONG_S)
    assert kept.ask("year", 3, lambda: 3, LONG_S) == Answer(3, of_now=True)


def test_only_what_was_asked_lately_is_kept() -> None:
    kept, work = Reckoned(), Sums()
    work.may_end.set()
    for of in range(MOST_KEPT + 1):
        kept.ask(of, 1, work, LONG_S)
    kept.ask(0, 1, work, LONG_S)
    assert work.made == MOST_KEPT + 2, "the first was let go"
