"""The rows of the list `watched`: what each counts, the first of it in words, and where it leads."""

from typing import Any

from ..language.tables import Table
from ..language.units import EACH, TEXT, Unit
from ..model.faults import WATCHED
from ..pricing import refusals
from .content import Content
from .layout import CELL_SHEET, CELLS, STANDS, Layout, on

# What is said of what is typed where nothing reads it.
_BELOW = "typed on the end line or below it: move it up"
_BEYOND = "more rows than there is room for: lay the file out anew"

PROBLEM_COUNT = refusals.problem_count.__name__

Columns = dict[str, list[Content]]


class Rows:
    """Rows of formulas that are filled in one after another, with their results."""

    def __init__(self, layout: Layout) -> None:
        self.span = layout.spans[WATCHED.name]
        self.columns: Columns = {c.name: [] for c in WATCHED}
        self.with_faults = 0

    def add(
        self,
        title: str,
        sheet: str,
        count: str,
        first: str,
        says: str,
        leads_to: str,
        faults: list[tuple[int, str, str]],
        below: str = "0",
        beyond: str = "0",
        named: str | None = None,
        tells: str = '{list}&": "&{count}&" to fix"',
        told: str = "{list}: {count} to fix",
    ) -> None:
        """One list: `faults` are its rows that cannot be used, what is asked, and their cells.

        `count` is the formula of how many these are, `below` and `beyond` those of what is typed
        where nothing reads it. In formulas `{n}` stands for the cell that holds which row is the
        first, and `{sheet}` for the one that names the sheet. `named` is the formula of what it is
        called, where that is not a list's title. In `tells`, the formula of what Start tells, and
        in `told`, its result, `{list}` is what it is called and `{count}` how many there are.
        """
        row = self.span.first + len(self.columns["list"])
        letters = self.span.letters
        counted, at = f"${letters['faults']}{row}", f"${letters['first_fault']}{row}"
        above = f"${letters['fault_no']}{row - 1}"
        so_far = f"{above}+" if self.columns["list"] else ""
        self.with_faults += bool(faults)
        n, words, cell = faults[0] if faults else (0, "", "")
        self._put("list", named, title, TEXT)
        # As it was called when it was written: what follows would be another formula in each file.
        self.columns["sheet"].append(Content(None, sheet, TEXT, typed=True))
        # Its areas grow with rows that are put in below the list, of which no one keeps count.
        self.columns["below"].append(Content(below, 0, EACH, grows=True))
        self._put("beyond", beyond, 0, EACH)
        under, past = (f"${letters[n]}{row}" for n in ("below", "beyond"))
        self._put("faults", f"{count}+{under}+{past}", len(faults), EACH)
        self._put("first_fault", f"IF({counted}=0,0,IFERROR({first},0))", n, EACH)
        self._put("fault_no", f"{so_far}({counted}>0)*1", self.with_faults, EACH)
        says, leads_to = says.replace("{n}", at), leads_to.replace("{n}", at)
        leads_to = leads_to.replace("{sheet}", f"${letters['sheet']}{row}")
        self._put("leads_to", f'IF({counted}=0,"",{leads_to})', cell, TEXT)
        unread = f'IF({under}>0,"{_BELOW}","{_BEYOND}")'
        says = says.replace("{cell}", f"${letters['leads_to']}{row}")
        self._put("says", f'IF({counted}=0,"",IF({at}=0,{unread},{says}))', words, TEXT)
        called = tells.replace("{list}", f"${letters['list']}{row}").replace("{count}", counted)
        told = told.format(list=title, count=len(faults)) if faults else ""
        self._put("tells", f'IF({counted}=0,"",{called})', told, TEXT)

    def _put(self, name: str, formula: str | None, value: Any, unit: Unit) -> None:
        self.columns[name].append(Content(formula, value, unit))


def seen_at(layout: Layout, name: str) -> tuple[str, str]:
    """Where a count is seen, or else where all of them together are."""
    seen = {n: (sheet, address) for n, sheet, address in reversed(layout.again)}
    return seen.get(name) or seen[PROBLEM_COUNT]


def link(sheet: str, cell: str, below: str = "") -> str:
    """The formula of a link to a cell, or to one below it, on the sheet that is named in a cell."""
    return f'"#"&{sheet}&"!"&ADDRESS(ROW({cell}){below},COLUMN({cell}),4)'


def sheet_named(layout: Layout, sheet: str) -> str:
    """The cell that names a sheet, as a link reads it; its name itself where nothing is typed there."""
    typed = [name for name, (where, _) in layout.typed_cells.items() if where == sheet]
    return f"{CELLS}!{layout.beside_cell(typed[0], CELL_SHEET)}" if typed else f'"{on(sheet)}"'


def rows_down(table: Table, layout: Layout) -> str:
    """How many rows below the head of its front row n of a list stands: of one that comes with the
    program the row that bears the number n."""
    return "{n}" if table.apart else f"INDEX({layout.whole(table.name, STANDS, '')},{{n}})-1"
