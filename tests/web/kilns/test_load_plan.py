"""A load planned out of what stands in the yard: by stacks, by names, as it was read, as it will be on the day."""

from __future__ import annotations

import re
from functools import partial

import pytest
from tests.web.conftest import Person
from tests.web.test_trade import work

from waney.drying.load_plan import proposals
from waney.drying.meter import PIN_ERROR
from waney.figures.estimate import Z_95
from waney.figures.scenarios import Scenarios
from waney.web.shop import Shop
from waney.web.works import loading, stacking
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book.drying_seen import loads
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import weigh
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import load_kiln, read_moisture, unload_kiln

from .kiln_wood import KILNS, METER, named


def test_a_load_is_planned_out_of_a_stack_with_what_was_read(
    owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str]
) -> None:
    settle_for_shop(hand, Setting.KILNS, KILNS)
    read_moisture(hand, MoistureRead(f"piece:{boards[3]}", 0.18, ReadBy.PINS, wood_c=20.0))
    first = owner.get(f"/loads/plan?stack={stack}").text
    assert "northern red oak, 2 1/8 in, 3 pieces" in first and "white ash, 1 1/8 in, 2 pieces" in first
    assert "Left out, because a size or the wood is not in the book" in first
    asked = f"/loads/plan?stack={stack}&kiln=shed+kiln&mc-1=22+to+28&target=8"
    assert "dried in thought" in owner.get(asked).text and work(shop) == 1
    page = owner.get(asked).text
    told = ("The middle of a piece comes out at ", "Drying stress, a risk", "worst in northern red oak", ">Equalising<")
    for each in ("Sets the pace", "must leave after", "Water to take out", "kWh", "Who may share", "22 to 28 %", *told):
        assert each in page
    assert (
        len(
            re.findall(
                r"<(?:h2|strong)>[^<]+: \d loads?, \d+ days, \d+ to \d+ days; with equalising \d+ days, \d+ to \d+ days<", page
            )
        )
        == 2
    )
    # the ash as the meter said it: 1.645 times the root of 1 % squared and 1.2 % squared, as `drying.meter` has them, is 2.6 %
    assert "18 %, 15.4 to 20.6 %" in page and "pin meter, 1 of 2 pieces, 4 May 2026" in page
    assert work(shop) == 0
    # the first load of the first proposal goes in as it stands there
    fields = dict(re.findall(r'name="(kiln|names)" value="([^"]+)"', page)[:2])
    assert owner.send("/loads", fields).status_code == 303
    (load,) = loads(shop.book)
    assert (load.kiln, load.pieces, load.whose) == ("shed kiln", 5, "")


def test_a_lot_starts_at_the_mean_of_shell_and_core_by_the_table_of_the_shops_meter(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], names: dict[str, str]
) -> None:
    settle_for_shop(hand, Setting.KILNS, KILNS)
    settle_for_shop(hand, Setting.METER, METER)
    for depth, mc in ((Depth.SHELL, 0.12), (Depth.CORE, 0.20)):
        read_moisture(hand, MoistureRead(f"piece:{boards[3]}", mc, ReadBy.PINS, depth, wood_c=20.0))
    asked = f"/loads/plan?names={names[boards[3]]}&kiln=shed+kiln"
    assert "dried in thought" in owner.get(asked).text and work(shop) == 1
    # by the table the shell is at 14 %, the core at 22 %; the mean of a parabola is 14 + 2/3 of 8 = 19.3 %
    assert "<td>19.3 %, " in owner.get(asked).text


@pytest.mark.long
def test_sapwood_is_a_lot_of_its_own_in_vacuum_and_cup_and_bark_are_noted_on_plates(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], names: dict[str, str]
) -> None:
    settle_for_shop(hand, Setting.KILNS, KILNS)
    ash = f"/loads/plan?names={names[boards[3]]},{names[boards[4]]}&mc-1=18+to+22"
    assert "all sapwood" not in owner.get(f"{ash}&kiln=shed+kiln").text
    work(shop)
    asked = f"{ash}&kiln=plate+kiln"
    form = owner.get(asked).text
    assert "all sapwood" in form and "Piece by piece: sapwood, cup, bark" in form and work(shop) == 1
    assert "No piece was told to be all sapwood" in owner.get(asked).text
    told = f"{asked}&sap={boards[3]}&bark={boards[4]}&cup-{boards[3]}=1/4&cup-{boards[4]}=1/16"
    owner.get(told)
    assert work(shop) == 1
    page = owner.get(told).text
    assert "white ash, 1 1/8 in, sapwood, 1 piece" in page and "white ash, 1 1/8 in, 1 piece" in page
    assert f"{names[boards[3]]} is cupped by 1/4 in: a plate touches it here and there alone" in page
    assert f"{names[boards[4]]} is cupped by 1/16 in: as little as a layer takes" in page
    assert f"Bark is still on {names[boards[4]]}: take it off" in page and "differ by 1/8 in or less" in page
    assert "No piece was told to be all sapwood" not in page
    # ready first: vapour leaves sapwood through the ends, likely 1e-12 m2 against 1e-14 of heartwood (wood.diffusion)
    assert re.search(r"sapwood</strong>: must leave after", page)
    wrong = owner.get(f"{asked}&cup-{boards[3]}=deep").text
    assert 'role="alert"' in wrong and 'value="deep"' in wrong
    wrong = owner.get(f"{told}&cup-{boards[2]}=deep").text
    for name, piece in (("sap", boards[3]), ("bark", boards[4])):
        assert f'name="{name}" value="{piece}" checked' in wrong, "what was ticked beside a cup that cannot be read"
    assert wrong.count('name="sap" value="') == 2 and wrong.count(" checked> all sapwood") == 1


@pytest.mark.long
def test_in_vacuum_wet_oak_and_dry_ash_are_told_why_they_do_not_share(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], names: dict[str, str]
) -> None:
    settle_for_shop(hand, Setting.KILNS, KILNS)
    asked = f"/loads/plan?names={names[boards[0]]},{names[boards[3]]}&kiln=plate+kiln&mc-1=60&mc-2=15"
    owner.get(asked)
    assert work(shop) == 1
    page = owner.get(asked).text
    assert re.search(
        r"northern red oak, 2 1/8 in with white ash, 1 1/8 in: no\. .*too fast: .*, as it comes in, bears more\.", page
    )
    assert "A chamber too hard for a wood checks it" in page and ": 2 loads, " in page
    assert "the chamber suits northern red oak, 2 1/8 in from " in page and (
        "To get there: begin at " in page or "air-dry" in page
    )


def test_a_kilns_sheet_that_cannot_be_read_is_told_with_its_line(owner: Person, shop: Shop) -> None:
    answer = owner.send("/settings", {"kilns": KILNS.replace("width = 48", "widht = 48")})
    assert answer.status_code == 422 and "line" in answer.text and "did you mean width" in answer.text
    assert owner.send("/settings", {"kilns": KILNS}).status_code == 303 and shop.settled()[Setting.KILNS].startswith("format")


def test_wood_that_was_read_weeks_ago_is_planned_as_it_will_be_on_the_day_of_loading(
    owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))
    settle_for_shop(hand, Setting.KILNS, KILNS)
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    read_moisture(hand, MoistureRead(f"piece:{boards[3]}", 0.28, ReadBy.PINS, wood_c=20.0, corrected=True))
    asked = f"/loads/plan?names={named(shop, boards[3:5])}&kiln=shed+kiln&on=2026-05-25"
    for _ in range(2):  # first the stack's forecast, then the loads
        assert "dried in thought" in owner.get(asked).text and work(shop) == 1
    page = owner.get(asked).text
    likely, low, high = _ash(page)
    assert (
        low < likely < 27.0 and high < 28.0 + 100 * Z_95 * PIN_ERROR
    )  # three weeks before it was at 28 %, as good as a pin meter
    assert "forecast of its stack for 25 May 2026" in page and "pin meter, 1 of 2 pieces, 4 May 2026" in page
    assert "write it as 2026-05-04" in owner.get(asked.replace("2026-05-25", "soon")).text


def test_a_stack_that_was_weighed_or_never_read_is_planned_by_its_forecast_too(
    owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))
    settle_for_shop(hand, Setting.KILNS, KILNS)
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    asked = f"/loads/plan?names={named(shop, boards[3:5])}&kiln=shed+kiln&on=2026-05-25"
    for _ in range(2):
        owner.get(asked)
        assert work(shop) == 1
    page = owner.get(asked).text
    never = _ash(page)
    assert "forecast of its stack for 25 May 2026; nobody read it" in page
    weigh(hand, f"piece:{boards[3]}", 8.6)  # 2.1 x 0.22 x 0.0286 m of white ash, 7.3 kg oven dry: far below green
    for _ in range(2):
        owner.get(asked)
        assert work(shop) == 1
    page = owner.get(asked).text
    assert "forecast of its stack for 25 May 2026" in page and "nobody read it" not in page
    assert _ash(page)[0] < never[0] - 3.0


def test_a_piece_back_from_a_kiln_and_not_read_since_is_planned_as_not_read(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("waney.drying.load.SCENARIOS", Scenarios(1, 2))
    settle_for_shop(hand, Setting.KILNS, KILNS)
    weigh(hand, f"piece:{boards[3]}", 9.1)
    read_moisture(hand, MoistureRead(f"piece:{boards[3]}", 0.18, ReadBy.PINS, wood_c=20.0))
    asked = f"/loads/plan?names={named(shop, boards[3:4])}&kiln=shed+kiln"

    def planned() -> str:
        owner.get(asked)
        assert work(shop) == 1
        return owner.get(asked).text

    assert "pin meter, 1 of 1 pieces" in planned()
    unload_kiln(hand, load_kiln(hand, "shed kiln", (), (boards[3],)).id)
    page = planned()
    assert "nobody read its moisture" in page and "pin meter" not in page
    _, low, high = _ash(page)
    assert high - low > 20.0  # from nearly air-dry to green
    read_moisture(hand, MoistureRead(f"piece:{boards[3]}", 0.12, ReadBy.PINS, wood_c=20.0))
    assert _ash(planned())[0] == pytest.approx(12.0)


def _ash(page: str) -> tuple[float, ...]:
    """Likely, low and high of the ash as the load is planned with it [%]."""
    (found,) = re.findall(r"white ash[^<]*</t[hd]>\s*<td>([\d.]+) %, ([\d.]+) to ([\d.]+) %", page)
    return tuple(map(float, found))


BY_SUN = KILNS + '[[kiln]]\nname = "glass shed"\nlength = "12 ft"\nwidth = 48\nheight = 48\nbears = "6000 lb"\nheat = "sun"\n'


def test_a_kiln_that_the_sun_warms_dries_by_the_weather_of_the_place_from_the_day_on(
    owner: Person, shop: Shop, hand: Hand, boards: list[str], names: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(loading, "proposals", partial(proposals, scenarios=Scenarios(1, 2)))
    settle_for_shop(hand, Setting.KILNS, BY_SUN)
    asked = f"/loads/plan?names={names[boards[3]]}&kiln=glass+shed&mc-1=25&target=10&on=2026-05-20"
    owner.get(asked)
    work(shop)
    assert "name the nearest place in the settings" in owner.get(asked).text
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    owner.get(asked)
    work(shop)
    page = owner.get(asked).text
    assert "glass shed, sun" in page and "Weather: Madison, WI, normal months from 20 May 2026 on" in page
    assert "because nobody read its air" in page and "Sets the pace" in page and "Equalising<" not in page
