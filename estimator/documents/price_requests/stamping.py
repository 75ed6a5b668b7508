"""A request laid into its template: built new, with nothing in it that the supplier may not read."""

from copy import copy
from io import BytesIO
from math import ceil
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.packaging.core import DocumentProperties
from openpyxl.styles import Protection
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from ...errors import TemplateError
from ...language.tables import Input
from ...language.units import EACH
from ...workbook.layout import on
from ...workbook.template import place_in
from ...workbook.text_door import as_text_style, put_text
from .asked import Request
from .fields import CELLS, COLUMN, COLUMNS, FILLED_IN, LAYOUT, LAYOUT_NAME, TERMS

_ITEMS: dict[str, Input] = {item.name: item for item in (*FILLED_IN, *TERMS)}
_TO_FILL = Protection(locked=False)


def workbook_of(request: Request, said_by: str, deliver_to: str, template: Path) -> bytes:
    """The workbook that is sent to the supplier. Raises TemplateError for a place that is wrong."""
    book = _template(template)
    sheet, cells, columns = _places(book, template)
    said = dict(zip(CELLS, (request.number, request.supplier, said_by, deliver_to), strict=False))
    for name, address in cells.items():
        cell = sheet[address]
        cell.value = None
        if name in said:
            cell._style = as_text_style(cell)
            put_text(cell, said[name])
        else:
            cell.protection = _TO_FILL
            _help(sheet, _ITEMS[name], address)
        _name(book, name, f"{on(sheet.title)}!{_fixed(address)}")
    line = next(iter(columns.values()))[1]
    last = line + len(request.lines) - 1
    donors = {name: sheet.cell(line, column) for name, (column, _) in columns.items()}
    styles = {name: copy(donor._style) for name, donor in donors.items()}
    for name, (column, _) in columns.items():
        letter = get_column_letter(column)
        donor = donors[name]
        if name in _ITEMS:
            donor.protection = _TO_FILL
            _help(sheet, _ITEMS[name], f"{letter}{line}:{letter}{last}")
        elif name != "packs":
            as_text_style(donor)
        styles[name] = copy(donor._style)
        # From the row above on, so that a row put in above the first is inside too.
        area = f"${letter}${line - 1}:${letter}${last}"
        _name(book, COLUMN + name, f"{on(sheet.title)}!{area}")
    for n, asked in enumerate(request.lines):
        for name, (column, _) in columns.items():
            cell = sheet.cell(line + n, column)
            cell._style = styles[name]
            value = None if name in _ITEMS else getattr(asked, name)
            if isinstance(value, str):
                put_text(cell, value)
            else:
                cell.value = value
        sheet.row_dimensions[line + n].height = _height(sheet, columns, vars(asked))
    _finish(book, sheet, last)
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def _template(path: Path) -> Workbook:
    try:
        book: Workbook = load_workbook(path)
    except (BadZipFile, InvalidFileException, KeyError, OSError) as error:
        raise TemplateError(path.name, type(error).__name__, "a workbook (.xlsx)") from None
    return book


def _places(
    book: Workbook, path: Path
) -> tuple[Worksheet, dict[str, str], dict[str, tuple[int, int]]]:
    """The sheet of the places, each single cell's address, and each column with the list's row."""
    cells: dict[str, str] = {}
    columns: dict[str, tuple[int, int]] = {}
    sheets = set()
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                name = place_in(cell.value)
                if name is None:
                    continue
                where = f"{path.name}: {sheet.title}!{cell.coordinate}"
                if name not in CELLS and name not in COLUMNS:
                    raise TemplateError(
                        where, name, "one of the places " + ", ".join((*CELLS, *COLUMNS))
                    )
                if name in cells or name in columns:
                    raise TemplateError(where, name, "each place once")
                sheets.add(sheet.title)
                if name in CELLS:
                    cells[name] = cell.coordinate
                else:
                    columns[name] = (cell.column, cell.row)
    for name in (*CELLS, *COLUMNS):
        if name not in cells and name not in columns:
            raise TemplateError(path.name, None, f"a place {{{name}}}")
    rows = {row for _, row in columns.values()}
    if len(sheets) != 1 or len(rows) != 1:
        raise TemplateError(
            path.name, sorted(columns), "all places on one sheet, the list's in one row"
        )
    found = book[sheets.pop()]
    if found.max_row > max(rows) or max(rows) < 2:
        raise TemplateError(path.name, f"row {found.max_row}", "the list last on its sheet")
    return found, cells, columns


def _help(sheet: Worksheet, item: Input, area: str) -> None:
    """What may be typed there, said before and after it is typed."""
    found = DataValidation(
        type=None,
        allow_blank=True,
        showErrorMessage=True,
        showInputMessage=True,
        errorTitle=item.label[:32],
        error=f"{item.label}: accepted is {item.accepted}."[:255],
        promptTitle=item.label[:32],
        prompt=f"{item.help} {'' if item.unit.text else 'A number, without words.'}".strip()[:255],
    )
    if item.choices:
        found.type, found.formula1 = "list", '"' + ",".join(item.choices) + '"'
    elif not item.unit.text:
        found.type = "whole" if item.unit is EACH else "decimal"
        found.operator = "between"
        found.formula1, found.formula2 = f"{item.least:g}", f"{item.most:.10g}"
    found.add(area)
    sheet.add_data_validation(found)


def _height(sheet: Worksheet, columns: dict[str, tuple[int, int]], asked: dict[str, Any]) -> float:
    """High enough for the longest text of the row, up to eight lines."""
    lines = [1]
    for name in ("material", "description", "pack"):
        width = sheet.column_dimensions[get_column_letter(columns[name][0])].width or 10
        lines.append(ceil(len(str(asked[name])) / max(width, 1)))
    return 5.0 + 12 * min(max(lines), 8)


def _finish(book: Workbook, sheet: Worksheet, last: int) -> None:
    """Print area, protection against slips, and properties that name nobody."""
    if sheet.print_area:
        left, _, right = sheet.print_area.split("!")[-1].replace("$", "").partition(":")
        sheet.print_area = f"{left}:{right.rstrip('0123456789')}{last}"
    for one in book.worksheets:
        one.protection.sheet = True
        one.protection.formatColumns = one.protection.formatRows = False  # these are allowed
    book.properties = DocumentProperties(creator="", lastModifiedBy="")
    _name(book, LAYOUT_NAME, str(LAYOUT))


def _name(book: Workbook, name: str, what: str) -> None:
    book.defined_names[name] = DefinedName(name, attr_text=what)


def _fixed(address: str) -> str:
    letters = address.rstrip("0123456789")
    return f"${letters}${address.removeprefix(letters)}"
