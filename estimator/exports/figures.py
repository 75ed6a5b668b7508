"""Every list and every named cell of a job, as data: what the sheets show, and what is behind them.

The shape is that of `docs/figures.schema.json`. SHAPE rises when a program that reads an earlier
shape would misread this one; a list, a column or a cell more does not raise it.
"""

from typing import Any

from .. import __version__
from ..language.ledger import Ledger, is_available
from ..language.tables import Item, Table
from ..model.places import SCHEMA
from ..model.plan import plan

SHAPE = 1
NAME = "estimator figures"


def figures(job: Ledger) -> dict[str, Any]:
    """All of it. A figure that cannot be given, or that nobody typed, is None.

    Figures are those that are worked with, not rounded for print; money is exact to the penny where
    it was rounded to it. Spare rows are left out.
    """
    cells = {
        name: {**_said(item), "value": _plain(job.cell(name), item)}
        for name, item in {**job.plan.cells, **job.plan.keyed_items}.items()
    }
    return {
        "format": NAME,
        "shape": SHAPE,
        "program": __version__,
        "layout": SCHEMA,
        "lists": {t.name: _list(job, t) for t in job.plan.tables.values()},
        "cells": cells,
    }


def _list(job: Ledger, table: Table) -> dict[str, Any]:
    items = list(table)
    names = [item.name for item in items]
    key = table.key_in_use if table.guarded else None
    columns = [job.column(table.name, name) for name in names]
    spare = [False] * len(job.rows[table.name])
    if key is not None:
        spare = [value == "" for value in job.column(table.name, key)]
    return {
        "title": table.title,
        "key": table.key_in_use,
        "columns": [{"name": item.name, **_said(item)} for item in table],
        "rows": [
            {i.name: _plain(value, i) for i, value in zip(items, row, strict=True)}
            for row, is_spare in zip(zip(*columns, strict=True), spare, strict=True)
            if not is_spare
        ],
    }


def _said(item: Item) -> dict[str, Any]:
    kind = "text" if item.unit.text else "number"
    return {"label": item.label, "type": kind, "unit": item.unit.sign}


def _plain(value: Any, item: Item) -> Any:
    """As JSON has it: a number that is blank, or that cannot be given, is None."""
    if not is_available(value) or (value == "" and not item.unit.text):
        return None
    return value


def schema() -> dict[str, Any]:
    """JSON Schema of what `figures` gives, with the lists and cells of this layout."""
    of = plan()
    said = {
        "label": {"type": "string"},
        "type": {"enum": ["text", "number"]},
        "unit": {"type": "string", "description": "As m, mm, m², nr, £, %; empty for a text, "
                 "a flag, or where the row's own column `unit` says it."},
    }  # fmt: skip
    value = {"type": ["number", "string", "null"]}
    listed = {
        "title": {"type": "string"},
        "key": {"type": "string", "description": "The column whose text tells its rows apart."},
        "columns": {"type": "array", "items": _object({"name": {"type": "string"}, **said})},
        "rows": {"type": "array", "items": {"type": "object", "additionalProperties": value}},
    }
    cells = {**of.cells, **of.keyed_items}
    shape = {
        "format": {"const": NAME},
        "shape": {"const": SHAPE},
        "program": {"type": "string"},
        "layout": {"const": SCHEMA},
        "lists": _object({name: {"$ref": "#/$defs/list"} for name in of.tables}),
        "cells": _object({name: {"$ref": "#/$defs/cell"} for name in cells}),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Figures of a job",
        "$defs": {"list": _object(listed), "cell": _object({**said, "value": value})},
        **_object(shape),
    }


def _object(properties: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }
