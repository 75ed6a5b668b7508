"""Every formula cell written together with its result, so that viewers show the right figures.

openpyxl writes formulas without results, and cell by cell. Its sheet writer is subclassed (it is
private, hence openpyxl ~= 3.1.5 and a test) so that the rows are put in as text, in one piece;
nothing is patched and nothing is written twice.
"""

from collections.abc import Iterator, Mapping
from io import BytesIO
from typing import Any
from xml.sax.saxutils import quoteattr
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import Workbook
from openpyxl.cell._writer import etree_write_cell
from openpyxl.cell.rich_text import CellRichText
from openpyxl.comments.comment_sheet import CommentRecord
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.worksheet.dimensions import SheetDimension
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.constants import ARC_WORKBOOK
from openpyxl.xml.functions import fromstring, tostring

from .cell_text import formula_cell, number_cell, plain, text_cell
from .charts import Drawings
from .hidden import HiddenSheet

Results = Mapping[str, Mapping[tuple[int, int], Any]]
Hidden = Mapping[str, HiddenSheet]


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

    def rows(self) -> list[tuple[int, list[Any]]]:
        """Every row that has a cell or a look of its own, its cells from left to right."""
        found: dict[int, list[Any]] = {row: [] for row in self.ws.row_dimensions}
        for cell in self.ws._cells.values():
            found.setdefault(cell.row, []).append(cell)
        for cells in found.values():
            cells.sort(key=lambda cell: cell.column)
        return sorted(found.items())

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
            more = "".join(f" {name}={quoteattr(str(v))}" for name, v in dimension.items())
            inside = "".join([self._cell(cell) for cell in cells])
            yield f'<row r="{number}"{more}>{inside}</row>'

    def _cell(self, cell: Any) -> str:
        value, kind, style = cell._value, cell.data_type, self._style(cell._style)
        at = f'<c r="{get_column_letter(cell.column)}{cell.row}"{style}'
        if value is None:  # a blank: with a type it would be read as 0 by some
            return f"{at}/>" if cell._comment is not None or style else ""
        if kind == "f" and isinstance(value, str):
            return formula_cell(at, plain(value[1:]), self.results[cell.row, cell.column])
        if kind == "n":
            return number_cell(at, value)
        if kind == "s" and not isinstance(value, CellRichText):
            return text_cell(at, value)
        caught = _Caught()
        etree_write_cell(caught, self.ws, cell, cell.has_style)
        return caught.text

    def _style(self, style: Any) -> str:
        known = self._styles.get(id(style))
        if known is None:
            number = self.ws.parent._cell_styles.add(style) if style is not None else 0
            known = style, f' s="{number}"' if style and any(style) else ""
            self._styles[id(style)] = known
        return known[1]


class _HiddenWriter(_SheetWriter):
    """Writes a sheet that is held column by column: its rows are not cells of openpyxl."""

    def __init__(self, sheet: Any, held: HiddenSheet) -> None:
        super().__init__(sheet, {})
        self.held = held

    def write_dimensions(self) -> None:
        """The area that its columns fill."""
        self.xf.send(SheetDimension(self.held.area).to_tree())

    def _rows(self) -> Iterator[str]:
        return self.held.rows()


class _Caught:
    """Takes what openpyxl writes of a cell that is none of ours: a date, say, of the template's."""

    text = ""

    def write(self, element: Any) -> None:
        """Keep the element as text."""
        self.text += tostring(element, encoding="unicode")


class _ResultWriter(ExcelWriter):
    def __init__(
        self, workbook: Workbook, archive: ZipFile, results: Results, hidden: Hidden
    ) -> None:
        super().__init__(workbook, archive)
        self.results, self.hidden = results, hidden

    def write_worksheet(self, ws: Any) -> None:
        ws._drawing = Drawings()
        ws._drawing.charts = ws._charts
        ws._drawing.images = ws._images
        held = self.hidden.get(ws.title)
        if held is not None:
            writer: _SheetWriter = _HiddenWriter(ws, held)
        else:
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


def as_file(workbook: Workbook, results: Results, hidden: Hidden | None = None) -> bytes:
    """The bytes of the workbook's file; a sheet in `hidden` holds what is said there.

    Raises KeyError for a formula without its result, ValueError for a text that no cell can hold.
    """
    stream = BytesIO()
    with _Archive(stream, "w", ZIP_DEFLATED, allowZip64=True) as archive:
        _ResultWriter(workbook, archive, results, hidden or {}).save()
    return stream.getvalue()
