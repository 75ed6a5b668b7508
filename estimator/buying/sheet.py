"""Which sheet is bought: one product for all zones, known before any need is priced."""

from ..language import *


@rule
def sheet_slot(line_slot: Column, line_key: TextColumn) -> Each:
    """The supplier the sheet is bought from."""
    return sum_of(line_slot, same(line_key, "dpm"))


@rule
def sheet_material(line_material: TextColumn, line_key: TextColumn, line_position: Column) -> Text:
    """The grade of sheet that is bought."""
    return beside(line_material, sum_of(line_position, same(line_key, "dpm")))


@rule
def sheet_preference(
    sheet_slot: Each,
    sheet_material: Text,
    book_material: TextColumn,
    book_sheet_order: Column,
    book_slot: Column,
    book_by_area: Column,
    book_usable: Column,
) -> Each:
    """Its place in the order of choice; 0 when that supplier stocks none that can be laid."""
    return largest_of(
        book_sheet_order,
        same(book_slot, sheet_slot),
        same(book_material, sheet_material),
        book_by_area,
        book_usable,
    )


@rule
def sheet_row(sheet_preference: Each, book_position: Column, book_sheet_order: Column) -> Each:
    """Its row in the price book; 0 when there is none."""
    return where(
        less(0, sheet_preference),
        sum_of(book_position, same(book_sheet_order, sheet_preference)),
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
    worked(sheet_material, "Grade of sheet"),
    worked(sheet_slot, "Sheet from supplier no."),
    worked(sheet_preference, "Sheet, order of choice"),
    worked(sheet_row, "Sheet, row of the price book"),
    worked(cross_joints, "Joints across strips"),
)
