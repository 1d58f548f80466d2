"""waney offered: is a tree or log that somebody offers worth fetching?"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View, shop_of

if TYPE_CHECKING:
    from waney.cli.answers import Offer as Answer
    from waney.figures.estimate import Estimate
    from waney.trade.fetch import Costs, Offer


@answering
def offered(
    wood: Annotated[str, typer.Option(help="What wood it is, if known.")] = "",
    girth: Annotated[str | None, typer.Option(help='Round the bark at breast height, or at the butt: "63 in".')] = None,
    small_end: Annotated[str | None, typer.Option(help="Diameter of the small end inside the bark.")] = None,
    length: Annotated[str | None, typer.Option(help='Of clear stem: "10 ft", "3.1 m".')] = None,
    by_eye: Annotated[bool, typer.Option("--by-eye", help="Sizes are guessed, not taped.")] = False,
    from_photo: Annotated[bool, typer.Option("--from-photo", help="Sizes are read off a photo.")] = False,
    yard_tree: Annotated[
        bool | None, typer.Option("--yard-tree/--forest-tree", help="Grew by a house or a road: metal is likely.")
    ] = None,
    asked: Annotated[str | None, typer.Option(metavar="<money>", help='What they want: "60 USD"; "-40 USD": they pay.')] = None,
    board_foot: Annotated[str | None, typer.Option(metavar="<money>", help="What a dry board foot earns.")] = None,
    loss: Annotated[float | None, typer.Option(metavar="<%>", help="Share of the boards that drying spoils, per cent.")] = None,
    sawing: Annotated[str | None, typer.Option(metavar="<money>", help="Sawing a board foot.")] = None,
    drying: Annotated[str | None, typer.Option(metavar="<money>", help="Drying a board foot.")] = None,
    way: Annotated[str | None, typer.Option(help='There and back: "38 mi", "60 km".')] = None,
    driving: Annotated[str | None, typer.Option(metavar="<money>", help="What one such mile or kilometre costs.")] = None,
    hours: Annotated[float | None, typer.Option(metavar="<h>", help="Of driving and loading, everybody's together.")] = None,
    hour: Annotated[str | None, typer.Option(metavar="<money>", help="What an hour costs.")] = None,
    loading: Annotated[str | None, typer.Option(metavar="<money>", help="Crane or helper.")] = None,
    blade: Annotated[str | None, typer.Option(metavar="<money>", help="A blade that metal spoils.")] = None,
    bears: Annotated[str | None, typer.Option(help='What the trailer bears: "3500 lb".')] = None,
    mill: Annotated[Path | None, typer.Option(help="The mill sheet, for a quick plan.")] = None,
    wants: Annotated[Path | None, typer.Option(help="The wants sheet, for a quick plan.")] = None,
    costs: Annotated[Path | None, typer.Option(help="The costs sheet; what is typed beside it counts in its place.")] = None,
    yard: Annotated[
        str | None,
        typer.Option(metavar="<folder|address>", help="A yard, for the sheets of its settings that are not named here."),
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Fetch, only if free, or leave: weight, wood and money of an offer from what little was read, and the reason.

    Nothing has a built-in price: what is not typed is listed and not counted. With --yard what a board
    foot gets and what drying loses go by the shop's own record as far as it goes, unless they are typed here.
    Hours are taken as give or take a quarter.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.cli.settled import record_for_offers, settled_in
    from waney.trade.fetch import Costs, worth_fetching
    from waney.trade.reading import How, Reading
    from waney.units.length import parse_length
    from waney.units.mass import parse_mass
    from waney.yard.services.woods import known_wood
    from waney.yard.services.worth import shop_costs, shop_sheets

    can_be_written(json)
    if by_eye and from_photo:
        raise WrittenWrong("--by-eye and --from-photo do not go together; write the one that was coarser, --by-eye.")
    if yard is None and (mill is None) != (wants is None):
        raise WrittenWrong("A quick plan needs both sheets: add --mill and --wants.")
    how = How.EYE if by_eye else How.PHOTO if from_photo else How.TAPE
    around, across, along = (None if text is None else parse_length(text, None) for text in (girth, small_end, length))
    read = Reading(
        species=wood,
        girth_m=around,
        small_end_m=across,
        length_m=along,
        girth_how=how,
        small_end_how=how,
        length_how=how,
        yard_tree=yard_tree,
    )
    settled = settled_in(yard, {"mill": mill, "wants": wants, "costs": costs})
    shop = shop_costs(settled)
    known = record_for_offers(yard).for_fetching(shop.costs, known_wood(wood), yard_tree)
    purse = _Purse(shop.costs.currency)
    far, per = _way(way)
    driven = purse.rate(driving)
    typed = Costs(
        way_km=far,
        km_cents=None if driven is None else driven / per,
        hours=_about(hours, 0.25),
        hour_cents=purse.rate(hour),
        loading_cents=purse.cents(loading),
        per_board_foot_cents=_about(purse.rate(board_foot), 0.0),
        sawing_cents=purse.rate(sawing),
        drying_cents=purse.rate(drying),
        loss=None if loss is None else _about(loss / 100.0, 0.0),
        blade_cents=purse.rate(blade),
        bears_kg=None if bears is None else parse_mass(bears),
    )
    price = purse.cents(asked)
    spent = _over(known, typed, purse.currency)
    with working("Weighing and valuing the offer"):
        found = worth_fetching(
            read, spent, price, SCENARIOS, shop_sheets(settled), sure=shop.sure, weighs_in=shop_of(units).weight
        )
    say(_answer(found), json, lambda: _lines(found, found.currency, units))


class _Purse:
    """Reads money; the costs sheet, else the first amount, says in which currency all of them are."""

    def __init__(self, currency: str) -> None:
        self.currency = currency

    def rate(self, text: str | None) -> float | None:
        """Cents, whole or broken."""
        from waney.units.money import parse_rate

        if text is None:
            return None
        cents, self.currency = parse_rate(text, self.currency or None)
        return cents

    def cents(self, text: str | None) -> int | None:
        """Whole cents."""
        from waney.units.money import parse_money

        if text is None:
            return None
        money = parse_money(text, self.currency or None)
        self.currency = money.currency
        return money.cents


def _way(text: str | None) -> tuple[float | None, float]:
    """Kilometres there and back, and how many kilometres its unit has."""
    from waney.figures.problem import Problem
    from waney.units.way import MILE, WAY, parse_way

    if text is None:
        return None, 1.0
    try:
        metres = parse_way(text)
    except Problem as why:
        raise WrittenWrong(f"--way: {why}") from None
    miles = WAY.unit(text.strip().lstrip("0123456789.,").strip()) is MILE
    return metres / 1000.0, float(MILE.si) / 1000.0 if miles else 1.0


def _about(value: float | None, share: float) -> Estimate | None:
    from waney.figures.estimate import Basis, Estimate, Ground

    if value is None:
        return None
    return Estimate(value, value * (1.0 - share), value * (1.0 + share), Basis(Ground.READING, "what the shop typed"), 0.0)


def _over(shop: Costs, typed: Costs, currency: str) -> Costs:
    """What was typed beside the command counts in place of the sheet's."""
    from dataclasses import fields, replace

    said = {each.name: value for each in fields(typed) if (value := getattr(typed, each.name)) not in (None, "")}
    return replace(shop, **{**said, "currency": currency})


def _answer(found: Offer) -> Answer:
    from waney.cli.answers import Offer as Answer
    from waney.cli.answers import range_of, ranged

    return Answer(
        None if found.reply is None else str(found.reply),
        found.reason,
        range_of(found.weight_kg),
        ranged(found.wood_m3),
        ranged(found.board_feet),
        range_of(found.usable_m3),
        range_of(found.worth_cents),
        ranged(found.fetching_cents),
        range_of(found.money_cents),
        found.left,
        found.would_change,
        found.missing,
        found.remarks,
    )


def _lines(found: Offer, currency: str, units: View) -> Iterator[str]:
    from waney.cli.ranges import volume, weight
    from waney.papers.cautions import cautions

    yield f"{'No answer in money' if found.reply is None else str(found.reply).capitalize()}. {found.reason}"
    yield f"Weight with bark, green: {weight(found.weight_kg, units)}"
    if found.weight_kg is not None:
        yield f"Lift and haul for {shop_of(units).heavy(found.weight_kg.high)}."
    yield f"Wood inside bark: {volume(found.wood_m3, units)}"
    feet = found.board_feet
    yield f"International 1/4-inch scale: {feet.likely:.0f} board feet, {feet.low:.0f} to {feet.high:.0f}"
    if found.usable_m3 is not None:
        yield f"Usable dry wood by a quick plan: {volume(found.usable_m3, units)}"
    for what, cents in (
        ("It would earn", found.worth_cents),
        ("Fetching takes", found.fetching_cents),
        ("Left at the asked price", found.money_cents),
    ):
        if cents is not None and currency:
            yield f"{what}: {money(cents, currency)}"
    yield found.would_change
    yield from (f"Note: {line}" for line in found.remarks)
    yield from (caution.sentence for caution in cautions("fetching"))


def money(cents: Estimate, currency: str) -> str:
    """Likely, then bad to good."""
    from waney.units.money import print_money

    low, likely, high = (print_money(round(each), currency) for each in (cents.low, cents.likely, cents.high))
    return likely if low == high else f"likely {likely}, bad {low}, good {high}"
