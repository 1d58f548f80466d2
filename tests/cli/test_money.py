"""waney price, quote, sell, year: on a small book of a test's own; what is refused ends with code 3 and a reason."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.book.around import buyers
from waney.yard.book.book import Book, make_book
from waney.yard.book.engine import in_folder
from waney.yard.book.looking import pieces
from waney.yard.book.selling_seen import sales
from waney.yard.names import Name, read_name
from waney.yard.services import selling
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop

from .calling import EXAMPLES, NO, SLIP, WRITTEN, asked, run

NOW = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
LOG = 'format = "waney-log/1"\nunits = "in"\ncurrency = "USD"\nspecies = "black walnut"\n'
LOG += 'length = "8 ft"\npaid = 90\n[top]\ndiameter = 16\n'
TERMS = EXAMPLES / "terms-custom.toml"


class Small:
    """A log with two pieces of walnut, a piece of cherry without a log; the sheets of the examples."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        numbers = iter(range(1, 10_000))

        def new_id() -> str:
            return str(UUID(int=next(numbers), version=4))

        self.book: Book = make_book(in_folder(folder), NOW)
        self.hand = Hand(self.book, new_id(), "", lambda: datetime.now(UTC), new_id)
        for what, name in ((Setting.PRICES, "prices-shelf"), (Setting.TERMS, "terms-custom")):
            settle_for_shop(self.hand, what, (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
        log, sizes = new_id(), {"thickness_m": 0.0508, "length_m": 2.4384, "widths_m": (0.4572, 0.4572)}
        self.hand.write(LogArrived(log, LOG, "black walnut"))
        for _ in range(2):
            self.hand.write(CameOff(new_id(), log=log, species="black walnut", **sizes))  # type: ignore[arg-type]
        self.hand.write(PieceCounted(new_id(), "black cherry"))
        self.names = [piece.name for piece in pieces(self.book)]
        self.ids = [piece.id for piece in pieces(self.book)]

    def run(self, *words: str) -> tuple[int, str, str]:
        return run(*words, "--book", str(self.folder))

    def asked(self, *words: str) -> dict[str, object]:
        return asked(*words, "--book", str(self.folder))


@pytest.fixture
def small(tmp_path: Path) -> Small:
    return Small(tmp_path / "yard")


def test_three_prices_stand_above_the_floor(small: Small) -> None:
    """2 in x 18 in x 8 ft: 24 board feet at 14 and 12 square feet at 30, each x 1.2 for 2 in; the log's 90 over two alike."""
    answer = small.asked("price", small.names[0])
    assert [way["cents"] for way in answer["ways"]] == [403_20, 432_00, 264_00]  # type: ignore[attr-defined]
    assert answer["costs"] == {"floor_cents": 45_00, "sharing": "volume", "why": "", "asked_below_cents": 0}
    code, said, _ = small.run("price", small.names[0], "--figure", "curl")
    assert code == 0 and "x 1.2 (thickness) x 1.4 (figure)" in said and "it has cost $45.00" in said


def test_a_price_below_what_the_piece_has_cost_is_said_as_it_is_asked_and_to_no_buyer(small: Small) -> None:
    """45 of cost: one cent less is said, the same is not."""
    assert "lies $0.01 below what it has cost" in small.run("price", small.names[0], "--at", "44.99 USD")[1]
    assert "below" not in small.run("price", small.names[0], "--for-buyer")[1]
    assert "below" not in small.run("price", small.names[0], "--at", "45 USD")[1]


def test_a_buyer_sees_what_is_asked_and_nothing_of_our_own(small: Small) -> None:
    assert small.run("price", small.names[0], "--at", "400 USD")[0] == 0
    code, said, _ = small.run("price", small.names[0], "--for-buyer")
    assert code == 0 and "Asked: $400.00" in said
    assert not any(word in said for word in ("cost", "45", "Our own", "x 1.2", "typed"))
    answer = small.asked("price", small.names[0], "--for-buyer")
    assert (answer["asked_cents"], answer["ways"], answer["costs"]) == (400_00, [], None)


def test_a_piece_is_sold_once_and_the_second_time_others_are_named(small: Small) -> None:
    """300 and 6 % on the sum: 18."""
    first, second, _ = small.names
    answer = small.asked("sell", first, "--price", "300 USD", "--to", "Jo", "--on", "2026-05-04")
    assert (answer["total_cents"], answer["taxes"], answer["owed_cents"], answer["buyer"]) == (
        318_00, [["sales tax 6 %, on the sum, rounded half up", 18_00]], 0, "Jo",
    )  # fmt: skip
    code, _, told = small.run("sell", first, "--price", "310 USD", "--to", "Bo")
    assert code == NO and f"{first} is sold; look again" in told and told.endswith(f"Nearest to it: {second}.\n")
    assert [each.called for each in buyers(small.book)] == ["Jo"], "whoever got nothing is not written down"


def test_a_hold_is_settled_by_its_own_buyer_only(small: Small) -> None:
    ann = selling.add_buyer(small.hand, "Ann").id
    selling.hold_pieces(small.hand, ann, [small.ids[0]], "2999-01-01", 50_00)
    code, _, told = small.run("sell", small.names[0], "--price", "300 USD", "--to", "Bo")
    assert code == NO and "held for somebody" in told and "Ann" not in told
    answer = small.asked("sell", small.names[0], "--price", "300 USD", "--to", "ann", "--paid", "owed", "--goes-to", "NH")
    assert answer["owed_cents"] == 318_00 - 50_00 and [one.goes_to for one in sales(small.book)] == ["NH"]


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (lambda s: ["price", "A-1-A"], SLIP, "A-1-A"),
        (lambda s: ["sell", s.names[2]], WRITTEN, "Nothing is asked for"),
        (lambda s: ["sell", s.names[0], "--price", "1 USD", "--price", "2 USD"], WRITTEN, "--price stands 2 times for 1"),
        (lambda s: ["sell", s.names[0], "--price", "1 USD", "--paid", "beer"], WRITTEN, "none of cash, card"),
        (lambda s: ["sell", s.names[0], "--price", "1 USD", "--goes-to", "12 Mill Lane"], SLIP, "an address is not kept"),
        (lambda s: ["price", s.names[0], "--figure", "burl"], SLIP, "no factor for the figure"),
        (lambda s: ["price", s.names[0], "--at", "3", "--for-buyer"], WRITTEN, "leave one out"),
    ],
)
def test_a_slip_ends_with_one_line(small: Small, words: Callable[[Small], list[str]], code: int, sentence: str) -> None:
    ended, said, told = small.run(*words(small))
    assert (ended, said) == (code, "") and sentence in told and told.count("\n") == 1


def test_the_year_counts_what_was_sold_beside_what_it_cost(small: Small) -> None:
    small.run("sell", small.names[0], "--price", "300 USD", "--on", "2026-05-04")
    answer = small.asked("year", "2026")
    assert (answer["logs"][0]["spent_cents"], answer["whole"]["net_cents"]) == (45_00, 255_00)  # type: ignore[index]
    code, said, _ = small.run("year")
    assert code == 0 and "sold $300.00, cost $90.00 (shared by volume), earned $210.00" in said
    assert small.run("year", "2025")[1] == "Nothing was sold in 2025.\n"


def test_a_job_is_quoted_three_ways(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / f"{name}.toml").write_text(LOG, encoding="utf-8")
    words = ["quote", str(tmp_path / "one.toml"), str(tmp_path / "two.toml"), "--terms", str(TERMS), "--way", "10 mi"]
    code, said, _ = run(*words, "--units", "mm", "--json", str(tmp_path / "quote.json"))
    assert code == 0 and "International 1/4-inch 85" in said  # 16 in, 8 ft: the published table
    assert all(f"\n{how}: $" in said for how in ("By the hour", "By the board foot", "On shares"))
    assert "small end 406 mm" in said
    answer = json.loads((tmp_path / "quote.json").read_text(encoding="utf-8"))
    assert answer["logs"][0]["small_end_m"] == pytest.approx(0.4064, rel=1e-3) and answer["rule"] == "International 1/4-inch"
    assert all(way["hourly_cents"]["low"] < way["hourly_cents"]["high"] for way in answer["ways"])
    assert run(*words[:2], words[1], "--terms", str(TERMS))[0] == WRITTEN


@pytest.mark.long
def test_scale_and_plan_take_a_log_of_the_yard_by_its_name(small: Small, tmp_path: Path) -> None:
    sheet = tmp_path / "log.toml"
    sheet.write_text(LOG, encoding="utf-8")
    name, yard = str(log_name(small.names[0])), ("--yard", str(small.folder))
    assert asked("scale", name.lower().replace("-", " "), *yard) == asked("scale", str(sheet))
    assert asked("scale", str(sheet), *yard) == asked("scale", str(sheet)), "a file is a file in a yard too"
    code, _, told = run("plan", name, *yard)
    assert code == WRITTEN and "--mill" in told and "settled one" in told
    for what, file in ((Setting.MILL, "mill-woodshed"), (Setting.WANTS, "wants-boards")):
        settle_for_shop(small.hand, what, (EXAMPLES / f"{file}.toml").read_text(encoding="utf-8"))
    small.hand.book.close()
    ways = ("--pattern", "through")
    sheets = ("--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(EXAMPLES / "wants-boards.toml"))
    assert run("plan", name, *yard, *ways) == run("plan", str(sheet), *sheets, *ways)
    for wrong, says in (
        (small.names[0], "is a piece and no log"),
        (str(Name("Y", 0)), "is no log of this yard"),
        ("log.toml", "is no name"),
    ):
        code, _, told = run("scale", wrong, *yard)
        assert code == SLIP and says in told


def log_name(piece: str) -> Name:
    """What stands on the tag of its log."""
    return Name(read_name(piece).code, 0)
