"""Terms for sawing other people's logs, as the shop typed them (TOML, `waney-terms/1`). No price or pace is built in.

format, units, comma, currency
hour, minimum, set_up, way               money: an hour of sawing, least bill, setting up, a mile or kilometre of the way
board_foot, rule                         a board foot, and the rule it goes by: a log rule, or "tally"
allowance                                thickness that the tally leaves out
share, worth                             the sawyer's part of the boards, and what a green board foot earns
pace, set_up_hours, over_scale           board feet tallied an hour; hours to set up; tally over International scale
blade, blade_lasts, metal                a blade, board feet it saws, what the customer pays for one that metal spoils
driving, must_earn                       own cost of a mile or kilometre; what an hour must earn
agreement                                the shop's own text
[[tax]]  name, percent, on, rounding
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.estimate import Basis, Estimate, Ground
from waney.trade.costs_sheet import ranged
from waney.trade.counted import Agreed, By
from waney.trade.tax import Tax
from waney.trade.tax_sheet import TERMS, taxes_in
from waney.units.duration import DURATION, HOUR
from waney.units.number import Comma
from waney.units.sheet import Reader, Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, number, text
from waney.units.way import KILOMETRE, WAY, way_of

RULES: Mapping[str, By] = {
    "tally": By.TALLY,
    "doyle": By.DOYLE,
    "scribner": By.SCRIBNER,
    "scribner decimal c": By.SCRIBNER_C,
    "international": By.INTERNATIONAL,
}
MOST_ALLOWANCE_M = 0.025
"""beyond it a slip of the hand"""
OVER_SCALE = Estimate(
    1.10,
    0.90,
    1.30,
    Basis(Ground.DEFAULT, "", "tally over International scale, thin band; ours, until the shop has its own"),
    0.1,
)


@dataclass(frozen=True)
class Terms:
    """None: not typed. Money in cents; pace, blade_lasts, over_scale in board feet of tally; way by the kilometre;
    allowance_m: as in `log_tally`."""

    currency: str = ""
    hour_cents: float | None = None
    minimum_cents: int = 0
    set_up_cents: int = 0
    way_cents: float = 0.0
    board_foot: Agreed | None = None
    share: float | None = None
    worth_cents: Estimate | None = None
    pace: Estimate | None = None
    set_up_hours: float = 0.0
    over_scale: Estimate = OVER_SCALE
    blade_cents: float | None = None
    blade_lasts: float | None = None
    metal_cents: int | None = None
    driving_cents: float | None = None
    must_earn_cents: float | None = None
    agreement: str = ""
    taxes: tuple[Tax, ...] = ()
    allowance_m: float | None = None


def read_terms(words: str, comma: Comma = Comma.ASK) -> Terms:
    """The terms of a sheet; empty text: none. Raises SheetProblems with everything that is wrong."""
    if not words.strip():
        return Terms()
    sheet = open_sheet(words, TERMS)
    m = Measures.of(sheet, comma)
    feet = number(0.1, 1e5)
    rule = sheet.take("rule", choice(RULES))
    price = sheet.take("board_foot", m.rate)
    if price is not None and rule is None and not sheet.has("rule"):
        sheet.note("board_foot", f"say by which rule board feet are counted: rule = one of {', '.join(RULES)}.")
    terms = Terms(
        m.currency,
        sheet.take("hour", m.rate_for(DURATION, HOUR)),
        round(sheet.take("minimum", m.rate) or 0.0),
        round(sheet.take("set_up", m.rate) or 0.0),
        _by_kilometre(sheet, "way", m) or 0.0,
        None if price is None or rule is None else Agreed(price, rule),
        sheet.take("share", m.percent),
        sheet.take("worth", ranged(m.rate)),
        sheet.take("pace", _range_of(feet)),
        sheet.take("set_up_hours", m.duration(HOUR, 0.0, 100.0)) or 0.0,
        sheet.take("over_scale", _range_of(number(0.1, 10.0))) or OVER_SCALE,
        sheet.take("blade", m.rate),
        sheet.take("blade_lasts", feet),
        _whole(sheet.take("metal", m.rate)),
        _by_kilometre(sheet, "driving", m),
        sheet.take("must_earn", m.rate_for(DURATION, HOUR)),
        sheet.take("agreement", text) or "",
        taxes_in(sheet, m),
        sheet.take("allowance", m.length_from(0.0, MOST_ALLOWANCE_M)),
    )
    sheet.check()
    return terms


def _range_of(read: Reader[float]) -> Reader[Estimate]:
    """A plain number, or two in quotes: "150 to 250"."""

    def plain(value: object) -> float:
        try:
            return read(float(value) if isinstance(value, str) else value)
        except ValueError:
            return read(value)

    return ranged(plain)


def _whole(cents: float | None) -> int | None:
    return None if cents is None else round(cents)


def _by_kilometre(sheet: Table, key: str, m: Measures) -> float | None:
    cents = sheet.take(key, m.rate_for(WAY, way_of(m.imperial)))
    return None if cents is None else cents / KILOMETRE.of(way_of(m.imperial).in_si(1.0))
