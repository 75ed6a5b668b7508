"""What is typed and cannot be used, counted list by list, and what of it is told on the first sheet.

These stand in the plan as lists; their formulas are the sheet's own, since only the sheet knows
where a row stands.
"""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from ..buying import suppliers
from ..checks import NOT_GIVEN, PRODUCT_CHECKS, Check
from ..language import NOT_AVAILABLE
from ..language.formulas import in_row
from ..language.tables import CHECKED, FAULT, POSITION, Input, Item, Table
from ..language.units import EACH, TEXT, Unit
from ..model.faults import (
    ASKING,
    FOLLOWING,
    MOST_PRODUCTS,
    MOST_TOLD,
    ROWS_FOLLOWING,
    TO_FIX,
    WATCHED,
    names_products,
)
from ..model.sound_rows import is_cell_usable
from ..pricing import refusals
from ..questionnaire import answers
from . import unread
from .content import Content
from .engine import Engine
from .layout import (
    CELL_ASKED,
    CELL_LED_TO,
    CELL_SHEET,
    CELL_SOUND,
    CELLS,
    CELLS_FIRST,
    STANDS,
    Layout,
    on,
)

if TYPE_CHECKING:
    from .contents import Contents

_OF_JOB = "The job, and its questions"
# What is said of what is typed where nothing reads it.
_BELOW = "typed on the end line or below it: move it up"
_MORE = " more to fix"
_TYPE_PRICE = "Type its price."
_TYPE_DELIVERY = "Type the delivery charge, 0 for none."
_ANSWER = "Answer: "
_TYPE_IN = "Type it in "
_BEYOND = "typed in more rows than there is room for: lay the file out anew"

PROBLEM_COUNT = refusals.problem_count.__name__

Columns = dict[str, list[Content]]
_Found = Callable[[], tuple[int, str]]  # a row, and the cell that a link leads to


def watched(engines: Iterable[Engine], contents: "Contents") -> Columns:
    """A row for each list that is typed in, the first for all named cells together; then one for
    each count of what cannot be, though every row can be used."""
    layout = contents.layout
    found = _Rows(layout)
    _watch_cells(found, contents)
    for engine in engines:
        _watch_list(found, engine)
    for item in FOLLOWING:
        if names_products(item):
            _watch_products(found, contents, item)
        elif item.name == suppliers.deliveries_missing.__name__:
            _watch_deliveries(found, contents, item)
        elif item.name == answers.answers_missing.__name__:
            _watch_answers(found, contents, item)
        else:
            _watch_count(found, contents, item)
    for check in ASKING:
        _watch_check(found, contents, check)
    return found.columns


def unchecked(layout: Layout) -> str:
    """The formula that adds up what is typed and cannot be used: without the counts that follow."""
    span = layout.spans[WATCHED.name]
    letter = span.letters["faults"]
    return f"SUM({on(span.sheet)}!${letter}${span.first}:${letter}${span.bottom - ROWS_FOLLOWING})"


class _Rows:
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


def _watch_cells(found: _Rows, contents: "Contents") -> None:
    typed = [n for n in contents.plan.cells if n in contents.layout.typed_cells]
    last = CELLS_FIRST + len(typed) - 1
    sound, asked, led_to = (
        f"{CELLS}!${letter}${CELLS_FIRST}:${letter}${last}"
        for letter in (CELL_SOUND, CELL_ASKED, CELL_LED_TO)
    )
    faults = []
    for n, name in enumerate(typed, 1):
        item = contents.plan.cells[name]
        assert isinstance(item, Input)
        if not is_cell_usable(item, contents.ledger.cell(name)):
            faults.append((n, item.asked, contents.led_to(name)))
    found.add(
        _OF_JOB,
        contents.layout.typed_cells[typed[0]][0],
        f"{len(typed)}-SUM({sound})",
        f"MATCH(0,{sound},0)",
        f"INDEX({asked},{{n}})",
        f"INDEX({led_to},{{n}})",
        faults,
    )


def _watch_list(found: _Rows, engine: Engine) -> None:
    table, layout = engine.table, engine.layout
    sound = layout.whole(table.name, CHECKED, "")
    fault = layout.whole(table.name, FAULT, "")
    front = layout.fronts[table.name]
    marked_by = _mark_column(engine)
    letter = front.letters[marked_by]
    head = f"{on(front.sheet)}!${letter}${front.first - 1}"
    area = layout.front_area(table.name, marked_by)
    at = _rows_down(table, layout)
    rows = f"ROWS({area})" + ("-1" if table.apart else "")  # from the head to the end line
    mark = f"INDEX({area},{at}+1)"
    faults = []
    for n, words in engine.faults():
        cell = f"#{on(front.sheet)}!{letter}{front.first + n - 1}"
        faults.append((n, f"{engine.shown(marked_by, n - 1)}: {words}", cell))
    found.add(
        table.title,
        front.sheet,
        f"ROWS({sound})-SUM({sound})",
        f"MATCH(0,{sound},0)",
        f'IFERROR({mark},"")&": "&INDEX({fault},{{n}})',
        link("{sheet}", head, f"+IF({{n}}=0,{rows},{at})"),
        faults,
        unread.below(table, layout),
        unread.beyond(table, layout, engine.count),
    )


def _rows_down(table: Table, layout: Layout) -> str:
    """How many rows below the head of its front row n of a list stands: of one that comes with the
    program the row that bears the number n."""
    return "{n}" if table.apart else f"INDEX({layout.whole(table.name, STANDS, '')},{{n}})-1"


def _watch_count(found: _Rows, contents: "Contents", item: Item) -> None:
    value = contents.ledger.cell(item.name)
    sheet, address = _place(contents.layout, item.name)
    cell = f"#{on(sheet)}!{address.replace('$', '')}"
    found.add(
        item.label,
        sheet,
        f"IFERROR({item.name},0)",
        "1",
        '""',
        link("{sheet}", f"{on(sheet)}!{address}"),
        [] if value is NOT_AVAILABLE else [(1, "", cell)] * int(value),
    )


def _watch_products(found: _Rows, contents: "Contents", item: Item) -> None:
    """The first products without a price, each in a row that leads to where it is typed; then how
    many more there are."""
    layout, ledger = contents.layout, contents.ledger
    front = layout.fronts["book"]
    codes, descriptions, places = (
        layout.whole("book", name, "") for name in ("code", "description", "missing_no")
    )
    head = f"{on(front.sheet)}!${front.letters['price']}${front.first - 1}"
    missing = [n for n, place in enumerate(ledger.column("book", "missing_no")) if place]
    missing.sort(key=lambda n: ledger.column("book", "missing_no")[n])
    for place in range(1, MOST_PRODUCTS + 2):
        last = place > MOST_PRODUCTS
        first = f"MATCH({place},{places},0)"
        rows = missing[place - 1 :] if last else missing[place - 1 : place]
        at = [
            (n + 1, "", f"#{on(front.sheet)}!{front.letters['price']}{front.first + n}")
            for n in rows
        ]
        more = f"MAX(0,{item.name}-{MOST_PRODUCTS})" if last else f"({item.name}>={place})*1"
        link_to = link("{sheet}", head, "+{n}")
        if last:
            words = "More products without a price"
            found.add(words, front.sheet, f"IFERROR({more},0)", first, '""', link_to, at)
            continue
        called = ""
        if rows:
            of = (ledger.column("book", name)[rows[0]] for name in ("code", "description"))
            called = " ".join(str(part or "") for part in of)
            at = [(n, _TYPE_PRICE, cell) for n, _, cell in at]
        named = f'INDEX({codes},{first})&" "&INDEX({descriptions},{first})'
        found.add(
            called,
            front.sheet,
            f"IFERROR({more},0)",
            first,
            f'"{_TYPE_PRICE}"',
            link_to,
            at,
            named=f'IFERROR({named},"")',
            tells='{list}&": no price"',
            told="{list}: no price",
        )


def _watch_deliveries(found: _Rows, contents: "Contents", item: Item) -> None:
    """Suppliers without a delivery charge: the first leads to where it is typed."""
    layout, ledger = contents.layout, contents.ledger
    front = layout.fronts["suppliers"]
    letter = front.letters["delivery"]
    missing = ledger.column("suppliers", "delivery_missing")
    rows = [n for n, flag in enumerate(missing) if flag == 1]
    found.add(
        "Suppliers without a delivery charge",
        front.sheet,
        f"IFERROR({item.name},0)",
        f"MATCH(1,{layout.whole('suppliers', 'delivery_missing', '')},0)",
        f'"{_TYPE_DELIVERY}"',
        link(
            "{sheet}",
            f"{on(front.sheet)}!${letter}${front.first - 1}",
            f"+{_rows_down(contents.plan.tables['suppliers'], layout)}",
        ),
        [(n + 1, _TYPE_DELIVERY, f"#{on(front.sheet)}!{letter}{front.first + n}") for n in rows],
    )


def _watch_answers(found: _Rows, contents: "Contents", item: Item) -> None:
    """The questions left blank: the first by name, with a link to where it is answered."""
    layout, ledger = contents.layout, contents.ledger
    labels, lacking = (layout.whole("questions", name, "") for name in ("label", "lacking"))
    first, last = (
        layout.beside_cell(i.name, CELL_LED_TO) for i in (answers.INPUTS[0], answers.INPUTS[-1])
    )
    value = ledger.cell(item.name)
    faults = []
    if value is not NOT_AVAILABLE and value:
        n = ledger.column("questions", "lacking").index(1)
        asked = answers.INPUTS[n]
        faults = [(n + 1, f"{_ANSWER}{asked.label}", contents.led_to(asked.name))] * int(value)
    found.add(
        item.label,
        layout.typed_cells[answers.INPUTS[0].name][0],
        f"IFERROR({item.name},0)",
        f"MATCH(1,{lacking},0)",
        f'"{_ANSWER}"&INDEX({labels},{{n}})',
        f"INDEX({CELLS}!{first}:{last},{{n}})",
        faults,
    )


def _watch_check(found: _Rows, contents: "Contents", check: Check) -> None:
    """A check whose figure is not given: nothing to fix, but a link to where the figure is typed."""
    layout, ledger = contents.layout, contents.ledger
    checks = "product_checks" if check in PRODUCT_CHECKS else "checks"
    row = next(n for n, r in enumerate(ledger.rows[checks]) if r["key"] == check.key)
    span = layout.spans[checks]
    state = f"{on(span.sheet)}!${span.letters['state']}${span.first + row}"
    sheet, item, first, leads_to, cell = _typed_at(contents, check)
    of = "" if item.label == check.label else f", for the check: {check.label}"
    faults = []
    if ledger.column(checks, "state")[row] == NOT_GIVEN:
        n, at = cell()
        faults = [(n, f"{_TYPE_IN}{at[1:]}{of}", at)]
    found.add(
        item.label,
        sheet,
        f'IFERROR(({state}="{NOT_GIVEN}")*1,0)',
        first,
        f'"{_TYPE_IN}"&MID({{cell}},2,99)&"{of}"',
        leads_to,
        faults,
        tells='{list}&": not given"',
        told="{list}: not given",
    )


def _typed_at(contents: "Contents", check: Check) -> tuple[str, Item, str, str, _Found]:
    """Where the figure of a check is typed: the sheet, what it is, the formulas of its row and of
    the link to it, and what these two come to."""
    layout, plan = contents.layout, contents.plan
    listed, _, column = check.typed.partition(".")
    if not column:
        sheet, _ = layout.typed_cells[listed]
        leads_to = f"{CELLS}!{layout.beside_cell(listed, CELL_LED_TO)}"
        return sheet, plan.cells[listed], "1", leads_to, lambda: (1, contents.led_to(listed))
    table, front = plan.tables[listed], layout.fronts[listed]
    letter = front.letters[column]
    named = plan.keyed_items.get(check.typed_row)
    item: Item = named or table.column(column)
    first, number = _row_typed(contents, check, listed)

    def found() -> tuple[int, str]:
        n = number()
        return n, f"#{on(front.sheet)}!{letter}{front.first + n - 1}"

    head = f"{on(front.sheet)}!${letter}${front.first - 1}"
    return front.sheet, item, first, link("{sheet}", head, f"+{_rows_down(table, layout)}"), found


def _row_typed(contents: "Contents", check: Check, listed: str) -> tuple[str, Callable[[], int]]:
    """The formula of the row in which a check's figure is typed, and its result; 1 for no row in
    particular."""
    layout, ledger, plan = contents.layout, contents.ledger, contents.plan
    by = check.typed_row
    if by in plan.keyed:
        n = plan.keyed[by][1]
        return f"{n}", lambda: n
    if by in plan.cells:
        return f"MAX(1,{by})", lambda: max(1, int(ledger.cell(by)))
    if by:
        flags = layout.whole(listed, by, "")
        return f"MATCH(1,{flags},0)", lambda: ledger.column(listed, by).index(1) + 1
    return "1", lambda: 1


def _place(layout: Layout, name: str) -> tuple[str, str]:
    """Where a count is seen, or else where all of them together are."""
    seen = {n: (sheet, address) for n, sheet, address in reversed(layout.again)}
    return seen.get(name) or seen[PROBLEM_COUNT]


def link(sheet: str, cell: str, below: str = "") -> str:
    """The formula of a link to a cell, or to one below it, on the sheet that is named in a cell."""
    return f'"#"&{sheet}&"!"&ADDRESS(ROW({cell}){below},COLUMN({cell}),4)'


def _mark_column(engine: Engine) -> str:
    """The column of a front by which a person knows a row: its mark, else the first of its texts."""
    table = engine.table
    letters = engine.layout.fronts[table.name].letters
    if table.key in letters:
        return table.key
    return next(n for n in letters if n != POSITION and table.has(n) and table.column(n).unit.text)


def to_fix(lists: Columns, layout: Layout, problems: Any) -> Columns:
    """The first lists and counts with something to fix, and how much more there is than is told;
    `problems` is what there is in all."""
    span = layout.spans[TO_FIX.name]

    def whole(name: str) -> str:
        return layout.whole(WATCHED.name, name, "")

    no, told = (f"${span.letters[n]}{{r}}" for n in ("list_no", "told"))
    place = f"${span.letters[POSITION]}{{r}}"
    count = f"INDEX({whole('faults')},{no})"
    to_rest, rest_at = _link_to_rest(layout)
    last = MOST_TOLD - 1
    to_be_fixed = len(lists["list"]) - len(ASKING)  # then what is not given follows
    faulty = [n for n, content in enumerate(lists["faults"]) if content.value]
    found: Columns = {c.name: [] for c in TO_FIX}
    said = 0
    for n in range(MOST_TOLD):
        row = span.first + n
        above = f"${span.letters['told']}{row - 1}" if n else "0"
        no_more = f"*(${span.letters['list_no']}{row - 1}>0)" if n else ""
        more = f"({PROBLEM_COUNT}>{told}){no_more}=1"
        listed = f"IFERROR(MATCH({place},{whole('fault_no')},0),0)"
        if n == last:  # it tells the last list, or that there are more than one
            listed = f"IF(MAX({whole('fault_no')})>{MOST_TOLD},0,{listed})"
        formulas = {
            "list_no": listed,
            "told": f"{above}+IF({no}=0,0,({no}<={to_be_fixed})*{count})",
            "where": f'IF({no}=0,IF({more},{PROBLEM_COUNT}-{told}&"{_MORE}",""),'
            f"INDEX({whole('tells')},{no}))",
            "leads_to": f'IF({no}=0,IF({more},{to_rest},""),INDEX({whole("leads_to")},{no}))',
            "says": f'IF({no}=0,"",INDEX({whole("says")},{no}))',
        }
        is_told = n < len(faulty) and not (n == last and len(faulty) > MOST_TOLD)
        values: dict[str, Any] = {
            "list_no": 0,
            "told": said,
            "where": "",
            "leads_to": "",
            "says": "",
        }
        if is_told:
            at_list = faulty[n]
            said += lists["faults"][at_list].value if at_list < to_be_fixed else 0
            values = {
                "list_no": at_list + 1,
                "told": said,
                "where": lists["tells"][at_list].value,
                "leads_to": lists["leads_to"][at_list].value,
                "says": lists["says"][at_list].value,
            }
        elif n == min(len(faulty), last) and problems > said:
            values["where"] = f"{problems - said:g}{_MORE}"
            values["leads_to"] = rest_at
        for name, formula in formulas.items():
            unit = EACH if name in ("list_no", "told") else TEXT
            found[name].append(Content(in_row(formula, row), values[name], unit))
    return found


def _link_to_rest(layout: Layout) -> tuple[str, str]:
    """The formula that leads to where all counts stand, and what it gives."""
    sheet, address = _place(layout, PROBLEM_COUNT)
    beside = [n for n, (s, _) in layout.typed_cells.items() if s == sheet]  # which name the sheet
    named = f"{CELLS}!{layout.beside_cell(beside[0], CELL_SHEET)}" if beside else f'"{on(sheet)}"'
    return link(named, f"{on(sheet)}!{address}"), f"#{on(sheet)}!{address.replace('$', '')}"
