"""Reading the rows of a list that are in use."""

from typing import Any

from ..language.ledger import Ledger


def rows_in_use(
    ledger: Ledger, table: str, columns: tuple[str, ...], key: str
) -> list[dict[str, Any]]:
    """The rows whose `key` says something, spare ones left out."""
    found = {c: ledger.column(table, c) for c in {*columns, key}}
    return [{c: found[c][n] for c in columns} for n, value in enumerate(found[key]) if value != ""]
