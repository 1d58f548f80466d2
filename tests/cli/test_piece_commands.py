"""waney measure, grade and flatten: what they say of a board and a live edge, in both views, and how slips are answered."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image
from tests.pieces.photo_scene import Scene, scene
from tests.sawing.quick_plan import quickly_planned

from waney.cli.app import Ended
from waney.sawing.plan_file import write_plan

from .calling import DEMO, asked, run

PIECE, BOARD = str(DEMO / "piece.toml"), str(DEMO / "board.toml")
TOP = 'format = "waney-piece/1"\nunits = "in"\nthickness = "4/4"\n'


def sheet(folder: Path, text: str) -> str:
    path = folder / "own.toml"
    path.write_text(TOP + text, encoding="utf-8")
    return str(path)


def test_a_board_is_counted_as_by_hand() -> None:
    """8-1/2 in by 10 ft 3 in of 4/4 that measures 1-1/16: 8.5 · 10 / 12 = 7.08, so 7; 8.5 · 123 / 144 square feet."""
    found: Any = asked("measure", BOARD)
    for width in found["widths"]:
        assert width["surface_measure_ft2"] == 7 and width["tally_board_feet"] == 7.0
        assert width["board_feet_nominal"] == pytest.approx(8.5 * 123 / 144)
        assert width["board_feet_true"] == pytest.approx(8.5 * 123 / 144 * 17 / 16)


def test_the_rules_for_a_live_edge_part_and_are_named() -> None:
    found: Any = asked("measure", PIECE)
    widths = {width["rule"]: width["width_m"] for width in found["widths"]}
    assert widths["narrowest place"] < widths["narrow face"] < widths["mean of faces"] < widths["widest"]
    said = run("measure", PIECE)[1]
    assert all(rule in said for rule in widths) and "A width means nothing without its rule" in said


def test_one_face_alone_is_said_to_be_one(tmp_path: Path) -> None:
    own = sheet(tmp_path, '[edges]\nevery = "1 ft"\nleft = [5, 6, 5]\nright = [4, 5, 4]\n')
    assert "only one face was measured" in run("measure", own)[1]
    found: Any = asked("measure", own)
    assert found["both_faces"] is False and found["area_m2"] == pytest.approx(
        2 * 12 * 10 * 0.0254**2
    )  # mean width 10 in over 2 ft


def test_a_board_without_a_mark_is_fas_and_its_drawing_has_one_cutting_a_face(tmp_path: Path) -> None:
    own, drawing = sheet(tmp_path, 'length = "10 ft"\nwidth = 8\n'), tmp_path / "drawn.svg"
    code, said, _ = run("grade", own, "--svg", str(drawing))
    assert code == 0 and said.startswith("own: FAS, surface measure 7") and "not a grade stamp" in said
    words = [node.text for node in ElementTree.parse(drawing).iter() if node.tag.endswith("text")]
    assert words.count("80.0") == 2  # 8 in by 10 ft: 80 units of 12 square inches


def test_the_grade_names_what_a_better_one_lacks() -> None:
    found: Any = asked("grade", BOARD)
    assert found["grade"] == "No. 1 Common" and any(lack.startswith("FAS: face") for lack in found["lacks"])
    for face in found["faces"]:
        assert face["units"] >= face["needed_units"] and len(face["cuttings"]) <= face["allowed_cuttings"]
        assert sum(cut["units"] for cut in face["cuttings"]) == pytest.approx(face["units"])


def test_a_live_edge_is_graded_as_what_edging_would_leave_and_that_is_said() -> None:
    """piece.toml is 7 ft long and 16 3/4 in wide where its under face is narrowest (8 3/4 + 8 in, at the marked end)."""
    found: Any = asked("grade", PIECE)
    assert found["edged"] and 6.9 * 0.3048 < found["length_m"] <= 7 * 0.3048
    assert found["width_m"] == pytest.approx(16.75 * 0.0254, rel=0.01)
    assert "as what edging would leave: " in run("grade", PIECE)[1]


def test_flattening_says_what_is_left_and_what_a_cut_saves() -> None:
    found: Any = asked("flatten", PIECE)
    best, equal = found["best"], found["equal"]
    assert best["thickness_m"] >= equal["thickness_m"] > 0
    assert equal["off_under_m"] == pytest.approx(equal["off_upper_m"], abs=1e-9)
    for way in ("cut_across", "cut_along"):
        assert found[way]["thickness_m"] - best["thickness_m"] == pytest.approx(found[way]["saves_m"])
    assert "dust" in run("flatten", PIECE)[1]


GRID = """length = 20
width = 10
[heights]
at = [0, 10, 20]
across = [0, 5, 10]
upper = [["-", 1, 1], [1, 1, 1], [1, 1, 1]]
under = [["-", 0, 0], [0, 0, 0], [0, 0, 0]]
"""


def test_a_corner_that_has_no_wood_is_left_out(tmp_path: Path) -> None:
    found: Any = asked("flatten", sheet(tmp_path, GRID))
    assert found["best"]["thickness_m"] == pytest.approx(0.0254)


def test_both_views_measure_the_same_piece() -> None:
    inches, metric = (run("flatten", PIECE, "--units", view)[1].splitlines()[0] for view in ("in", "mm"))
    assert " in left" in inches and " mm left" in metric


LIVE = "[edges]\nevery = 12\nleft = [5, 6]\nright = [4, 5]\n"
BOARD_8 = 'length = "8 ft"\nwidth = 8\n'


@pytest.mark.parametrize(
    ("command", "body", "code", "said"),
    [
        ("flatten", BOARD_8, Ended.WRITTEN, "[heights]"),
        ("measure", "length = 96\n", Ended.SHEET, "width"),
        ("measure", LIVE.replace("every = 12\n", ""), Ended.SHEET, "at = [...] or every"),
        ("measure", LIVE.replace("[4, 5]", "[4]"), Ended.SHEET, "same places"),
        ("grade", BOARD_8 + '[[mark]]\nkind = "wart"\nat = 1\nacross = 1\nlong = 1\nwide = 1\n', Ended.SHEET, "wart"),
        ("flatten", GRID.replace("[1, 1, 1], ", "", 1), Ended.SHEET, "2 rows"),
        ("flatten", GRID.replace("under", "# under"), Ended.SHEET, "once"),
    ],
)
def test_what_cannot_be_is_answered_with_one_line(tmp_path: Path, command: str, body: str, code: Ended, said: str) -> None:
    ended, output, told = run(command, sheet(tmp_path, body))
    assert ended == code and not output and said in told and told.count("\n") == 1


def test_the_width_through_the_year_wants_a_wood_and_its_moisture(tmp_path: Path) -> None:
    where = ("--state", "CO", "--place", "Denver")
    year: Any = asked("measure", PIECE, *where)["seasons"]
    widest = max(month["likely"] for month in year["months_m"])
    assert year["narrowest_m"]["likely"] < widest <= year["widest_m"]["likely"]
    assert year["moves_m"]["likely"] == pytest.approx(year["widest_m"]["likely"] - year["narrowest_m"]["likely"])
    code, _, told = run("measure", BOARD, *where)
    assert code == Ended.WRITTEN and "mc" in told
    assert run("measure", PIECE, "--state", "CO")[0] == Ended.WRITTEN
    code, _, told = run("measure", PIECE, *where, "--finish", "paint")
    assert code == Ended.SHEET and "shellac, 2 coats" in told


def test_whether_it_is_ready_for_a_room_goes_by_shell_and_core_and_says_how_long(tmp_path: Path) -> None:
    body = sheet(tmp_path, 'species = "black walnut"\nlength = "8 ft"\nwidth = 10\n')
    where = ("--state", "WI", "--place", "Madison")
    wet: Any = asked("measure", body, *where, "--shell", "8", "--core", "12")
    assert wet["ready"]["verdict"] == "not ready: let it lie in this room" and wet["seasons"] is None
    assert 1 < wet["ready"]["weeks"]["likely"] < 26 and "about" in wet["ready"]["sentence"]
    dry: Any = asked("measure", body, *where, "--core", "8")
    assert dry["ready"]["verdict"] == "ready" and dry["ready"]["weeks"] is None
    assert "Ready for a room at Madison, WI." in run("measure", body, *where, "--core", "8")[1]
    for wrong in (where, ("--core", "8")):  # nothing was read, no room
        assert run("measure", body, *wrong)[0] == Ended.WRITTEN


def photo_sheet(folder: Path, picture: str, lies: str = "on the face") -> tuple[str, Scene]:
    """A sheet with what a finger tapped, 3 px off, and the picture it names beside it."""
    seen, rng = scene(11), np.random.default_rng(11)
    if picture:
        Image.fromarray(seen.grey(rng)).save(folder / picture)
    rows = ['format = "waney-piece/1"', 'units = "mm"', "thickness = 52", "[photo]", "long_row = 225", f'lies = "{lies}"']
    rows.append(f"edge = {seen.edge_px.round(1).tolist()}")
    rows.append(f'file = "{picture}"' if picture else "size = [4000, 3000]")
    rows += [f"[[photo.target]]\nmarks = {(marks + rng.normal(0, 3, marks.shape)).round(1).tolist()}" for marks in seen.marks_px]
    path = folder / "slab.toml"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return str(path), seen


def test_a_live_edge_is_traced_on_its_photo(tmp_path: Path) -> None:
    own, seen = photo_sheet(tmp_path, "slab.png")
    found: Any = asked("measure", own)
    assert found["area_m2"] == pytest.approx(seen.area, rel=0.01)
    assert found["area_range_m2"]["low"] <= seen.area <= found["area_range_m2"]["high"]
    assert "traced on a photo" in run("measure", own)[1]


def test_a_photo_of_which_nobody_says_where_the_targets_lay_gives_a_wide_answer_until_its_length_is_taped(tmp_path: Path) -> None:
    own, seen = photo_sheet(tmp_path, "", lies="not looked at")
    text = Path(own).read_text(encoding="utf-8")
    for untold in (text, text.replace('lies = "not looked at"\n', "")):
        Path(own).write_text(untold, encoding="utf-8")
        found: Any = asked("measure", own)
        span = found["area_range_m2"]
        assert span["high"] - span["low"] > 0.1 * seen.area
        assert any(
            line.startswith("Lay the targets on the face and say that they lie there, or tape") for line in found["advice"]
        )
    long = f"taped_length = {1000.0 * float(np.ptp(seen.edge_m[:, 0])):.0f}"
    Path(own).write_text(text.replace("[photo]", f"[photo]\n{long}"), encoding="utf-8")
    taped: Any = asked("measure", own)
    assert taped["area_range_m2"]["high"] - taped["area_range_m2"]["low"] < (span["high"] - span["low"]) / 2
    assert not any("Lay the targets" in line for line in taped["advice"])


def test_a_mark_tapped_on_the_photo_is_kept_with_its_face_and_the_rectangle_keeps_off_it(tmp_path: Path) -> None:
    own, seen = photo_sheet(tmp_path, "")
    free: Any = asked("measure", own)
    middle = seen.edge_m.mean(axis=0)
    box = middle + 0.1 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    ring = seen.shown(np.column_stack([box, np.zeros(4)])).round(1).tolist()
    text = Path(own).read_text(encoding="utf-8")
    for kind, face, words in (("knot", "", "knot, face A"), ("hole", 'face = "B"\n', "hole, face B")):
        Path(own).write_text(f'{text}[[photo.mark]]\nkind = "{kind}"\n{face}edge = {ring}\n', encoding="utf-8")
        found: Any = asked("measure", own)
        assert found["marks"] == [words]
        sizes = [one["rectangle"]["length_m"] * one["rectangle"]["width_m"] for one in (free, found)]
        # a sound knot may stay in it; a hole of 20 cm in the middle cannot, whichever face it is on
        assert sizes[1] == pytest.approx(sizes[0]) if kind == "knot" else sizes[1] < 0.75 * sizes[0]
    Path(own).write_text(f'{text}[[photo.mark]]\nkind = "crack"\nedge = {ring[:2]}\n', encoding="utf-8")
    assert "as wide as what it spoils" in run("measure", own)[2]


def test_taps_alone_do_with_a_wider_answer_and_a_lost_picture_is_said(tmp_path: Path) -> None:
    own, seen = photo_sheet(tmp_path, "")
    found: Any = asked("measure", own)
    assert found["area_range_m2"]["low"] <= seen.area <= found["area_range_m2"]["high"]
    text = Path(own).read_text(encoding="utf-8")
    lost = Path(own).with_name("lost.toml")
    lost.write_text(text.replace("size = [4000, 3000]", 'file = "gone.jpg"'), encoding="utf-8")
    code, _, told = run("measure", str(lost))
    assert code == Ended.SHEET and "gone.jpg is not there" in told
    lost.write_text(text.replace("size = [4000, 3000]\n", ""), encoding="utf-8")
    assert "size" in run("measure", str(lost))[2]


def test_scanned_faces_are_flattened_like_typed_ones(tmp_path: Path) -> None:
    rng = np.random.default_rng(1)
    for name, level in (("top.xyz", 60.0), ("under.xyz", 5.0)):
        points = np.column_stack([rng.uniform(0, 1500, 6000), rng.uniform(0, 500, 6000), np.full(6000, level)])
        np.savetxt(tmp_path / name, points, fmt="%.2f")
    own = sheet(tmp_path, 'length = 60\nwidth = 20\n[scan]\nupper = "top.xyz"\nunder = "under.xyz"\nunit = "mm"\n')
    found: Any = asked("flatten", own)
    assert found["best"]["thickness_m"] == pytest.approx(0.055, abs=1e-6)
    assert found["cup_m"] == pytest.approx(0.0, abs=1e-6)


def test_a_plan_says_the_edges_of_its_pieces_as_a_forecast_that_a_sheet_can_begin_with(tmp_path: Path) -> None:
    plan, sheets = quickly_planned()
    file = tmp_path / "plan.json"
    file.write_text(write_plan(plan, sheets), encoding="utf-8")
    name = plan.pieces[0].piece.name
    found: Any = asked("measure", str(file), "--piece", name)
    assert found["upper"]["area_m2"]["low"] < found["upper"]["area_m2"]["likely"] < found["upper"]["area_m2"]["high"]
    said = run("measure", str(file), "--piece", name)[1]
    assert said.startswith(f"{name} as its plan has it: a forecast, not measured")
    begun = tmp_path / "begun.toml"
    head = f'format = "waney-piece/1"\nunits = "in"\nthickness = "{found["thickness_m"]} m"\n'
    begun.write_text(head + said[said.index("[edges]") :], encoding="utf-8")
    measured: Any = asked("measure", str(begun))
    # a table of edges each foot, read to the sixteenth, loses little of the likely face
    assert measured["area_m2"] == pytest.approx(found["upper"]["area_m2"]["likely"], rel=0.01) and measured["both_faces"]
    code, _, told = run("measure", str(file), "--piece", "no such")
    assert code == Ended.WRITTEN and name in told
