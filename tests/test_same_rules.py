"""The sheet and the program accept the same: each edit is asked of both, and they must agree.

The sheet refuses by showing no total; the program by a sentence, or by a total it cannot give.
"""

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from estimator.errors import EstimateError
from estimator.files.xlsx.cells import Stored, place
from estimator.files.xlsx.opening import package_of
from estimator.language import NOT_AVAILABLE
from estimator.model.estimate import estimate
from estimator.workbook.reading.inputs import Returned, _read, check_agreed, read_package

from .hosts import drive
from .raw_package import demo

Edit = tuple[str, int, str, Any]  # list, row of it (0: a named cell), column or name, what is typed
FERNBANK = "Fernbank Supplies (invented)"

TAKEN: tuple[Edit, ...] = (
    # Letter case never matters.
    ("", 0, "client_is_householder", "Yes"),
    ("", 0, "basis_choice", "NHBC_2024"),
    ("", 0, "site_nation", "ENGLAND"),
    ("", 0, "supplier_choice", FERNBANK.upper()),
    ("", 0, "profit_rule", "Markup on Cost"),
    ("", 0, "vat_status", "STANDARD"),
    ("", 0, "tray_joints", "Joined"),
    ("zones", 1, "build_up", "Slab on DPM, insulation ABOVE"),
    ("edges", 1, "zone", "z1"),
    ("edges", 1, "joins", "z2"),
    ("edges", 1, "kind", "Joint"),
    ("edges", 1, "side", "a1"),
    ("edges", 2, "kind", "NEW WALL"),
    ("walls", 1, "run", "OPEN"),
    ("walls", 1, "measured_on", "Inside Face"),
    ("openings", 1, "wall", "w1"),
    ("openings", 1, "kind", "Window"),
    ("penetrations", 1, "zone", "z1"),
    ("abutments", 1, "wall", "w4"),
    ("abutments", 2, "kind", "One Slope"),
    ("tie_ins", 1, "wall", "w1"),
    ("book", 1, "supplier", FERNBANK.upper()),
    ("book", 5, "material", "DPC_ROLL"),
    ("book", 5, "made_of", "Polyethylene"),
    ("work_lines", 1, "way", "Hours per unit"),
    ("work_lines", 4, "way", "PERCENTAGE"),
    ("work_lines", 1, "wired_to", "TRAYS OVER OPENINGS"),
    ("work_lines", 1, "kind", "Labour"),
    ("lines", 1, "status", "Excluded"),
    ("lines", 1, "supplier", FERNBANK.lower()),
    ("walls", 1, "party_wall", "No"),
    ("openings", 1, "mark", "o1"),
    ("walls", 1, "mark", "w1"),
    # A text in words may have blanks at its ends, or a line break.
    ("walls", 1, "description", "West \n side "),
    ("openings", 1, "description", " Window "),
    ("book", 1, "description", "Hardcore "),
    ("", 0, "job_title", "Two\nlines"),
    ("", 0, "client_name", "A. Example "),
    # Whole numbers, and figures within their limits.
    ("openings", 1, "number", 3),
    ("book", 1, "minimum_packs", 6),
    ("edges", 6, "typed_turn_up", 310.5),
    ("edges", 2, "kind", "partition"),
    ("book", 9, "width", 12000),
    ("materials", 1, "wastage_applies", 0),
)  # fmt: skip

REFUSED: tuple[Edit, ...] = (
    # Whole numbers are whole.
    ("openings", 1, "number", 2.5),
    ("openings", 6, "number", 1.000001),
    ("penetrations", 1, "number", 1.5),
    ("abutments", 1, "number", 1.5),
    ("walls", 1, "external_corners", 1.5),
    ("walls", 1, "junctions", 0.5),
    ("walls", 1, "steps", 0.5),
    ("cut_ins", 1, "courses", 1.5),
    ("old_vents", 1, "number", 1.5),
    ("book", 1, "minimum_packs", 1.5),
    ("book", 11, "pieces", 9.5),
    ("materials", 1, "wastage_applies", 0.5),
    ("allowances", "weeps_min", "override", 1.5),
    ("assumed", "assumed_courses", "figure_typed", 1.5),
    # What is not listed, and what only looks like it.
    ("edges", 1, "zone", "Ｚ1"),
    ("edges", 2, "zone", "Z1 "),
    ("edges", 2, "zone", " Z1"),
    ("openings", 1, "wall", "W１"),
    ("openings", 1, "wall", "W1 "),
    ("openings", 1, "wall", "W1\n"),
    ("openings", 1, "kind", "porthole"),
    ("openings", 1, "kind", "window "),
    ("book", 1, "supplier", FERNBANK + " "),
    ("book", 1, "supplier", "Ｆernbank Supplies (invented)"),
    ("", 0, "supplier_choice", "Nobody"),
    ("", 0, "client_is_householder", "yes "),
    ("", 0, "basis_choice", "nhbc_1999"),
    ("lines", 1, "status", "excluded "),
    ("lines", 1, "status", "maybe"),
    ("walls", 1, "party_wall", "perhaps"),
    # Marks.
    ("openings", 1, "mark", "O2"),
    ("openings", 1, "mark", "o2"),
    ("openings", 1, "mark", "O1 "),
    ("openings", 1, "mark", " O1"),
    ("openings", 1, "mark", "O  1"),
    ("openings", 1, "mark", "O*1"),
    ("openings", 1, "mark", "O?1"),
    ("openings", 1, "mark", "O~1"),
    ("openings", 1, "mark", "O|1"),
    ("openings", 1, "mark", "O<1"),
    ("openings", 1, "mark", "O=1"),
    ("openings", 1, "mark", "O\n1"),
    ("openings", 1, "mark", 7),
    # Texts that are needed and say nothing.
    ("book", 1, "description", "  "),
    ("", 0, "client_name", "  "),
    # A pack states what its material is bought by, and a roll is longer than it is wide.
    ("book", 5, "length", 0.05),
    ("book", 20, "width", 12000),
    ("book", 9, "length", 0.4),
    ("book", 20, "length", 0.4),
    ("book", 3, "length", None),
    ("book", 4, "width", None),
    ("book", 5, "width", None),
    ("book", 1, "weight", None),
    ("book", 11, "pieces", None),
    ("book", 24, "weight", None),
    # Edges, walls, openings, roofs, work.
    ("edges", 1, "typed_turn_up", 300),
    ("edges", 1, "joins", "Z1"),
    ("edges", 1, "joins", None),
    ("edges", 2, "joins", "Z2"),
    ("edges", 2, "dpc_level", None),
    ("edges", 8, "dress", None),
    ("edges", 6, "typed_turn_up", None),
    ("edges", 2, "length", 4),
    ("walls", 1, "run", "closed"),
    ("walls", 1, "inner_leaf", 0),
    ("walls", 1, "step_rise", 150),
    ("walls", 1, "steps", 2),
    ("walls", 1, "ends_at_new", 2),
    ("walls", 1, "met_thickness", 300),
    ("openings", 1, "lintel_tray", "maybe"),
    ("openings", 6, "lintel_tray", "yes"),
    ("abutments", 2, "pitch", None),
    ("work_lines", 1, "rate", None),
    ("work_lines", 3, "rate", 30),
    ("work_lines", 1, "wired_to", None),
    ("work_lines", 3, "wired_to", "Trays over openings"),
    ("work_lines", 4, "figure", 120),
    ("work_lines", 4, "figure", 1),
    # Out of their limits, or of another kind.
    ("zones", 1, "side_a", "wide"),
    ("zones", 1, "side_a", 0),
    ("openings", 1, "width", 1810),
    ("", 0, "vat_percent", 300),
    ("", 0, "minimum_charge", -1),
    ("", 0, "minimum_charge", None),
)  # fmt: skip

EDITS = (*TAKEN, *REFUSED)


@cache
def opened() -> Returned:
    return read_package(package_of(Path("job.xlsx"), demo()[1]))


def cell_of(edit: Edit) -> tuple[str, str]:
    """Sheet and address of the cell that is edited."""
    table, row, column, _ = edit
    found = opened()
    if not table:
        sheet, address = found.layout.cell(column)
        return sheet, address.replace("$", "")
    span = found.layout.stands(table, column)
    at = span.first + row - 1 if isinstance(row, int) else found.where.rows[table][row]
    return span.sheet, f"{span.letters[column]}{at}"


def said(edit: Edit) -> str:
    """What the program says of the workbook with that cell edited; "" where it gives a total."""
    sheet, address = cell_of(edit)
    found, at, value = opened(), place(address), edit[3]
    cells = found.sheets.cells(sheet)
    assert isinstance(cells, dict)
    kept = cells.pop(at, None)
    if value is not None:
        value = float(value) if isinstance(value, int) else value
        cells[at] = Stored(value, None, value if isinstance(value, float) else None)
    rows = {name: dict(places) for name, places in found.where.rows.items()}
    found.where.rows.clear()
    try:
        _read(found)
        check_agreed(found)
        total = estimate(found.job, found.room).cell("quote_total")
        return "no total" if total is NOT_AVAILABLE else ""
    except EstimateError as error:
        return str(error)
    finally:
        found.where.rows.clear()
        found.where.rows.update(rows)
        cells.pop(at, None)
        if kept is not None:
            cells[at] = kept


def named(edit: Edit) -> str:
    return " ".join(str(part) for part in edit[:3] if part) + f" = {edit[3]!r}"


@pytest.mark.host
@pytest.mark.parametrize("taken", [True, False], ids=["taken", "refused"])
def test_the_sheet_and_the_program_accept_the_same(taken: bool, tmp_path: Path) -> None:
    edits = TAKEN if taken else REFUSED
    path = tmp_path / "job.xlsx"
    path.write_bytes(demo()[1])
    steps: list[Any] = [["show", "quote_total"]]
    for edit in edits:
        sheet, address = cell_of(edit)
        stored = opened().sheets.cells(sheet).get(place(address))
        cell = f"{sheet}!{address}"
        steps += [["set", cell, edit[3]], ["show", "quote_total"]]
        steps += [["set", cell, stored.value if stored else None]]
    steps.append(["show", "quote_total"])
    answers = drive(path, steps)
    assert answers[0] == answers[-1], "the cells are as they were"
    assert isinstance(answers[0], float)
    shown = answers[2:-1:3]
    apart = []
    for edit, total in zip(edits, shown, strict=True):
        sentence = said(edit)
        if (isinstance(total, float), sentence == "") != (taken, taken):
            words = f"the sheet shows {total!r}, the program says {sentence or 'nothing'!r}"
            apart.append(f"{named(edit)}: {words}")
        assert taken or total == "#N/A", (edit, total)
        assert "\n" not in sentence
    assert not apart, "\n" + "\n".join(apart)


def test_there_are_edits_enough() -> None:
    assert len(set(EDITS)) == len(EDITS) >= 60
