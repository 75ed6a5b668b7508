"""What is bought of a product by a cutting plan that holds: its rolls, and what is laid of each size."""

from ..language import *
from .taking import packs_joined


@rule
def planned_rolls(
    position: Each, plan_holds: Flag, planned_cut_book_row: Column, planned_cut_rolls_bought: Column
) -> Each:
    """Rolls of this product in a plan that holds."""
    return where(
        same(plan_holds, 1),
        sum_of(planned_cut_rolls_bought, same(planned_cut_book_row, position)),
        0,
    )


@rule
def planned_packs(
    planned_rolls: Each,
    by_area: Flag,
    rolls_cut: Each,
    wastage: Percent,
    required: Amount,
    lap: Metres,
    content: Amount,
) -> Each:
    """Packs by a plan that holds: its rolls, what is joined beside them, and the wastage of sheet.

    Wastage adds as many rolls of the sheet as it would add without the plan.
    """
    return planned_rolls + where(
        same(by_area, 1),
        whole_up(rolls_cut * wastage / 100),
        packs_joined(required, lap, content),
    )


@rule
def counted_by(planned_rolls: Each, counted_needed: Text) -> Text:
    """That it is bought by the plan. Else whether fewer rolls could do."""
    return where(less(0, planned_rolls), "by the cutting plan", counted_needed)


@rule
def planned_bare(
    planned_rolls: Each, by_area: Flag, joined: Amount, lap: Metres, content: Amount
) -> Each:
    """Packs by a plan that holds, if there were no wastage."""
    return planned_rolls + where(same(by_area, 1), 0, packs_joined(joined, lap, content))


@rule
def packs_counted(plan_holds: Flag, planned_packs: Each, packs_needed: Each) -> Each:
    """Packs that cover what is needed: by the plan where one holds, else as the sheet counts."""
    return where(same(plan_holds, 1), planned_packs, packs_needed)


@rule
def counted_with(plan_holds: Flag, kind_row: Each, position: Each) -> Each:
    """The row whose needs it serves: by a plan, those of its whole kind."""
    return where(same(plan_holds, 1), kind_row, position)


@rule
def planned_metres(
    position: Each,
    plan_holds: Flag,
    planned_cut_length: Column,
    planned_cut_pieces_all: Column,
    planned_cut_book_row: Column,
) -> Metres:
    """Metres of pieces cut from this product by a plan that holds."""
    return where(
        same(plan_holds, 1),
        sum_of(planned_cut_length * planned_cut_pieces_all, same(planned_cut_book_row, position)),
        0,
    )


@rule
def laid_in_pieces(
    packs_needed: Each, by_area: Flag, sheet_laid: Amount, pieces_metres: Metres
) -> Amount:
    """What is laid of it in whole pieces, as the sheet counts."""
    return where(less(0, packs_needed), where(same(by_area, 1), sheet_laid, pieces_metres), 0)


@rule
def laid_by_plan(
    laid_needed: Amount,
    plan_holds: Flag,
    kind_row: Each,
    planned_metres: Metres,
    laid_in_pieces: Amount,
    book_planned_metres: Column,
    book_laid_in_pieces: Column,
    book_kind_row: Column,
) -> Amount:
    """What is laid of it. By a plan, whole pieces are shared out by the metres cut from each size."""
    return laid_needed + where(
        same(plan_holds, 1),
        divided(planned_metres, sum_of(book_planned_metres, same(book_kind_row, kind_row)))
        * sum_of(book_laid_in_pieces, same(book_kind_row, kind_row))
        - laid_in_pieces,
        0,
    )


BOOK_COLUMNS = (
    worked(planned_rolls, "Rolls by the plan"),
    worked(planned_packs, "Packs by the plan"),
    worked(planned_bare, "Packs by the plan without wastage"),
    worked(packs_counted, "Packs counted"),
    worked(counted_with, "Counted with"),
    worked(planned_metres, "Cut by the plan"),
    worked(laid_in_pieces, "Laid in whole pieces"),
)
