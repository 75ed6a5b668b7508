"""Openings that are not drawn because their place along their run is not given: how many, and which."""

from ..language import *
from .chosen import there
from .openings_there import found, of_row, openings_there

UNPLACED_NAMED = 5  # those that follow are counted


@rule
def mark_said(opening_row: Each, position: Each, opening_mark: TextColumn) -> Text:
    """Its ref, as it follows those before it."""
    return where(
        less(0, opening_row),
        one_text(where(less(1, position), ", ", ""), beside(opening_mark, opening_row)),
        "",
    )


@rule
def marks_said(unplaced: Each, marks: TextColumn) -> Text:
    """Their refs, and how many more there are."""
    return one_text(
        beside(marks, 1),
        beside(marks, 2),
        beside(marks, 3),
        beside(marks, 4),
        beside(marks, UNPLACED_NAMED),
        where(
            less(UNPLACED_NAMED, unplaced),
            one_text(" and ", in_figures(unplaced - UNPLACED_NAMED), " more"),
            "",
        ),
    )


@rule
def not_drawn(unplaced: Each, marks_said: Text) -> Text:
    """What is said of them, after what is drawn."""
    return where(less(0, unplaced), one_text(". Not drawn, place not given: ", marks_said), "")


def unplaced(drawing: str, title: str, row: str, at: str) -> tuple[Table, tuple[Item, ...]]:
    """Of one drawing: the list of them, and its named cells.

    They are the openings whose column `at` holds what the named cell `row` does.
    """
    of = of_row(row, at, placed=False)
    table = Table(
        f"{drawing}_unplaced",
        f"{drawing}_unplaced_one",
        f"{title}: openings without a place",
        (
            Fixed("name", "Opening not drawn", TEXT),
            worked(found, **of),
            worked(there, "Row of the opening", "opening_row"),
            worked(mark_said, "Its ref"),
        ),
        key="name",
        guarded=False,
        since=10,
    )
    number = f"{drawing}_unplaced_all"
    cells = (
        worked(openings_there, f"{title}: openings without a place", number, **of),
        worked(marks_said, f"{title}: their refs", f"{drawing}_unplaced_marks",
               unplaced=NamedCell(number), marks=WholeColumn(table.name, "mark_said")),
        worked(not_drawn, f"{title}: what is said of them", f"{drawing}_not_drawn",
               unplaced=NamedCell(number), marks_said=NamedCell(f"{drawing}_unplaced_marks")),
    )  # fmt: skip
    return table, cells


UNPLACED_ROWS = tuple({"name": f"not drawn {n}"} for n in range(1, UNPLACED_NAMED + 1))
PLAN_UNPLACED, PLAN_CELLS = unplaced("plan", "Plan", "drawn_row", "floor_row")
ELEVATION_UNPLACED, ELEVATION_CELLS = unplaced(
    "elevation", "Elevation", "elevation_row", "wall_row"
)
