"""A macro-enabled workbook wired to the functions, made from xlwings' own standalone template.

The template's Visual Basic and the library that it loads carry one exact version, so xlwings must
have that version, here and where the workbook is opened. Excel was not available: that the
workbook opens and its macro runs is on the check list of docs/install-excel.md, not yet done.
"""

import io
from datetime import UTC, datetime
from importlib import metadata, resources
from importlib.util import find_spec

from openpyxl import load_workbook
from openpyxl.styles import Alignment, Font
from openpyxl.worksheet.worksheet import Worksheet

from ...errors import FileError
from ..calc.sample import Host, draw

XLWINGS = "0.37.8"
MODULE = "estimator.hosts.excel.udfs"
INTERPRETER = (
    r"%LOCALAPPDATA%\estimator\.venv\Scripts\python.exe"  # as docs/install-excel.md has it
)
EXCEL = Host("DAMP_", "docs/install-excel.md", errors=False)
SETTINGS, LICENCES = "xlwings.conf", "Licences"
_TEMPLATE = "quickstart_standalone.xlsm"
# As the head of xlwings/addin/Dictionary.cls says; the same class stands in the template.
_DICTIONARY = (
    "The workbook's module Dictionary is VBA-Dictionary v1.4.1, (c) Tim Hall, "
    "https://github.com/timhall/VBA-Dictionary, under the MIT licence "
    "(http://www.opensource.org/licenses/mit-license.php):",
    "Permission is hereby granted, free of charge, to any person obtaining a copy of this software "
    "and associated documentation files (the \"Software\"), to deal in the Software without "
    "restriction, including without limitation the rights to use, copy, modify, merge, publish, "
    "distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the "
    "Software is furnished to do so, subject to the following conditions:",
    "The above copyright notice and this permission notice shall be included in all copies or "
    "substantial portions of the Software.",
    "THE SOFTWARE IS PROVIDED \"AS IS\", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, "
    "INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR "
    "PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR "
    "ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, "
    "ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE "
    "SOFTWARE.",
)  # fmt: skip


def excel_workbook() -> bytes:
    """The workbook's content. Raises FileError where that version of xlwings is not installed."""
    _need_xlwings()
    template = resources.files("xlwings").joinpath(_TEMPLATE).read_bytes()
    # With keep_vba, and under a name ending in .xlsm: Excel refuses one without the other.
    book = load_workbook(io.BytesIO(template), keep_vba=True)
    first, settings = book["Sheet1"], book["_xlwings.conf"]
    draw(book, first, EXCEL)
    _settings(settings)
    _licences(book.create_sheet(LICENCES))
    book.active = 0
    book.properties.created = datetime.now(UTC).replace(tzinfo=None)  # not the template's
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def _need_xlwings() -> None:
    found = metadata.version("xlwings") if find_spec("xlwings") else None
    if found != XLWINGS:
        raise FileError("xlwings", found, f"version {XLWINGS}: pip install xlwings=={XLWINGS}")


def _settings(sheet: Worksheet) -> None:
    """The template's sheet of settings, made to count; its place among the sheets is kept."""
    sheet.title = SETTINGS
    sheet.delete_rows(10, sheet.max_row)
    for row in sheet.iter_rows(min_row=1, max_col=2):
        row[1].value = {"UDF Modules": MODULE, "Interpreter_Win": INTERPRETER}.get(
            str(row[0].value), row[1].value
        )
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 32, 60
    # Else Python first looks for modules beside the workbook, where any file may lie, and does not
    # start at all where OneDrive hides the folder (xlwings/utils.py, prepare_sys_path). A text:
    # it is compared as one. Directly below the others: reading ends at the first blank cell.
    sheet["A10"], sheet["B10"] = "ADD_WORKBOOK_TO_PYTHONPATH", "false"


def _licences(sheet: Worksheet) -> None:
    sheet.column_dimensions["A"].width = 100
    lines = (
        f"This workbook carries parts of xlwings {XLWINGS}, open source, under the BSD 3-clause "
        "licence. Nothing under its other licence is used or needed.",
        *_of_xlwings(),
        *_DICTIONARY,
    )
    for row, line in enumerate(lines, 1):
        sheet.cell(row, 1, line).alignment = Alignment(wrap_text=True, vertical="top")
    sheet["A1"].font = Font(bold=True)


def _of_xlwings() -> list[str]:
    """xlwings' licence as its own distribution states it, a paragraph to a cell."""
    for file in metadata.files("xlwings") or ():
        if file.name == "LICENSE.txt":
            return [" ".join(p.split()) for p in file.read_text("utf-8").split("\n\n") if p.strip()]
    raise FileError("xlwings", None, "its LICENSE.txt, whose notice the workbook must repeat")
