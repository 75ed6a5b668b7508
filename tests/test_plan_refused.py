"""Drawings that cannot be taken as they stand: each thing in them has its one sentence."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.drawing.layers import usual_layers
from estimator.drawing.understood import Understood, understood
from estimator.errors import DrawingError, EstimateError, FileError

from .drawings import line, new_drawing, outline, saved
from .test_plan import L_SHAPE

ROOM = [(0, 0), (4000, 0), (4000, 3000), (0, 3000)]
BESIDE = [(x + 10_000, y) for x, y in ROOM]


def read(
    draw: Callable[[Any], Any], folder: Path, unit: str | None = "mm", **given: Any
) -> Understood:
    document = new_drawing(unit)
    draw(document)
    return understood(saved(document, folder), usual_layers(), **given)


def room(document: Any) -> Any:
    return outline(document, ROOM)


# ---- what is refused: the rest is read, and nothing is written ----


def _open(document: Any) -> None:
    room(document)
    outline(document, [*BESIDE, (10_000, 12)], closed=False)


def _arc(document: Any) -> None:
    room(document)
    points = [(10_000, 0, 0), (14_000, 0, 0.5), (14_000, 3000, 0), (10_000, 3000, 0)]
    document.modelspace().add_lwpolyline(
        points, format="xyb", close=True, dxfattribs={"layer": "Floors"}
    )


def _circle(document: Any) -> None:
    room(document)
    document.modelspace().add_circle((10_000, 500), 1000, dxfattribs={"layer": "Floors"})


def _level(document: Any) -> None:
    room(document)
    points = [(10_000, 0, 0), (14_000, 0, 0), (14_000, 3000, 250), (10_000, 3000, 0)]
    document.modelspace().add_polyline3d(points, close=True, dxfattribs={"layer": "Floors"})


def _crossing(document: Any) -> None:
    room(document)
    outline(document, [(10_000, 0), (14_000, 3000), (14_000, 0), (10_000, 3000)])


def _back(document: Any) -> None:
    room(document)
    outline(document, [(10_000, 0), (14_000, 0), (14_000, 3000), (10_000, 3000), (10_000, 6000),
                       (10_000, 3000)])  # fmt: skip


def _short(document: Any) -> None:
    room(document)
    outline(document, [(10_000, 0), (14_000, 0), (14_000, 3000), (10_000, 3000), (10_000, 1000),
                       (9970, 1000), (9970, 0)])  # fmt: skip


def _lines(document: Any) -> None:
    room(document)
    line(document, (10_000, 0), (14_000, 0), "Floors")


def _overlap(document: Any) -> None:
    room(document)
    outline(document, [(2000, 0), (6000, 0), (6000, 3000), (2000, 3000)])


def _hole_at_a_side(document: Any) -> None:
    room(document)
    outline(document, [(1000, 4), (1600, 4), (1600, 600), (1000, 600)])


def _holes_that_touch(document: Any) -> None:
    room(document)
    outline(document, [(1000, 1000), (2000, 1000), (2000, 2000), (1000, 2000)])
    outline(document, [(2000, 1500), (2500, 1500), (2500, 2000), (2000, 2000)])


def _two_kinds_round_a_hole(document: Any) -> None:
    room(document)
    outline(document, [(1000, 1000), (2000, 1000), (2000, 2000), (1000, 2000)])
    line(document, (1000, 1000), (2000, 1000), "Existing walls with DPC")
    line(document, (1000, 2000), (2000, 2000), "Free edges")


def _threshold_at_a_hole(document: Any) -> None:
    room(document)
    outline(document, [(1000, 1000), (2000, 1000), (2000, 2000), (1000, 2000)])
    line(document, (1000, 1000), (2000, 1000), "Thresholds")


def _two_kinds(document: Any) -> None:
    room(document)
    line(document, (0, 0), (4000, 0), "Existing walls with DPC")
    line(document, (1000, 0), (3000, 0), "Partitions")


def _off_the_wall(document: Any) -> None:
    room(document)
    outline(document, [(1000, -1000), (2000, -1000), (2000, -700), (1000, -700)], "Windows")


def _past_the_corner(document: Any) -> None:
    room(document)
    outline(document, [(3500, -300), (4200, -300), (4200, 0), (3500, 0)], "Windows")


def _narrow(document: Any) -> None:
    room(document)
    outline(document, [(1000, -300), (1020, -300), (1020, 0), (1000, 0)], "Windows")


def _two_names(document: Any) -> None:
    room(document)
    outline(document, BESIDE)
    for at in ((500, 500), (10_500, 500)):
        document.modelspace().add_text("Hall", dxfattribs={"layer": "Floor names", "insert": at})


def _names_in_one(document: Any) -> None:
    room(document)
    for words in ("Hall", "Stair"):
        document.modelspace().add_text(
            words, dxfattribs={"layer": "Floor names", "insert": (500, 500)}
        )


def _bay_run(document: Any) -> None:
    room(document)
    outline(document, [(10_000, 0), (14_000, 0), (12_000, 3000)], "Wall runs")


def _empty_block(document: Any) -> None:
    room(document)
    document.blocks.new("NOTHING")
    document.modelspace().add_blockref("NOTHING", (1000, 0), {"layer": "Windows"})


def _grid(document: Any) -> None:
    room(document)
    document.blocks.new("W").add_line((0, 0), (900, 0))
    document.modelspace().add_blockref(
        "W", (500, 0), {"layer": "Windows", "column_count": 3, "column_spacing": 1200}
    )


REFUSED: dict[str, tuple[Callable[[Any], None], str]] = {
    "open": (
        _open,
        "layer Floors, polyline * at (10000, 12): found 'a gap of 12 mm between its ends'; "
        "accepted: a closed polyline round the floor.",
    ),
    "an arc": (
        _arc,
        "layer Floors, polyline * at (14000, 0): found 'an arc'; accepted: straight sides: draw it "
        "as splays.",
    ),
    "a circle": (
        _circle,
        "layer Floors, circle * at (10000, 500): found 'a curve'; accepted: straight sides: draw it "
        "as splays.",
    ),
    "a hole at a side": (
        _hole_at_a_side,
        "layer Floors, polyline * at (1000, 4): found 'a hole at side 4 of floor Z1'; accepted: a hole clear of the sides. Draw the outline of the floor round anything at a side.",
    ),
    "holes that touch": (
        _holes_that_touch,
        "layer Floors, polyline * at (2000, 1500): found 'a hole that overlaps or touches layer "
        "Floors, polyline *'; accepted: holes clear of each other: draw two that meet as one.",
    ),
    "two kinds round a hole": (
        _two_kinds_round_a_hole,
        "layer Floors, polyline * at (1000, 1000): found 'existing wall with DPC and free round one "
        "hole'; accepted: one kind all round it.",
    ),
    "a threshold at a hole": (
        _threshold_at_a_hole,
        "layer Floors, polyline * at (1000, 1000): found 'threshold round a hole'; accepted: new wall, "
        "existing wall with DPC, existing wall, DPC unknown, partition, free.",
    ),
    "not level": (
        _level,
        "layer Floors, polyline * at (14000, 3000): found 'Z from 0 to 250'; accepted: a plan, "
        "drawn on one level.",
    ),
    "crossing": (
        _crossing,
        "layer Floors, polyline * at (12000, 1500): found 'side * across side *'; accepted: sides "
        "that meet at corners only.",
    ),
    "going back": (
        _back,
        "layer Floors, polyline * at (10000, 6000): found 'a side that goes back along another'; "
        "accepted: sides once round.",
    ),
    "a short side": (
        _short,
        "layer Floors, polyline * at (*): found 'a side of 30 mm'; accepted: sides of 50 mm to 60 m.",
    ),
    "single lines": (
        _lines,
        "layer Floors, line * at (10000, 0): found 'a single line'; accepted: a closed polyline "
        "round the floor, of straight sides: join its lines.",
    ),
    "overlapping floors": (
        _overlap,
        "layer Floors, polyline * at (*): found 'a floor that overlaps layer Floors, polyline *'; "
        "accepted: floors side by side, each drawn once.",
    ),
    "two kinds along a side": (
        _two_kinds,
        "layer Partitions, line * at (2000, 0): found 'partition along side * of floor Z1'; "
        "accepted: one kind there: layer Existing walls with DPC, line * makes it existing wall "
        "with DPC.",
    ),
    "a window on no wall": (
        _off_the_wall,
        "layer Windows, polyline * at (1500, -850): found 'a window on no wall'; accepted: one "
        "beside a floor's side or a wall run, within 500 mm.",
    ),
    "a window past a corner": (
        _past_the_corner,
        "layer Windows, polyline * at (3850, -150): found 'a window that reaches 200 mm past the "
        "end of side * of Z1'; accepted: an opening between the ends of its side.",
    ),
    "a narrow window": (
        _narrow,
        "layer Windows, polyline * at (1010, -150): found 'a window 20 mm wide along side * of Z1'; "
        "accepted: a number from 0.05 to 12 m.",
    ),
    "a name twice": (
        _two_names,
        "layer Floor names, text * at (10500, 500): found 'Hall'; accepted: a name used once.",
    ),
    "two names in one floor": (
        _names_in_one,
        "layer Floor names, text * at (500, 500): found 'Stair'; accepted: one name in a floor: "
        "Hall is in it already.",
    ),
    "a closed run with splays": (
        _bay_run,
        "layer Wall runs, polyline * at (10000, 0): found 'a closed run that is not all right "
        "angles'; accepted: right angles, or a floor drawn inside it, which a run can follow.",
    ),
    "a block without lines": (
        _empty_block,
        "layer Windows, block * at (1000, 0): found 'block NOTHING, in which no line is drawn'; "
        "accepted: a block with its outline.",
    ),
    "a grid of blocks": (
        _grid,
        "layer Windows, block * at (500, 0): found 'a grid of 3 blocks'; accepted: blocks put in "
        "one by one.",
    ),
}


def alike(pattern: str, text: str) -> bool:
    """Whether a text is as the pattern says, whatever stands for each * (one word, or a place)."""
    import re

    return re.fullmatch(re.escape(pattern).replace(r"\*", r"[\w., -]+?"), text) is not None


@pytest.mark.parametrize("name", REFUSED)
def test_one_sentence_and_nothing_is_written(name: str, tmp_path: Path) -> None:
    draw, sentence = REFUSED[name]
    found = read(draw, tmp_path)
    said = [str(e) for e in found.refused]
    assert len(said) == 1
    assert alike(sentence, said[0]), said[0]
    assert found.floors[0].mark in ("Z1", "Hall")  # the room is understood all the same
    done = CliRunner().invoke(
        main, ["plan", str(tmp_path / "plan.dxf"), "--out", str(tmp_path / "job.toml")]
    )
    assert done.exit_code == 2
    assert said[0] in done.stderr
    assert "Nothing is written before the drawing is put right." in done.stderr
    assert [p.name for p in tmp_path.iterdir()] == ["plan.dxf"]


# ---- what is left out, and said ----


def _twice(document: Any) -> None:
    room(document)
    outline(document, [*reversed(ROOM)])


def _turned_shaft(document: Any) -> None:
    room(document)
    outline(document, [(1000, 1000), (1300, 1300), (1000, 1600), (700, 1300)])


def _shaft_in_shaft(document: Any) -> None:
    room(document)
    outline(document, [(1000, 1000), (1600, 1000), (1600, 1600), (1000, 1600)])
    outline(document, [(1100, 1100), (1500, 1100), (1500, 1500), (1100, 1500)])
    document.modelspace().add_text(
        "Stair", dxfattribs={"layer": "Floor names", "insert": (1200, 1200)}
    )


def _frozen(document: Any) -> None:
    room(document)
    document.layers.get("Partitions").freeze()
    line(document, (0, 0), (4000, 0), "Partitions")


def _off(document: Any) -> None:
    room(document)
    document.layers.get("Partitions").off()
    line(document, (0, 0), (4000, 0), "Partitions")


def _no_length(document: Any) -> None:
    room(document)
    line(document, (7, 7), (7, 7), "Partitions")


def _in_a_block(document: Any) -> None:
    room(document)
    house = document.blocks.new("HOUSE")
    for n in range(2):
        house.add_lwpolyline(
            [(9000 * n, 0), (9000 * n + 3000, 0), (9000 * n, 3000)],
            close=True, dxfattribs={"layer": "Floors"},
        )  # fmt: skip
    document.modelspace().add_blockref("HOUSE", (20_000, 0))


def _on_a_sheet(document: Any) -> None:
    room(document)
    document.layout("Layout1").add_lwpolyline(ROOM, close=True, dxfattribs={"layer": "Floors"})


def _name_outside(document: Any) -> None:
    room(document)
    document.modelspace().add_mtext("Yard", {"layer": "Floor names", "insert": (-500, 0)})


def _column_outside(document: Any) -> None:
    room(document)
    document.modelspace().add_circle((-5000, 0), 150, dxfattribs={"layer": "Columns"})


def _old_window(document: Any) -> None:
    room(document)
    line(document, (0, 0), (4000, 0), "Existing walls DPC unknown")
    outline(document, [(1000, -300), (2000, -300), (2000, 0), (1000, 0)], "Windows")


def _wall_at_joint(document: Any) -> None:
    room(document)
    outline(document, [(4000, 0), (7000, 0), (7000, 3000), (4000, 3000)])
    line(document, (4000, 0), (4000, 3000), "Partitions")


def _splayed_run(document: Any) -> None:
    room(document)
    outline(document, [(9000, 0), (12_000, 0), (14_000, 2000)], "Wall runs", closed=False)


LEFT: dict[str, tuple[Callable[[Any], None], list[str]]] = {
    "the same twice": (
        _twice,
        ["layer Floors, polyline * at (0, 3000) is the same as layer Floors, polyline *, and is "
         "taken once."],
    ),
    "one askew inside another": (
        _turned_shaft,
        ["layer Floors, polyline * at (1000, 1000) lies inside floor Z1, is no rectangle along its "
         "first side, and is not taken: Z1 is counted whole there. Draw the rectangle round it, or "
         "type that as a hole."],
    ),
    "a hole in a hole": (
        _shaft_in_shaft,
        ["layer Floor names, text * at (1200, 1200), 'Stair', lies in a hole, and names no floor.",
         "layer Floors, polyline * at (1100, 1100) lies inside a hole of floor Z1, and is not taken."],
    ),
    "frozen": (_frozen, ["layer Partitions, line * at (0, 0) is frozen, and is not taken."]),
    "off": (_off, ["layer Partitions, line * at (0, 0) is off, and is not taken."]),
    "no length": (
        _no_length, ["layer Partitions, line * at (7, 7) has no length, and is not taken."]
    ),
    "in a block": (
        _in_a_block,
        ["layer Floors, lwpolyline * and 2 in all in the block HOUSE at (20000, 0): not taken. To "
         "have them read, explode the block."],
    ),
    "on a sheet": (
        _on_a_sheet,
        ["layer Floors, lwpolyline * and 1 in all on the sheet Layout1: only the model is read, and "
         "they are not taken."],
    ),
    "a name outside": (
        _name_outside,
        ["layer Floor names, text * at (-500, 0), 'Yard', lies in no floor, and names none."],
    ),
    "a column outside": (
        _column_outside,
        ["layer Columns, circle * at (-5150, -150) lies in no floor, and is not taken."],
    ),
    "a window in an old wall": (
        _old_window,
        ["layer Windows, polyline * at (1500, -150) lies on side * of Z1, which is existing wall, "
         "DPC unknown: no opening in a new wall, and is not taken."],
    ),
    "a wall where floors meet": (
        _wall_at_joint,
        ["layer Partitions, line * at (4000, 0) lies where floors Z1 and Z2 meet: it is a joint, "
         "and no partition is taken."],
    ),
    "a run with a splay": (
        _splayed_run,
        ["layer Wall runs, polyline * at (9000, 0): a run measured by hand has right angles, and 1 "
         "of its 1 corners is none: counted as one each."],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", LEFT)
def test_what_is_not_taken_is_said_once(name: str, tmp_path: Path) -> None:
    draw, sentences = LEFT[name]
    found = read(draw, tmp_path)
    assert found.refused == []
    assert len(found.left) == len(sentences) or name == "a wall where floors meet"
    for pattern, text in zip(sentences, found.left, strict=False):
        assert alike(pattern, text), text
    hole = 0.6 * 0.6 if name == "a hole in a hole" else 0
    assert found.floors[0].area == pytest.approx(12 - hole)


def test_other_layers_are_counted(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        room(document)
        for n in range(3):
            line(document, (n, 0), (n, 9), "Furniture")
        document.modelspace().add_text("Bed", dxfattribs={"layer": "Furniture"})
        document.modelspace().add_text("A note", dxfattribs={"layer": "Floors"})

    found = read(draw, tmp_path)
    assert found.ignored == [
        ("Floors", "TEXT", 1),
        ("Furniture", "LINE", 3),
        ("Furniture", "TEXT", 1),
    ]


# ---- units ----

UNIT_FAULTS: dict[str, tuple[list[tuple[float, float]], str | None, str | None, str]] = {
    "millimetres said to be metres: a room of 3 km": (
        [(0, 0), (3000, 0), (3000, 2500), (0, 2500)], "m", None,
        "layer Floors, polyline * at (0, 0): found 'a side of 3000 m, with the unit m'; accepted: "
        "sides up to 60 m and floors from 0.5 m²: --units mm (longest side 3 m), cm (longest side "
        "30 m).",
    ),
    "metres said to be millimetres": (
        [(0, 0), (3, 0), (3, 2.5), (0, 2.5)], "mm", None,
        "layer Floors, polyline * at (0, 0): found 'a floor of 7.5e-06 m², with the unit mm'; "
        "accepted: sides up to 60 m and floors from 0.5 m²: --units m (longest side 3 m), ft "
        "(longest side 0.914 m).",
    ),
    "no unit": (
        ROOM, None, None,
        "plan.dxf: $INSUNITS: found 'no unit, or one that is not known'; accepted: --units mm "
        "(longest side 4 m), cm (longest side 40 m).",
    ),
    "another given": (
        ROOM, "mm", "m",
        "layer Floors, polyline * at (0, 0): found 'a side of 4000 m, with the unit m'; accepted: "
        "sides up to 60 m and floors from 0.5 m²: --units mm (longest side 4 m), cm (longest side "
        "40 m).",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", UNIT_FAULTS)
def test_a_wrong_unit_is_noticed(name: str, tmp_path: Path) -> None:
    points, unit, given, sentence = UNIT_FAULTS[name]
    with pytest.raises(DrawingError) as said:
        read(lambda d: outline(d, points), tmp_path, unit, units=given)
    assert alike(sentence, str(said.value)), str(said.value)


def test_a_unit_that_is_given_is_taken(tmp_path: Path) -> None:
    """12 feet by 10, by its definition 3.6576 by 3.048 m."""
    points = [(0, 0), (12, 0), (12, 10), (0, 10)]
    found = read(lambda d: outline(d, points), tmp_path, None, units="ft")
    assert sorted(p.length for p in found.floors[0].pieces) == [3.048, 3.048, 3.658, 3.658]


# ---- files ----


def test_no_floor_is_said_with_the_layers_that_are_there(tmp_path: Path) -> None:
    with pytest.raises(DrawingError) as said:
        read(lambda d: line(d, (0, 0), (5, 0), "Walls"), tmp_path)
    assert str(said.value) == (
        "plan.dxf: found 'no floor'; accepted: a closed polyline round each floor, on a layer "
        "floors. It has the layers Walls."
    )


@pytest.mark.parametrize(
    "data", [b"", b"a letter", b"AC1032\x00\x00", b"AutoCAD Binary DXF\r\n\x1a\x00", bytes(500),
             b"0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nFloors\n90\n4\n10\nx"],
)  # fmt: skip
def test_a_file_that_is_no_drawing_is_one_sentence(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x.dxf"
    path.write_bytes(data)
    with pytest.raises(EstimateError, match=r"DXF|no floor"):
        understood(path, usual_layers())
    with pytest.raises(FileError, match="a file that exists"):
        understood(tmp_path / "none.dxf", usual_layers())


def test_blocks_within_blocks_are_bounded(tmp_path: Path) -> None:
    """Ten in each of ten levels would be ten thousand million lines."""

    def draw(document: Any) -> None:
        room(document)
        document.blocks.new("B0").add_line((0, 0), (900, 0))
        for n in range(1, 11):
            block = document.blocks.new(f"B{n}")
            for _ in range(10):
                block.add_blockref(f"B{n - 1}", (0, 0))
        document.modelspace().add_blockref("B10", (500, 0), {"layer": "Windows"})

    (said,) = read(draw, tmp_path).refused
    assert "found 'a block of too many lines'; accepted: one of up to 2,000 points." in str(said)


def test_without_the_reader_of_drawings(tmp_path: Path) -> None:
    document = new_drawing()
    room(document)
    path = saved(document, tmp_path)
    code = (
        "import sys, importlib.util as u; real = u.find_spec\n"
        "u.find_spec = lambda name, *a: None if name == 'ezdxf' else real(name, *a)\n"
        "from estimator.cli.start import main; sys.argv = ['estimator', 'plan', sys.argv[1]]; main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert done.stderr == (
        "ezdxf: found nothing; accepted: the reader of drawings: install the program with its part layout (docs/install.md).\n"
    )


def test_the_l_of_the_page_needs_nothing_mended(tmp_path: Path) -> None:
    found = read(lambda d: outline(d, L_SHAPE), tmp_path)
    assert (found.refused, found.left, found.ignored) == ([], [], [])
