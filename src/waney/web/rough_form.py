"""Rough form: a wood, one diameter or girth, a length and one thickness, written as the sheets of a log and of wants.

Everything else is assumed, and each assumption is a sentence of the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.sawing.wants import Pattern
from waney.units.length import parse_length
from waney.units.thickness import parse_thickness
from waney.web.asked.plan import PlanAsked
from waney.web.forms import Fields, Sent
from waney.web.log_form import NAMES, Answers, sheet_text
from waney.web.toml import quoted
from waney.wood.species import species as find_species

HEAD = "# Written by the form of a rough plan: one product, one way to lay the log."
FIELDS = ("species", "across", "round", "length", "thickness")
LEAST_WIDTH = {"in": "4", "mm": "100"}
"""the narrowest plank that is kept; common practice, no source"""
MILL = {
    "in": 'kerf = "3/32"\nwidest_cut = 60\nlowest = 1\nhighest = 60\nbed_length = "40 ft"',
    "mm": 'kerf = 2.4\nwidest_cut = 1500\nlowest = 25\nhighest = 1500\nbed_length = "12 m"',
}
"""where the shop has not described its own: the kerf of a small band mill, a guess that the page tells; no limit that bites"""
ASSUMED = (
    "The log is round and straight, its pith in the middle; its other diameters follow from the usual taper.",
    "Nothing is hidden in it. Nobody looked for metal: look before each cut.",
    "It lies with 12 o'clock up, as it comes to rest, and is sawn through-and-through without a turn.",
    "Planks keep their live edges and are as long as the log allows; the thickness is that of the rough plank, dried to 8 %.",
)


class Round(StrEnum):
    """What was measured across the log."""

    DIAMETER = "diameter, thin end, inside the bark"
    GIRTH = "girth, in the middle, over the bark"


@dataclass(frozen=True)
class Rough:
    """Four readings as they were typed; unit: what a bare number counts."""

    species: str
    across: str
    measured: Round
    length: str
    thickness: str
    unit: str

    @property
    def log(self) -> str:
        """The log sheet."""
        told = dict.fromkeys(NAMES, "") | {"species": self.species, "length": self.length}
        if self.measured is Round.DIAMETER:
            told["top_diameter"] = self.across
        else:
            told |= {"girth": self.across, "girth_distance": f"{parse_length(self.length, self.unit) / 2:.3f} m"}
        return sheet_text(Answers(told, self.unit))

    @property
    def wants(self) -> str:
        """The wants sheet."""
        return "\n".join(
            (
                HEAD,
                'format = "waney-wants/1"',
                f"units = {quoted(self.unit)}",
                f"least_width = {LEAST_WIDTH[self.unit]}",
                'rest = "nothing"',
                "",
                "[first]",
                'name = "planks"',
                f"thickness = {quoted(self.thickness)}",
                'edges = "live"',
                'surface = "rough"',
                "",
                "[search]",
                f"patterns = [{quoted(Pattern.THROUGH)}]",
                "rolls = [0]",
                'tips = ["as it lies"]',
                "",
            )
        )

    def asked(self, mill: str, day: str) -> PlanAsked:
        """What the planner is asked; mill: the shop's own sheet, or empty."""
        return PlanAsked(self.log, mill or mill_sheet(self.unit), self.wants, metric=self.unit == "mm", printed=day)


def mill_sheet(unit: str) -> str:
    """The mill that is assumed."""
    return f'# Assumed: nobody described the mill.\nformat = "waney-mill/1"\nunits = {quoted(unit)}\n{MILL[unit]}\n'


def rough_of(fields: Fields, sent: Sent, unit: str) -> Rough | None:
    """What was typed; None where a field is missing or cannot be read, which is noted beside it."""
    for name, sentence in (
        ("species", "Write the wood: white oak; Quercus spp. where only the kind is known."),
        ("across", "Write the diameter or the girth: 20, 20 in, 51 cm."),
        ("length", "Write how long the log is: 8 ft 6 in, 2.6 m."),
        ("thickness", "Write the one thickness: 2, 8/4, 54 mm."),
    ):
        fields.needed(name, sentence)
    fields.read("species", find_species)
    fields.length("across", unit)
    fields.length("length", unit)
    fields.read("thickness", lambda text: parse_thickness(text, unit))
    if fields.wrong:
        return None
    measured = sent.choice("round", Round, Round.DIAMETER)
    return Rough(sent.text("species"), sent.text("across"), measured, sent.text("length"), sent.text("thickness"), unit)
