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
from com.sun.star.table.CellContentType import EMPTY, FORMULA, VALUE

XLSX, ODS = "Calc MS Excel 2007 XML", "calc8"


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
        sheet = self.sheet(name)
        for n, line in enumerate(rows):
            for m, content in enumerate(line):
                cell = sheet.getCellByPosition(column + m, row + n)
                if isinstance(content, str) and content.startswith("="):
                    cell.setFormula(content)
                elif isinstance(content, str):
                    cell.setString(content)
                elif content is not None:
                    cell.setValue(content)

    def array(self, name, area, formula):
        """An array formula over an area."""
        self.sheet(name).getCellRangeByName(area).setArrayFormula(formula)

    def read(self, name, area):
        """What the cells of an area hold: numbers, texts, None for blanks, ["error", code]."""
        found = self.sheet(name).getCellRangeByName(area)
        size = found.RangeAddress
        return [
            [
                self.value(found.getCellByPosition(c, r))
                for c in range(size.EndColumn - size.StartColumn + 1)
            ]
            for r in range(size.EndRow - size.StartRow + 1)
        ]

    @staticmethod
    def value(cell):
        if cell.getError():
            return ["error", cell.getError()]
        if cell.Type == EMPTY:
            return None
        if cell.Type == VALUE:
            return cell.Value
        if cell.Type == FORMULA:
            return cell.String if cell.FormulaResultType2 == 2 else cell.Value
        return cell.String

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
