"""Answers as JSON: what each command says, in SI, the unit at the end of each name, every range with its basis.

A moisture content, a humidity and a shrinkage are shares of one; money and plans have their own form (`waney-plan/1`).
The forms are the dataclasses here; docs/schemas is written from them.
"""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Basis, Estimate


@dataclass(frozen=True)
class Range:
    """A figure: likely, and the 5 and 95 % points, with where it comes from."""

    likely: float
    low: float
    high: float
    basis: Basis


def ranged(estimate: Estimate) -> Range:
    """The range of an estimate."""
    return Range(estimate.likely, estimate.low, estimate.high, estimate.basis)


def range_of(estimate: Estimate | None) -> Range | None:
    """The same where a figure may be missing; None stays None."""
    return None if estimate is None else ranged(estimate)


@dataclass(frozen=True)
class RuleScale:
    """Board feet by one log rule, and what it was read at: rules count whole inches and feet by their definition."""

    rule: str
    board_feet: int
    diameter_in: int
    diameter_rounding: str
    length_ft: int


@dataclass(frozen=True)
class Measuring:
    """What to measure next, the width of the volume's range without and with it, and the share of it that is saved."""

    what: str
    width_now_m3: float
    width_then_m3: float
    saved: float


@dataclass(frozen=True)
class Scaled:
    """What `waney scale` says of a log. Diameters and volumes are inside bark; null: not known."""

    log: str
    wood: str
    length_m: float
    small_end_m: float
    volume_m3: Range
    smalian_m3: float
    huber_m3: float
    newton_m3: float
    scales: tuple[RuleScale, ...]
    hoppus_m3: float
    hoppus_over_bark_m3: float
    with_bark_kg: Range | None
    without_bark_kg: Range | None
    measure_next: Measuring | None
    remarks: tuple[str, ...]
    assumed: tuple[str, ...]


@dataclass(frozen=True)
class Weighed:
    """Green weight of one log; null: no table gives what it needs, and `why` says what."""

    log: str
    wood: str
    with_bark_kg: Range | None
    without_bark_kg: Range | None
    why: str


@dataclass(frozen=True)
class Weights:
    """What `waney weight` says. The load is every log at once: its high end is when all are heavy; null when one is not known."""

    logs: tuple[Weighed, ...]
    load_with_bark_kg: Range | None
    load_without_bark_kg: Range | None
    bears_kg: float | None
    """what the trailer or the bed bears, when it was told"""
    borne: bool | None
    """whether the high end of the load with bark is within it"""


@dataclass(frozen=True)
class Known:
    """A figure of a wood, and how far it can be trusted."""

    value: Range
    status: str


@dataclass(frozen=True)
class Figures:
    """Every figure of a wood; null: no value. Specific gravity is relative to water; shrinkage from green to oven dry."""

    sg_green: Known | None
    sg_12: Known | None
    shrink_radial: Known | None
    shrink_tangential: Known | None
    shrink_volumetric: Known | None
    green_mc_heart: Known | None
    green_mc_sap: Known | None
    green_mc_whole: Known | None
    bark_share: Known | None
    bark_sg: Known | None
    bark_mc: Known | None
    janka_12_n: Known | None
    janka_green_n: Known | None
    moe_12_pa: Known | None
    change_radial_per_pct: Known | None
    change_tangential_per_pct: Known | None


@dataclass(frozen=True)
class AtMoisture:
    """A wood at one moisture; null: no value."""

    mc: float
    density_kg_m3: Range | None
    sawn_m3_kg: Range | None
    """mass of what was a cubic metre when it was sawn green"""
    shrunk_radial: Range | None
    """share of the green size that is gone"""
    shrunk_tangential: Range | None


@dataclass(frozen=True)
class Wood:
    """What `waney wood` says."""

    id: str
    common: str
    botanical: str
    also_called: tuple[str, ...]
    group: str
    figures: Figures
    sawn_green_m3_kg: Range | None
    """mass of a cubic metre as it comes off the saw, at its green moisture"""
    at: AtMoisture
    notes: str


@dataclass(frozen=True)
class Indoors:
    """A month in a room."""

    temperature_c: float
    humidity: Range
    emc: Range


@dataclass(frozen=True)
class Settled:
    """Air, and the moisture that wood settles at in it."""

    month: int | None
    temperature_c: float
    humidity: float
    emc: float
    beyond_table: bool
    """the equation was used outside its printed table"""
    indoors: Indoors | None


@dataclass(frozen=True)
class Emc:
    """What `waney emc` says: one air, or the months of a place."""

    place: str | None
    airs: tuple[Settled, ...]
    year_emc: float | None
    """mean of the twelve months outdoors; null where fewer were asked for"""
    averaging: str | None
    basis: Basis


@dataclass(frozen=True)
class Places:
    """The places of a state to choose from: what `waney emc --state` says alone."""

    state: str
    places: tuple[str, ...]


@dataclass(frozen=True)
class Replayed:
    """What `waney replay` says of a plan."""

    log: str
    pattern: str
    holds: bool
    reason: str | None
    """what kind of thing differs first; null when nothing does"""
    sentence: str


@dataclass(frozen=True)
class CopyWritten:
    """What `waney backup`, `export` and `restore` say. missing: files that the book names and that are not there whole; book:
    where a book was made of the copy, null for a copy that was written."""

    path: str
    events: int
    files: int
    missing: tuple[str, ...]
    book: str | None


@dataclass(frozen=True)
class ExaminedBook:
    """What `waney examine` says. unsound: one sentence for each thing that is not as it should be; remarks: no faults."""

    sound: bool
    events: int
    files: int
    open_tasks: int
    waiting: int
    free_bytes: int
    unsound: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class TakenCommand:
    """One command of a list: what became of it, its place in the book, the sentence if it was not written, the tasks it left."""

    id: str
    came: str
    seq: int | None
    sentence: str
    tasks: tuple[str, ...]


@dataclass(frozen=True)
class ListTaken:
    """What `waney take-in` says."""

    commands: tuple[TakenCommand, ...]


@dataclass(frozen=True)
class Offer:
    """What `waney offered` says. reply: fetch, only if free, leave; null: no answer in money.

    money_cents: at the asked price, all that was typed paid. left: share of the cases in which money is left."""

    reply: str | None
    reason: str
    weight_kg: Range | None
    wood_m3: Range
    board_feet: Range
    usable_m3: Range | None
    worth_cents: Range | None
    fetching_cents: Range
    money_cents: Range | None
    left: float | None
    would_change: str
    missing: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class WaitingLog:
    """What the coming week costs one log: shares of its value, money where a plan has it; null: no value, as `reason` says."""

    log: str
    species: str
    days: float | None
    trouble: str
    stain: Range | None
    end_checks: Range
    share: Range | None
    cents: Range | None
    reason: str


@dataclass(frozen=True)
class WaitingLogs:
    """What `waney waiting` says: the log that loses most first."""

    logs: tuple[WaitingLog, ...]
    not_counted: tuple[str, ...]


@dataclass(frozen=True)
class LengthCut:
    """One log of a way to cut a stem, from where to where in it."""

    from_m: float
    to_m: float
    weight_kg: Range | None
    wood_m3: Range
    board_feet: Range
    cents: Range | None


@dataclass(frozen=True)
class WayToCut:
    """One way to cut a stem; ahead: share of the cases in which it is the best."""

    lengths_m: tuple[float, ...]
    logs: tuple[LengthCut, ...]
    board_feet: Range
    cents: Range | None
    ahead: float


@dataclass(frozen=True)
class WaysToCut:
    """What `waney crosscut` says: the best way first, and what it gives more than the second: cents, or board feet."""

    answer: str
    in_money: bool
    gain: Range
    ways: tuple[WayToCut, ...]


@dataclass(frozen=True)
class TagsPrinted:
    """What `waney tags` wrote: the file, the sheet or roll it is for, how many sheets, and the names; none on a try-out sheet."""

    path: str
    stock: str
    sheets: int
    names: tuple[str, ...]
