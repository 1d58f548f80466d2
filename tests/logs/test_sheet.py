"""A log sheet: what was typed becomes what was measured; what is wrong is said, all of it, with its line."""

from __future__ import annotations

from datetime import date
from math import hypot, pi
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.logs.doubts import likely_shape
from waney.logs.frames import xy_to_clock
from waney.logs.measured import FlatReading, From, Hidden, Inside, MeasuredLog, Trimmed
from waney.logs.outline import size_of, traced
from waney.logs.sheet import log_sheet, read_log_sheet
from waney.units.sheet import SheetProblems
from waney.wood.species import species

EXAMPLES = sorted((Path(__file__).parents[2] / "docs" / "examples").glob("log-*.toml"))
INCH = 0.0254
HEAD = 'format = "waney-log/1"\nunits = "in"\nspecies = "black walnut"\nlength = "8 ft"\n'


def problems(text: str) -> dict[str, str]:
    """Key -> sentence of everything the sheet is refused for."""
    with pytest.raises(SheetProblems) as refused:
        read_log_sheet(text)
    return {problem.key: problem.sentence for problem in refused.value.problems}


def answer(text: str) -> str | None:
    """What a sheet is refused with; None when it is read. Anything but a Problem is a fault of ours."""
    try:
        read_log_sheet(text)
    except Problem as problem:
        return str(problem)
    return None


def example(name: str) -> MeasuredLog:
    return read_log_sheet(next(path for path in EXAMPLES if path.stem == name).read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_sheet_gives_a_log_and_a_shape(path: Path) -> None:
    log = read_log_sheet(path.read_text(encoding="utf-8"))
    shape = likely_shape(log, species(log.species))
    off = log.trimmed.butt_m + log.trimmed.top_m if log.trimmed else 0.0
    assert shape.length_m == pytest.approx(log.length_m - off, abs=1e-12)
    assert len(shape.zones) == len(log.hidden)


def test_three_answers_are_enough() -> None:
    log = example("log-rough")
    assert (log.species, log.length_m) == ("walnut_black", pytest.approx(102 * INCH))
    assert log.rounds[0].diameters_m == pytest.approx((16 * INCH,))
    assert (log.rounds[0].at_m, log.rounds[0].over) == (log.length_m, Inside.WOOD)


def test_a_sheet_in_walking_order_is_read_whole() -> None:
    log = example("log-taped")
    butt, girth, top = log.rounds
    assert butt.diameters_m == pytest.approx((27 * INCH, 25.5 * INCH))
    assert (girth.at_m, girth.girth_m, girth.over) == (pytest.approx(54 * INCH), pytest.approx(78 * INCH), Inside.BARK)
    assert top.at_m == log.length_m
    assert hypot(*log.piths[0].offset_m) == pytest.approx(1.25 * INCH)
    assert xy_to_clock(*log.piths[0].offset_m) == pytest.approx(2.0)
    assert log.bark is not None
    assert log.bark.thickness_m == pytest.approx(0.875 * INCH)
    assert (log.bends[0].depth_m, log.bends[0].clock_h) == (pytest.approx(1.25 * INCH), 10.0)
    assert (log.felled_on, log.paid_cents, log.butt_log) == (date(2024, 3, 16), 4500, True)
    metal = next(h for h in log.hidden if h.kind is Hidden.METAL)
    assert (metal.clock_h, metal.depth_m, metal.chance) == (3.0, pytest.approx(2 * INCH), 0.5)


def test_a_nail_at_three_o_clock_goes_through_the_sheet_to_negative_x() -> None:
    log = example("log-taped")
    zone = next(z for z in likely_shape(log).zones if z.kind is Hidden.METAL)
    assert zone.x_m < -0.15  # the sweep to 10 o'clock takes some 25 mm of it away
    assert 0.5 * (zone.from_m + zone.to_m) == pytest.approx(40 * INCH)


def test_two_piths_of_a_crotch_lie_to_both_sides() -> None:
    log = example("log-crotch")
    piths = [p for p in log.piths if p.at_m > 0]
    assert [p.which for p in piths] == [0, 1]
    assert piths[0].offset_m[0] < 0 < piths[1].offset_m[0]  # 3 o'clock is at negative x, 9 at positive


def test_a_clock_written_with_minutes_is_read() -> None:
    assert example("log-sections").bends[0].clock_h == 7.5


def test_what_was_assumed_is_said() -> None:
    assumed = log_sheet(HEAD + "[middle]\ngirth = 50\n").assumed
    assert any("middle.over" in line and "over bark" in line for line in assumed)


END = """
[{end}.outline]
scale = {{ from = [0, 0], to = [0, 100], length = 10 }}
points = [[0, 0], [100, 0], [200, 0], [200, 100], [200, 200], [100, 200], [0, 200], [0, 100]]
pith = [150, 100]
"""


def test_a_photo_of_each_end_shows_the_same_side_of_the_log() -> None:
    log = read_log_sheet(HEAD + END.format(end="butt") + END.format(end="top"))
    assert size_of(traced(log.rounds[0].trace_m)) == pytest.approx(20 * INCH * (4 / pi) ** 0.5, rel=2e-3)  # a square of 20 in
    butt, top = log.piths
    # right in the picture: 3 o'clock at the butt; who stands at the top has 9 o'clock on the right
    assert xy_to_clock(*butt.offset_m) == pytest.approx(3.0)
    assert xy_to_clock(*top.offset_m) == pytest.approx(9.0)
    assert hypot(*butt.offset_m) == pytest.approx(5 * INCH)


def test_the_diameter_of_an_end_scales_its_outline() -> None:
    bare = "\n".join(line for line in END.format(end="butt").splitlines() if not line.startswith("scale"))
    log = read_log_sheet(HEAD + "[butt]\ndiameter = [24, 26]\n" + bare)
    assert size_of(traced(log.rounds[0].trace_m)) == pytest.approx((24 * 26) ** 0.5 * INCH, rel=2e-3)


def test_a_picture_taken_with_three_o_clock_up_is_turned() -> None:
    log = read_log_sheet(HEAD + END.format(end="butt").replace("scale", "up = 3\nscale"))
    assert xy_to_clock(*log.piths[0].offset_m) == pytest.approx(6.0)  # right of 3 o'clock, seen from the butt


def test_all_problems_are_said_at_once_each_with_its_line() -> None:
    sheet = (
        'format = "waney-log/1"\nunits = "in"\nspecies = "black wallnut"\nlength = "8 fot"\n'
        "[top]\ndiametre = 18\n[[metal]]\nclock = 25\n"
    )
    with pytest.raises(SheetProblems) as refused:
        read_log_sheet(sheet)
    found = {problem.key: (problem.line, problem.sentence) for problem in refused.value.problems}
    assert found["species"][0] == 3
    assert "walnut" in found["species"][1].lower()
    assert found["length"][0] == 4
    assert found["top.diametre"] == (6, "nothing is known by this name; did you mean diameter?")
    assert found["metal.1.clock"][0] == 8
    assert "metal.1.distance" in found


@pytest.mark.parametrize(
    ("below", "key", "says"),
    [
        ("", "", "diameter = 18"),
        ("[top]\n", "", "diameter = 18"),
        ("[top]\ndiameter = [18, 17, 16]\n", "top.diameter", "two at right angles"),
        ("[top]\ndiameter = [18, 180]\n", "top.diameter", ""),
        ("[top]\ndiameter = 18\ngirth = 60\n", "top.girth", "keep"),
        ("[top]\ndiameter = [18, 7]\n", "top.diameter", "twice"),
        ("[top]\ndiameter = -3\n", "top.diameter", "below zero"),
        ('[top]\ndiameter = 18\nover = "bakr"\n', "top.over", "did you mean bark"),
        ("[top]\ndiameter = 18\npith = { from_middle = 3 }\n", "top.pith.from_middle", "clock"),
        ("[top]\ndiameter = 18\npith = { from_middle = 12, clock = 3 }\n", "top.pith.from_middle", "must be"),
        ("[top]\ndiameter = 18\n[[section]]\ndistance = 20\n", "section.1", "needs a diameter or a girth"),
        ("[top]\ndiameter = 18\n[[section]]\ndistance = 200\ndiameter = 19\n", "section.1.distance", "must be"),
        ("[top]\ndiameter = 18\n[[section]]\ndistance = 96\ndiameter = 19\nover = 'wood'\n", "section", "keep one"),
        ("[top]\ndiameter = 18\n[sweep]\ndepth = 60\nclock = 3\n", "sweep.depth", "must be"),
        ("[top]\ndiameter = 18\n[sweep]\ndepth = 2\n", "sweep.clock", "needed"),
        ("[top]\ndiameter = 18\n[[crook]]\ndepth = 2\nclock = 3\ndistance = 0\n", "crook.1.distance", "between"),
        ("[top]\ndiameter = 18\n[bark]\nthickness = 1\nper_cent = 15\n", "bark", "write one of"),
        ("[top]\ndiameter = 18\n[bark]\nper_cent = 0.15\n", "bark.per_cent", "%"),
        ("[[metal]]\ndistance = 3\nsure = true\nchance = '20 %'\n[top]\ndiameter = 18\n", "metal.1.chance", "keep one"),
        ("[top]\nhollow = { across = 3, depth = 2 }\ndiameter = 9\n", "top.hollow.depth", "clock"),
        ("[butt.outline]\npoints = [[0, 0], [1, 1]]\n[top]\ndiameter = 9\n", "butt.outline.scale", "needed"),
        (
            "[butt.outline]\npoints = [[0, 0], [1, 1]]\nscale = { from = [0, 0], to = [1, 0], length = 9 }\n",
            "butt.outline.points",
            "at least 8",
        ),
        ("paid = 45\n[top]\ndiameter = 18\n", "paid", "currency"),
        ('felled = "last week"\n[top]\ndiameter = 18\n', "felled", "year-month-day"),
        ("[scan]\nfile = '../x.ply'\nbutt = [0, 0, 0]\ntop = [0, 0, 3]\nmark = [0, 1, 0]\n", "scan.file", "without folders"),
    ],
)
def test_each_slip_is_answered_with_what_to_write(below: str, key: str, says: str) -> None:
    found = problems(HEAD + below)
    assert key in found
    assert says in found[key]


def test_a_sheet_without_units_is_refused() -> None:
    assert "units" in problems(HEAD.replace('units = "in"\n', "") + "[top]\ndiameter = 18\n")


def test_an_unknown_species_may_be_said_to_be_unknown() -> None:
    assert read_log_sheet(HEAD.replace("black walnut", "unknown") + "[top]\ndiameter = 18\n").species == ""


def test_a_scan_beside_the_sheet_needs_no_diameter_and_gives_the_length() -> None:
    sheet = HEAD.replace('length = "8 ft"\n', "") + (
        "[scan]\nfile = 'k3.ply'\nunit = 'mm'\nbutt = [0, 0, 100]\ntop = [0, 0, 2600]\nmark = [0, 1, 0]\nmark_clock = 9\n"
    )
    whole = log_sheet(sheet)
    assert whole.scan is not None
    assert (whole.scan.pose.butt_m, whole.scan.pose.mark_clock_h) == ((0.0, 0.0, 0.1), 9.0)
    assert whole.log.length_m == pytest.approx(2.5)


def test_the_mark_of_a_scan_is_a_point_wherever_the_scan_lies() -> None:
    """It was taken for a direction from the scan's own zero: right only where the log's line runs through that."""
    told = "[scan]\nfile = 'k3.ply'\nbutt = [5, 3, 1]\ntop = [5, 3, 4]\nmark = "
    scan = log_sheet(HEAD + told + "[5.2, 3, 2]\n").scan
    assert scan is not None and scan.pose.mark == pytest.approx((0.2, 0.0, 0.0))
    assert "on the line between both ends" in problems(HEAD + told + "[5, 3, 2]\n")["scan.mark"]


def test_a_log_thicker_at_the_top_is_remarked_upon() -> None:
    (remark,) = log_sheet(HEAD + "[butt]\ndiameter = 14\n[top]\ndiameter = 18\n").remarks
    assert "swapped" in remark


sixteenths = st.integers(16, 16 * 60).map(lambda n: n / 16)
clocks = st.integers(1, 48).map(lambda n: n / 4)


@given(
    length=st.integers(36, 300),
    butt=st.tuples(sixteenths, st.floats(0.6, 1.6)),
    girth=sixteenths,
    at=st.integers(1, 35),
    clock=clocks,
    depth=st.integers(0, 20),
)
@settings(max_examples=60, deadline=None)
def test_what_is_written_in_inches_is_read_back(
    length: int, butt: tuple[float, float], girth: float, at: int, clock: float, depth: int
) -> None:
    first, second = max(butt[0], 2.0), max(round(butt[0] * butt[1] * 16) / 16, 2.0)
    girth = max(girth, 6.0)
    sheet = (
        f'format = "waney-log/1"\nunits = "in"\nspecies = "unknown"\nlength = {length}\n'
        f"[butt]\ndiameter = [{first}, {second}]\nclock = {clock}\n[[section]]\ndistance = {at}\ngirth = {girth}\n"
        f"[[metal]]\ndistance = {at}\nclock = {clock}\ndepth = {depth}\n"
    )
    log = read_log_sheet(sheet)
    assert log.length_m == pytest.approx(length * INCH)
    assert log.rounds[0].diameters_m == pytest.approx((first * INCH, second * INCH))
    assert log.rounds[0].first_clock_h == clock
    assert log.rounds[1].girth_m == pytest.approx(girth * INCH)
    metal = log.hidden[0]
    assert (metal.clock_h, metal.depth_m) == (clock, pytest.approx(depth * INCH))


WORDS = [
    "diameter",
    "girth",
    "units",
    "[top]",
    "[[metal]]",
    "length",
    "=",
    '"',
    "18",
    "[",
    "]",
    "{",
    "\n",
    "é",
    "1e999",
    "nan",
    ".",
]


@given(st.lists(st.sampled_from(WORDS), max_size=30).map(" ".join))
@settings(max_examples=150, deadline=None)
def test_hostile_sheets_get_sentences_not_tracebacks(below: str) -> None:
    for text in (below, HEAD + below):
        assert answer(text) != ""


hostile = st.one_of(
    st.text(max_size=20).map(lambda s: '"' + "".join(c for c in s if c.isprintable() and c not in '"\\') + '"'),
    st.integers(-(10**30), 10**30).map(str),
    st.floats(allow_nan=True).map(lambda f: str(f) if f == f else "nan"),
    st.sampled_from(["true", "[]", "{}", "[[]]", "[{}]", "1979-05-27", "07:32:00", "[1, 2]", "{ x = 1 }", "[[1, 2], [3, 4]]"]),
)
FIELDS = [
    *(
        "species",
        "length",
        "felled",
        "place",
        "paid",
        "butt_log",
        "name",
        "currency",
        "comma",
        "middle",
        "bark",
        "scan",
        "crotch",
    ),
    *("top.diameter", "top.girth", "top.over", "top.clock", "top.pith", "top.hollow", "butt.outline", "butt.outline.points"),
    *("bark.thickness", "bark.per_cent", "sweep.depth", "sweep", "crook", "metal", "metal.depth", "section", "scan.butt"),
]


@given(st.dictionaries(st.sampled_from(FIELDS), hostile, max_size=6))
@settings(max_examples=200, deadline=None)
def test_hostile_values_in_real_fields_get_sentences(fields: dict[str, str]) -> None:
    text = 'format = "waney-log/1"\nunits = "in"\n' + "".join(f"{key} = {value}\n" for key, value in fields.items())
    assert answer(text) != ""


ROUND = 'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\nlength = "10 ft"\n[top]\ndiameter = 20\n'


def flats_in(text: str) -> tuple[FlatReading, ...]:
    return read_log_sheet(ROUND + text).flats


def test_flats_are_read_by_pith_past_the_pith_thickness_and_halving() -> None:
    inch = 0.0254
    far, near = flats_in("[[flat]]\nclock = 12\nfrom_pith = 10\nat_top = 9\n[[flat]]\nclock = 6\nthickness = 3\n")
    assert (far.butt_m, far.top_m, far.measured_from) == (pytest.approx(10 * inch), pytest.approx(9 * inch), From.PITH)
    assert (near.butt_m, near.top_m, near.measured_from) == (pytest.approx(3 * inch), pytest.approx(3 * inch), From.OPPOSITE)
    (past,) = flats_in('[[flat]]\nclock = "3:30"\npast_pith = 2\n')
    assert (past.clock_h, past.butt_m) == (3.5, pytest.approx(-2 * inch))
    (half,) = flats_in('[[flat]]\nclock = 3\nhalved = true\nkerf = "1/4"\n')
    assert half.butt_m == half.top_m == pytest.approx(-inch / 8)


def test_the_kerf_of_a_halved_log_is_said_when_nobody_typed_it() -> None:
    sheet = log_sheet(ROUND + "[[flat]]\nclock = 3\nhalved = true\n")
    assert any(line.startswith("flat.1.kerf: 3/8 in") for line in sheet.assumed)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[flat]]\nclock = 3\n", "say where it lies"),
        ("[[flat]]\nclock = 3\nhalved = true\nfrom_pith = 1\n", "say where it lies"),
        ("[[flat]]\nfrom_pith = 3\n", "flat.1.clock"),
        ("[[flat]]\nclock = 6\nthickness = 3\n", "faces the other way"),
        ("[[flat]]\nclock = 3\nfrom_pith = 3\n[[flat]]\nclock = 3\nfrom_pith = 4\n", "faces the same way"),
        ("[[flat]]\nclock = 3\nfrom_pith = 3\nkerf = 1\n", "leave it out"),
        ("[[flat]]\nclock = 3\nhalved = true\nat_top = 1\n", "leave this out"),
        ("[trimmed]\nbutt = 70\ntop = 60\n", "takes the whole log away"),
    ],
)
def test_a_flat_or_trimming_that_cannot_be_is_said(text: str, words: str) -> None:
    with pytest.raises(SheetProblems, match=words):
        read_log_sheet(ROUND + text)


def test_trimming_is_read() -> None:
    assert read_log_sheet(ROUND + "[trimmed]\nbutt = 12\n").trimmed == Trimmed(pytest.approx(0.3048), 0.0)
