"""Log form: what somebody answered about a log, written as its sheet; what they did not answer is left out."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.web.forms import Sent

HEAD = "# Written by the form of the yard's pages; change it as you like, every version is kept."
TABLES = ("butt", "bark", "sweep", "top")
"""in the order one walks"""


@dataclass(frozen=True)
class Answers:
    """Fields by their names in the form; empty for what was not answered. metal: rows of distance, clock and depth."""

    fields: dict[str, str]
    units: str
    metal: tuple[tuple[str, str, str], ...] = ()

    def get(self, name: str) -> str:
        """What was answered."""
        return self.fields.get(name, "")


NAMES = (
    *("species", "name", "felled", "place", "notes", "length", "butt_log"),
    *("butt_diameter", "butt_other", "butt_clock", "butt_pith", "butt_pith_clock", "bark_thickness"),
    *("girth_distance", "girth", "sweep_depth", "sweep_clock", "top_diameter", "top_other", "top_pith", "top_pith_clock"),
    *("butt_outline", "top_outline"),
)


def answers_of(sent: Sent, units: str) -> Answers:
    """The answers of a form that was sent."""
    rows = zip(sent.all("metal_distance"), sent.all("metal_clock"), sent.all("metal_depth"), strict=False)
    metal = tuple((d.strip(), c.strip(), t.strip()) for d, c, t in rows if d.strip())
    return Answers({name: sent.text(name) for name in NAMES}, units, metal)


def sheet_text(a: Answers) -> str:
    """The log sheet that says what was answered."""
    return "\n".join([HEAD, 'format = "waney-log/1"', f'units = "{a.units}"', "", *_lines(a)]) + "\n"


def _lines(a: Answers) -> Iterator[str]:
    for name in ("name", "species", "place", "notes"):
        if a.get(name):
            yield f"{name} = {_quoted(a.get(name))}"
    if a.get("felled"):
        yield f"felled = {a.get('felled')}" if _is_date(a.get("felled")) else f"felled = {_quoted(a.get('felled'))}"
    if a.get("length"):
        yield f"length = {_quoted(a.get('length'))}"
    if a.get("butt_log"):
        yield "butt_log = true"
    yield from _end(a, "butt")
    if a.get("bark_thickness"):
        yield from ("", "[bark]", f"thickness = {_quoted(a.get('bark_thickness'))}")
    if a.get("girth"):
        distance = [f"distance = {_quoted(a.get('girth_distance'))}"] if a.get("girth_distance") else []
        yield from ("", "[[section]]", *distance, f"girth = {_quoted(a.get('girth'))}")
    if a.get("sweep_depth"):
        clock = [f"clock = {_number(a.get('sweep_clock'))}"] if a.get("sweep_clock") else []
        yield from ("", "[sweep]", f"depth = {_quoted(a.get('sweep_depth'))}", *clock)
    for distance_, clock_, depth in a.metal:
        where = [f"distance = {_quoted(distance_)}", *([f"clock = {_number(clock_)}"] if clock_ else [])]
        yield from ("", "[[metal]]", *where, *([f"depth = {_quoted(depth)}"] if depth else []))
    yield from _end(a, "top")


def _end(a: Answers, end: str) -> Iterator[str]:
    one, other = a.get(f"{end}_diameter"), a.get(f"{end}_other")
    pith, clock = a.get(f"{end}_pith"), a.get(f"{end}_pith_clock")
    if one or pith:
        yield from ("", f"[{end}]")
    if one:
        yield f"diameter = [{_quoted(one)}, {_quoted(other)}]" if other else f"diameter = {_quoted(one)}"
    if other:
        yield f"clock = {_number(a.get(f'{end}_clock') or '12')}"
    if pith:
        yield f"pith = {{ from_middle = {_quoted(pith)}, clock = {_number(clock or '12')} }}"
    if a.get(f"{end}_outline"):
        yield from ("", f"[{end}.outline]", *_outline(a.get(f"{end}_outline"), end))


class BadOutline(Problem):
    """What came of a traced photo cannot be read."""


def _outline(traced: str, end: str) -> Iterator[str]:
    """An end that was traced on its photo, as the page sends it (JSON), in the words of the sheet. Raises BadOutline."""
    try:
        told = json.loads(traced)
        lines = [f"{name} = {json.dumps(told[name])}" for name in ("up", "over", "points", "pith") if told.get(name)]
        scale = told.get("scale")
        if scale:
            length = _quoted(str(scale["length"]))
            lines.append(f"scale = {{ from = {json.dumps(scale['from'])}, to = {json.dumps(scale['to'])}, length = {length} }}")
    except (ValueError, KeyError, TypeError, AttributeError):
        raise BadOutline(f"What was traced on the photo of the {end} end cannot be read; trace it once more.") from None
    yield from lines


def _quoted(text: str) -> str:
    """A TOML string; JSON's escapes are among TOML's."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(text: str) -> str:
    """A number as it is, anything else as text for the reader of sheets to say what is wrong with it."""
    return text if text.replace(".", "", 1).isdigit() else _quoted(text)


def _is_date(text: str) -> bool:
    parts = text.split("-")
    return [len(part) for part in parts] == [4, 2, 2] and all(part.isdigit() for part in parts)
