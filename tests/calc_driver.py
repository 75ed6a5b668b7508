"""Does to workbooks in LibreOffice what a person would do. Run by the system's own Python.

Argument: a profile folder. Each line of standard input is, as JSON, a file, whether it is to be
recalculated when it is opened, and steps; each line of standard output holds the answers to those
steps, or what went wrong. LibreOffice stays open from one file to the next. When it is gone there
is no answer: this ends, and whoever asked starts it again.
"""

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import traceback

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.table import CellRangeAddress
from com.sun.star.table.CellContentType import EMPTY, TEXT, VALUE


def connect(profile):
    pipe = f"estimator{os.getpid()}"
    office = subprocess.Popen(
        ["soffice", "--headless", "--norestore", "--nodefault",
         f"-env:UserInstallation=file://{profile}", f"--accept=pipe,name={pipe};urp;"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    for _ in range(900):
        try:
            return office, resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except Exception:
            time.sleep(0.1)
    raise SystemExit("LibreOffice did not start")


def spent_by_office():
    """Its processor seconds: those of all that this program began, as Linux keeps them."""
    ticks = 0
    for process in os.listdir("/proc"):
        if process.isdigit() and int(process) != os.getpid():
            with contextlib.suppress(OSError), open(f"/proc/{process}/stat") as file:
                fields = file.read().rpartition(")")[2].split()
                if int(fields[2]) == os.getpgrp():
                    ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def prop(name, value):
    found = PropertyValue()
    found.Name, found.Value = name, value
    return found


class Book:
    def __init__(self, desktop, path):
        self.desktop = desktop
        self.document = None
        self.edited = True
        self.open(path)

    def open(self, path):
        """That file instead of the one that is open, whose changes are forgotten."""
        self.close()
        url, hidden = uno.systemPathToFileUrl(path), (prop("Hidden", True),)
        # On a busy machine one that had only just begun was once seen to open nothing at all.
        for _ in range(2):
            self.document = self.desktop.loadComponentFromURL(url, "_blank", 0, hidden)
            if self.document is not None:
                return
            time.sleep(1)
        raise RuntimeError(f"LibreOffice does not open {path}")

    def close(self):
        if self.document is not None:
            self.document.close(True)
            self.document = None

    def timed(self, times, step, *words):
        """The processor seconds of LibreOffice that another step takes, done so many times."""
        start = spent_by_office()
        for _ in range(times):
            getattr(self, step)(*words)
        return (spent_by_office() - start) / times

    def recalculate(self):
        """Every formula, from scratch."""
        self.document.calculateAll()

    def retype(self, address, value):
        """Type over a cell, and work out what follows from it: as in LibreOffice a person does."""
        self.set(address, value)
        self.document.calculate()

    def area(self, address):
        if "!" in address:
            sheet, cells = address.split("!")
            return self.document.Sheets.getByName(sheet).getCellRangeByName(cells)
        return self.document.NamedRanges.getByName(address).getReferredCells()

    def set(self, address, value):
        cell = self.area(address).getCellByPosition(0, 0)
        if value is None:
            cell.setString("")
            cell.setFormula("")
        elif isinstance(value, str):
            cell.setString(value)
        else:
            cell.setValue(value)

    def tried(self, edits, looks):
        """What cells show after others were typed over, which then hold again what they held.

        Only what follows from the cells typed over is worked out, as while a person types.
        """
        typed_over = [self.area(address).getCellByPosition(0, 0) for address, _ in edits]
        held = [(cell, cell.Type, cell.Value, cell.String, cell.Formula) for cell in typed_over]
        for address, value in edits:
            self.set(address, value)
        self.document.calculate()
        found = [self.show(address) for address in looks]
        for cell, kind, value, text, formula in held:
            if kind == VALUE:
                cell.setValue(value)
            elif kind == TEXT:
                cell.setString(text)
            else:
                cell.setFormula(formula)
        self.edited = True
        return found

    def type(self, address, text):
        """As typed on the keyboard, in English."""
        self.area(address).getCellByPosition(0, 0).setFormula(text)

    def errors(self):
        """Every cell that shows an error, with its code."""
        self.document.calculateAll()
        found = []
        for sheet in self.document.Sheets:
            cells = sheet.queryFormulaCells(4)
            for area in cells:
                a = area.RangeAddress
                for row in range(a.StartRow, a.EndRow + 1):
                    for column in range(a.StartColumn, a.EndColumn + 1):
                        cell = sheet.getCellByPosition(column, row)
                        found.append([sheet.Name, column, row, cell.getError(), cell.Formula])
        return found

    def get(self, address):
        if self.edited:  # once after an edit: nothing moves between two looks
            self.document.calculateAll()
            self.edited = False
        return self.show(address)

    def do(self, name, *words):
        self.edited = self.edited or name not in ("get", "show", "errors")
        return getattr(self, name)(*words)

    def show(self, address):
        """As it stands after the last edit: only what follows from it is worked out."""
        cell = self.area(address).getCellByPosition(0, 0)
        if cell.getError():
            return {32767: "#N/A", 519: "#VALUE!", 524: "#REF!", 532: "#DIV/0!"}.get(
                cell.getError(), f"error {cell.getError()}"
            )
        kind = cell.Type
        if kind == EMPTY:
            return ""
        if kind == VALUE:
            return cell.Value
        if kind == TEXT:
            return cell.String
        return cell.String if cell.FormulaResultType2 == 2 else cell.Value

    def words(self, address):
        """As it is read on the screen: a figure as its number format shows it."""
        return self.area(address).getCellByPosition(0, 0).String

    def insert_row(self, sheet, row):
        self.document.Sheets.getByName(sheet).Rows.insertByIndex(row - 1, 1)

    def delete_row(self, sheet, row):
        self.document.Sheets.getByName(sheet).Rows.removeByIndex(row - 1, 1)

    def insert_column(self, sheet, column):
        self.document.Sheets.getByName(sheet).Columns.insertByIndex(column - 1, 1)

    def rename(self, sheet, name):
        self.document.Sheets.getByName(sheet).setName(name)

    def reorder(self, sheet, place):
        self.document.Sheets.moveByName(sheet, place)

    def new_sheet(self, name, place):
        self.document.Sheets.insertNewByName(name, place)

    def copy_sheet(self, sheet, name, place):
        self.document.Sheets.copyByName(sheet, name, place)

    def delete_name(self, name):
        self.document.NamedRanges.removeByName(name)

    def as_date(self, address, text):
        """A date as typed, shown as one: the cell gets a date's format."""
        cell = self.area(address).getCellByPosition(0, 0)
        locale = uno.createUnoStruct("com.sun.star.lang.Locale")
        cell.NumberFormat = self.document.NumberFormats.getStandardFormat(2, locale)
        cell.setFormula(text)

    def move(self, source, target):
        """Cut and paste."""
        there = self.area(target).getCellByPosition(0, 0).CellAddress
        self.area(source).Spreadsheet.moveRange(there, self.address(source))

    def copy(self, source, target):
        there = self.area(target).getCellByPosition(0, 0).CellAddress
        self.area(source).Spreadsheet.copyRange(there, self.address(source))

    def address(self, source):
        found = self.area(source).RangeAddress
        area = CellRangeAddress()
        for name in ("Sheet", "StartColumn", "StartRow", "EndColumn", "EndRow"):
            setattr(area, name, getattr(found, name))
        return area

    def sort(self, area, column, ascending):
        field = uno.createUnoStruct("com.sun.star.table.TableSortField")
        field.Field, field.IsAscending = column, ascending
        fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
        by = prop("SortFields", fields)
        uno.invoke(self.area(area), "sort", ((by, prop("ContainsHeader", False)),))

    def save(self, path, kind="Calc MS Excel 2007 XML"):
        self.document.storeToURL(uno.systemPathToFileUrl(path), (prop("FilterName", kind),))


def recalculating(context, wanted):
    """Whether files opened from now on are recalculated, or their stored results trusted."""
    provider = context.ServiceManager.createInstanceWithContext(
        "com.sun.star.configuration.ConfigurationProvider", context
    )
    load = provider.createInstanceWithArguments(
        "com.sun.star.configuration.ConfigurationUpdateAccess",
        (prop("nodepath", "/org.openoffice.Office.Calc/Formula/Load"),),
    )
    always, never = 0, 1
    for name in ("OOXMLRecalcMode", "ODFRecalcMode"):
        load.setPropertyValue(name, always if wanted else never)
    load.commitChanges()


def answered(desktop, file, steps):
    """The answers to the steps, each file open no longer than they take."""
    book = Book(desktop, file)
    try:
        return [book.do(*step) for step in steps]
    finally:
        book.close()


def main():
    office, context = connect(sys.argv[1])
    try:
        desktop = context.ServiceManager.createInstanceWithContext(
            "com.sun.star.frame.Desktop", context
        )
        recalculates = None
        for line in sys.stdin:
            file, wanted, steps = json.loads(line)
            try:
                if wanted != recalculates:
                    recalculating(context, wanted)
                    recalculates = wanted
                answer = {"answers": answered(desktop, file, steps)}
            except Exception:
                try:
                    desktop.getFrames()
                except Exception:
                    return  # LibreOffice is gone
                answer = {"wrong": traceback.format_exc()}
            print(json.dumps(answer), flush=True)
    finally:
        # Also when whoever asked was killed. What the program began itself ends with it.
        with contextlib.suppress(Exception):
            desktop.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            office.wait(20)
        if os.getpgrp() == os.getpid():
            os.killpg(0, signal.SIGKILL)
        office.kill()


if __name__ == "__main__":
    main()
