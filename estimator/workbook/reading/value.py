"""What one cell of a workbook holds, as it was typed: a number, a text or nothing."""

import re
from collections.abc import Mapping
from datetime import date, time, timedelta
from typing import TYPE_CHECKING, Any

from ...errors import JobError
from ...files.xlsx.cells import Failed, InPercent, Stored, as_words
from ...guidance.allowances import basis_rows
from ...language.percent import as_meant
from ...language.tables import Input, Table
from ...model.job import is_name
from ...model.plan import SHIPPED_ROWS
from ...model.spelling import as_listed

if TYPE_CHECKING:
    from .inputs import Returned

NO_ROW: Mapping[str, Any] = {}


def _meant(item: Input, value: float, row: Mapping[str, Any], where: str) -> Any:
    """A percentage as it is meant, however it was typed. Raises JobError for 1 alone."""
    try:
        return as_meant(item, value, row)
    except ValueError as error:
        raise JobError(where, value, str(error)) from None


def _as_key(returned: "Returned", value: Any, item: Input) -> Any:
    """The key, where the text of its list that stands for it is typed."""
    if not item.shown_as or not isinstance(value, str):
        return value
    table, _, column = (item.choice_of or "").partition(".")
    rows = SHIPPED_ROWS[table] if table in SHIPPED_ROWS else basis_rows(returned.job.bases)
    keys = {str(row[item.shown_as]): row[column] for row in rows}
    return keys.get(as_listed(value, list(keys)), value)


def refers(formula: str) -> bool:
    """Whether a formula reads any other cell, and not only figures such as 3.2+1.4."""
    outside_texts = re.sub(r'"[^"]*"', "", formula)
    return re.search(r"\$?[A-Za-z]{1,3}\$?[0-9]|[A-Za-z]_|[A-Za-z]\(", outside_texts) is not None


def typed_value(
    returned: "Returned",
    stored: Stored,
    item: Input,
    table: Table | None,
    where: str,
    row: Mapping[str, Any] = NO_ROW,
) -> Any:
    """What was typed in a cell: a number, a text, or None for a blank; a percentage as it is meant.

    `row` is what the cells before it in its row hold: it may say that this is a percentage.
    A formula of the person's own counts by the result that the file holds for it. Raises JobError
    for an error value, a date where a number is asked, or a number where a name is asked.
    """
    value = _as_key(returned, stored.value, item)
    if stored.formula is not None:
        if value is None:
            raise JobError(where, f"={stored.formula}", "a formula whose result is in the file")
        shown = f"{value:g}" if isinstance(value, float) else value
        returned.notes.append(f"{where}: a formula of your own, ={stored.formula}, gives {shown}.")
        if refers(stored.formula):
            returned.linked.append(where)
    if value is None or value == "":
        return None
    if isinstance(value, Failed):
        raise JobError(where, str(value), item.accepted)
    dated = isinstance(value, date | time | timedelta)
    percent = item.is_percent(row)
    if isinstance(value, InPercent) and not (percent and 0 <= value < 1):
        found = f"{value * 100:.12g}% (the cell holds {value:g})"
        raise JobError(where, found, f"{item.accepted}, typed without a % in a plain number format")
    if percent and isinstance(value, float):
        return _meant(item, value, row, where)
    if item.unit.dated and isinstance(value, date) and stored.number is not None:
        return float(stored.number)
    if not item.unit.text or isinstance(value, str):
        if dated:
            raise JobError(where, as_words(value), item.accepted)
        return value
    if isinstance(value, bool) or is_name(item, table) or item.choices:
        shown = f"the number {value:g}" if isinstance(value, float) else str(value).upper()
        shown = as_words(value) if dated else shown
        raise JobError(where, shown, f"{item.accepted}, typed as text")
    if dated:
        return as_words(value)
    return f"{value:.15g}"
