"""The commands. Each stands in a module of its own and loads its engines only when it is called."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from waney.cli.air import emc
from waney.cli.app import app
from waney.cli.books import backup, examine, export, restore, take_in
from waney.cli.crosscut import crosscut
from waney.cli.demo import demo
from waney.cli.dry import dry
from waney.cli.flatten import flatten
from waney.cli.grade import grade
from waney.cli.heat_treat import heat_treat
from waney.cli.kiln_load import kiln_load
from waney.cli.measure import measure
from waney.cli.offered import offered
from waney.cli.plan import plan
from waney.cli.price import price
from waney.cli.quote import quote
from waney.cli.replay import replay
from waney.cli.sample import sample
from waney.cli.scale import scale
from waney.cli.schedule import schedule
from waney.cli.sell import sell
from waney.cli.serving import serve
from waney.cli.shop_window import shop_window
from waney.cli.tags import tags
from waney.cli.target import target
from waney.cli.waiting import waiting
from waney.cli.weight import weight
from waney.cli.wood import wood
from waney.cli.year import year

__all__ = ["app"]


@dataclass(frozen=True)
class Told:
    """A command as the help tells of it: itself, a few words, and lines to try."""

    command: Callable[..., None]
    short: str
    examples: tuple[str, ...]


_SHEETS = "demo-yard/log.toml --mill demo-yard/mill.toml --wants demo-yard/wants.toml"

COMMANDS: Mapping[str, Told] = MappingProxyType(
    {
        "scale": Told(
            scale,
            "A log's volume with its range, and what every log scale says.",
            ("waney scale demo-yard/log.toml", "waney scale demo-yard/log.toml --units mm --json scaled.json"),
        ),
        "plan": Told(
            plan,
            "Saw plans side by side, by the money left after drying and work.",
            (
                f"waney plan {_SHEETS} --card card.pdf",
                f"waney plan {_SHEETS} --pattern through --json plan.json",
                f'waney plan {_SHEETS} --pith-at "13 1/4 in, 12 in"',
            ),
        ),
        "replay": Told(replay, "A plan checked against its own sheets.", ("waney replay demo-yard/plan.json",)),
        "wood": Told(
            wood,
            "What is known of a wood, and from where.",
            ('waney wood "black walnut" --mc 8', 'waney wood "Quercus alba" --units mm --json -'),
        ),
        "emc": Told(
            emc,
            "What moisture wood settles at, in an air or at a place.",
            (
                'waney emc "70 F" 65',
                'waney emc "70 F" --mc 8',
                'waney emc "70 F" --wet-bulb "62 F"',
                "waney emc --state CO",
                'waney emc --state CO --place Denver --indoors "68 F, 70 F, 76 F, 70 F"',
            ),
        ),
        "schedule": Told(
            schedule,
            "The kiln schedule of a wood, with days and water.",
            ('waney schedule "northern red oak" 4/4', 'waney schedule "black cherry" 8/4 --mc 20 --condition 24 --units mm'),
        ),
        "heat-treat": Told(
            heat_treat,
            "Minutes until the core is hot enough, and what a record of it shows.",
            (
                'waney heat-treat "white ash" 8/4 "10 in" --dry-bulb "160 F" --wet-bulb "150 F" --start "60 F"',
                'waney heat-treat "red maple" "54 mm" "250 mm" --dry-bulb "71 C" --steam --start "5 C" --units mm',
                "waney heat-treat --record demo-yard/core-record.csv",
            ),
        ),
        "kiln-load": Told(
            kiln_load,
            "Who may share a kiln, who sets the pace, how long it takes.",
            ('waney kiln-load demo-yard/kilns.toml demo-yard/load.toml --kiln "old container kiln"',),
        ),
        "weight": Told(
            weight,
            "What logs weigh green, before anybody lifts them.",
            ("waney weight demo-yard/log.toml", 'waney weight demo-yard/log.toml --bears "3500 lb"'),
        ),
        "offered": Told(
            offered,
            "Is an offered tree or log worth fetching?",
            (
                'waney offered --wood "black walnut" --girth "63 in" --length "10 ft" --bears "3500 lb"',
                'waney offered --wood "red maple" --girth "1.6 m" --by-eye --asked "60 USD" --board-foot "2.50 USD"',
            ),
        ),
        "crosscut": Told(
            crosscut,
            "One long log or two short ones, before the cut.",
            ('waney crosscut demo-yard/log.toml --way "8 ft" --way "4 ft + 4 ft"',),
        ),
        "waiting": Told(
            waiting,
            "Which log in the yard loses most by another week.",
            ("waney waiting --book demo-yard --state CO --place Denver",),
        ),
        "dry": Told(
            dry,
            "When a stack will be dry, narrowed by what was weighed.",
            (
                'waney dry --piece "white oak, 4/4, 40" --state IN --place Indianapolis --start 2026-04-01',
                'waney dry --piece "black walnut, 8/4, 6, 8 ft x 18 in" --state IN --place Indianapolis --start 2026-04-01 '
                '--weighed "1, 2026-04-01, 92 lb" --weighed "1, 2026-06-20, 79 lb"',
            ),
        ),
        "measure": Told(
            measure,
            "A piece's area, widths and board feet by every rule of the trade.",
            (
                "waney measure demo-yard/piece.toml",
                "waney measure demo-yard/board.toml --units mm",
                'waney measure demo-yard/piece.toml --state CO --place Denver --finish "shellac, 2 coats"',
            ),
        ),
        "target": Told(
            target,
            "The printed sheet that lies on a piece in its photo.",
            ("waney target target.pdf", "waney target target.pdf --units mm"),
        ),
        "grade": Told(
            grade,
            "The hardwood grade of a board, with its clear cuttings.",
            ("waney grade demo-yard/board.toml", "waney grade demo-yard/board.toml --svg cuttings.svg"),
        ),
        "flatten": Told(
            flatten,
            "How thick a piece stays when both faces are made flat.",
            ("waney flatten demo-yard/piece.toml", "waney flatten demo-yard/piece.toml --units mm --json -"),
        ),
        "sample": Told(
            sample,
            "A sample board: its oven-dry weight, the weight on its tag, its moisture by weight.",
            (
                'waney sample --section "182 g, 101 g" --section "176 g, 99 g" --board "8.8 lb" --target 8',
                'waney sample --section "182 g, 101 g" --section "176 g, 99 g" --board "8.8 lb" --cut 2026-04-01 '
                '--weighed "2026-05-06, 7.2 lb" --wood "black walnut" --thickness 4/4 --state IN --place Indianapolis',
            ),
        ),
        "price": Told(
            price,
            "Three prices of a piece side by side, above what it has cost.",
            ("waney price BC-4-5 --book demo-yard", "waney price BC-4-5 --book demo-yard --for-buyer --units mm"),
        ),
        "sell": Told(sell, "Pieces sold, once, with tax.", ('waney sell BC-5-3 --book demo-yard --price "180 USD" --to Jo',)),
        "shop-window": Told(
            shop_window,
            "What is for sale as plain pages, to publish anywhere.",
            ("waney shop-window window --book demo-yard", "waney shop-window window --book demo-yard --free"),
        ),
        "year": Told(year, "What each log and wood really earned.", ("waney year --book demo-yard",)),
        "quote": Told(
            quote,
            "Somebody's logs quoted by hour, board foot and shares.",
            ('waney quote demo-yard/log.toml --terms demo-yard/terms.toml --way "24 mi" --way-hours 1',),
        ),
        "tags": Told(
            tags,
            "Tags with names and codes, printed ahead on sheets or rolls of labels.",
            (
                "waney tags tags.pdf --code AB",
                'waney tags oak.pdf --code AC --first 21 --count 12 --log-tag --line "white oak" --line 8/4',
                "waney tags ahead.pdf --yard demo-yard --count 24",
                'waney tags roll.pdf --code AB --stock "roll, 100 mm x 50 mm"',
                'waney tags try-out.pdf --try-out --stock "a4 99 x 57"',
            ),
        ),
        "take-in": Told(
            take_in,
            "A list of commands from a phone, a page or a tally, into the yard book.",
            ("waney take-in demo-yard/tally.json --book demo-yard",),
        ),
        "examine": Told(
            examine,
            "Whether the yard book is sound.",
            ("waney examine --book demo-yard", "waney examine --book demo-yard --json -"),
        ),
        "backup": Told(backup, "The whole yard book in one file.", ("waney backup yard.zip --book demo-yard",)),
        "restore": Told(restore, "A new yard book out of a backup or an export.", ("waney restore yard.zip --book other-yard",)),
        "export": Told(export, "The whole yard book as plain files.", ("waney export yard-plain --book demo-yard",)),
        "serve": Told(serve, "The yard's pages, for a browser.", ("waney serve demo-yard", "waney serve demo-yard --lan")),
        "demo": Told(
            demo,
            "A yard in an invented place, the whole job on it, and its year.",
            ("waney demo --no-serve", "waney demo --no-serve --units mm"),
        ),
    }
)
"""The examples run in the folder where `waney demo` has made its yard."""


def _epilog(told: Told) -> str:
    """The examples, each on a line of its own: a wrapped line cannot be copied."""
    return "\n  ".join(("\b\nTry:", *told.examples))


for told in COMMANDS.values():
    app.command(short_help=told.short, epilog=_epilog(told))(told.command)

if __name__ == "__main__":
    app()
