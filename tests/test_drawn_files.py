"""Drawings in files of their own: SVG read by lxml, DXF by ezdxf, both of the geometry of the sheet."""

import re
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from lxml import etree
from shapely import LineString, Polygon

from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB
from estimator.pens.dxf import as_dxf
from estimator.pens.subjects import each
from estimator.pens.svg import as_svg
from estimator.pens.views import CUT_IN, CUTTING, ELEVATION, PLAN, ROOF, SECTION, STRIPS

from .conftest import in_turn
from .made import worked_out
from .random_jobs import UNFINISHED
from .test_drawn import SIDES, strokes


def test_the_svg_has_each_line_and_word() -> None:
    found = worked_out("walked")
    tree = etree.fromstring(as_svg(PLAN, found))
    assert tree.findtext("{*}title") == PLAN.title
    assert tree.findtext("{*}desc") == PLAN.told
    drawn = {
        path.findtext("{*}title"): [
            [float(n) for n in re.findall(r"-?[0-9.]+", part)]
            for part in path.get("d").split("M")[1:]
        ]
        for path in tree.iter("{*}path")
    }
    for lines in SIDES:
        wanted = [[c for x, y in s for c in (x, 100 - y)] for s in lines.strokes(found)]
        assert [pytest.approx(w, abs=1e-4) for w in wanted] == drawn.get(lines.name, [])
    written = {text.text for text in tree.iter("{*}text")}
    assert {"Plan of floor Z1", "7.000 m", "6.600 m", "O7", "new wall"} <= written
    assert not any(text.isspace() for text in written if text)


def test_the_dxf_is_in_millimetres_as_built(tmp_path: Path) -> None:
    """The sides of the walked floor Z1, from its own list: 2.0 m of one new wall are 2,000 in it."""
    found = worked_out("walked")
    path = tmp_path / "plan.dxf"
    path.write_bytes(as_dxf(PLAN, found))
    document = ezdxf.readfile(path)
    assert document.units == 4
    lines = [
        (e.dxf.layer, LineString([(p[0], p[1]) for p in e.get_points()]))
        for e in document.modelspace().query("LWPOLYLINE")
    ]
    new = sorted(round(line.length) for layer, line in lines if layer == "new wall")
    # 0.6 × √2 = 0.8485 three times, as typed in the job; the fourth is worked out.
    assert new == [849, 849, 849, 1400, 1400, 1800, 2000, 2000]
    boxes = [Polygon(line.coords) for layer, line in lines if layer == "openings"]
    assert len(boxes) == 5
    assert {t.dxf.text for t in document.modelspace().query("TEXT")} >= {"7.000 m", "1.400"}
    assert document.audit().errors == []


def test_the_section_as_dxf_has_its_layers_as_deep_as_they_are(tmp_path: Path) -> None:
    """65 + 120 + 150 to the DPM, 50 blinding, 165 hardcore: 550 in all."""
    path = tmp_path / "section.dxf"
    path.write_bytes(as_dxf(SECTION, worked_out("demo")))
    feet = sorted(
        {
            round(y, 3)
            for e in ezdxf.readfile(path).modelspace().query('LWPOLYLINE[layer=="layers"]')
            for _, y, *_ in e.get_points()
        },
        reverse=True,
    )
    assert [feet[0] - y for y in feet] == pytest.approx([0, 65, 185, 335, 385, 550], abs=1e-2)


def drawn(*words: str) -> tuple[int, str]:
    found = CliRunner().invoke(main, ["draw", *words])
    return found.exit_code, found.output


WALLS = ("W1", "W2", "W3", "W4", "W5")  # of the demo, which have openings


def test_the_command_draws_each_floor_and_wall(tmp_path: Path) -> None:
    out = tmp_path / "out"
    code, said = drawn(str(DEMO_JOB), "--out", str(out))
    assert code == 0, said
    names = {
        f"{floor} - {view}.{kind}"
        for floor in ("Z1", "Z2")
        for view in ("plan", "section", "sheet")
        for kind in ("svg", "dxf")
    } | {f"{wall} - elevation.{kind}" for wall in WALLS for kind in ("svg", "dxf")}
    names |= {f"{mark} - roof.{kind}" for mark in ("R1", "R2") for kind in ("svg", "dxf")}
    names |= {f"C1 - cut in.{kind}" for kind in ("svg", "dxf")}
    names |= {f"{code} - cutting.{kind}" for code in ("F-26", "F-03") for kind in ("svg", "dxf")}
    assert {path.name for path in out.iterdir()} == names
    assert b"Plan of floor Z2" in (out / "Z2 - plan.svg").read_bytes()
    code, said = drawn(str(DEMO_JOB), "--out", str(out))
    assert code != 0
    assert "a new name, or --replace" in said
    assert drawn(str(DEMO_JOB), "--out", str(out), "--replace")[0] == 0


def test_one_floor_of_one_kind(tmp_path: Path) -> None:
    assert drawn(str(DEMO_JOB), "--out", str(tmp_path), "--floor", "z2", "--kind", "svg")[0] == 0
    assert {path.name for path in tmp_path.iterdir()} == {
        *("Z2 - plan.svg", "Z2 - section.svg", "Z2 - sheet.svg"),
    }
    code, said = drawn(str(DEMO_JOB), "--out", str(tmp_path), "--floor", "Z9")
    assert code != 0
    assert "--floor: found 'Z9'; accepted: one of Z1, Z2." in said


def test_one_wall(tmp_path: Path) -> None:
    assert drawn(str(DEMO_JOB), "--out", str(tmp_path), "--wall", "w2", "--kind", "svg")[0] == 0
    assert {path.name for path in tmp_path.iterdir()} == {"W2 - elevation.svg"}
    code, said = drawn(str(DEMO_JOB), "--out", str(tmp_path), "--wall", "W9")
    assert code != 0
    assert "--wall: found 'W9'; accepted: one of W1, W2, W3, W4, W5." in said


def test_one_tray_cut_in(tmp_path: Path) -> None:
    assert drawn(str(DEMO_JOB), "--out", str(tmp_path), "--cut-in", "c1", "--kind", "svg")[0] == 0
    assert {path.name for path in tmp_path.iterdir()} == {"C1 - cut in.svg"}
    code, said = drawn(str(DEMO_JOB), "--out", str(tmp_path), "--cut-in", "C9")
    assert code != 0
    assert "--cut-in: found 'C9'; accepted: one of C1." in said


def test_every_stroke_of_the_plan_is_in_the_frame() -> None:
    for name in ("walked", "demo", "form"):
        found = worked_out(name)
        for view in (PLAN, SECTION):
            for line in strokes(found, view.lines):
                assert 0 <= min(line.bounds) <= max(line.bounds) <= 100, (name, view.name)
            for words in view.words:
                for _, point, text in words.each(found):
                    assert not text.strip() or all(0 <= c <= 100 for c in point), text


@pytest.mark.parametrize("seed", in_turn(sorted(UNFINISHED), 4))
def test_an_unfinished_job_is_drawn_as_far_as_it_is_known(seed: int) -> None:
    """Whatever is missing in it, nothing is drawn of what is not known, and no command ends in an error."""
    views = (PLAN, SECTION, STRIPS, ELEVATION, ROOF, CUT_IN, CUTTING)
    ledger = worked_out(f"job{seed}")
    drawn = [as_svg(v, found) for _, found, seen in each(ledger, views) for v in seen]
    assert not any(b"#N/A" in svg for svg in drawn)
    for svg in drawn:
        etree.fromstring(svg)


WITHOUT = (
    "import sys, importlib.util as u; real = u.find_spec\n"
    "u.find_spec = lambda name, *a: None if name == 'ezdxf' else real(name, *a)\n"
    "sys.modules['ezdxf'] = sys.modules['shapely'] = None\n"  # so that importing either fails
    "from estimator.cli.start import main; sys.argv = ['estimator', *sys.argv[1:]]; main()"
)


@pytest.mark.parametrize(
    ("more", "code", "said"),
    [
        ((), 0, "No DXF was written: for drawings in DXF install the program with its part layout"),
        (("--kind", "svg"), 0, ""),
        (("--kind", "dxf"), 2, "ezdxf: found nothing; accepted: the writer of drawings: install"),
    ],
)
def test_pictures_need_no_writer_of_dxf(
    more: tuple[str, ...], code: int, said: str, tmp_path: Path
) -> None:
    folder = tmp_path / "drawn"
    words = ["draw", str(DEMO_JOB), "--out", str(folder), "--floor", "Z1", *more]
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT, *words], capture_output=True, text=True, check=False
    )
    assert done.returncode == code, done.stderr
    assert done.stderr.startswith(said)
    assert bool(done.stderr) is bool(said)
    written = {p.suffix for p in folder.iterdir()} if folder.exists() else set()
    assert written == ({".svg"} if code == 0 else set())
