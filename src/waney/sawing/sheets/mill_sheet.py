"""Mill sheet: what somebody typed about a mill (TOML, `waney-mill/1`) becomes a Mill, and every blank is said."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Estimate
from waney.pieces.measures import FOOT_M, INCH_M
from waney.sawing.mill import End, Feed, Mill
from waney.sawing.sheets.defaults import Default, Fields
from waney.sawing.sheets.spread import default_spread, spread_of
from waney.units.duration import DURATION, HOUR, MINUTE
from waney.units.length import parse_length
from waney.units.number import Comma
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, choice, list_of, shown, text

FORMAT = "waney-mill/1"
STEPS_M = {words: parse_length(words, None) for words in ("1/8 in", "1/16 in", "1/32 in", "1 mm")}
"""The bed scales for which heights can be printed."""
ENDS = {"butt": End.BUTT, "top": End.TOP}
USUAL_KERF_M = (0.060 * INCH_M, 0.125 * INCH_M)
"""Bands of small mills, set included: common practice, no source. Outside of it the sheet is remarked upon, not refused."""

NO_LIMIT = "not typed, so no limit is counted"
ASSUMED_LOWEST = "taken to go below every cut: look before each one"
FEEDS = (Feed(0.15, 9.0, 6.0), Feed(0.30, 6.0, 4.0), Feed(0.60, 3.0, 2.0))
FEEDS_IN_FEET = tuple(
    Feed(w * INCH_M, soft * FOOT_M, hard * FOOT_M) for w, soft, hard in ((6, 30, 20), (12, 20, 13), (24, 10, 7))
)
DEFAULT_MINUTES = {"minutes_per_pass": 1.5, "minutes_per_turn": 4.0, "minutes_per_edging": 5.0, "minutes_per_loading": 10.0}
"""Common practice, no source; time only counts when an hourly cost was typed."""


@dataclass(frozen=True)
class MillSheet:
    """A mill as it was typed in: the Mill, its currency ("" when the sheet names none), every default, and what looks odd."""

    mill: Mill
    currency: str
    defaults: tuple[Default, ...]
    remarks: tuple[str, ...]


def read_mill_sheet(text: str, comma: Comma = Comma.ASK) -> MillSheet:
    """The mill of a sheet; `comma` is the shop's setting. Raises SheetProblems with everything that is wrong."""
    sheet = open_sheet(text, FORMAT)
    fields, measures = Fields(sheet, []), Measures.of(sheet, comma)
    mill = _mill(fields, measures)
    if sheet.sound:
        _check_limits(sheet, mill)
    sheet.check()
    return MillSheet(mill, measures.currency, tuple(fields.filled), _remarks(mill))


def _remarks(mill: Mill) -> tuple[str, ...]:
    least, most = USUAL_KERF_M
    if least <= mill.kerf_m <= most:
        return ()
    return (
        f"A kerf of {mill.kerf_m * 1000:.2f} mm ({mill.kerf_m / INCH_M:.3f} in) is unusual for the band of a small mill "
        "(1.52 to 3.18 mm, 0.060 to 0.125 in; common practice, no source): saw into a block and measure the cut.",
    )


def _check_limits(sheet: Table, mill: Mill) -> None:
    if mill.highest_m <= mill.lowest_m:
        sheet.note("highest", "the highest blade must stand above the lowest.")
    if mill.backstop_highest_m is not None and mill.backstop_highest_m <= mill.backstop_lowest_m:
        sheet.note("backstop_highest", "the highest stand of the backstops must be above the lowest.")
    if mill.crossbars_m and mill.crossbars_m[-1] > mill.bed_length_m:
        sheet.note("crossbars", "the last crossbar lies beyond the end of the bed.")
    alone, helped = mill.heaviest_turn_alone_kg, mill.heaviest_turn_helped_kg
    if alone is not None and helped is not None and helped < alone:
        sheet.note("heaviest_turn_helped", "with help no less can be turned than alone.")


def _mill(fields: Fields, m: Measures) -> Mill:
    """In the order one walks: the cut, the bed, holding, weights, accuracy, time, money."""
    sheet = fields.table
    return Mill(
        name=sheet.take("name", text) or "mill",
        kerf_m=sheet.need("kerf", m.length_from(0.0005, 0.02), 0.002),
        widest_cut_m=sheet.need("widest_cut", m.length_from(0.05, 5.0), 1.0),
        highest_m=sheet.need("highest", m.length_from(0.05, 5.0), 5.0),
        lowest_m=sheet.need("lowest", m.length_from(0.0, 1.0), 0.0),
        bed_length_m=sheet.need("bed_length", m.length_from(0.3, 50.0), 50.0),
        step_m=_step(fields, m),
        thickest_m=fields.blank("thickest", m.length_from(0.05, 5.0), NO_LIMIT),
        backstop_lowest_m=fields.fill("backstop_lowest", m.length_from(0.0, 1.0), 0.0, ASSUMED_LOWEST),
        backstop_highest_m=fields.blank("backstop_highest", m.length_from(0.0, 5.0), NO_LIMIT),
        crossbars_m=_crossbars(fields, m),
        heaviest_log_kg=fields.blank("heaviest_log", m.mass, NO_LIMIT),
        heaviest_turn_alone_kg=fields.blank("heaviest_turn_alone", m.mass, NO_LIMIT),
        heaviest_turn_helped_kg=fields.blank("heaviest_turn_helped", m.mass, NO_LIMIT),
        sawyer_stands_at=fields.fill("sawyer_stands_at", choice(ENDS), End.BUTT, "at the butt end"),
        scale_error_m=fields.fill("scale_error", m.length_from(0.0, 0.02), 0.0, "none, the bed scale is taken as true"),
        sawing_sd_m=_spread(fields, m),
        feeds=_feeds(fields, m),
        minutes_per_pass=_minutes(fields, m, "minutes_per_pass"),
        minutes_per_turn=_minutes(fields, m, "minutes_per_turn"),
        minutes_per_edging=_minutes(fields, m, "minutes_per_edging"),
        minutes_per_loading=_minutes(fields, m, "minutes_per_loading"),
        hourly_cents=fields.blank("hourly", m.rate_for(DURATION, HOUR), "not typed, so time costs nothing in the plans"),
        blade_cents=fields.blank("blade", m.rate, "not typed, so wear and a blade lost to metal cost nothing in the plans"),
        blade_life_m2=fields.blank("blade_life", m.area, "not typed, so wear costs nothing in the plans"),
    )


def _step(fields: Fields, m: Measures) -> float:
    def read(value: object) -> float:
        length = m.length(value)
        for step in STEPS_M.values():
            if abs(length - step) < 1e-7:
                return step
        raise NotThat(f"{shown(value)} is no bed scale that heights can be given for; it must be one of {', '.join(STEPS_M)}.")

    usual = "1/16 in" if m.imperial else "1 mm"
    return fields.fill("step", read, STEPS_M[usual], usual)


def _crossbars(fields: Fields, m: Measures) -> tuple[float, ...]:
    typed = fields.blank("crossbars", list_of(m.length_from(0.0, 50.0)), "not typed, so the bed is taken as a plane")
    return tuple(sorted(set(typed or ())))


def _spread(fields: Fields, m: Measures) -> Estimate:
    def read(value: object) -> Estimate:
        return spread_of(list_of(m.length_from(0.0005, 0.5))(value))

    return fields.fill("set_alike", read, default_spread(), "boards set alike differ by a standard deviation of 1/32 in")


def _feeds(fields: Fields, m: Measures) -> tuple[Feed, ...]:
    entries = fields.table.entries("feed")
    if not entries:
        usual = FEEDS_IN_FEET if m.imperial else FEEDS
        says = (
            f"{m.written(f.width_m)} wide {_speed(f.soft_m_per_min, m)} soft, {_speed(f.hard_m_per_min, m)} hard" for f in usual
        )
        fields.note("feed", f"a minute: {'; '.join(says)}")
        return usual
    feeds = sorted((_feed(entry, m) for entry in entries), key=lambda feed: feed.width_m)
    if fields.table.sound and len({feed.width_m for feed in feeds}) < len(feeds):
        fields.table.note("feed", "two feeds stand for the same width.")
    return tuple(feeds)


def _feed(entry: Table, m: Measures) -> Feed:
    speed = m.length_from(0.05, 100.0)
    return Feed(
        entry.need("width", m.length_from(0.01, 5.0), 1.0),
        entry.need("soft_per_minute", speed, 1.0),
        entry.need("hard_per_minute", speed, 1.0),
    )


def _speed(metres: float, m: Measures) -> str:
    return f"{metres / FOOT_M:.0f} ft" if m.imperial else f"{metres:g} m"


def _minutes(fields: Fields, m: Measures, key: str) -> float:
    usual = DEFAULT_MINUTES[key]
    return fields.fill(key, m.duration(MINUTE, 0.0, 600.0), usual, f"{usual:g} min")
