"""What the demo's workbook costs in LibreOffice, as multiples of a plain workbook's times.

The plain one has as many formulas on as many rows, each short and of its own row, and each with
its result, as ours has. It is tried on one sheet, and on as many sheets as ours. Files are opened
as LibreOffice does it, their results trusted. Processor time of a LibreOffice that is kept open,
as Linux tells it; what is compared goes by turns, and the least of each is taken.

A third file is ours without its drawings: no charts, and their points no formulas but their values.

Run: python -m tests.benchmark_libreoffice.
"""

import re
import tempfile
from functools import partial
from pathlib import Path
from typing import Any

from lxml import etree
from openpyxl import Workbook
from openpyxl.utils import column_index_from_string

from estimator import drawn
from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.guidance.basis import KEYS
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job_file import read_job
from estimator.workbook.build import Built, build
from estimator.workbook.cached import as_file

from .hosts import drive, end_office
from .raw_package import MAIN, packed, part_of, parts_of

TURNS, TIMES = 4, 10
OPENING, EDIT, DRAWN = 2, 3, 1.3  # asked, at most
LAP_ROW = [key.name for key in KEYS].index("dpm_lap") + 1
# What is typed over: the list, its row, the column, and two figures, one after the other.
EDITS: dict[str, tuple[str, int, str, tuple[float, float]]] = {
    "a wall's length": ("walls", 1, "length", (4.7, 5.3)),
    "a supplier's wastage": ("materials", 1, "wastage_1", (35, 25)),
    "a sheet lap": ("allowances", LAP_ROW, "override", (200, 300)),
}


def plain(formulas: int, rows: int, sheets: int) -> bytes:
    """The file of a workbook with so many formulas, on so many rows of two numbers each."""
    book = Workbook()
    every = [book.worksheets[0], *(book.create_sheet(f"S{n}") for n in range(2, sheets + 1))]
    results: dict[str, dict[tuple[int, int], Any]] = {sheet.title: {} for sheet in every}
    for n in range(formulas):
        line, column = n % rows, n // rows + 3
        sheet, row = every[line % sheets], line // sheets + 1
        first, second = row % 40 + 0.5, row % 7 + 1
        if column == 3:
            sheet.cell(row, 1, first)
            sheet.cell(row, 2, second)
        sheet.cell(row, column, f"=A{row}*{column}+B{row}")
        results[sheet.title][row, column] = first * column + second
    return as_file(book, results)


def without_drawings(data: bytes, built: Built) -> bytes:
    """The file without charts, and with values where points are worked out."""
    parts = parts_of(data)
    for sheet in {part_of(parts, name) for name in built.results}:
        parts[sheet] = re.sub(rb"<drawing [^>]*/>", b"", parts[sheet])
    for table in drawn.TABLES:
        span = built.layout.spans[table.name]
        columns = {column_index_from_string(letter) for letter in span.letters.values()}
        name = part_of(parts, span.sheet)
        tree = etree.fromstring(parts[name])
        for cell in tree.iter(f"{{{MAIN}}}c"):
            letters, row = re.fullmatch(r"([A-Z]+)(\d+)", cell.get("r")).groups()
            formula = cell.find(f"{{{MAIN}}}f")
            inside = span.first <= int(row) <= span.bottom
            if formula is not None and inside and column_index_from_string(letters) in columns:
                cell.remove(formula)
        parts[name] = etree.tostring(tree, encoding="UTF-8", xml_declaration=True)
    return packed(parts)


def opening(file: Path) -> float:
    """Seconds to open that file."""
    _, found = drive(file, [["close"], ["timed", 1, "open", str(file)]], recalculate=False)
    return float(found)


def recalculating(file: Path) -> float:
    """Seconds to work out every formula of that file."""
    _, found = drive(file, [["recalculate"], ["timed", TIMES, "recalculate"]], recalculate=False)
    return float(found)


def editing(file: Path, at: str, figures: tuple[float, float]) -> float:
    """Seconds to type a figure over that cell, and to work out what follows from it."""
    steps = [["timed", 1, "retype", at, figures[n % 2]] for n in range(TIMES)]
    _, *found = drive(file, [["recalculate"], *steps], recalculate=False)
    return float(sum(found) / TIMES)


def place(built: Built, table: str, row: int, column: str) -> str:
    """The cell of a list in which a person types."""
    span = built.layout.stands(table, column)
    return f"{span.sheet}!{span.letters[column]}{span.first + row - 1}"


def in_libreoffice(folder: Path) -> None:
    """Print what opening and editing cost; files go into that folder."""
    built = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
    names = ("demo.xlsx", "undrawn.xlsx", "one.xlsx", "many.xlsx")
    ours, undrawn, one, many = (folder / name for name in names)
    built.save(ours)
    undrawn.write_bytes(without_drawings(ours.read_bytes(), built))
    formulas = sum(len(cells) for cells in built.results.values())
    rows = sum(len({row for row, _ in cells}) for cells in built.results.values())
    sheets = len(built.results)
    one.write_bytes(plain(formulas, rows, 1))
    many.write_bytes(plain(formulas, rows, sheets))
    works = {
        "open plain": partial(opening, one),
        "open many": partial(opening, many),
        "open ours": partial(opening, ours),
        "open undrawn": partial(opening, undrawn),
        "all plain": partial(recalculating, one),
        "all ours": partial(recalculating, ours),
    }
    works |= {
        name: partial(editing, ours, place(built, table, row, column), figures)
        for name, (table, row, column, figures) in EDITS.items()
    }
    works |= {
        f"{name}, undrawn": partial(editing, undrawn, place(built, table, row, column), figures)
        for name, (table, row, column, figures) in EDITS.items()
    }
    try:
        times = [{name: work() for name, work in works.items()} for _ in range(TURNS)]
    finally:
        end_office()
    least = {name: min(found[name] for found in times) for name in works}
    opened, worked = least["open plain"], least["all plain"]
    print(
        f"in LibreOffice, {formulas} formulas on {rows} rows: opening a plain workbook 1.0,"
        f" one of {sheets} sheets {least['open many'] / opened:.1f},"
        f" the demo {least['open ours'] / opened:.1f} (at most {OPENING})"
    )
    edits = ", ".join(f"{name} {least[name] / worked:.1f}" for name in EDITS)
    print(
        f"recalculating the plain one 1.0, all of the demo {least['all ours'] / worked:.1f};"
        f" after one edit: {edits} (at most {EDIT})"
    )
    edits = ", ".join(f"{name} {least[name] / least[f'{name}, undrawn']:.2f}" for name in EDITS)
    print(
        f"with its drawings against without: opening {least['open ours'] / least['open undrawn']:.2f};"
        f" after one edit: {edits} (at most {DRAWN})"
    )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        in_libreoffice(Path(made))
