"""Log form: what somebody answered about a log, written as its sheet; what they did not answer is left out."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.logs.trace import End
from waney.web.forms import Sent
from waney.web.found import Found, found_lines, found_of
from waney.web.toml import as_number, quoted

HEAD = "# Written by the form of the yard's pages; change it as you like, every version is kept."


@dataclass(frozen=True)
class Answers:
    """Fields by their names in the form; empty for what was not answered. found: what is hidden in it."""

    fields: dict[str, str]
    units: str
    found: tuple[Found, ...] = ()

    def get(self, name: str) -> str:
        """What was answered."""
        return self.fields.get(name, "")


NAMES = (
    *("species", "name", "felled", "place", "notes", "length", "butt_log"),
    *("butt_diameter", "butt_other", "butt_over", "butt_clock", "butt_pith", "butt_pith_clock", "bark_thickness"),
    *(
        "girth_distance",
        "girth",
        "sweep_depth",
        "sweep_clock",
        "top_diameter",
        "top_other",
        "top_over",
        "top_pith",
        "top_pith_clock",
    ),
    *("butt_outline", "top_outline"),
)


def answers_of(sent: Sent, units: str) -> Answers:
    """The answers of a form that was sent."""
    return Answers({name: sent.text(name) for name in NAMES}, units, found_of(sent))


def sheet_text(a: Answers, scan: Sequence[str] = ()) -> str:
    """The log sheet that says what was answered; scan: its part on the scan that came with it."""
    scanned = ("", "[scan]", *scan) if scan else ()
    return "\n".join([HEAD, 'format = "waney-log/1"', f'units = "{a.units}"', "", *_lines(a), *scanned]) + "\n"


def _lines(a: Answers) -> Iterator[str]:
    for name in ("name", "species", "place", "notes"):
        if a.get(name):
            yield f"{name} = {quoted(a.get(name))}"
    if a.get("felled"):
        yield f"felled = {a.get('felled')}" if _is_date(a.get("felled")) else f"felled = {quoted(a.get('felled'))}"
    if a.get("length"):
        yield f"length = {quoted(a.get('length'))}"
    if a.get("butt_log"):
        yield "butt_log = true"
    yield from _end(a, "butt")
    if a.get("bark_thickness"):
        yield from ("", "[bark]", f"thickness = {quoted(a.get('bark_thickness'))}")
    if a.get("girth"):
        distance = [f"distance = {quoted(a.get('girth_distance'))}"] if a.get("girth_distance") else []
        yield from ("", "[[section]]", *distance, f"girth = {quoted(a.get('girth'))}")
    if a.get("sweep_depth"):
        clock = [f"clock = {as_number(a.get('sweep_clock'))}"] if a.get("sweep_clock") else []
        yield from ("", "[sweep]", f"depth = {quoted(a.get('sweep_depth'))}", *clock)
    for one in a.found:
        yield from ("", f"[[{one.kind}]]", *found_lines(one))
    yield from _end(a, "top")


def _end(a: Answers, end: str) -> Iterator[str]:
    one, other = a.get(f"{end}_diameter"), a.get(f"{end}_other")
    pith, clock = a.get(f"{end}_pith"), a.get(f"{end}_pith_clock")
    if one or pith:
        yield from ("", f"[{end}]")
    if one:
        yield f"diameter = [{quoted(one)}, {quoted(other)}]" if other else f"diameter = {quoted(one)}"
    if one and a.get(f"{end}_over"):
        yield f"over = {quoted(a.get(f'{end}_over'))}"
    if other:
        yield f"clock = {as_number(a.get(f'{end}_clock') or '12')}"
    if pith:
        yield f"pith = {{ from_middle = {quoted(pith)}, clock = {as_number(clock or '12')} }}"
    if a.get(f"{end}_outline"):
        yield from ("", f"[{end}.outline]", *outline_lines(a.get(f"{end}_outline"), End(end)))


class BadOutline(Problem):
    """What came of a traced photo cannot be read."""


def outline_lines(traced: str, end: End) -> tuple[str, ...]:
    """An end that was traced on its photo, as the page sends it (JSON), in the words of the sheet. Raises BadOutline."""
    try:
        told = json.loads(traced)
        lines = [f"{name} = {json.dumps(told[name])}" for name in ("up", "over", "points", "pith") if told.get(name)]
        scale = told.get("scale")
        if scale:
            length = quoted(str(scale["length"]))
            lines.append(f"scale = {{ from = {json.dumps(scale['from'])}, to = {json.dumps(scale['to'])}, length = {length} }}")
    except (ValueError, KeyError, TypeError, AttributeError):
        raise BadOutline(f"What was traced on the photo of the {end} end cannot be read; trace it once more.") from None
    return tuple(lines)


def _is_date(text: str) -> bool:
    parts = text.split("-")
    return [len(part) for part in parts] == [4, 2, 2] and all(part.isdigit() for part in parts)
