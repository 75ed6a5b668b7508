"""Two words of the language: the rows of another list that belong to a row, and a column by its place.

Worked by hand: from roll 1 come pieces of 3 and 2 m, from roll 2 one of 4 m and a spare row, from
roll 3 none.
"""

import re
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.language import (
    NOT_AVAILABLE,
    Constant,
    Fixed,
    OwnRows,
    Plan,
    PlanError,
    Table,
    column_at,
    largest_of,
    less,
    rule,
    smallest_of,
    sum_of,
    text,
    total,
    worked,
)
from estimator.language.formulas import Formulas, NamesOnly, with_own_rows
from estimator.language.ledger import Ledger
from estimator.language.units import EACH, METRES, Column, Each, Metres
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job_file import read_job
from estimator.workbook.build import build


@rule
def cut(own_length: Column) -> Metres:
    """Metres that come from it."""
    return total(own_length)


@rule
def longest(own_length: Column) -> Metres:
    """The longest of its pieces."""
    return largest_of(own_length)


@rule
def shortest(own_length: Column) -> Metres:
    """The shortest of its pieces."""
    return smallest_of(own_length, less(0, own_length))


@rule
def long_by(place: Each, piece_length: Column, piece_width: Column) -> Metres:
    """The sum of that column of all pieces."""
    return sum_of(column_at(place, piece_length, piece_width))


LENGTHS = OwnRows("pieces", "length", "roll_no")
PIECES = Table(
    "pieces",
    "piece",
    "Pieces",
    (
        Fixed("roll_no", "Roll no.", EACH),
        Fixed("length", "Length", METRES),
        Fixed("width", "Width", METRES),
    ),
    key="roll_no",
    guarded=False,
)
ROLLS = Table(
    "rolls",
    "roll",
    "Rolls",
    (
        text("mark", "Roll"),
        worked(cut, "Cut", own_length=LENGTHS),
        worked(longest, "Longest", own_length=LENGTHS),
        worked(shortest, "Shortest", own_length=LENGTHS),
        worked(long_by, "Lengths", "lengths", place=Constant(1)),
        worked(long_by, "Widths", "widths", place=Constant(2)),
        worked(long_by, "Not known", "unknown", place=Constant(NOT_AVAILABLE)),
    ),
)
PLAN = Plan([PIECES, ROLLS], [], {})


def ledger(*rolls: int) -> Ledger:
    lengths = (3, 2, 4, 0)
    pieces = [
        {"roll_no": no, "length": of, "width": 0.1} for no, of in zip(rolls, lengths, strict=True)
    ]
    return Ledger(PLAN, {"pieces": pieces, "rolls": [{"mark": m} for m in "ABC"]}, {})


def test_a_row_reads_its_own_rows_only() -> None:
    found = ledger(1, 1, 2, 2)
    assert found.column("rolls", "cut") == [5, 4, 0]
    assert found.column("rolls", "longest") == [3, 4, 0]
    assert found.column("rolls", "shortest")[:2] == [2, 4]


def test_rows_that_stand_apart_are_refused() -> None:
    with pytest.raises(PlanError, match="pieces: rows of one rolls stand apart"):
        ledger(1, 2, 1, 2).column("rolls", "cut")


def test_own_rows_of_two_lists_at_once_are_refused() -> None:
    @rule
    def either_way(own_length: Column, own_mark_no: Column) -> Metres:
        """Of two lists."""
        return total(own_length) + total(own_mark_no)

    other = OwnRows("rolls", "cut", "cut")
    column = worked(either_way, "Both", own_length=LENGTHS, own_mark_no=other)
    with pytest.raises(PlanError, match="either_way: reads own rows of more than one list"):
        PLAN.sources(column, ROLLS)


def test_a_column_is_taken_by_its_place() -> None:
    found = ledger(1, 1, 2, 2)
    assert found.figure("rolls", 1, "lengths") == 9
    assert found.figure("rolls", 1, "widths") == pytest.approx(0.4)
    assert found.figure("rolls", 1, "unknown") is NOT_AVAILABLE


def test_what_the_formulas_say() -> None:
    formulas = Formulas(PLAN, NamesOnly())
    said = {name: formulas.column(ROLLS, ROLLS.column(name)) for name in ("cut", "widths")}
    assert said["cut"] == 'IF(mark="",0,SUMPRODUCT(own pieces.length*1))'
    assert said["widths"].endswith("SUMPRODUCT(CHOOSE(2,pieces.length,pieces.width)*1))")
    assert with_own_rows("SUMPRODUCT($B${f}:$B${l}*1)", 2, 3) == "SUMPRODUCT($B$2:$B$3*1)"


def test_each_line_of_the_workbook_reads_the_needs_that_bear_its_key(tmp_path: Path) -> None:
    """Told by what stands in the sheet: the rows of the formula's area are those of the line."""
    built = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
    built.save(tmp_path / "demo.xlsx")
    book = load_workbook(tmp_path / "demo.xlsx")
    lines, needs = built.layout.spans["lines"], built.layout.spans["needs"]
    kept = {
        row: book[needs.sheet][f"{needs.letters['line']}{row}"].value
        for row in range(needs.first, needs.bottom + 1)
    }
    read = 0
    for row in range(lines.first, lines.last + 1):
        key, formula = (
            book[lines.sheet][f"{lines.letters[name]}{row}"].value for name in ("key", "net")
        )
        area = re.fullmatch(r"=SUMPRODUCT\(.*\$[A-Z]+\$(\d+):\$[A-Z]+\$(\d+)\*1\)", formula)
        assert area is not None, formula
        rows = range(int(area[1]), int(area[2]) + 1)
        assert [n for n, line in kept.items() if line == key] == list(rows), key
        read += len(rows)
    assert read == len([line for line in kept.values() if line])
