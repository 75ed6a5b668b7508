"""Drawings made from random outlines read back to the same floors; a house drawn by hand."""

import json
import math
import random
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from shapely import Polygon, box

from estimator.cli.main import main
from estimator.drawing.layer_names import UNITS, USUAL_LAYERS
from estimator.drawing.layers import MEANINGS, read_layers, usual_layers
from estimator.drawing.rows import taken
from estimator.drawing.squaring import closing, gap, squared, ways
from estimator.drawing.understood import Understood, understood
from estimator.errors import FileError
from estimator.model.estimate import estimate
from estimator.takeoff.openings import OPENINGS
from estimator.takeoff.walks import CLOSES_WITHIN

from .drawings import line, moved, new_drawing, outline, saved
from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, walked_zone

# The L of docs/workbook.md, 6 × 3 and 2 × 4, against a house; millimetres, seen from above.
L_SHAPE = [(0, 0), (6000, 0), (6000, -7000), (4000, -7000), (4000, -3000), (0, -3000)]
SIDES = [(6, 90), (7, 90), (2, 90), (4, -90), (4, 90), (3, 90)]


def read(document: Any, folder: Path, **given: Any) -> Understood:
    return understood(saved(document, folder), given.pop("layers", usual_layers()), **given)


def sides(found: Understood, n: int = 0) -> list[tuple[float, float]]:
    return [(p.length, p.turn) for p in found.floors[n].pieces]


def kinds(found: Understood, n: int = 0) -> list[tuple[float, str]]:
    return [(p.length, p.kind) for p in found.floors[n].pieces]


def _fit(draw: Any, rng: random.Random, count: int) -> list[Corners]:
    """Outlines whose sides a job can hold, and whose corners are some."""
    found: list[Corners] = []
    while len(found) < count:
        corners = draw(rng)
        if all(x > 0.055 and abs(t) > 0.2 for x, t in sides_of(corners)):
            found.append(corners)
    return found


def _apart(outlines: Sequence[Corners], rng: random.Random) -> list[Corners]:
    """Each in a field of its own, turned anyhow, in metres."""
    found = []
    for n, corners in enumerate(outlines):
        degrees = rng.uniform(0, 360)
        found.append(moved(corners, (1000 + 40 * n, -500), degrees))
    return found


# ---- random plans ----


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("draw", [right_angled, splayed], ids=["right-angled", "splayed"])
def test_a_random_plan_reads_back(draw: Any, seed: int, tmp_path: Path) -> None:
    """Whatever the unit, the winding, the first corner and the way the sheet is turned."""
    rng = random.Random(seed)
    unit = rng.choice(list(UNITS))
    outlines = _fit(draw, rng, 20)
    document = new_drawing(unit)
    for corners in _apart(outlines, rng):
        drawn = [(x / UNITS[unit][0], y / UNITS[unit][0]) for x, y in corners]
        if rng.random() < 0.3:  # a corner twice, one on a straight side, and closed by hand
            middle = ((drawn[0][0] + drawn[1][0]) / 2, (drawn[0][1] + drawn[1][1]) / 2)
            drawn = [drawn[0], middle, *drawn[1:], drawn[-1], drawn[0]]
            outline(document, drawn, closed=False)
        else:
            outline(document, drawn)
    found = read(document, tmp_path)
    assert (found.unit, found.refused, found.left) == (unit, [], [])
    for corners, floor in zip(outlines, found.floors, strict=True):
        shape = Polygon(corners)
        lengths = [
            math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        ]
        typed = [p.length for p in floor.pieces]
        assert all(x == round(x, 3) for x in typed)
        turns = [p.turn for p in floor.pieces]
        assert math.fsum(turns) == pytest.approx(360, abs=1e-9)
        # Round to the left, as it is drawn, the walk goes the other way from the same corner.
        expected = [*reversed(lengths)] if shape.exterior.is_ccw else lengths
        if draw is right_angled:
            assert set(turns) <= {90.0, -90.0}
            assert typed == [round(x, 3) for x in expected]
            assert floor.area == pytest.approx(shape.area, rel=1e-9)
        else:
            assert typed == pytest.approx(expected, abs=0.002)
            assert floor.area == pytest.approx(shape.area, rel=2e-3)
    # What is written is what the job works out, and each walk closes in the sheet's own figures.
    rows = taken(found).rows
    job = bare_job(
        zones=[walked_zone(z["mark"]) for z in rows["zones"]],
        edges=[
            {**e, "kind": "threshold", "typed_turn_up": 150, "joins": None} for e in rows["edges"]
        ],
    )
    ledger = estimate(job)
    for n, floor in enumerate(found.floors, 1):
        assert ledger.figure("zones", n, "walk_fault") == 0
        assert ledger.figure("zones", n, "net_area") == pytest.approx(floor.area, rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_outlines_inside_random_floors_are_holes(seed: int, tmp_path: Path) -> None:
    """Their size along A and B, and where they begin from the first corner, whichever way the floor is
    drawn round and turned; the job's area is what is left."""
    rng = random.Random(f"holes {seed}")
    document = new_drawing("m")
    expected = []
    for corners, place in zip(
        (fitted := _fit(right_angled, rng, 12)), _apart(fitted, random.Random(seed)), strict=True
    ):
        shape = Polygon(corners)
        hole = _a_hole(shape, rng)
        # _apart() turns the floor; the hole with it.
        axes = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners)]
        n = next(n for n, (x, y) in enumerate(axes) if abs(x) > 0 and y == 0)
        one, two = place[n], place[n + 1]
        size = math.dist(one, two) * math.copysign(1, axes[n][0])
        cos, sin = (two[0] - one[0]) / size, (two[1] - one[1]) / size
        turned = [
            (one[0] + (x - corners[n][0]) * cos - (y - corners[n][1]) * sin,
             one[1] + (x - corners[n][0]) * sin + (y - corners[n][1]) * cos)
            for x, y in hole.exterior.coords[:-1]
        ]  # fmt: skip
        outline(document, place)
        outline(document, turned if rng.random() < 0.5 else turned[::-1])
        # The walk goes round to the right from the first corner: A is its first side, B to the right.
        walk = [corners[0], *corners[:0:-1]] if shape.exterior.is_ccw else corners
        length = math.dist(walk[0], walk[1])
        a = [(walk[1][k] - walk[0][k]) / length for k in (0, 1)]
        b = a[1], -a[0]
        at = [[(p[0] - walk[0][0]) * w[0] + (p[1] - walk[0][1]) * w[1]
               for p in hole.exterior.coords] for w in (a, b)]  # fmt: skip
        sizes = [max(x) - min(x) for x in at]
        expected.append((shape.area - hole.area, *sizes, *(min(x) for x in at)))
    found = read(document, tmp_path)
    assert (found.refused, found.left) == ([], [])
    rows = taken(found).rows
    job = bare_job(
        zones=[walked_zone(z["mark"]) for z in rows["zones"]],
        edges=[{**e, "kind": "free", "joins": None} for e in rows["edges"]],
    )
    ledger = estimate(job)
    names = ("hole_along_a", "hole_along_b", "hole_from_a", "hole_from_b")
    for n, (area, *figures) in enumerate(expected, 1):
        assert ledger.figure("zones", n, "walk_fault") == 0
        assert ledger.figure("zones", n, "net_area") == pytest.approx(area, abs=1e-6)
        edge_of = next(e for e in rows["edges"] if e["mark"] == f"Z{n}-H1")
        assert [edge_of[x] for x in names] == pytest.approx(figures, abs=1e-6)


def _a_hole(shape: Polygon, rng: random.Random) -> Polygon:
    """A rectangle in whole millimetres, well inside."""
    left, low, right, high = (round(x * 1000) for x in shape.bounds)
    while True:
        x, y = rng.randint(left, right), rng.randint(low, high)
        found = box(*(n / 1000 for n in (x, y, x + rng.randint(60, 900), y + rng.randint(60, 900))))
        if shape.contains(found.buffer(0.01)):
            return found


def test_what_a_hole_meets_is_drawn_along_it(tmp_path: Path) -> None:
    """4 × 3 m, drawn from its top left corner; a breast of 1.2 × 0.4 m, 1 m along and 1.5 m down."""
    document = new_drawing()
    outline(document, [(0, 3000), (4000, 3000), (4000, 0), (0, 0)])
    outline(document, [(1000, 1100), (2200, 1100), (2200, 1500), (1000, 1500)])
    line(document, (1000, 1100), (2200, 1100), "Existing walls DPC unknown")
    path = saved(document, tmp_path)
    done = CliRunner().invoke(main, ["plan", str(path)])
    assert "Floor Z1: 4 sides, 11.52 m²\n" in done.output
    assert (
        "  hole H1: 1.200 × 0.400 m, 1.000 m along A and 1.500 m along B from the first corner, "
        "meets existing wall, DPC unknown\n"
    ) in done.output
    data = json.loads(CliRunner().invoke(main, ["plan", str(path), "--json"]).output)
    assert data["floors"][0]["holes"] == [
        {"along_a_m": 1.2, "along_b_m": 0.4, "from_a_m": 1, "from_b_m": 1.5,
         "kind": "existing wall, DPC unknown"}
    ]  # fmt: skip
    assert data["left"] == []


@pytest.mark.parametrize("seed", range(6))
def test_two_random_floors_meet_in_one_joint(seed: int, tmp_path: Path) -> None:
    """A rectangle of each height on either side of a line: their joint is what both share."""
    rng = random.Random(seed)
    low = rng.randrange(0, 4000, 50)
    high = low + rng.randrange(300, 1500, 50)
    base, top = rng.randint(-3000, -500), rng.randint(6000, 9000)
    one = [(0, base), (3000, base), (3000, top), (0, top)]
    two = [(3000, low), (5000, low), (5000, high), (3000, high)]
    document = new_drawing()
    degrees = rng.uniform(0, 360)
    for points in (one, list(reversed(two)) if seed % 2 else two):
        outline(document, moved(points, (50_000, 20_000), degrees))
    found = read(document, tmp_path)
    assert (found.refused, found.left) == ([], [])
    for n, other in ((0, "Z2"), (1, "Z1")):
        joints = [p.length for p in found.floors[n].pieces if p.kind == "joint"]
        assert joints == [(high - low) / 1000]
        assert {p.joins for p in found.floors[n].pieces} == {None, other}
    rows = taken(found).rows
    job = bare_job(
        zones=[walked_zone("Z1"), walked_zone("Z2")],
        edges=[{**e, "kind": "joint" if e["joins"] else "free"} for e in rows["edges"]],
    )
    ledger = estimate(job)
    assert set(ledger.column("edges", "edge_agrees")[: len(rows["edges"])]) == {1}


def test_a_joint_has_one_length_where_one_floor_is_drawn_skew(tmp_path: Path) -> None:
    """3 mm in 4 m is squared: the side across from the joint gives way, not the joint."""
    document = new_drawing()
    outline(document, [(0, 0), (4000, 0), (4000, 3000), (0, 3003)])
    outline(document, [(4000, 0), (7000, 0), (7000, 3000), (4000, 3000)])
    found = read(document, tmp_path)
    assert found.refused == []
    assert [sorted(p.length for p in f.pieces) for f in found.floors] == [
        [3, 3, 4, 4],
        [3, 3, 3, 3],
    ]


# ---- turns and lengths ----


def test_a_skew_outline_is_squared_and_closes() -> None:
    """Sides up to 8 mm out of square in 12 m: by hand, all turns are right angles, sides differ."""
    turns = squared([90.03, 89.97, 90.04, 89.96])
    assert turns == [90, 90, 90, 90]
    leads = ways(turns)
    found = closing([12.004, 3.0, 11.996, 3.003], leads, [False] * 4)
    assert gap(found, leads) == (0, 0)
    assert found[0] == found[2] == 12.0  # half of 8 mm each
    assert found[1] == found[3]
    assert found[1] in (3.001, 3.002)


def test_a_fixed_side_is_kept() -> None:
    """The other floor of its joint has it too."""
    found = closing([4.0, 3.0, 4.004, 3.0], ways([90, 90, 90, 90]), [True, False, False, False])
    assert found == [4.0, 3.0, 4.0, 3.0]


def test_a_splay_keeps_its_turns_and_the_rest_is_exact() -> None:
    turns = squared([90.02, 45.01, 45.01, 90.0, 89.98])
    assert turns == [90, 45, 45, 90, 90]
    turns = squared([90, 30.12345, 60.0, 89.96, 89.91655])
    assert turns[:1] + turns[3:4] == [90, 90]
    assert math.fsum(turns) == 360


@pytest.mark.parametrize("seed", range(20))
def test_rounded_walks_close(seed: int) -> None:
    rng = random.Random(seed)
    corners = (right_angled if seed % 2 else splayed)(rng)
    lengths = [
        math.dist(a, b) * 1.00037 for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    at = [math.atan2(b[1] - a[1], b[0] - a[0])
          for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]  # fmt: skip
    turns = [
        (math.degrees(b - a) + 180) % 360 - 180 for a, b in zip(at, [*at[1:], at[0]], strict=True)
    ]
    turns = [abs(sum(turns)) / sum(turns) * t for t in turns]  # once round to the right
    leads = ways(squared(turns))
    found = closing(lengths, leads, [False] * len(lengths))
    assert math.hypot(*gap(found, leads)) < (1e-9 if seed % 2 else CLOSES_WITHIN / 2)
    assert found == pytest.approx(lengths, abs=0.0016)


# ---- a house by hand ----


def house(degrees: float = 0) -> Any:
    """The L against a house, a room beside it, a door and a window, a column, a wall by itself."""
    document = new_drawing()
    at = (12_000, 34_000)

    def put(points: Any, layer: str, closed: bool = True) -> None:
        outline(document, moved(points, at, degrees), layer, closed)

    put(L_SHAPE, "Floors")
    put([(6000, 0), (6000, -2500), (9000, -2500), (9000, 0)], "Floors")
    put([(-2000, 4), (9000, 4)], "Existing walls with DPC", closed=False)  # 4 mm off
    put([(4500, -7000), (5500, -7000), (5500, -7300), (4500, -7300)], "Level doors")
    put([(9000, -500), (9300, -500), (9300, -1700), (9000, -1700)], "Windows")
    put([(2000, -1000), (2300, -1000), (2300, -1300), (2000, -1300)], "Columns")
    put([(20_000, 0), (25_000, 0), (25_000, -3000)], "Wall runs", closed=False)
    put([(21_000, 0), (21_900, 0), (21_900, -300), (21_000, -300)], "Windows")
    (where,) = moved([(1000, -1000)], at, degrees)
    document.modelspace().add_text("Kitchen", dxfattribs={"layer": "Floor names", "insert": where})
    return document


@pytest.mark.parametrize("degrees", [0, 90, 217.3])
def test_a_house_is_understood(degrees: float, tmp_path: Path) -> None:
    """Worked by hand: what each side meets, the joint, the threshold, runs, openings' places."""
    found = read(house(degrees), tmp_path)
    assert (found.refused, found.left) == ([], [])
    assert [f.mark for f in found.floors] == ["Kitchen", "Z1"]
    assert [f.area for f in found.floors] == pytest.approx([26, 7.5], abs=1e-9)
    assert kinds(found) == [
        (6, "existing wall with DPC"), (2.5, "joint"), (4.5, "new wall"), (0.5, "new wall"),
        (1, "threshold"), (0.5, "new wall"), (4, "new wall"), (4, "new wall"), (3, "new wall"),
    ]  # fmt: skip
    assert [t for _, t in sides(found)] == [90, 0, 90, 0, 0, 90, -90, 90, 90]
    # Drawn to the left, and so walked from its first corner the other way.
    assert kinds(found, 1) == [
        (3, "existing wall with DPC"), (2.5, "new wall"), (3, "new wall"), (2.5, "joint"),
    ]  # fmt: skip
    runs = {
        r.mark: (r.floor, r.run, r.length, r.external, r.internal, r.old_ends) for r in found.runs
    }
    assert runs == {
        "W-Kitchen": ("Kitchen", "open", 17.5, 3, 1, 1),
        "W-Z1": ("Z1", "open", 5.5, 1, 0, 1),
        "W-1": (None, "open", 8, 1, 0, 0),
    }
    openings = [(o.mark, o.kind, o.width, o.run, o.side, o.along) for o in found.openings]
    assert openings == [
        ("O-1", "level-access door", 1.0, "W-Kitchen", 5, 0.0),
        ("O-2", "window", 1.2, "W-Z1", 2, 0.5),
        ("O-3", "window", 0.9, "W-1", 1, 1.0),
    ]
    assert [(f.zone, f.kind, f.number) for f in found.features] == [("Kitchen", "column", 1)]


def test_a_place_is_written_where_the_list_has_columns_for_it(tmp_path: Path) -> None:
    window = next(r for r in taken(read(house(), tmp_path)).rows["openings"] if r["width"] == 1.2)
    if OPENINGS.has("first_jamb"):
        assert (window["first_jamb"], window["side"]) == (0.5, "Z1-2")
    else:
        assert set(window) == {i.name for i in OPENINGS.inputs}


def test_blocks_are_openings(tmp_path: Path) -> None:
    """One as wide as the office says, about the middle of what is drawn; one as it is drawn."""
    document = new_drawing()
    outline(document, L_SHAPE)
    leaf = document.blocks.new("LEAF")
    leaf.add_line((0, 0), (900, 0))
    leaf.add_arc((0, 0), 900, 0, 90)
    frame = document.blocks.new("FRAME")
    frame.add_lwpolyline([(0, 0), (1500, 0), (1500, 300), (0, 300)], close=True)
    model = document.modelspace()
    model.add_blockref("LEAF", (6000, -4000), {"layer": "0", "rotation": -90})
    frame_at = model.add_blockref("FRAME", (1000, -3300), {"layer": "Windows"})
    frame_at.add_attrib("MARK", "F7", (0, 0))
    model.add_blockref("LEAF", (0, 0), {"layer": "Furniture"})
    layers = tmp_path / "layers.toml"
    layers.write_text(
        '[layers]\nFLOORS = "floor"\nWindows = "window"\n'
        '[blocks.leaf]\nkind = "raised door"\nwidth_m = 0.8\nheight_m = 2.1\n'
    )
    model.delete_entity(model[-1])  # the third is a door too, wherever it stands
    found = read(document, tmp_path, layers=read_layers(layers))
    assert found.refused == []
    listed = [(o.mark, o.kind, o.width, o.side, o.along, dict(o.figures)) for o in found.openings]
    # From 4.0 to 4.9 m down the side, its middle at 4.45; the frame's first jamb 1.5 m along side 5,
    # which is walked from (4000, -3000) to (0, -3000).
    assert listed == [
        ("O-1", "raised door", 0.8, 2, 4.05, {"width": 0.8, "height": 2.1}),
        ("F7", "window", 1.5, 5, 1.5, {}),
    ]


def test_wall_runs_of_their_own(tmp_path: Path) -> None:
    document = new_drawing("m")
    outline(document, [(0, 0), (4, 0), (4, 3), (0, 3)])
    line(document, (10, 0), (10, 9), "Existing walls DPC unknown")
    outline(document, [(10, 5), (15, 5), (15, 8), (10, 8)], "Wall runs", closed=False)  # a U
    outline(document, [(20, 0), (26, 0), (26, 4), (23, 4), (23, 2), (20, 2)], "Wall runs")
    outline(document, [(0, 0), (4, 0)], "Wall runs", closed=False)
    found = read(document, tmp_path)
    assert found.refused == []
    typed = [(r.mark, r.run, r.length, r.external, r.internal, r.old_ends)
             for r in found.runs if r.floor is None]  # fmt: skip
    assert typed == [("W-1", "open", 13, 2, 0, 2), ("W-2", "closed", 20, 5, 1, 0)]
    assert [x.rpartition(" at ")[2] for x in found.left] == [
        "(0, 0) lies along floor Z1, whose sides say what run follows it.",
        "(10, 0) lies along no side of a floor, and is not taken.",
    ]


def test_two_runs_of_new_wall_are_measured(tmp_path: Path) -> None:
    """Old walls on two opposite sides: no run can follow the floor."""
    document = new_drawing("m")
    outline(document, [(0, 0), (0, 3), (4, 3), (4, 0)])
    line(document, (0, 0), (0, 3), "Existing walls DPC unknown")
    line(document, (4, 0), (4, 3), "Existing walls DPC unknown")
    found = read(document, tmp_path)
    assert [(r.mark, r.floor, r.length, r.measured_on, r.old_ends) for r in found.runs] == [
        ("W-Z1-1", None, 4, "inside face", 2), ("W-Z1-2", None, 4, "inside face", 2)
    ]  # fmt: skip


# ---- layers ----


def test_usual_layers_mean_what_can_be_meant() -> None:
    assert set(USUAL_LAYERS.values()) <= set(MEANINGS)
    assert usual_layers().meaning("FLOORS") == "floor"


LAYER_FAULTS = {
    '[layer]\nx = "floor"': "layers.toml: found 'layer'; accepted: one of layers, blocks, usual, "
    "measured_on, near_mm.",
    "[layers]": "layers.toml: layers: found nothing; accepted: a layer that means \"floor\".",
    '[layers]\na = "floor"\nb = "roof"': "layers.toml: layers.\"b\": found 'roof'; accepted: one of "
    + ", ".join(MEANINGS) + ".",
    '[layers]\na = "floor"\nA = "window"': "layers.toml: layers.\"A\": found 'A'; accepted: each "
    "layer once, in capitals or not.",
    'near_mm = 0\n[layers]\na = "floor"': "layers.toml: near_mm: found 0; accepted: a number from 1 "
    "to 500 mm.",
    'usual = "joint"\n[layers]\na = "floor"': "layers.toml: usual: found 'joint'; accepted: one of "
    "new wall, existing wall with DPC, existing wall, DPC unknown, threshold, partition, free.",
    '[layers]\na = "floor"\n[blocks.D]\nwidth_m = 1': "layers.toml: blocks.\"D\".kind: found "
    "nothing; accepted: one of window, raised door, level-access door, air brick, meter box, flue "
    "or duct.",
    '[layers]\na = "floor"\n[blocks.D]\nkind = "window"\nwidth_m = 900': "layers.toml: "
    "blocks.\"D\".width_m: found 900; accepted: a number from 0.05 to 12 m.",
    '[layers]\na = "floor"\n[blocks.D]\nkind = "window"\ncolour = 1': "layers.toml: blocks.\"D\": "
    "found 'colour'; accepted: one of kind, width_m, height_m, lintel_m.",
}  # fmt: skip


@pytest.mark.parametrize("text", LAYER_FAULTS)
def test_a_file_of_layers_is_refused_in_one_sentence(text: str, tmp_path: Path) -> None:
    path = tmp_path / "layers.toml"
    path.write_text(text)
    with pytest.raises(FileError) as said:
        read_layers(path)
    assert str(said.value) == LAYER_FAULTS[text]


def test_lines_further_off_and_another_usual_kind(tmp_path: Path) -> None:
    """An office that draws walls on their centres, 150 mm outside; all else is free."""
    document = new_drawing()
    outline(document, L_SHAPE)
    line(document, (-150, 150), (6150, 150), "W")
    layers = tmp_path / "layers.toml"
    layers.write_text(
        'usual = "free"\nnear_mm = 160\n[layers]\nFloors = "floor"\nW = "existing wall with DPC"\n'
    )
    found = read(document, tmp_path, layers=read_layers(layers))
    assert [k for _, k in kinds(found)] == ["existing wall with DPC", *["free"] * 5]


# ---- what is printed ----


def test_what_was_understood_is_printed(tmp_path: Path) -> None:
    path = saved(house(), tmp_path)
    done = CliRunner().invoke(main, ["plan", str(path)])
    assert done.exit_code == 0, done.output
    for words in (
        "plan.dxf, drawn in mm",
        "Floor Kitchen: 9 sides, 26.00 m²",
        "     5    1.000        0  threshold\n",
        "W-Kitchen: open, 17.500 m, follows floor Kitchen; corners: 3 external, 1 internal; ends at "
        "existing walls: 1\n",
        "window, 1.200 m wide, in W-Z1: 0.500 m along side 2 of floor Z1\n",
        "  zones, build_up (Build-up): Kitchen, Z1\n",
    ):
        assert words in done.output
    assert [p.name for p in tmp_path.iterdir()] == ["plan.dxf"]
    done = CliRunner().invoke(main, ["plan", str(path), "--json"])
    data = json.loads(done.output)
    assert data["floors"][1]["sides"][3] == {
        "number": 4, "length_m": 2.5, "turn_degrees": 90, "kind": "joint", "joins": "Kitchen"
    }  # fmt: skip
    assert {w["field"] for w in data["wanting"] if w["list"] == "walls"} == {
        "outer_leaf_mm", "cavity_mm", "inner_leaf_mm"
    }  # fmt: skip


def test_edges_of_the_rows_are_those_of_a_walk(tmp_path: Path) -> None:
    """A right angle to the right is left blank, as one types it."""
    document = new_drawing()
    outline(document, L_SHAPE)
    rows = taken(read(document, tmp_path)).rows["edges"]
    expected = [
        edge(f"Z1-{n}", "Z1", None, length, number=n, turn=None if turn == 90 else turn,
             kind="new wall")
        for n, (length, turn) in enumerate(SIDES, 1)
    ]  # fmt: skip
    assert rows == expected


def test_the_page_names_the_usual_layers_and_its_own_can_be_read(tmp_path: Path) -> None:
    page = (Path(__file__).parent.parent / "docs" / "plan.md").read_text("utf-8")
    table = page.partition("| --- | --- |\n")[2].partition("\n\n")[0]
    named = {name.strip() for r in table.splitlines() for name in r.split("|")[1].split(",")}
    assert named == set(USUAL_LAYERS)
    path = tmp_path / "layers.toml"
    path.write_text(page.partition("```toml\n")[2].partition("```")[0])
    office = read_layers(path)
    assert (office.near, office.measured_on) == (0.02, "outside face")
    assert office.meaning("a-area") == "floor"
    door = office.block("door 926")
    assert door is not None
    assert door.figures == {"width": 1.01, "height": 2.1, "lintel": 1.2}
