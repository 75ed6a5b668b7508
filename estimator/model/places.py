"""Where each column of each list stands in its workbook, said by formulas that follow it.

Whatever rows or columns are put in, taken out or moved, a spreadsheet program keeps these
formulas pointing at the same cells; so a workbook that comes back says itself where to read.
"""

from collections.abc import Iterable, Mapping

from ..language.plan import Plan
from ..language.tables import Fixed, Table
from ..language.units import EACH, TEXT

# The layout of workbooks and job files: which lists, columns and named cells there are. It rises
# whenever one of them comes, goes or changes its meaning; what is new says so by `since`.
SCHEMA = 11
FRONTS_SINCE = 5  # before it, each list was worked out on the sheet on which it was typed
STANDS_AT, SHOWN_AGAIN, TYPED_CELL = "stands_at", "shown again", "typed cell"
ENGINE_ROWS = "rows worked out"  # in the place of a column: the numbers of an engine's rows
PLACES = Table(
    "places",
    "place",
    "Where each list stands",
    (
        Fixed("list", "List", TEXT),
        Fixed("column", "Column", TEXT),
        Fixed(STANDS_AT, "Rows", EACH),
    ),
    key="list",
    guarded=False,
    since=2,
)


def place_rows(
    plan: Plan,
    fronts: Mapping[str, Iterable[str]],
    cells: Iterable[str],
    again: Iterable[str],
) -> list[dict[str, str]]:
    """A row for the engine of every list and for each column of its front; then for every named
    cell that is typed, and for every cell that shows a named one again."""
    rows = []
    for table in plan.tables.values():
        if table is not PLACES:
            rows.append({"list": table.name, "column": ENGINE_ROWS})
            rows += [{"list": table.name, "column": name} for name in fronts.get(table.name, ())]
    rows += [{"list": TYPED_CELL, "column": name} for name in cells]
    return rows + [{"list": SHOWN_AGAIN, "column": name} for name in again]
