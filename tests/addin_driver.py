"""Works in LibreOffice with the extension installed. Run by the system's own Python.

Argument: a profile folder. Each line of standard input is a list of steps as JSON, each step a name
and its arguments; each line of standard output is the list of their answers.
"""

import contextlib
import json
import os
import sys
import time

import uno
from calc_driver import connect, prop
from com.sun.star.frame.DispatchResultState import SUCCESS

XLSX, ODS = "Calc MS Excel 2007 XML", "calc8"
PATIENCE = 1200  # tenths of a second for something to come
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

    def choose(self, entry, answer):
        """An entry of the menu, its question answered: whether it was done, and what was said."""
        frame = self.document.CurrentController.Frame
        done = self.service("com.sun.star.frame.DispatchHelper").executeDispatch(
            frame, self.url(entry).Complete, "", 0, (prop("Answer", answer),)
        )
        self.document = frame.Controller.Model
        return [done.State == SUCCESS, done.Result]

    def pick(self, entry, answer):
        """An entry as the menu itself dispatches it: nobody waits for what comes of it."""
        frame, url = self.document.CurrentController.Frame, self.url(entry)
        frame.queryDispatch(url, "_self", 0).dispatch(url, (prop("Answer", answer),))

    def wait(self, path):
        """Until a file is there, and the window is free again."""
        for _ in range(PATIENCE):
            frames = self.desktop.Frames
            found = [frames.getByIndex(n).Controller for n in range(frames.Count)]
            if os.path.exists(path) and found and found[0] is not None:
                self.document = found[0].Model
                return True
            time.sleep(0.1)
        return False

    def half_type(self, name, address, text):
        """Type into a cell and press no key after it: the cell is still being edited."""
        self.document.CurrentController.setActiveSheet(self.sheet(name))
        window = self.service("com.sun.star.ui.test.UITest").getTopFocusWindow()
        grid = window.getChild("grid_window")
        grid.executeAction("SELECT", (prop("CELL", address),))
        grid.executeAction("TYPE", (prop("TEXT", text),))
        self.service("com.sun.star.awt.Toolkit").processEventsToIdle()
        return self.sheet(name).getCellRangeByName(address).String

    def url(self, entry):
        found = uno.createUnoStruct("com.sun.star.util.URL")
        found.Complete = "vnd.estimator.damp:" + entry
        return found

    def menu(self):
        """Our menu and its entries: their titles, and whether each is known."""
        reading = "com.sun.star.configuration.ConfigurationAccess"
        at = "/org.openoffice.Office.Addons/AddonUI/OfficeMenuBar/estimator.damp.menu"
        provider = self.service("com.sun.star.configuration.ConfigurationProvider")
        menu = provider.createInstanceWithArguments(reading, (prop("nodepath", at),))
        frame, entries = self.document.CurrentController.Frame, menu.Submenu
        found = []
        for name in sorted(entries.ElementNames):
            entry = entries.getByName(name)
            dispatch = frame.queryDispatch(self.url(entry.URL.partition(":")[2]), "_self", 0)
            found.append([entry.Title, dispatch is not None])
        return [menu.Title, menu.Context, found]

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
