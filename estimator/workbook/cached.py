"""Every formula cell written together with its result, so that viewers show the right figures.

openpyxl writes formulas without results, and cell by cell. Its sheet writer is subclassed (it is
private, hence openpyxl ~= 3.1.5 and a test) so that the rows are put in as text, in one piece;
nothing is patched and nothing is written twice.
"""

from collections.abc import Iterator, Mapping
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import Workbook
from openpyxl.cell._writer import etree_write_cell
from openpyxl.cell.rich_text import CellRichText
from openpyxl.comments.comment_sheet import CommentRecord
from openpyxl.compat import safe_string
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.constants import ARC_WORKBOOK
from openpyxl.xml.functions import fromstring, tostring

from ..files.keeping import write_whole
from ..language import NOT_AVAILABLE
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
        self.written = BytesIO()
        super().__init__(sheet, self.written)
        self.results = results
        # Cells share their styles: each is looked up once, and kept so that its id stays its own.
        self._styles: dict[int, tuple[Any, str]] = {}

    def part(self) -> bytes:
        """The part of the sheet: all around its rows as openpyxl writes it, and the rows."""
        self.write()
        head, tag, tail = self.written.getvalue().partition(b"<sheetData></sheetData>")
        assert tag, "openpyxl writes the rows in another way"
        # As the rest: signs beyond ASCII by their numbers.
        rows = "".join(self._rows()).encode("ascii", "xmlcharrefreplace")
        return b"".join((head, b"<sheetData>", rows, b"</sheetData>", tail))

    def write_rows(self) -> None:
        """The place where the rows are put in. Comments and links are told of now: they come after."""
        xf = self.xf.send(True)
        with xf.element("sheetData"):
            xf.write("")
        self.xf.send(None)
        for cell in self.ws._cells.values():
            if cell._comment is not None:
                self.ws._comments.append(CommentRecord.from_cell(cell))
            if cell._hyperlink is not None:
                self.ws._hyperlinks.append(cell._hyperlink)

    def _rows(self) -> Iterator[str]:
        for number, cells in self.rows():
            dimension = dict(self.ws.row_dimensions.get(number, {}))
            more = "".join(f' {name}="{_quoted(v)}"' for name, v in dimension.items())
            inside = "".join([self._cell(cell) for cell in cells])
            yield f'<row r="{number}"{more}>{inside}</row>'

    def _cell(self, cell: Any) -> str:
        value, kind = cell._value, cell.data_type
        at = f'<c r="{cell.coordinate}"{self._style(cell._style)}'
        if kind == "f" and isinstance(value, str):
            stored, text = as_stored(self.results[cell.row, cell.column])
            said = f' t="{stored}"' if stored else ""
            return f"{at}{said}><f>{_plain(value[1:])}</f><v>{_plain(text)}</v></c>"
        if value is None:  # a blank: with a type it would be read as 0 by some
            return f"{at}/>" if cell._comment is not None or self._style(cell._style) else ""
        if kind == "n":
            return f'{at} t="n"><v>{safe_string(value)}</v></c>'
        if kind == "s" and not isinstance(value, CellRichText):
            kept = "" if value == value.strip() else ' xml:space="preserve"'
            return f'{at} t="inlineStr"><is><t{kept}>{_plain(value)}</t></is></c>'
        caught = _Caught()
        etree_write_cell(caught, self.ws, cell, cell.has_style)
        return caught.text

    def _style(self, style: Any) -> str:
        if id(style) not in self._styles:
            number = self.ws.parent._cell_styles.add(style) if style is not None else 0
            self._styles[id(style)] = style, f' s="{number}"' if style and any(style) else ""
        return self._styles[id(style)][1]


class _Caught:
    """Takes what openpyxl writes of a cell that is none of ours: a date, say, of the template's."""

    text = ""

    def write(self, element: Any) -> None:
        """Keep the element as text."""
        self.text += tostring(element, encoding="unicode")


def _plain(text: str) -> str:
    """A text as it stands in XML; a bare carriage return would be read as a line end."""
    return escape(text, {"\r": "&#13;"})


def _quoted(value: Any) -> str:
    return escape(str(value), {'"': "&quot;"})


class _ResultWriter(ExcelWriter):
    def __init__(self, workbook: Workbook, archive: ZipFile, results: Results) -> None:
        super().__init__(workbook, archive)
        self.results = results

    def write_worksheet(self, ws: Any) -> None:
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts = ws._charts
        ws._drawing.images = ws._images
        writer = _SheetWriter(ws, self.results.get(ws.title, {}))
        part = writer.part()
        ws._rels = writer._rels
        self._archive.writestr(ws.path[1:], part)
        self.manifest.append(ws)


_REPEATED = "_xlnm.Print_Titles"


class _Archive(ZipFile):
    """A package whose names are put in order while it is written.

    openpyxl names the rows and columns a sheet repeats before its print area. LibreOffice lays out
    the pages of a sheet when it meets the first, all of it where no area is known yet: a job's
    workbook takes it three times as long to open.
    """

    def writestr(self, zinfo_or_arcname: Any, data: Any, *more: Any, **others: Any) -> None:
        """As ZipFile does, but for the part that holds the names."""
        whole = _areas_first(data) if zinfo_or_arcname == ARC_WORKBOOK else data
        super().writestr(zinfo_or_arcname, whole, *more, **others)


def _areas_first(part: bytes) -> bytes:
    """The part with the names of what is repeated moved to the end of its names."""
    tree = fromstring(part)
    for names in tree.iterfind("{*}definedNames"):
        names[:] = sorted(names, key=lambda name: name.get("name") == _REPEATED)
    return bytes(tostring(tree))


def save(workbook: Workbook, results: Results, path: Path, new: bool = False) -> None:
    """Write the workbook whole or not at all; with `new`, never in the place of another file.

    Raises FileError when it cannot be written.
    """
    write_whole(path, as_file(workbook, results), new=new)


def as_file(workbook: Workbook, results: Results) -> bytes:
    """The bytes of the workbook's file."""
    stream = BytesIO()
    with _Archive(stream, "w", ZIP_DEFLATED, allowZip64=True) as archive:
        _ResultWriter(workbook, archive, results).save()
    return stream.getvalue()
