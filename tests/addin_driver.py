"""Works in LibreOffice with the extension installed. Run by the system's own Python.

Argument: a profile folder. Each line of standard input is a list of steps as JSON, each step a name
and its arguments; each line of standard output is the list of their answers.
"""

import contextlib
import json
import sys
import time

import uno
from calc_driver import connect, prop

XLSX, ODS = "Calc MS Excel 2007 XML", "calc8"
ERRORS = 4  # com.sun.star.sheet.FormulaResult.ERROR


def as_typed(content):
    """What a cell is given so that it holds a formula, a text, a number or nothing."""
    if content is None:
        return ""
    if isinstance(content, str):
        return content if content.startswith("=") else "'" + content
    return repr(content)


class Office:
    def __init__(self, context):
        self.context = context
        self.desktop = self.service("com.sun.star.frame.Desktop")
        self.document = None

    def service(self, name):
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def open(self, path):
        where = uno.systemPathToFileUrl(path) if path else "private:factory/scalc"
        self.document = self.desktop.loadComponentFromURL(
            where, "_blank", 0, (prop("Hidden", True),)
        )
        return self.document.isModified()

    def close(self):
        self.document.close(True)

    def save(self, path):
        kind = ODS if path.endswith(".ods") else XLSX
        self.document.storeToURL(uno.systemPathToFileUrl(path), (prop("FilterName", kind),))

    def sheet(self, name):
        sheets = self.document.Sheets
        if not sheets.hasByName(name):
            sheets.insertNewByName(name, sheets.Count)
        return sheets.getByName(name)

    def put(self, name, row, column, rows):
        """Formulas as typed in English, texts and numbers, from that cell down; None is blank."""
        width = max(len(line) for line in rows)
        written = tuple(
            tuple(as_typed(c) for c in [*line, *[None] * (width - len(line))]) for line in rows
        )
        area = self.sheet(name).getCellRangeByPosition(
            column, row, column + width - 1, row + len(rows) - 1
        )
        area.setFormulaArray(written)

    def array(self, name, area, formula):
        """An array formula over an area."""
        self.sheet(name).getCellRangeByName(area).setArrayFormula(formula)

    def read(self, name, area):
        """What the cells of an area hold: numbers, texts, "" for blanks, ["error", code]."""
        found = self.sheet(name).getCellRangeByName(area)
        values = [list(row) for row in found.getDataArray()]
        top = found.RangeAddress
        for part in found.queryFormulaCells(ERRORS):
            at = part.RangeAddress
            for row in range(at.StartRow, at.EndRow + 1):
                for column in range(at.StartColumn, at.EndColumn + 1):
                    cell = self.sheet(name).getCellByPosition(column, row)
                    values[row - top.StartRow][column - top.StartColumn] = [
                        "error",
                        cell.getError(),
                    ]
        return values

    def to_undo(self):
        """What Undo offers to take back."""
        return list(self.document.UndoManager.getAllUndoActionTitles())

    def formula(self, name, address):
        return self.sheet(name).getCellRangeByName(address).Formula

    def calculate(self):
        self.document.calculateAll()

    def timed(self, times):
        """The shortest of so many full recalculations, in seconds."""
        found = []
        for _ in range(times):
            start = time.perf_counter()
            self.document.calculateAll()
            found.append(time.perf_counter() - start)
        return min(found)

    def call(self, function, arguments):
        """As another program would call it."""
        access = self.service("com.sun.star.sheet.FunctionAccess")
        return access.callFunction(function, tuple(arguments))

    def wizard(self, prefix):
        """What the function wizard knows: {name: [description, [[argument, help, optional]]]}."""
        found = self.service("com.sun.star.sheet.FunctionDescriptions")
        known = {}
        for n in range(found.Count):
            about = {p.Name: p.Value for p in found.getByIndex(n)}
            if about["Name"].startswith(prefix):
                known[about["Name"]] = [
                    about["Description"],
                    [[a.Name, a.Description, a.IsOptional] for a in about["Arguments"] or ()],
                ]
        return known


def main():
    office, context = connect(sys.argv[1])
    try:
        at_work = Office(context)
        for line in sys.stdin:
            answers = [getattr(at_work, step[0])(*step[1:]) for step in json.loads(line)]
            print(json.dumps(answers), flush=True)
        with contextlib.suppress(Exception):
            at_work.desktop.terminate()
    finally:
        office.kill()


if __name__ == "__main__":
    main()
