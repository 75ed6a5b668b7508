"""Help and limits at the cell: what may be typed there, said before and after it is typed."""

from collections.abc import Iterable
from textwrap import shorten

from openpyxl import Workbook
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from ..language.formulas import in_row
from ..language.tables import Input, Table
from ..language.units import EACH, PERCENT
from .layout import Layout, Span, on
from .usable import limits

MOST_TITLE = 32  # letters of the title of a help, as the file format allows


def add_validations(sheet: Worksheet, table: Table, span: Span, layout: Layout) -> None:
    """One validation for each typed column of a list."""
    for item in table.inputs:
        letter = span.letters[item.name]
        found = _validation(item, table, span, layout)
        found.add(f"{letter}{span.first}:{letter}{span.last}")
        sheet.add_data_validation(found)


def add_cell_validations(workbook: Workbook, inputs: Iterable[Input], layout: Layout) -> None:
    """One validation for each named cell that is typed."""
    for item in inputs:
        sheet, address = layout.cell(item.name)
        found = _validation(item, None, None, layout)
        found.add(address.replace("$", ""))
        workbook[sheet].add_data_validation(found)


def _prompt(item: Input, table: Table | None) -> str:
    said = item.help or f"{item.accepted[:1].upper()}{item.accepted[1:]}."
    if item.unit is not PERCENT:
        return said
    # A named cell has its percentage in use beside it; a list has it on its hidden sheet.
    shown = "" if table else ". The figure on the right is what is read"
    return f"{said} Type 20 or 20%{shown}."


def _title(item: Input) -> str:
    """The label, whole words of it where a program cuts it off."""
    return shorten(item.label, MOST_TITLE, placeholder=" ...")


def _validation(
    item: Input, table: Table | None, span: Span | None, layout: Layout
) -> DataValidation:
    found = DataValidation(
        type=None,
        allow_blank=not item.required or (table is not None and table.offers(item.name)),
        showErrorMessage=True,
        showInputMessage=True,
        errorTitle=_title(item),
        error=f"{item.label}: accepted is {item.accepted}."[:255],
        promptTitle=_title(item),
        prompt=_prompt(item, table)[:255],
    )
    if item.choice_of:
        found.type = "list"
        found.formula1 = layout.choices(item, None, labelled=True)
    elif item.choices:
        found.type, found.formula1 = "list", '"' + ",".join(item.choices) + '"'
    elif not item.unit.text:
        found.type = "whole" if item.unit is EACH else "decimal"
        found.operator = "between"
        found.formula1, found.formula2 = _limits(item, table, layout)
    elif table is not None and span is not None and item.name == table.key:
        letter = span.letters[table.key]
        key, column = f"${letter}{{r}}", f"${letter}${span.first}:${letter}${span.bottom}"
        found.type = "custom"
        found.formula1 = in_row(f"SUMPRODUCT(({column}={key})*1)=1", span.first)
        found.error = f"{item.label}: this one is used already. Give each row its own."
    return found


def _limits(item: Input, table: Table | None, layout: Layout) -> list[str]:
    """The least and the most; a row's own limits stand where its list is worked out."""
    found = limits(item, table, layout)
    if table is None or not item.limits_in:
        return [*found]
    span = layout.spans[table.name]
    return [f"{on(span.sheet)}!{in_row(limit, span.first)}" for limit in found]
