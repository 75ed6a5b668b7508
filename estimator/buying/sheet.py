"""Which sheet is bought: one product for all zones, known before any need is priced."""

from ..language import *


@rule
def sheet_slot(line_slot: Column, line_key: TextColumn) -> Each:
    """The supplier the sheet is bought from."""
    return sum_of(line_slot, same(line_key, "dpm"))


@rule
def sheet_bought(line_bought: Column, line_key: TextColumn) -> Flag:
    """1 where the sheet is bought: neither excluded nor by others."""
    return sum_of(line_bought, same(line_key, "dpm"))


@rule
def sheet_material(line_material: TextColumn, line_key: TextColumn, line_position: Column) -> Text:
    """The grade of sheet that is bought."""
    return beside(line_material, sum_of(line_position, same(line_key, "dpm")))


@rule
def sheet_least_cost(
    sheet_slot: Each,
    sheet_material: Text,
    book_sheet_cost: Column,
    book_sold_by: Column,
    book_material: TextColumn,
    book_by_area: Column,
) -> Pounds:
    """The least that any of its rolls of that grade would cost this job. NOTHING or more for none."""
    return smallest_of(
        book_sheet_cost,
        same(book_sold_by, sheet_slot),
        same(book_material, sheet_material),
        book_by_area,
    )


@rule
def sheet_least_lap(
    sheet_slot: Each,
    sheet_material: Text,
    sheet_least_cost: Pounds,
    book_sheet_joint: Column,
    book_sheet_cost: Column,
    book_sold_by: Column,
    book_material: TextColumn,
) -> Metres:
    """The fewest metres of lap of those that cost so little."""
    return smallest_of(
        book_sheet_joint,
        same(book_sold_by, sheet_slot),
        same(book_material, sheet_material),
        same(book_sheet_cost, sheet_least_cost),
    )


@rule
def sheet_row(
    sheet_slot: Each,
    sheet_material: Text,
    sheet_least_cost: Pounds,
    sheet_least_lap: Metres,
    book_position: Column,
    book_sheet_joint: Column,
    book_sheet_cost: Column,
    book_sold_by: Column,
    book_material: TextColumn,
) -> Each:
    """The row of the price book of the sheet chosen: the first of the best. 0 when there is none."""
    return where(
        less(sheet_least_cost, NOTHING),
        smallest_of(
            book_position,
            same(book_sold_by, sheet_slot),
            same(book_material, sheet_material),
            same(book_sheet_cost, sheet_least_cost),
            same(book_sheet_joint, sheet_least_lap),
        ),
        0,
    )


@rule
def cross_joints(sheet_row: Each, book_sheet_changes: Column, book_width: Column) -> Metres:
    """Joints across strips, each as long as the roll is wide: one at every change of roll."""
    return where(
        less(0, sheet_row),
        beside(book_sheet_changes, sheet_row) * beside(book_width, sheet_row) / 1000,
        0,
    )


CELLS = (
    worked(sheet_bought, "Sheet is bought"),
    worked(sheet_material, "Grade of sheet"),
    worked(sheet_slot, "Sheet from supplier no."),
    worked(sheet_least_cost, "Sheet, least cost"),
    worked(sheet_least_lap, "Sheet, fewest metres of lap"),
    worked(sheet_row, "Sheet, row of the price book"),
    worked(cross_joints, "Joints across strips"),
)
