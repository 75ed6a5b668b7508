"""Every formula cell written together with its result, so that viewers show the right figures.

openpyxl writes formulas without results. Its sheet writer is subclassed (it is private, hence
openpyxl ~= 3.1.5 and a test); nothing is patched and nothing is written twice.
"""

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import Workbook
from openpyxl.cell._writer import write_cell
from openpyxl.comments.comment_sheet import CommentRecord
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.functions import Element, SubElement

from ..files.keeping import write_whole
from ..language import NOT_AVAILABLE
from .archive import Archive
from .text_door import escaped

Results = Mapping[str, Mapping[tuple[int, int], Any]]


def as_stored(result: Any) -> tuple[str | None, str]:
    """The type attribute and the text under which a result stands in the file."""
    if result is NOT_AVAILABLE:
        return "e", "#N/A"
    if isinstance(result, str):
        return "str", escaped(result)
    if isinstance(result, bool):
        return "b", str(int(result))
    return None, repr(result)


class _SheetWriter(WorksheetWriter):
    """Writes formula cells with their results; one without a result is a defect (KeyError)."""

    def __init__(self, sheet: Any, results: Mapping[tuple[int, int], Any]) -> None:
        super().__init__(sheet)
        self.results = results

    def write_row(self, xf: Any, row: Any, row_idx: int) -> None:
        attrs = {"r": f"{row_idx}"}
        attrs.update(self.ws.row_dimensions.get(row_idx, {}))
        with xf.element("row", attrs):
            for cell in row:
                if cell._comment is not None:
                    self.ws._comments.append(CommentRecord.from_cell(cell))
                if cell.data_type == "f":
                    self._write_formula(xf, cell)
                elif cell._value is not None or cell._comment:
                    write_cell(xf, self.ws, cell, cell.has_style)
                elif cell.has_style:  # a blank: with a type it would be read as 0 by some
                    xf.write(Element("c", {"r": cell.coordinate, "s": f"{cell.style_id}"}))

    def _write_formula(self, xf: Any, cell: Any) -> None:
        kind, text = as_stored(self.results[cell.row, cell.column])
        attrs = {"r": cell.coordinate}
        if cell.has_style:
            attrs["s"] = f"{cell.style_id}"
        if kind:
            attrs["t"] = kind
        element = Element("c", attrs)
        SubElement(element, "f").text = cell._value[1:]
        SubElement(element, "v").text = text
        xf.write(element)


class _ResultWriter(ExcelWriter):
    def __init__(self, workbook: Workbook, archive: ZipFile, results: Results) -> None:
        super().__init__(workbook, archive)
        self.results = results

    def write_worksheet(self, ws: Any) -> None:
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts = ws._charts
        ws._drawing.images = ws._images
        writer = _SheetWriter(ws, self.results.get(ws.title, {}))
        writer.write()
        ws._rels = writer._rels
        self._archive.write(writer.out, ws.path[1:])
        self.manifest.append(ws)
        writer.cleanup()


def save(workbook: Workbook, results: Results, path: Path, new: bool = False) -> None:
    """Write the workbook whole or not at all; with `new`, never in the place of another file.

    Raises FileError when it cannot be written.
    """
    write_whole(path, as_file(workbook, results), new=new)


def as_file(workbook: Workbook, results: Results) -> bytes:
    """The bytes of the workbook's file."""
    stream = BytesIO()
    with Archive(stream, "w", ZIP_DEFLATED, allowZip64=True) as archive:
        _ResultWriter(workbook, archive, results).save()
    return stream.getvalue()
