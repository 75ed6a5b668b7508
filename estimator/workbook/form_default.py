"""The formula by which a typed cell shows what the form says, until it is typed over: nothing in a
row that the form does not fill. It is made and known again here alone.
"""

import re

from ..language.tables import OFFERED, Table
from .layout import Layout, on


def default(layout: Layout, table: Table, name: str, n: int) -> str:
    """The formula for a column in row n, counted from 0."""
    span = layout.spans[table.name]

    def at(column: str) -> str:
        return f"{on(span.sheet)}!${span.letters[OFFERED + column]}${span.first + n}"

    return at(name) if name == table.key else f'IF({at(table.key)}="","",{at(name)})'


def row_shown(
    layout: Layout, table: Table, name: str, formula: str, letters_known: bool
) -> int | None:
    """The row, counted from 0, of which such a formula shows what the form says; None for any other.

    In an earlier layout no mark was asked; and in which column it was worked out is not known.
    """
    span = layout.spans[table.name]
    if OFFERED + name not in span.letters and letters_known:
        return None
    sheet = re.escape(_plain(span.sheet))
    mark, own = (
        span.letters[OFFERED + column] if letters_known else "[A-Z]+"
        for column in (table.key, name)
    )
    cell = rf"{sheet}[!.]{own}([0-9]+)"
    found = re.fullmatch(rf'{cell}|IF\({sheet}[!.]{mark}([0-9]+)="","",{cell}\)', _plain(formula))
    if found is None:
        return None
    alone, of_mark, of_own = found.groups()
    if of_mark != of_own:
        return None
    return int(alone or of_own) - span.first


def _plain(text: str) -> str:
    return text.replace("$", "").replace("'", "").replace(" ", "")
