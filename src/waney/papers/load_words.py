"""Words about loads of a kiln: the same on pages and in commands."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Protocol

from waney.drying.equalising import APART, MOISTURE_APART, RATE_APART
from waney.drying.kiln import MOST_DAYS
from waney.drying.kiln_sheet import Heat
from waney.papers.cautions import cautions
from waney.papers.ranges import Points, days, spread
from waney.units.moisture import print_mc
from waney.units.pressure import INCH_OF_MERCURY
from waney.units.temperature import Degree, in_degrees, print_temperature

KWH_J = 3.6e6
VACUUM = (Heat.PLATES, Heat.CYCLES, Heat.RADIO)
TOUCH = "Plates must touch the wood: take bark off, lay cupped pieces by themselves, and note both (common practice, no source)."


LACKING = (
    "Days in vacuum lack what hurries it most: vapour driven across the grain through rays and checks, and water driven out as "
    "liquid while the core boils. They may be far too long, longer than in heated air: do not choose between kilns by them."
)
RADIO = (
    "Radio frequency was never measured here: the model holds the wood at its temperature all through, with heat from scarce to "
    "plenty (a guess, no source), so the days have a wide range. Go by sample boards and core records."
)
SLOW = (
    "Days by the sun are too long for thick wood and for the last per cents: do not choose between kilns by them, and go by "
    "sample boards."
)
STACKED = (
    "Wood that stands in a load has no dates of its own from its weights: where you weigh it week by week, leave it a stack in a "
    "chamber that the sun warms."
)
ARCS = "Metal in the wood arcs under radio frequency: go over every piece with a detector first (common practice, no source)."


def _apart(name: str) -> str:
    return spread(APART[name], lambda share: f"{share * 100.0:.0f} %")


def counted(count: int, what: str) -> str:
    """So many of something.

    >>> counted(1, "load"), counted(2, "load")
    ('1 load', '2 loads')
    """
    return f"{count} {what if count == 1 else f'{what}s'}"


def heat(found_j: Points) -> str:
    """Heat into wood and water, with its range."""
    return spread(found_j, lambda joule: f"{joule / KWH_J:.0f} kWh")


def shares(lots: Sequence[str], against: Sequence[str], degree: Degree) -> str:
    """Whether two lots may share a kiln, and why not."""
    why = " ".join(in_degrees(one, degree) for one in against)
    return f"{' with '.join(lots)}: {f'no. {why}' if why else 'yes'}"


MILDER = (
    "A chamber too hard for a wood checks it: set it milder (cooler plates, less vacuum), or dry the wood further first, by the "
    "maker's sheet and your own sample boards (common practice, no source)."
)


MILDER_SUN = (
    "A chamber too warm and dry for a wood checks it: cover part of the glass and keep the vents shut until it is drier, or "
    "air-dry it first; go by your own sample boards (common practice, no source)."
)


def milder(heat: str) -> str:
    """What to do where a chamber is too hard for a wood, by how heat gets in."""
    return MILDER_SUN if heat == Heat.SUN else MILDER


def _mercury(pa: float) -> str:
    return f"{pa / 100.0:.0f} mbar ({INCH_OF_MERCURY.of(pa):.1f} inHg)"


def bears_from(from_mc: Iterable[tuple[str, float | None]]) -> str:
    """How dry lots must come for a chamber that is too hard for them."""
    told = (f"{lot} {'at no moisture above its target' if mc is None else f'from {print_mc(mc)} on'}" for lot, mc in from_mc)
    return f"As it is, by the model, the chamber suits {', '.join(told)}."


def begin_at(at_c: float, pressure_pa: float, days_then: float, days_after: float, degree: Degree) -> str:
    """A milder setting that brings them there."""
    return (
        f"To get there: begin at {print_temperature(at_c, degree)} and {_mercury(pressure_pa)}, likely for "
        f"{_about(days_then)}, then as it is set, likely for {_about(days_after)}."
    )


AIR_FIRST = "No cooler setting that was tried, with more pressure or without, brings them there: air-dry them first."


def _about(found: float) -> str:
    return f"{found:.0f} days" if found >= 10.0 else f"{found:.1f} days"


def leaves(ready: Points, at_end: Points, heat: str) -> str:
    """Of a lot that is ready before the load is, by how heat gets in."""
    opened = ", which opens the chamber" if heat in VACUUM else ""
    return f"must leave after {days(ready)}{opened}; left in, it would be at {spread(at_end, print_mc)}."


def stays(at_end: Points, late: int, of: int) -> str:
    """Of a lot that stays; late: in how many cases of how many it is not ready with the load."""
    not_ready = f"; not ready then in {late} of {of} runs" if late else ""
    return f"stays to the end, then at {spread(at_end, print_mc)}{not_ready}."


def judged(against: Sequence[str], hard: Sequence[str], unjudged: str, degree: Degree) -> Iterator[str]:
    """What a lot has against its company, where a vacuum chamber is too hard for it anyway, and what nobody can tell of it."""
    yield from (in_degrees(why, degree) for why in (*against, *hard))
    if unjudged:
        yield unjudged


class EvenedOut(Protocol):
    """Equalising in days, as found or as it goes out."""

    @property
    def begins(self) -> Points:
        """Day on which it begins."""

    @property
    def days(self) -> Points:
        """How long it takes."""

    @property
    def whole(self) -> Points:
        """Both together."""

    @property
    def at_begin(self) -> tuple[float, float, float]:
        """Driest, middle and wettest sample then."""

    @property
    def late(self) -> int:
        """Runs of `scenarios` that were not there in time."""

    @property
    def scenarios(self) -> int:
        """Runs in all."""


def all_days(alone: Points, evened: Points | None) -> str:
    """Days of all loads one after the other; evened: the same with equalising."""
    return days(alone) if evened is None else f"{days(alone)}; with equalising {days(evened)}"


def equalises(found: EvenedOut | None) -> str:
    """Days of equalising of a lot whose pieces differ, and of all of it; None: it does not get there."""
    if found is None:
        return f"Equalising: a lot whose pieces differ is not there after {MOST_DAYS} days."
    return f"Equalising: {days(found.days)}, {evens(found)}"


def evens(found: EvenedOut) -> str:
    """When it begins, how far apart the samples are then, how long all of it takes, and in how many runs it was not over."""
    driest, middling, wettest = (print_mc(one) for one in found.at_begin)
    late = (
        f" In {found.late} of {found.scenarios} runs with drawn figures it was not over after {MOST_DAYS} days; the days of "
        "equalising are those of the others."
    )
    return (
        f"from about day {found.begins.likely:.0f} on, with the driest sample at {driest}, the middle at {middling}, the wettest "
        f"at {wettest}. With it, a lot whose pieces differ takes {days(found.whole)}, before conditioning."
        f"{late if found.late else ''}"
    )


APART_WORDS = (
    "It begins with the driest 2 % below what is wanted; pieces of a lot are taken to differ by "
    f"{_apart(MOISTURE_APART)} in moisture (redwood boards) and by {_apart(RATE_APART)} in pace (a guess, no source). "
    "Days of it that somebody measured were not read; thick wood in a cool kiln is the least sure."
)


def middle(core: Points) -> str:
    """What the middle of a piece holds as it comes out."""
    return f"The middle of a piece comes out at {spread(core, print_mc)}, by the model: read it."


def on_plates(
    cups_m: Mapping[str, float], barky: Sequence[str], within_m: float, read: Callable[[float], object]
) -> Iterator[str]:  # fmt: skip
    """What plates ask of single pieces, by name: a layer takes thicknesses within `within_m`; of a cup
    that is more a plate touches little; bark keeps it off. Those that are cupped alike are named in one sentence."""
    if not cups_m and not barky:
        return
    yield f"A layer between plates takes pieces whose thicknesses differ by {read(within_m)} or less."
    for cup in sorted(set(cups_m.values()), reverse=True):
        names = [name for name, each in cups_m.items() if each == cup]
        are, them, itself = ("is", "it", "itself") if len(names) == 1 else ("are", "them", "themselves")
        said = f"{', '.join(names)} {are} cupped by {read(cup)}"
        if cup > within_m:
            yield f"{said}: a plate touches {them} here and there alone. Lay {them} by {itself}, or flatten {them}."
        else:
            yield f"{said}: as little as a layer takes."
    if barky:
        yield f"Bark is still on {', '.join(barky)}: take it off, a plate heats what it touches."


def stays_out(left: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Pieces that go into no load, by the reason."""
    names: dict[str, list[str]] = {}
    for piece, why in left:
        names.setdefault(why, []).append(piece)
    yield from (f"{', '.join(pieces)}: {why.removesuffix('.')}." for why, pieces in names.items())


def mind(heat: str) -> tuple[str, ...]:
    """Cautions at a kiln, by how heat gets in."""
    steps = ("kiln", "vacuum") if heat in VACUUM else ("sun kiln",) if heat == Heat.SUN else ("kiln",)
    return tuple(one.sentence for one in cautions(*steps))


def remarks(heat: str) -> tuple[str, ...]:
    """What a plan cannot see of the pieces and what its days do not hold, by how heat gets in."""
    by = {Heat.PLATES: (LACKING, TOUCH), Heat.CYCLES: (LACKING,), Heat.RADIO: (LACKING, RADIO, ARCS), Heat.SUN: (SLOW, STACKED)}
    return by.get(Heat(heat), ())
