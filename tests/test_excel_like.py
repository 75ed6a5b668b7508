"""Files laid out as Excel writes them are read and refreshed. Made by hand; not run in Excel."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from estimator.files.xlsx.cells import read_sheets
from estimator.files.xlsx.opening import package_of
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.reading.inputs import Returned, read_package
from estimator.workbook.refresh import refreshed, with_typed

from .excel_like import excel_like
from .hosts import by_gnumeric, by_libreoffice, figures
from .raw_package import Parts, demo, packed, parts_of, returned

DAY = date(2026, 3, 2)  # the demo's date, 2 March 2026


@pytest.fixture(scope="module")
def like() -> Parts:
    built, data = demo()
    sheet, address = built.layout.cell("quote_date")
    return excel_like(parts_of(data), (sheet, address.replace("$", ""), DAY))


@pytest.fixture(scope="module")
def came_back(like: Parts) -> Returned:
    return returned(like)


def test_it_is_as_such_files_are(like: Parts) -> None:
    texts = like["xl/sharedStrings.xml"].decode()
    assert "<rPh" in texts
    assert "<r>" in texts
    sheets = [data for name, data in like.items() if name.startswith("xl/worksheets/sheet")]
    assert not any(b"inlineStr" in data for data in sheets)
    assert sum(data.count(b't="shared"') for data in sheets) > 500
    assert all(b'mc:Ignorable="x14ac"' in data for data in sheets)


def test_the_job_in_it_is_the_same(came_back: Returned) -> None:
    _, data = demo()
    assert came_back.job == returned(parts_of(data)).job
    assert came_back.job.particulars["quote_date"] == "2 March 2026"
    assert came_back.notes == []


def test_every_formula_and_figure_is_as_worked_out(came_back: Returned) -> None:
    found = differences(came_back, laid_ledger(came_back))
    # The date was typed as a date, so the text that repeats it has another result.
    assert {d.where.split(" (")[1] for d in found} <= {"quote_date again)"}


def test_it_is_refreshed(like: Parts, came_back: Returned, tmp_path: Path) -> None:
    """An input changed: cells of shared formulas get new results, everything else stands."""
    row = came_back.layout.typed("openings").first
    changed = with_typed(came_back, {("openings", row, "width"): 2.4})
    data, _ = refreshed(changed)
    again = read_package(package_of(Path("job.xlsx"), data))
    assert again.job.rows["openings"][0]["width"] == 2.4
    assert differences(again, laid_ledger(again)) == []
    parts = parts_of(data)
    assert set(parts) == set(like), "the order of calculation stays: no formula came or went"
    kept = [n for n in like if not n.startswith("xl/worksheets/sheet")]
    assert {n: parts[n] for n in kept} == {n: like[n] for n in kept}


@pytest.mark.host
def test_other_programs_read_it_as_we_do(like: Parts, tmp_path: Path) -> None:
    """The imitation is a sound file: two programs and openpyxl find the same formulas and figures."""
    path = tmp_path / "like.xlsx"
    path.write_bytes(packed(like))
    ours = read_sheets(package_of(path, path.read_bytes()))
    (lo,) = by_libreoffice([path], tmp_path).values()
    (gn,) = by_gnumeric([path], tmp_path).values()
    read = load_workbook(path)
    for sheet in ("e_walls", "Walls", "Quote", "Prices"):
        theirs: dict[str, Any] = {"LibreOffice": figures(lo)[sheet], "Gnumeric": figures(gn)[sheet]}
        for (row, column), stored in ours.cells(sheet).items():
            cell = read[sheet].cell(row, column)
            if stored.formula is not None:
                assert cell.value == f"={stored.formula}"
            for program, shown in theirs.items():
                found = shown.get(cell.coordinate, "")
                if isinstance(stored.value, float) and isinstance(found, float):
                    assert found == pytest.approx(stored.value, abs=0.011), (program, cell)
