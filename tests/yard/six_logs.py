"""A custom job of six odd logs: one over bark, one in metres, one end missing, a wood that nobody knows."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from math import floor

from waney.trade.way_paid import How
from waney.yard.acts.mill import Off
from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.book import Book
from waney.yard.services.custom import (
    CustomJob,
    agree,
    ask_custom,
    seen_of,
    tell_sawn,
)
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day
from waney.yard.services.typed import TypedLine, take_in_typed

from .conftest import NOW, Ids

IN = 'format = "waney-log/1"\nunits = "in"\nspecies = "{}"\n'
SIX = {
    "HA": IN.format("white oak") + 'length = "12 ft"\n[butt]\ndiameter = 19\n[top]\ndiameter = 16\n',
    "HB": IN.format("white oak")
    + 'length = "10 ft"\n[butt]\ngirth = 66\nover = "bark"\n[top]\ngirth = 58\nover = "bark"\n',  # over bark
    "HC": 'format = "waney-log/1"\nunits = "m"\nspecies = "white ash"\nlength = 3.7\n'
    "[butt]\ndiameter = 0.44\n[top]\ndiameter = 0.39\n",  # in metres
    "HD": IN.format("black cherry") + 'length = "8 ft"\n[butt]\ndiameter = 17\n',  # one end missing
    "HE": IN.format("red maple") + 'length = "7 ft"\n[butt]\ndiameter = 13\n[top]\ndiameter = 12\n',  # too short for a usual cut
    "HF": IN.format("unknown") + 'length = "9 ft"\n[top]\ndiameter = 14\n',  # nobody knows the wood
}
TERMS = """
format = "waney-terms/1"
units = "in"
currency = "USD"
hour = 95
minimum = 150
set_up = 40
way = 2
board_foot = 0.45
rule = "doyle"
share = "45 %"
worth = "1 to 2"
allowance = "1/8"
pace = "150 to 250"
set_up_hours = 0.75
metal = 35
[[tax]]
name = "sales tax"
percent = "6.25 %"
on = "each line"
rounding = "half to even"
"""
INCH, FOOT = Fraction(254, 10_000), Fraction(3048, 10_000)
# in: thick, narrowest, widest; ft: long. Two boards a log at least, 4/4 and 8/4 green, one spoiled.
BOARDS = {
    "HA": (("1.125", "11.5", "13.5", "12"), ("2.25", "14", "15", "12"), ("1.125", "12", "14", "12")),
    "HB": (("1.125", "10", "12", "10"), ("1.125", "13", "14", "10")),
    "HC": (("1.125", "9.5", "10.5", "12"), ("1.375", "12", "13", "12"), ("1.125", "4", "5", "12")),
    "HD": (("1.125", "9", "11", "8"), ("1.125", "10", "12", "8")),
    "HE": (("1.125", "8", "9", "7"), ("0.75", "6", "8", "7")),
    "HF": (("1.125", "10", "11", "9"), ("2.25", "11", "12", "9")),
}
SPOILED = ("HC", 2)
HOURS = {"HA": "0.80", "HB": "0.55", "HC": "0.75", "HD": "0.40", "HE": "0.35", "HF": "0.50"}
BESIDE = [40_00, 25 * 2_00, 35_00]
"""setting up, 25 miles at 2, one blade on metal"""
METAL = {"HB": 1}


def tenths_of(thick: str, narrow: str, wide: str, long: str) -> int:
    """By hand: 1/8 in left out, then whole quarter inches, an inch at least; to the nearest tenth of a board foot."""
    quarters = max(floor((Fraction(thick) - Fraction(1, 8)) * 4), 4)
    feet = Fraction(quarters, 4) * (Fraction(narrow) + Fraction(wide)) / 2 * Fraction(long) / 12
    return floor(feet * 10 + Fraction(1, 2))


def cents(exact: Fraction) -> int:
    """Half up; money here is never below zero."""
    return floor(exact + Fraction(1, 2))


def tax_of(lines: list[int]) -> int:
    """As the terms round it: on each line, half to even."""
    return sum(round(line * Fraction("0.0625")) for line in lines)


TENTHS = {
    code: [0 if (code, n) == SPOILED else tenths_of(*board) for n, board in enumerate(boards)] for code, boards in BOARDS.items()
}


def kept_by_log() -> dict[str, int]:
    """On shares, in tenths of a board foot: of each log what comes nearest to 45 % of all so far in whole pieces, never above."""
    kept: dict[str, int] = {}
    for code, counts in TENTHS.items():
        tallied = sum(sum(TENTHS[each]) for each in (*kept, code))
        sums = {0}
        for one in counts:
            sums |= {one + other for other in sums}
        kept[code] = max(each for each in sums if sum(kept.values()) + each <= floor(Fraction(45, 100) * tallied))
    return kept


@dataclass
class Six:
    """A custom job of six odd logs in a book of its own. The hand writes; ids by the code of the log."""

    book: Book
    hand: Hand
    logs: dict[str, str] = field(default_factory=dict)
    custom: str = ""

    def job(self) -> CustomJob:
        return CustomJob.of(self.book, self.custom)

    def agree(self, how: How) -> None:
        agree(self.hand, self.custom, how, "2026-05-04", seen_of(self.job(), self.book))

    def saw(self) -> None:
        """As a paper tally is typed in; then hours, and a blade that a nail in HB spoilt."""
        day = open_day(self.hand, "2026-05-05").id
        for code, boards in BOARDS.items():
            lines = []
            for n, (thick, narrow, wide, long) in enumerate(boards):
                how = Off.SPOILED if (code, n) == SPOILED else Off.AS_MEANT
                widths = (float(Fraction(narrow) * INCH), float(Fraction(wide) * INCH))
                lines.append(TypedLine("", float(Fraction(thick) * INCH), widths, float(Fraction(long) * FOOT), how))
            take_in_typed(self.hand, self.hand.new_id(), day, self.logs[code], "", tuple(lines))
            tell_sawn(self.hand, self.custom, self.logs[code], float(HOURS[code]), METAL.get(code, 0))


def six_logs(book: Book, ids: Ids) -> Six:
    """All of it, asked for and nothing agreed."""
    hand = Hand(book, ids(), "", lambda: NOW, ids)
    hand.write(Settled(Setting.TERMS, TERMS))
    made = Six(book, hand)
    made.logs = {code: add_log(hand, NewLog(sheet, code)).id for code, sheet in SIX.items()}
    made.custom = ask_custom(hand, "Hal", tuple(made.logs.values()), "boards for a floor", 40_233.6, 1.0).id
    return made
