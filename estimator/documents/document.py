"""A document built new from its template, holding nothing but what its own plan says.

Whatever else a template brings along (properties, an author, names, links to files) is left
behind, and what could hide something from the sender is refused.
"""

from collections.abc import Collection, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.packaging.core import DocumentProperties
from openpyxl.packaging.custom import CustomPropertyList
from openpyxl.styles import Protection
from openpyxl.worksheet.datavalidation import DataValidationList
from openpyxl.worksheet.protection import SheetProtection
from openpyxl.worksheet.worksheet import Worksheet
from PIL import Image

from ..errors import TemplateError
from ..language.ledger import Ledger
from ..model.estimate import NO_ROOM
from ..workbook.build import Built, stamped
from ..workbook.template import DRAWINGS, Template, read_template
from .drawings import Picture, draw
from .fitting import fit_rows
from .paging import set_pages

# Codes in a header or footer that print where a file lies, or what it is called there.
_TELL_TALE = ("&Z", "&F")


def document(
    ledger: Ledger, template: Path, title: str = "", drawn: Sequence[Picture] = ()
) -> Built:
    """A document in memory with its drawings, locked against slips but where it is to be filled in.

    Raises TemplateError for an unfit template.
    """
    if not template.is_file():
        raise TemplateError(str(template), None, "a template that exists")
    read = read_template(template, ledger.plan)
    _leave_behind(read.workbook, template.name)
    built = stamped(ledger, read, NO_ROOM)
    draw(built, read, drawn)
    there = {n for n, rows in ledger.rows.items() if rows and (drawn or n != DRAWINGS)}
    _leave_out_bare(built, read, there)
    built.workbook.properties = DocumentProperties(creator=None, title=title or None)
    fit_rows(built)
    for sheet in built.workbook.worksheets:
        _lock(sheet)
        set_pages(sheet)
    return built


def write(built: Built, path: Path) -> None:
    """Write a document whole or not at all."""
    built.save(path)


def _leave_out_bare(built: Built, template: Template, there: Collection[str]) -> None:
    """Leave out each sheet that was for lists alone, where none of them is there."""
    listed = {block.sheet for block in template.lines.values()}
    filled = {block.sheet for name, block in template.lines.items() if name in there}
    for title in listed - filled - {title for title, _ in built.layout.cells.values()}:
        built.workbook.remove(built.workbook[title])
        del built.results[title], built.units[title]


def _leave_behind(book: Workbook, template: str) -> None:
    """Take out of a template what is not its words and looks."""
    for sheet in book.worksheets:
        _hides_nothing(sheet, template)
        sheet.defined_names.clear()
        without_notes(sheet)
        sheet.data_validations = DataValidationList()
    book.defined_names.clear()
    book.custom_doc_props = CustomPropertyList()
    book._external_links = []


def _lock(sheet: Worksheet) -> None:
    """Lock a sheet, but not what is typed there, of which each cell has its limits."""
    for limits in sheet.data_validations.dataValidation:
        for area in limits.sqref.ranges:
            for row, column in area.cells:
                sheet.cell(row, column).protection = Protection(locked=False)
    sheet.protection = SheetProtection(sheet=True, formatColumns=False, formatRows=False)


def _hides_nothing(sheet: Worksheet, template: str) -> None:
    where = f"{template}: {sheet.title}"
    if sheet.sheet_state != "visible":
        raise TemplateError(where, "a hidden sheet", "sheets that can be seen")
    # Rows that are hidden in a template are shown again when it is stamped.
    if any(d.hidden for d in sheet.column_dimensions.values()):
        raise TemplateError(where, "a hidden column", "columns that can be seen")
    for part in (sheet.oddHeader, sheet.oddFooter, sheet.evenHeader, sheet.evenFooter,
                 sheet.firstHeader, sheet.firstFooter):  # fmt: skip
        for side in (part.left, part.center, part.right):
            if any(code in (side.text or "").upper() for code in _TELL_TALE):
                raise TemplateError(where, side.text, "margins without the file's name or folder")


def without_notes(sheet: Worksheet) -> None:
    """Keep the points of each picture and nothing else: no author, place, program or folder."""
    for picture in sheet._images:
        picture.ref, picture.format = _bare(picture._data()), "png"


def _bare(data: bytes) -> BytesIO:
    with Image.open(BytesIO(data)) as found:
        # Colours of a palette, and of its transparent one, are not in the points: made plain.
        plain: Any = found.convert("RGBA")
    bare = Image.new("RGBA", plain.size)
    bare.paste(plain)
    stream = BytesIO()
    bare.save(stream, format="PNG")
    stream.seek(0)
    return stream
