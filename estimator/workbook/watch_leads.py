"""What is told on Start by name, with a link to the cell in which it is typed: products without a
price, suppliers without a delivery charge, questions left blank, checks that are short, figures that
a check lacks."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from ..buying import suppliers
from ..checks import NOT_GIVEN, PRODUCT_CHECKS, SHORT, Check
from ..language import NOT_AVAILABLE
from ..language.tables import Item
from ..model.faults import MOST_PRODUCTS
from ..questionnaire import answers
from .layout import CELL_LED_TO, CELLS, on
from .watch_rows import Rows, link, rows_down

if TYPE_CHECKING:
    from .contents import Contents

ANSWERS = answers.answers_missing.__name__
DELIVERIES = suppliers.deliveries_missing.__name__
_TYPE_PRICE = "Type its price."
_TYPE_DELIVERY = "Type the delivery charge, 0 for none."
_ANSWER = "Answer: "
_TYPE_IN = "Type it in "
_SEE = "See "

_Found = Callable[[], tuple[int, str]]  # a row, and the cell that a link leads to


def watch_products(found: Rows, contents: "Contents", item: Item) -> None:
    """The first products without a price, each in a row that leads to where it is typed; then how
    many more there are."""
    layout, ledger = contents.layout, contents.ledger
    front = layout.fronts["book"]
    codes, descriptions, places = (
        layout.whole("book", name, "") for name in ("code", "description", "missing_no")
    )
    head = f"{on(front.sheet)}!${front.letters['price']}${front.first - 1}"
    counted = ledger.cell(item.name) is not NOT_AVAILABLE  # else the sheet names none of them
    no = ledger.column("book", "missing_no")
    missing = sorted((n for n in range(len(no)) if no[n]), key=no.__getitem__) if counted else []
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


def watch_deliveries(found: Rows, contents: "Contents", item: Item) -> None:
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
            f"+{rows_down(contents.plan.tables['suppliers'], layout)}",
        ),
        [(n + 1, _TYPE_DELIVERY, f"#{on(front.sheet)}!{letter}{front.first + n}") for n in rows],
    )


def watch_answers(found: Rows, contents: "Contents", item: Item) -> None:
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


def watch_shorts(found: Rows, contents: "Contents", checks: str) -> None:
    """The checks of a list that are short: nothing to fix, but a link to the first, and how many
    more there are."""
    layout, ledger = contents.layout, contents.ledger
    front = layout.fronts[checks]
    labels, states = (layout.whole(checks, name, "") for name in ("label", "state"))
    head = f"{on(front.sheet)}!${front.letters['label']}${front.first - 1}"
    first = f'MATCH("{SHORT}",{states},0)'
    rows = [n for n, state in enumerate(ledger.column(checks, "state")) if state == SHORT]
    at = [(n + 1, f"#{on(front.sheet)}!{front.letters['label']}{front.first + n}") for n in rows]
    says = told = called = ""
    if rows:
        called = ledger.rows[checks][rows[0]]["label"]
        says = f"{_SEE}{at[0][1][1:]}"
        told = f"{{list}}: short{f', and {len(rows) - 1} more' if len(rows) > 1 else ''}"
    found.add(
        called,
        front.sheet,
        f'COUNTIF({states},"{SHORT}")',  # not by SUMPRODUCT: a check without a state has #N/A
        first,
        f'"{_SEE}"&MID({{cell}},2,99)',
        link("{sheet}", head, f"+{rows_down(contents.plan.tables[checks], layout)}"),
        [(n, says, cell) for n, cell in at],
        named=f'IFERROR(INDEX({labels},{first}),"")',
        tells='{list}&": short"&IF({count}>1,", and "&({count}-1)&" more","")',
        told=told,
    )


def watch_check(found: Rows, contents: "Contents", check: Check) -> None:
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
    return front.sheet, item, first, link("{sheet}", head, f"+{rows_down(table, layout)}"), found


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
