"""A request laid into its template, so that every cell of it is known again when it comes back."""

from pathlib import Path

from openpyxl.workbook.defined_name import DefinedName

from ...errors import TemplateError
from ...workbook.build import Built
from ...workbook.layout import on
from ..document import document
from .asked import Request
from .fields import COLUMN, LAYOUT, LAYOUT_NAME, LINES, PRICE_REQUEST, Asking


def workbook_of(request: Request, said_by: str, deliver_to: str, template: Path) -> bytes:
    """The workbook that is sent to the supplier. Raises TemplateError for an unfit template."""
    built = document(PRICE_REQUEST.ledger(Asking(request, said_by, deliver_to)), template)
    span = built.layout.spans[LINES.table.name]
    _on_one_sheet_list_last(built, template.name)
    # From the row above on, so that a row put in above the first is inside too.
    names = {
        COLUMN + name: f"{on(span.sheet)}!${letter}${span.first - 1}:${letter}${span.last}"
        for name, letter in span.letters.items()
    }
    for name, text in {**names, LAYOUT_NAME: str(LAYOUT)}.items():
        built.workbook.defined_names[name] = DefinedName(name, attr_text=text)
    return built.as_file()


def _on_one_sheet_list_last(built: Built, template: str) -> None:
    """What comes back is read from one sheet, and all below the list's labels as rows of it."""
    span = built.layout.spans[LINES.table.name]
    sheets = sorted({span.sheet, *(sheet for sheet, _ in built.layout.cells.values())})
    if len(sheets) > 1:
        raise TemplateError(template, ", ".join(sheets), "all places on one sheet")
    last = max(built.layout.moved[span.sheet])
    if built.layout.moved[span.sheet][last] > span.first or span.first < 2:
        raise TemplateError(template, f"row {last}", "the list last on its sheet, under its labels")
