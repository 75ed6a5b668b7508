"""What is asked of a typed cell, with the cells that stand around it."""

from ..language.tables import IN_USE, Input, Table
from ..language.tracing import Ref, as_ref, number_text
from ..model.usable import Around, usable
from .layout import Layout


def formula(item: Input, cell: str, layout: Layout) -> str:
    """The test of a named cell, as formula text."""
    return str(as_ref(usable(item, Ref(cell), around(item, None, layout))).text)


def around(item: Input, table: Table | None, layout: Layout) -> Around:
    """The cells that are asked with one of a list, or with a named cell."""
    least, most = limits(item, table, layout)

    def own(column: str) -> Ref | None:
        return Ref(layout.own(table.name, column)) if table and table.has(column) else None

    by_row = item.limits_in is not None and table is not None
    return Around(
        least=Ref(least),
        most=Ref(most),
        listed=Ref(layout.choices(item, table)) if item.choice_of else (),
        unit=own("unit") if by_row else None,
        says=own(item.percent_in[0]) if by_row and item.percent_in else None,
        meant=own(IN_USE + item.name),
        under=Ref(item.under[0]) if item.under else None,
    )


def limits(item: Input, table: Table | None, layout: Layout) -> tuple[str, str]:
    """The least and the most that may be typed: numbers, or the row's own limits."""
    if table is not None and item.limits_in:
        least, most = (layout.own(table.name, c) for c in item.limits_in)
        return least, most
    return number_text(item.least or 0), number_text(item.most or 0)
