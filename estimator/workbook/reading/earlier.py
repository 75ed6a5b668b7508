"""What an earlier layout does not ask for, and what it is taken as."""

from typing import TYPE_CHECKING, Any

from ...errors import FileError
from ...language.tables import Table
from ...model.places import SCHEMA

if TYPE_CHECKING:
    from .inputs import Returned


def unasked_columns(returned: "Returned", table: Table) -> dict[str, Any]:
    """The needed columns that an earlier layout does not have, each as if there were none of it.

    Raises FileError for one that has no such figure: 0, or the first of its choices.
    """
    found: dict[str, Any] = {}
    for item in table.inputs:
        if not item.required or item.name in returned.layout.spans[table.name].letters:
            continue
        if not (item.choices or (not item.unit.text and (item.least or 0) <= 0)):
            raise FileError(
                f"{returned.path.name}: {table.title}",
                f"layout version {returned.schema}, without a column {item.label}",
                f"version {SCHEMA}: write it anew from its job file, or type it into a new workbook",
            )
        found[item.key] = item.choices[0] if item.choices else 0.0
    return found
