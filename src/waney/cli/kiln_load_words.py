"""Loads of a kiln as lines of text, in the shop's units."""

from __future__ import annotations

from collections.abc import Iterator

from waney.cli.answers_kiln import KilnLoads, LoadProposed, LoadsProposed, LotAsked, LotTravels
from waney.cli.ranges import moisture, one_volume, weight
from waney.cli.views import View, degree_of, shop_of
from waney.papers.columns import paragraph
from waney.papers.load_words import (
    AIR_FIRST,
    APART_WORDS,
    all_days,
    bears_from,
    begin_at,
    counted,
    equalises,
    heat,
    judged,
    leaves,
    middle,
    milder,
    mind,
    on_plates,
    remarks,
    shares,
    stays,
    stays_out,
)
from waney.papers.ranges import days
from waney.units.moisture import print_mc


def kiln_load_lines(found: KilnLoads, view: View) -> Iterator[str]:
    """Lots, who may share, then the proposals, the fewest days without equalising first; the basis and the cautions."""
    yield f"{found.kiln}, {found.heat}:"
    if found.air:
        yield from paragraph(found.air, "  ")
    for lot in found.lots:
        yield f"  {_asked(lot, view)}"
        for said in filter(None, (*lot.minded, lot.sides)):
            yield from paragraph(said, "    ")
    if found.sharing:
        yield "Who may share:"
        yield from (f"  {shares(two.lots, two.against, degree_of(view))}" for two in found.sharing)
    for number, one in enumerate(found.proposals, 1):
        yield from _proposal(number, one, found.heat, view)
    yield f"No plan needs fewer than {counted(found.least_loads, 'load')}, by room and by weight."
    evened = any(load.evened is not None for one in found.proposals for load in one.loads)
    beside = ", told beside them," if evened else ""
    yield f"Days by {found.proposals[0].days.basis}, without equalising{beside} and conditioning."
    if evened:
        yield "The order of these ways is that of their days without equalising."
        yield from paragraph(f"Equalising: wengert-equalising, fpj-kiln-samples. {APART_WORDS}")
    for remark in remarks(found.heat):
        yield from paragraph(remark)
    yield "Go by your own sample boards."
    yield "Heat is what wood and water take, without walls and vented air."
    yield from mind(found.heat)


def _asked(lot: LotAsked, view: View) -> str:
    whose = f", {lot.owner}'s" if lot.owner else ""
    size = f"{counted(lot.pieces, 'piece')} of {shop_of(view).read(lot.thickness_m)}, {one_volume(lot.volume_m3, view)}"
    return f"{lot.lot} ({lot.wood}{whose}): {size}, at {moisture(lot.moisture)}, wanted at {print_mc(lot.target_mc)}"


def _proposal(number: int, one: LoadsProposed, heated: str, view: View) -> Iterator[str]:
    yield ""
    aims = "; ".join(one.aims)
    heading = f"{aims[:1].upper()}{aims[1:]}: {counted(len(one.loads), 'load')}, {all_days(one.days, one.days_evened)}"
    yield from paragraph(f"{number}. {heading}")
    for at, load in enumerate(one.loads, 1):
        yield from _load(at, load, heated, view)
    yield from (line for each in stays_out(one.left_out) for line in paragraph(f"Stays out: {each}", "   "))


def _load(at: int, load: LoadProposed, heated: str, view: View) -> Iterator[str]:
    by = f" by {load.schedule}" if load.schedule else ""
    when = f", in about {load.goes_in}" if load.goes_in else ""
    yield f"   Load {at}{when}: {days(load.days)}; {load.sets_pace} sets the pace{by}"
    yield f"     water to take out: {weight(load.water_kg, view)}; heat: {heat(load.heat_j)}"
    if load.schedule is not None:
        yield from paragraph(equalises(load.evened), "     ")
    high, heavy = shop_of(view).need(load.height_m), shop_of(view).heavy(load.weight_kg)
    yield f"     {counted(load.layers, 'layer')}, {high} high; it weighs up to {heavy}"
    yield from (line for one in load.lots for line in paragraph(_travels(one, load, heated, view), "     "))
    if any(one.hard for one in load.lots):
        yield from paragraph(" ".join((milder(heated), *_helps(load, view))), "     ")
    yield from paragraph(f"drying stress, a risk and no promise: worst in {load.stress}", "     ")
    asked = load.on_plates
    if asked is not None:
        told = on_plates(dict(asked.cups), asked.bark, asked.within_m, shop_of(view).read)
        yield from (line for each in told for line in paragraph(each, "     "))


def _helps(load: LoadProposed, view: View) -> Iterator[str]:
    """From where on the lots bear the chamber, and what brings them there."""
    if not load.borne_from:
        return
    yield bears_from((one.lot, one.mc) for one in load.borne_from)
    begun = load.begun
    if load.goes_in:
        return
    if begun is None:
        yield AIR_FIRST
    else:
        yield begin_at(begun.temperature_c, begun.pressure_pa, begun.days, begun.days_after, degree_of(view))


def _travels(one: LotTravels, load: LoadProposed, heated: str, view: View) -> str:
    late = one.late if one.lot != load.sets_pace else 0
    early = one.leaves_early
    said = leaves(one.ready_days, one.mc_at_end, heated) if early else stays(one.mc_at_end, late, load.scenarios)
    why = judged(one.against, one.hard, one.unjudged, degree_of(view))
    return " ".join((f"{one.lot}: {said} {middle(one.core_mc)}", *why))
