"""A drawing written as a new job file, and into a job that is there: TOML or workbook."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from estimator.cli.main import main
from estimator.errors import FileError
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.model.job_text import row_text, with_rows
from estimator.model.plan import plan
from estimator.workbook.reading.inputs import read_checked

from .drawings import Points, line, new_drawing, outline, saved
from .small_jobs import row

# As the demo's room, 7.2 × 4.6 m, but with a bay of 0.6 m across 2 m of its garden side.
DEMO_PRICES = DEMO_JOB.with_name("garden_room_prices.csv")
BAY = [(0, 0), (7200, 0), (7200, -4600), (4600, -4600), (4600, -5200), (2600, -5200),
       (2600, -4600), (0, -4600)]  # fmt: skip


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["plan", *map(str, words)])


def job_in(folder: Path) -> Path:
    """The demo's job file, beside its prices."""
    (folder / DEMO_PRICES.name).write_bytes(DEMO_PRICES.read_bytes())
    path = folder / "job.toml"
    path.write_bytes(DEMO_JOB.read_bytes())
    return path


def two_floors(folder: Path, first: Points) -> Path:
    """That floor, Z1, and behind it a link of 3 × 2 m, Z2."""
    document = new_drawing()
    outline(document, first)
    outline(document, [(0, 0), (0, 2000), (3000, 2000), (3000, 0)])
    for name, at in (("Z1", (500, -500)), ("Z2", (500, 500))):
        document.modelspace().add_text(name, dxfattribs={"layer": "Floor names", "insert": at})
    return saved(document, folder)


def a_drawing(folder: Path, *names: str) -> Path:
    """A room with a bay, named or not."""
    document = new_drawing()
    outline(document, BAY)
    for name in names:
        document.modelspace().add_text(
            name, dxfattribs={"layer": "Floor names", "insert": (500, -500)}
        )
    return saved(document, folder)


# ---- a new job ----


def test_a_new_job_file_says_what_is_to_be_filled_in(tmp_path: Path) -> None:
    drawing, out = a_drawing(tmp_path), tmp_path / "job.toml"
    done = run(drawing, "--out", out)
    assert done.exit_code == 0, done.output
    # 6 fields of the floor, a level of DPC for each of 8 sides, 3 leaves of its run.
    assert f"{out} written. 17 fields are not on the drawing: fill them in." in done.output
    text = out.read_text("utf-8")
    assert text.count("   # to be filled in: ") == 17 + 8  # and eight of [job]
    entries = tomllib.loads(text)
    assert entries["zones"] == [{"mark": "Z1"}]
    assert [e["length_m"] for e in entries["edges"]] == [7.2, 4.6, 2.6, 0.6, 2, 0.6, 2.6, 4.6]
    assert [e.get("turn_degrees") for e in entries["edges"]] == [
        None, None, -90, None, None, -90, None, None
    ]  # fmt: skip
    assert entries["walls"] == [{"mark": "W-Z1", "floor": "Z1"}]
    again = run(drawing, "--out", out)
    assert again.exit_code == 2
    assert "a file of that name" in again.stderr
    assert run(drawing, "--out", out, "--replace").exit_code == 0


def test_the_new_job_is_one_once_it_is_filled_in(tmp_path: Path) -> None:
    """Each line to be filled in is given a figure; suppliers and prices are the demo's."""
    out = tmp_path / "job.toml"
    assert run(a_drawing(tmp_path), "--out", out).exit_code == 0
    demo = tomllib.loads(DEMO_JOB.read_text("utf-8"))
    (tmp_path / DEMO_PRICES.name).write_bytes(DEMO_PRICES.read_bytes())
    figures = {
        **demo["job"], "build_up": "slab on DPM, insulation above", "finished_level_m": 0.0,
        "formation_level_m": -0.55, "screed_mm": 65, "insulation_mm": 120, "slab_mm": 150,
        "dpc_level_m": -0.15, "outer_leaf_mm": 102.5, "cavity_mm": 100, "inner_leaf_mm": 100,
    }  # fmt: skip
    lines = []
    for text in out.read_text("utf-8").splitlines():
        key = text[2:].partition(" =")[0]
        if "# to be filled in" in text:
            value = figures[key]
            text = f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}"
        lines.append(
            text.replace("# prices = ", "prices = ").replace("prices.csv", DEMO_PRICES.name)
        )
    suppliers = DEMO_JOB.read_text("utf-8").partition("[[suppliers]]")
    out.write_text("\n".join(lines) + "\n" + "".join(suppliers[1:]).partition("\n[lines]")[0])
    job = read_job(out)
    ledger = estimate(job)
    assert ledger.figure("zones", 1, "net_area") == pytest.approx(7.2 * 4.6 + 2 * 0.6)
    assert ledger.figure("walls", 1, "length_in_use") == pytest.approx(2 * (7.2 + 5.2))
    assert ledger.figure("walls", 1, "run_in_use") == "closed"


# ---- into a job file ----


def test_a_floor_of_the_same_mark_is_never_replaced_unasked(tmp_path: Path) -> None:
    path, drawing = job_in(tmp_path), a_drawing(tmp_path, "Z1")
    before = path.read_bytes()
    done = run(drawing, "--into", path)
    assert done.exit_code == 2
    assert done.stderr == (
        f"{path}: found 'Z1'; accepted: refs that are new to it, or --replace.\n"
    )
    assert run(drawing, "--into", path, "--replace", "--show").exit_code == 0
    assert path.read_bytes() == before
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(
        [path.name, drawing.name, DEMO_PRICES.name]
    )


def test_a_floor_is_replaced_and_the_rest_left_as_it_stands(tmp_path: Path) -> None:
    """Levels and build-up stay; all its new walls had one level of DPC, and so has each side now."""
    document = new_drawing()
    outline(document, BAY)
    outline(document, [(0, 0), (0, 2000), (3000, 2000), (3000, 0)])
    line(document, (3600, -5200), (2600, -5200), "Free edges")
    for name, at in (("Z1", (500, -500)), ("Z2", (500, 500))):
        document.modelspace().add_text(name, dxfattribs={"layer": "Floor names", "insert": at})
    drawing = saved(document, tmp_path)
    path = job_in(tmp_path)
    text = path.read_text("utf-8").replace("\n", "\r\n")
    path.write_bytes(text.encode())
    before = read_job(path)
    done = run(drawing, "--into", path, "--replace")
    assert done.exit_code == 0, done.output + done.stderr
    kept = next(p for p in tmp_path.iterdir() if " before " in p.name)
    assert kept.read_bytes() == text.encode()
    after = read_job(path)
    for name in ("walls", "suppliers", "book", "openings", "floor_features", "penetrations"):
        assert after.rows[name] == before.rows[name]
    assert {**after.rows["zones"][0], "side_a": 7.2, "side_b": 4.6} == before.rows["zones"][0]
    sides = [e for e in after.rows["edges"] if e["zone"] == "Z1"]
    assert [e["mark"] for e in sides] == [f"Z1-{n}" for n in range(1, 11)]
    assert {e["dpc_level"] for e in sides if e["kind"] == "new wall"} == {-0.15}
    assert [(e["length"], e["joins"]) for e in sides if e["kind"] == "joint"] == [(3, "Z2")]
    ledger = estimate(after)
    assert ledger.figure("zones", 1, "net_area") == pytest.approx(7.2 * 4.6 + 2 * 0.6)
    assert set(ledger.column("edges", "edge_agrees")[: len(after.rows["edges"])]) == {1}
    left = path.read_bytes().decode().replace("\r\n", "")
    assert "\n" not in left  # its line ends are its own
    assert "# Both zones lie on one slab" in left


def test_a_new_floor_takes_after_another(tmp_path: Path) -> None:
    path, drawing = job_in(tmp_path), a_drawing(tmp_path, "Bay")
    done = run(drawing, "--into", path, "--like", "Z1")
    assert done.exit_code == 0, done.output + done.stderr
    text = path.read_text("utf-8")
    assert "to be filled in" not in text
    after = read_job(path)
    # All its new walls had one level of DPC; no run follows Z1, and all runs have these leaves.
    assert {e["dpc_level"] for e in after.rows["edges"] if e["zone"] == "Bay"} == {-0.15}
    (bay,) = (w for w in after.rows["walls"] if w["mark"] == "W-Bay")
    assert (bay["outer_leaf"], bay["cavity"], bay["inner_leaf"]) == (102.5, 150, 100)
    zones = tomllib.loads(text)["zones"]
    like, new = zones[0], zones[2]
    assert {k: v for k, v in new.items() if k != "mark"} == {
        k: v for k, v in like.items() if k not in ("mark", "description", "side_a_m", "side_b_m")
    }
    refused = run(drawing, "--into", job_in(tmp_path), "--like", "Z9")
    assert refused.exit_code == 2
    assert refused.stderr == "--like: found 'Z9'; accepted: one of Z1, Z2.\n"


def test_a_side_that_stays_keeps_its_own_level(tmp_path: Path) -> None:
    """Drawn again 100 mm deeper: the one side whose DPC lies lower still has it."""
    path, drawing = job_in(tmp_path), a_drawing(tmp_path, "Bay")
    assert run(drawing, "--into", path, "--like", "Z1").exit_code == 0
    head, bay, rest = path.read_text("utf-8").partition('mark = "Bay-3"')
    path.write_text(head + bay + rest.replace("dpc_level_m = -0.15", "dpc_level_m = -0.225", 1))
    document = new_drawing()
    outline(document, [(x, y - 100 * (y < 0)) for x, y in BAY])
    document.modelspace().add_text(
        "Bay", dxfattribs={"layer": "Floor names", "insert": (500, -500)}
    )
    done = run(saved(document, tmp_path), "--into", path, "--replace")
    assert done.exit_code == 0, done.output + done.stderr
    sides = [e for e in read_job(path).rows["edges"] if e["zone"] == "Bay"]
    assert [e["dpc_level"] for e in sides] == [-0.15, -0.15, -0.225, *[-0.15] * 5]
    assert [e["length"] for e in sides] == [7.2, 4.7, 2.6, 0.6, 2, 0.6, 2.6, 4.7]
    # With a side less it is not known which is which: what they do not have alike is to be typed.
    plain = new_drawing()
    outline(plain, [(0, 0), (7200, 0), (7200, -4700), (0, -4700)])
    plain.modelspace().add_text("Bay", dxfattribs={"layer": "Floor names", "insert": (500, -500)})
    done = run(saved(plain, tmp_path), "--into", path, "--replace")
    assert done.output.endswith("4 fields are not on the drawing: fill them in.\n")


def test_what_no_job_knows_is_a_line_to_be_filled_in(tmp_path: Path) -> None:
    path, drawing = job_in(tmp_path), a_drawing(tmp_path, "Bay")
    done = run(drawing, "--into", path)
    assert done.exit_code == 0, done.output + done.stderr
    assert done.output.endswith("17 fields are not on the drawing: fill them in.\n")
    assert path.read_text("utf-8").count("to be filled in") == 17


def test_the_form_keeps_its_marks(tmp_path: Path) -> None:
    path = tmp_path / "lean_to.toml"
    path.write_bytes(DEMO_FORM.read_bytes())
    (tmp_path / DEMO_PRICES.name).write_bytes(DEMO_PRICES.read_bytes())
    refused = run(a_drawing(tmp_path, "X1"), "--into", path)
    assert refused.exit_code == 2
    assert "zones X1 of the drawing: found 'X1'; accepted: another name" in refused.stderr
    done = run(a_drawing(tmp_path, "Bay"), "--into", path)
    assert done.exit_code == 0, done.output + done.stderr
    assert "The form is in use" in done.output


# ---- into a workbook ----


def test_into_a_workbook(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    made = CliRunner().invoke(main, ["workbook", str(job_in(tmp_path)), "--out", str(path)])
    assert made.exit_code == 0, made.output
    was = path.read_bytes()
    wanting = run(a_drawing(tmp_path, "Bay"), "--into", path)
    assert wanting.exit_code == 2
    assert (
        "job.xlsx: build_up of Bay in zones, and 16 more fields: found nothing; accepted: a row "
        "of that ref, typed there in full, or --like, a floor that has what is wanting."
    ) in wanting.stderr
    assert path.read_bytes() == was
    aside = tmp_path / "like.xlsx"
    aside.write_bytes(was)
    like = run(tmp_path / "plan.dxf", "--into", aside, "--like", "Z1")
    assert like.exit_code == 0, like.output + like.stderr
    rows = read_checked(aside).job.rows
    assert [z["mark"] for z in rows["zones"]] == ["Z1", "Z2", "Bay"]
    assert [w["mark"] for w in rows["walls"] if w["floor"] == "Bay"] == ["W-Bay"]
    done = run(two_floors(tmp_path, BAY), "--into", path, "--replace")
    assert done.exit_code == 0, done.output + done.stderr
    returned = read_checked(path)
    sides = {e["mark"] for e in returned.job.rows["edges"]}
    assert sides == {f"Z1-{n}" for n in range(1, 10)} | {f"Z2-{n}" for n in range(1, 5)}
    ledger = returned.figures()
    areas = dict(
        zip(ledger.column("zones", "mark"), ledger.column("zones", "net_area"), strict=True)
    )
    assert (areas["Z1"], areas["Z2"]) == pytest.approx((7.2 * 4.6 + 2 * 0.6, 6))
    # Without its bay the floor has four sides less: their rows are spare again.
    done = run(
        two_floors(tmp_path, [(0, 0), (7200, 0), (7200, -4600), (0, -4600)]),
        "--into",
        path,
        "--replace",
    )
    assert done.exit_code == 0, done.output + done.stderr
    sides = {e["mark"] for e in read_checked(path).job.rows["edges"]}
    assert sides == {f"Z1-{n}" for n in range(1, 6)} | {f"Z2-{n}" for n in range(1, 5)}


# ---- rows in the text of a job file ----

TEXT = """\
# Above all.
prices = "p.csv"  # [[zones]]

# Of A.
[[zones]]
mark = "A"
note = "x"

# Of B.
[[ zones ]]  # still B
mark = "B"

[job]
title = "T"
"""


def changed(text: str, put: dict[str, Any], gone: dict[str, Any] | None = None) -> str:
    return with_rows(text, "job.toml", plan().tables, put, gone or {})


def test_rows_are_written_where_they_stand() -> None:
    zones = plan().tables["zones"]
    new = {m: row_text(zones, row("zones", mark=m, slab=100.0)) for m in ("C", "A")}
    found = changed(TEXT, {"zones": new})
    assert found == TEXT.replace('note = "x"', "slab_mm = 100.0").replace(
        'mark = "B"\n', 'mark = "B"\n\n[[zones]]\nmark = "C"\nslab_mm = 100.0\n'
    )
    assert changed(TEXT, {}, {"zones": ["A"]}) == TEXT.replace(
        '[[zones]]\nmark = "A"\nnote = "x"\n\n', "", 1
    )


@pytest.mark.parametrize(
    "text",
    ['zones = [{mark = "A"}]\n', '[[zones]]\nmark = "A"\nnote = """\n[[zones]]\n"""\n',
     '[[zones]]\nmark = "A"\n[zones.more]\nx = 1\n'],
)  # fmt: skip
def test_a_file_whose_rows_cannot_be_told_apart_is_refused(text: str) -> None:
    """Rows within a line, a text that looks like a heading, a section within a row."""
    zones = plan().tables["zones"]
    with pytest.raises(FileError, match=r"rows written another way|row by row"):
        changed(text, {"zones": {"A": row_text(zones, row("zones", mark="A"))}})
