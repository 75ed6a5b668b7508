"""The form of earlier layouts filled in a rectangle: such files are read as they were meant.

`layouts/form_5.xlsx` is the demo's lean-to of 4.5 × 3.0 m, written by commit b044b5a, with a tray C9
of one's own. Every total below is what that commit gave for the same file.
"""

import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.workbook.reading.inputs import Returned, check_agreed, read_back

from .raw_package import parts_of, returned, shared_text, with_cell

LAYOUTS = Path(__file__).parent / "layouts"
FORM = LAYOUTS / "form_5.xlsx"
RUN_AS_IT_WAS = {"run": "open", "measured_on": "inside face", "external_corners": 2,
                 "internal_corners": 0, "ends_at_existing": 2}  # fmt: skip


def said(row: Any) -> dict[str, Any]:
    return {k: v for k, v in row.items() if v is not None}


def typed_over(*cells: tuple[str, int, str, Any]) -> Returned:
    """The workbook with cells of its lists typed over: list, row from 1, column, value."""
    parts, fronts = parts_of(FORM.read_bytes()), read_back(FORM).layout.fronts
    for table, row, column, value in cells:
        span = fronts[table]
        address = f"{span.letters[column]}{span.first + row - 1}"
        kind = "inlineStr" if isinstance(value, str) else None
        inside = shared_text(value) if kind else f"<v>{value}</v>"
        parts = with_cell(parts, span.sheet, address, inside, kind)
    return returned(parts)


def test_a_form_that_nobody_typed_over_is_walked() -> None:
    """What its cells only showed is not typed. C9 is a row of one's own as before."""
    found = read_back(FORM)
    assert [said(r) for r in found.job.rows["zones"]] == [{}]
    assert [said(r) for r in found.job.rows["edges"]] == [{}] * 7
    assert [said(r) for r in found.job.rows["walls"]] == [{"cavity_below": 225}]
    assert [r.get("mark") for r in found.job.rows["cut_ins"]] == [None, None, "C9"]
    assert found.taken == []
    check_agreed(found)
    ledger = found.figures()
    assert [ledger.figure("zones", 1, n) for n in ("walked", "net_area")] == [1, 13.5]
    assert ledger.figure("walls", 1, "outer_length") == pytest.approx(11.705)
    assert ledger.cell("quote_total") == 2089.58


def test_it_is_laid_out_anew(tmp_path: Path) -> None:
    path = Path(shutil.copy(FORM, tmp_path / "job.xlsx"))
    done = CliRunner().invoke(main, ["workbook", str(path), "--afresh", "--leave"])
    assert done.exit_code == 0, done.output
    new = read_back(path)
    assert not new.is_earlier
    assert new.job == read_back(FORM).job
    assert new.figures().cell("quote_total") == 2089.58


# Typed over: the cells; area of the floor, outer leaf of the run, and total as they were.
# 4.5 × 3.5 = 15.75 m². Walls 352.5, the outer leaf 301.25 outside the inside face: with two corners
# 1.205 more than the run, which is 4.5 + 2 × 3 = 10.5 unless it is typed over too.
FLANKS = (("zones", 1, "side_b", 3.5), ("edges", 4, "length", 3.5), ("edges", 5, "length", 3.5))
OVER: dict[str, tuple[tuple[tuple[str, int, str, Any], ...], float, float, float]] = {
    "floor and run": ((*FLANKS, ("walls", 1, "length", 11.5)), 15.75, 12.705, 2210.40),
    "the floor, its run left": (FLANKS, 15.75, 11.705, 2210.40),
    "the door in a flank": (
        (("edges", 3, "side", "B1"), ("edges", 2, "length", 4.5), ("edges", 4, "length", 0.6)),
        13.5, 11.705, 2089.58,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", OVER)
def test_a_rectangle_typed_over_in_part_stays_one(name: str) -> None:
    cells, area, outer, total = OVER[name]
    found = typed_over(*cells)
    check_agreed(found)
    ledger = found.figures()
    assert [ledger.figure("zones", 1, n) for n in ("walked", "net_area")] == [0, area]
    assert ledger.figure("walls", 1, "outer_length") == pytest.approx(outer)
    assert ledger.cell("quote_total") == total
    depth = 3.5 if area == 15.75 else 3.0
    assert said(found.job.rows["zones"][0]) == {"side_a": 4.5, "side_b": depth}
    run = {**RUN_AS_IT_WAS, "length": outer - 1.205}
    assert said(found.job.rows["walls"][0]) == pytest.approx({**run, "cavity_below": 225})
    [note] = found.taken
    assert note == (
        "job.xlsx is of layout version 5, whose form filled in a rectangle, typed over in part: "
        "the rest of it is typed now too, in X1 and XW."
    )


def test_a_run_typed_over_in_part_stays_as_it_was() -> None:
    """An end at the neighbour's wall is not counted: so one tie-in too many, as it was then."""
    found = typed_over(("walls", 1, "ends_at_existing", 1))
    ledger = found.figures()
    assert said(found.job.rows["walls"][0]) == {
        **RUN_AS_IT_WAS, "ends_at_existing": 1, "length": 10.5, "cavity_below": 225,
    }  # fmt: skip
    assert [ledger.figure("zones", 1, n) for n in ("walked", "net_area")] == [1, 13.5]
    assert ledger.cell("walls_disagree") == 0
    assert ledger.cell("ties_disagree") == 1


# ---- job files ----


def lean_to(tmp_path: Path, layout: int, rows: str) -> Path:
    """The demo's lean-to of that layout with rows of the form typed over."""
    kept = LAYOUTS / "jobs" / str(layout)
    shutil.copy(kept / "garden_room_prices.csv", tmp_path)
    path = tmp_path / "job.toml"
    path.write_text((kept / "lean_to.toml").read_text("utf-8") + rows, "utf-8")
    return path


DEEPER = """
[[zones]]
mark = "X1"
side_b_m = 3.5
[[edges]]
mark = "X1-B1"
length_m = 3.5
[[edges]]
mark = "X1-B2"
length_m = 3.5
"""
OF_ONES_OWN = """
[[edges]]
mark = "E1"
zone = "X1"
side = "B1"
length_m = 1.0
kind = "new wall"
dpc_level_m = -0.15
wall = "XW"
[[edges]]
mark = "X1-B1"
length_m = 2.0
"""


@pytest.mark.parametrize("layout", [3, 4, 5])
@pytest.mark.parametrize(
    ("rows", "area", "total"), [(DEEPER, 15.75, 2029.82), (OF_ONES_OWN, 13.5, 1909.01)]
)
def test_a_job_file_typed_over_in_part_keeps_its_rectangle(
    layout: int, rows: str, area: float, total: float, tmp_path: Path
) -> None:
    found = estimate(read_job(lean_to(tmp_path, layout, rows)))
    assert [found.figure("zones", 1, n) for n in ("walked", "net_area")] == [0, area]
    assert found.figure("walls", 1, "length_in_use") == 10.5
    assert found.cell("quote_total") == total


def test_a_job_file_of_today_is_walked(tmp_path: Path) -> None:
    """The flanks alone say it: 4.5 × 3.5, the run 4.5 + 7."""
    flanks = DEEPER[DEEPER.index("[[edges]]") :]
    found = estimate(read_job(lean_to(tmp_path, 6, flanks)))
    assert [found.figure("zones", 1, n) for n in ("walked", "net_area")] == [1, 15.75]
    assert found.figure("walls", 1, "length_in_use") == 11.5
