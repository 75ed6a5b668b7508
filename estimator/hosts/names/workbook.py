"""The workbook that carries the functions as names, with an example of each and its result.

Excel was not available: what is said of it here and in docs/install-names.md is expected, not seen.
"""

import io
import re
import zipfile
from xml.sax.saxutils import escape

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from ... import __version__
from ...functions import FUNCTIONS
from ...functions.arguments import ARGUMENTS
from ..calc.sample import CAUTION, EVERY, THERE, Host, draw_every
from . import texts

HOW, LIMITS = "How to use", "Limits"
HOST = Host("DAMP_", "docs/install-names.md", errors=True, why_of_each=True)
# What was seen where; tests/test_lambda.py holds the file to it.
ENGINES = (
    ("IronCalc 0.9.1", "Works every function out. Each example gives the figure by hand."),
    ("LibreOffice 7.4",
     "Opens the file, but does not know LAMBDA: cells that call a function show an error (Err:508). The names "
     "are kept when it saves. Use the extension there."),
    ("Gnumeric 1.12",
     "Opens the file, but does not know LAMBDA: cells that call a function show #NAME?. What it "
     "saves has lost the names."),
    ("Excel", "NOT RUN: it was not available. All that this sheet says of it is expected."),
)  # fmt: skip
_LINES: tuple[tuple[str, str], ...] = (
    ("What this is", "Functions as defined names of this workbook. Nothing is installed, and there "
     "is no macro. The workbook's own rules were written into them. No figure is typed by hand."),
    ("What it needs", "A program that knows LAMBDA. Expected: Excel for Microsoft 365, Excel 2024, "
     "on Windows and Mac, and Excel on the web. Earlier ones show #NAME?."),
    ("Into your workbook", "Open both. Right-click the tab of the sheet Every function, choose "
     "Move or Copy, choose your workbook, tick Create a copy, OK. The names should go along: that "
     "sheet calls each of them, and they refer to no cell, only to constants and to each other. "
     "Or begin your own sheets in a copy of this file."),
    ("Then look", "In a free cell of your workbook =DAMP_TRAY_STOP_END_COUNT(3) shows 6, and "
     "=DAMP_INSTALLED() the version. On the copied sheet the columns Gives and By hand say the "
     "same in each row. Formulas, Name Manager lists the names: none may refer to another file."),
    ("How to call", "One cell or one figure for each argument, in the order of Every function, "
     "parted by commas or semicolons as your computer does. Then fill down. A column of cells in "
     "one argument gives #N/A."),
    ("Whose guidance", "A function that needs guidance takes it last, by its name in "
     "the list of the workbook, as NHBC Standards (2024). Own figures may follow: NHBC Standards "
     "(2024); weep_from_end=225. One that cannot be read gives #N/A."),
    ("Where there is no figure", "#N/A: an argument is outside its limits (sheet Limits), blank, "
     "or of another kind, arguments do not go together, or the basis states no figure. The same name "
     "with _WHY after it, and the same arguments, says which: =DAMP_TRAY_STOP_END_COUNT_WHY(2.5)."),
    ("A later version", "Names in your workbook stay as they are. Delete them in the Name Manager "
     "and copy the sheet of the later file."),
    ("Caution", CAUTION),
)  # fmt: skip
_BOLD, _LARGE = Font(name="Calibri", bold=True), Font(name="Calibri", bold=True, size=14)
_TOP = Alignment(vertical="top", wrap_text=True)


def names_workbook() -> bytes:
    """The workbook's content."""
    book = Workbook()
    how = book.active
    assert isinstance(how, Worksheet)
    how.title = HOW
    _how(how)
    draw_every(book.create_sheet(EVERY), HOST)
    _limits(book.create_sheet(LIMITS))
    for name, text in texts.names().items():
        book.defined_names[name] = DefinedName(name, attr_text=text)
    book.properties.creator = book.properties.lastModifiedBy = f"estimator {__version__}"
    book.properties.title = "Damp-proofing functions as names"
    book.calculation.fullCalcOnLoad = True
    written = io.BytesIO()
    book.save(written)
    return _with_results(written.getvalue())


def _how(sheet: Worksheet) -> None:
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 26, 100
    sheet["A1"], sheet["A1"].font = f"{THERE} {__version__}, with nothing installed", _LARGE
    row = 3
    for head, words in (*_LINES, ("Run in", ""), *ENGINES):
        sheet.cell(row, 1, head).alignment = _TOP
        sheet.cell(row, 1).font = _BOLD
        sheet.cell(row, 2, words or None).alignment = _TOP
        row += 1


def _limits(sheet: Worksheet) -> None:
    for letter, width in zip("ABC", (26, 70, 90), strict=True):
        sheet.column_dimensions[letter].width = width
    sheet["A1"], sheet["A1"].font = "What each argument accepts", _LARGE
    for column, word in enumerate(("Argument", "What it is", "Accepted"), 1):
        sheet.cell(3, column, word).font = _BOLD
    for row, argument in enumerate(ARGUMENTS.values(), 4):
        for column, words in enumerate((argument.shown, argument.help, argument.accepted), 1):
            sheet.cell(row, column, words).alignment = _TOP
    sheet.freeze_panes = "A4"


# ---- what the cells showed -------------------------------------------------------------------

_FORMULA = re.compile(r'<c r="([A-Z]+\d+)"([^>]*)><f>([^<]*)</f><v ?/?>(?:</v>)?</c>')


def _with_results(data: bytes) -> bytes:
    """The file with the result of each formula beside it: programs show it until they work it out."""
    written = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as package,
        zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive,
    ):
        for item in package.infolist():
            part = package.read(item)
            if item.filename.startswith("xl/worksheets/sheet"):
                part = _FORMULA.sub(_result, part.decode("utf-8")).encode("utf-8")
            archive.writestr(item.filename, part)
    return written.getvalue()


def _result(found: re.Match[str]) -> str:
    cell, more, formula = found.groups()
    called = re.match(r"(DAMP_\w+?)(_WHY)?\(", formula)
    result: float | str = f"{THERE} {__version__}"
    if called:
        result = "" if called[2] else FUNCTIONS[called[1]].example.gives
    kind = ' t="str"' if isinstance(result, str) else ""
    value = escape(result) if isinstance(result, str) else repr(result)
    return f'<c r="{cell}"{more}{kind}><f>{formula}</f><v>{value}</v></c>'
