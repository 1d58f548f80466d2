"""Sheets: every problem at once, each with its line; hostile text gets sentences."""

from __future__ import annotations

import tomllib
from math import inf, nan

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.units.number import Comma
from waney.units.sheet import SheetProblems, Table, nearest, open_sheet
from waney.units.sheet_lines import Path, lines_of
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, day, list_of, number, text, whole, yes_no

TEST = 'format = "waney-test/1"\n'


def opened(body: str) -> Table:
    return open_sheet(TEST + body, "waney-test/1")


def problems(sheet: Table) -> list[tuple[int, str]]:
    with pytest.raises(SheetProblems) as caught:
        sheet.check()
    return [(problem.line, problem.key) for problem in caught.value.problems]


def test_every_problem_is_listed_once_in_the_order_of_the_lines() -> None:
    sheet = opened('kref = 2\nstep = "wide"\n[bed]\nlong = true\n')
    sheet.need("kerf", number(0, 9), nan)
    sheet.take("step", number(0, 9))
    bed = sheet.inside("bed")
    assert bed is not None
    bed.take("length", text)
    assert problems(sheet) == [(1, "kerf"), (2, "kref"), (3, "step"), (5, "bed.long")]


def test_an_unknown_key_is_answered_with_the_nearest_known_one() -> None:
    sheet = opened("backstop_lowst = 2\n")
    sheet.take("backstop_lowest", number())
    sheet.take("bed_length", number())
    with pytest.raises(SheetProblems, match=r"line 2, backstop_lowst: .*did you mean backstop_lowest\?"):
        sheet.check()


def test_where_no_known_word_is_near_all_are_named() -> None:
    assert nearest("zzz", {"kerf": 0, "bed": 0}) == "; here may stand: bed, kerf."


def test_a_sheet_of_another_kind_is_told_what_its_first_line_should_be() -> None:
    with pytest.raises(SheetProblems, match=r'line 1, format: .*format = "waney-mill/1".*it says "waney-log/1"'):
        open_sheet('format = "waney-log/1"\nunits = "in"\n', "waney-mill/1")


def test_words_in_place_of_a_table_are_told_how_to_write_one() -> None:
    sheet = opened('bed = "long"\nfeed = 3\n')
    assert sheet.inside("bed") is None
    assert sheet.entries("feed") == ()
    assert problems(sheet) == [(2, "bed"), (3, "feed")]


def test_a_single_heading_counts_as_a_list_of_one() -> None:
    sheet = opened("[feed]\nwidth = 3\n")
    assert [entry.take("width", whole(0, 9)) for entry in sheet.entries("feed")] == [3]
    sheet.check()


def test_entries_of_a_list_are_counted_from_one_in_sentences() -> None:
    sheet = opened("[[feed]]\n[[feed]]\nwidth = 'x'\n")
    for entry in sheet.entries("feed"):
        entry.take("width", number())
    assert problems(sheet) == [(4, "feed.2.width")]


def test_asked_names_each_key_once_without_list_positions() -> None:
    sheet = opened("[[feed]]\nwidth = 1\n[[feed]]\nwidth = 2\n")
    for entry in sheet.entries("feed"):
        entry.take("width", number())
    assert sheet.asked == ("format", "feed", "feed.width")


@pytest.mark.parametrize(
    ("body", "line"),
    [
        ("a = ", 2),
        ("a = 1\nb = = 2\n", 3),
        ("a = 1\na = 2\n", 3),
        ("length = 8 ft\n", 2),
        ("a = [" * 3000, None),
        ("[" * 100_000, 2),
        ("a = " + "9" * 5000 + "\n", None),
        ("a = 2024-13-01\n", 2),
        ("a = '\x00'\n", 2),
    ],
)
def test_what_is_no_toml_gets_a_sentence_with_its_line(body: str, line: int | None) -> None:
    with pytest.raises(SheetProblems) as caught:
        opened(body)
    (problem,) = caught.value.problems
    assert line is None or problem.line == line
    assert len(str(problem)) < 300
    assert str(problem).isprintable()


# Lines: a document is laid out line by line together with the place of every key, then the walk must find the same.

KEYS = st.sampled_from(["kerf", "bed-length", "'a.b'", '"x y"', "_1"])
VALUES = st.sampled_from(
    [
        "1",
        "-2.5e3",
        '"a # b"',
        "'[c'",
        "true",
        "2024-03-31 10:00:00",
        '"""x\ny = 2\n[z]"""',
        "'''a\n'' b'''",
        '"\\"]"',
        '""',
        "[]",
        "{}",
    ]
)


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[Path, int]]:
    text, lines = "", dict[Path, int]()

    def pairs(path: Path) -> str:
        nonlocal lines
        out = ""
        for key in draw(st.lists(KEYS, max_size=3, unique=True)):
            out += draw(st.sampled_from(["", "\n", "# [no] = 'comment'\n", "  "]))
            name = key.strip("\"'")
            lines[(*path, name)] = (text + out).count("\n") + 1
            if draw(st.booleans()):
                out += f"{key} = {draw(VALUES)}\n"
                continue
            out += f"{key} = [ # list\n"
            for i in range(draw(st.integers(1, 3))):
                lines[(*path, name, i)] = (text + out).count("\n") + 1
                out += f"  {draw(VALUES)},\n"
            out += "]\n"
        return out

    text += pairs(())
    for name in draw(st.lists(st.sampled_from(["t", "u", "v"]), max_size=2, unique=True)):
        lines[(name,)] = text.count("\n") + 1
        if draw(st.booleans()):
            text += f"[ {name} ]\n"
            text += pairs((name,))
            continue
        for i in range(draw(st.integers(1, 3))):
            lines[(name, i)] = text.count("\n") + 1
            text += f"[[{name}]]\n"
            text += pairs((name, i))
    return text, lines


@given(documents())
@example(
    ("a.b = 1\n[c]\nd = {e = [1,\n2], f = 2}\n", {("a", "b"): 1, ("c", "d", "e"): 3, ("c", "d", "e", 1): 4, ("c", "d", "f"): 4})
)
@example(("[[a]]\n[a.b]\nc = 1\n[[a]]\n[a.b]\nc = 2\n", {("a", 0, "b", "c"): 3, ("a", 1, "b", "c"): 6}))
def test_every_key_and_item_is_found_on_its_line(document: tuple[str, dict[Path, int]]) -> None:
    text_, lines = document
    tomllib.loads(text_)
    found = lines_of(text_)
    assert {path: found.get(path) for path in lines} == lines


@given(st.text(st.sampled_from("a=1.[]{}'\"\n#, \\t"), max_size=60))
def test_sound_toml_is_walked_to_its_end(text_: str) -> None:
    try:
        content = tomllib.loads(text_)
    except ValueError:
        return
    found = lines_of(text_)
    # a key with escapes in it is found as it is written, not as it is meant: it then has no line of its own
    assert all((key,) in found for key in content if key.isalnum())


@given(st.text(max_size=200))
def test_any_text_at_all_is_a_sheet_or_a_list_of_problems(text_: str) -> None:
    try:
        open_sheet(text_, "waney-test/1")
    except SheetProblems:
        return
    assert tomllib.loads(text_)["format"] == "waney-test/1"


def measures(head: str) -> Measures:
    return Measures.of(opened(head))


@pytest.mark.parametrize(
    ("unit", "written", "metres"),
    [("in", "2.5", 0.0635), ("mm", "54", 0.054), ("ft", '"8 ft 6 in"', 2.5908), ("cm", '"1/2 in"', 0.0127), ("m", "3.05", 3.05)],
)
def test_a_bare_number_counts_in_the_units_of_the_sheet(unit: str, written: str, metres: float) -> None:
    sheet = opened(f'units = "{unit}"\na = {written}\n')
    assert sheet.take("a", Measures.of(sheet).length) == pytest.approx(metres, abs=1e-12)


def test_a_number_without_quotes_keeps_its_point_in_a_shop_with_decimal_commas() -> None:
    # as text "1.125" could be 1125 there; as a TOML number it cannot
    m = measures('units = "m"\ncomma = "decimal comma"\n')
    assert m.length(1.125) == 1.125
    assert m.length("1,125") == 1.125


def test_the_shops_comma_holds_where_the_sheet_says_nothing() -> None:
    sheet = opened('units = "mm"\n')
    assert Measures.of(sheet, Comma.THOUSANDS).length("1,250") == pytest.approx(1.25)


def test_units_missing_is_said_once_and_no_figure_is_blamed_for_it() -> None:
    sheet = opened("a = 3\n")
    sheet.take("a", Measures.of(sheet).length)
    assert problems(sheet) == [(1, "units")]


def test_weights_and_areas_go_with_the_units() -> None:
    inch, metric = Measures.of(opened('units = "in"\n')), Measures.of(opened('units = "cm"\n'))
    # 1 lb = 0.45359237 kg and 1 ft = 0.3048 m exactly (yard and pound agreement of 1959)
    assert (inch.mass(100), metric.mass(100)) == (pytest.approx(45.359237), 100.0)
    assert (inch.area(10), metric.area(10)) == (pytest.approx(0.9290304), 10.0)
    assert inch.mass("1 tonne") == 1000.0


def test_money_needs_a_currency_and_keeps_broken_cents() -> None:
    with pytest.raises(Problem, match="currency"):
        measures('units = "in"\n').rate(4.5)
    assert measures('units = "in"\ncurrency = "usd"\n').rate(0.455) == 45.5
    with pytest.raises(Problem, match="EUR"):
        measures('units = "in"\ncurrency = "EUR"\n').rate("$3")


@pytest.mark.parametrize(("written", "share"), [(80, 0.8), ("80 %", 0.8), ("0.5 %", 0.005), (0, 0.0), (100, 1.0), (1, 0.01)])
def test_shares_are_per_cent(written: object, share: float) -> None:
    assert measures('units = "in"\n').percent(written) == pytest.approx(share, abs=1e-15)


def test_a_share_that_may_be_per_cent_or_of_one_is_refused_with_both_readings() -> None:
    with pytest.raises(Problem, match=r"0\.8 % or 80 %"):
        measures('units = "in"\n').percent(0.8)


def test_limits_are_said_in_the_units_of_the_sheet() -> None:
    read = measures('units = "in"\n').length_from(0.0127, 0.0254)
    with pytest.raises(Problem, match="1/2 in to 1 in"):
        read(2)


NO_FIGURES = [True, None, [1], {"a": 1}, "", "abc", nan, inf, -1, 1e300, 16**9000, "9" * 200]


@pytest.mark.parametrize("value", NO_FIGURES, ids=lambda value: type(value).__name__)
def test_what_is_no_figure_gets_a_sentence(value: object) -> None:
    m = measures('units = "in"\ncurrency = "EUR"\n')
    for read in (m.length, m.thickness, m.mass, m.area, m.rate, m.percent, m.mc, number(0, 9), whole(0, 9), day):
        with pytest.raises(Problem) as caught:
            read(value)
        assert 10 < len(str(caught.value)) < 300


def test_days_choices_and_yes_or_no() -> None:
    assert day("2024-02-29").isoformat() == "2024-02-29"
    assert choice({"butt": 1})(" Butt ") == 1
    assert (yes_no("no"), yes_no(True)) == (False, True)
    assert list_of(whole(0, 9))(7) == (7,)
    with pytest.raises(Problem, match="did you mean butt"):
        choice({"butt": 1})("but")
