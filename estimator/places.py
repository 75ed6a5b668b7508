"""Where each column of each list stands in its workbook, said by formulas that follow it.

Whatever rows or columns are put in, taken out or moved, a spreadsheet program keeps these
formulas pointing at the same cells; so a workbook that comes back says itself where to read.
"""

from collections.abc import Iterable
from typing import Any

from .rules.tables import Fixed, Table
from .rules.units import EACH, TEXT

STANDS_AT = "stands_at"
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
)


def place_rows(tables: Iterable[Table]) -> list[dict[str, Any]]:
    """A row for every column of those lists."""
    return [{"list": t.name, "column": name} for t in tables for name in t.places]
