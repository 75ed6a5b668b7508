"""What is typed and cannot be used, counted list by list, and what of it is told on the first sheet.

These stand in the plan as lists; their formulas are the sheet's own, since only the sheet knows
where a row stands.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from ..language import NOT_AVAILABLE
from ..language.formulas import in_row
from ..language.tables import CHECKED, FAULT, POSITION, Input, Item
from ..language.units import EACH, TEXT
from ..model.faults import (
    ASKING,
    CHECK_LISTS,
    FOLLOWING,
    MOST_TOLD,
    ROWS_FOLLOWING,
    ROWS_TOLD_ONLY,
    TO_FIX,
    WATCHED,
    names_products,
)
from ..model.sound_rows import is_cell_usable
from ..pricing.refusals import COUNTS
from . import unread
from .content import Content
from .engine import Engine
from .layout import CELL_ASKED, CELL_LED_TO, CELL_SOUND, CELLS, CELLS_FIRST, Layout, on
from .watch_leads import (
    ANSWERS,
    DELIVERIES,
    watch_answers,
    watch_check,
    watch_deliveries,
    watch_products,
    watch_shorts,
)
from .watch_rows import PROBLEM_COUNT, Columns, Rows, link, rows_down, seen_at, sheet_named

if TYPE_CHECKING:
    from .contents import Contents

_OF_JOB = "The job, and its questions"
_MORE = " more to fix"
_MORE_CHECKS = " more checks short or not given"


def watched(engines: Iterable[Engine], contents: "Contents") -> Columns:
    """A row for all named cells together and one for the questions left blank, from which much else
    follows; one for each list that is typed in; then for each count of what cannot be, though every
    row can be used; then the checks that are short, and each whose figure is not given."""
    found = Rows(contents.layout)
    _watch_cells(found, contents)
    for item in FOLLOWING:
        if item.name == ANSWERS:
            watch_answers(found, contents, item)
    for engine in engines:
        _watch_list(found, engine)
    for item in FOLLOWING:
        if names_products(item):
            watch_products(found, contents, item)
        elif item.name == DELIVERIES:
            watch_deliveries(found, contents, item)
        elif item.name != ANSWERS:
            _watch_count(found, contents, item)
    for checks in CHECK_LISTS:
        watch_shorts(found, contents, checks)
    for check in ASKING:
        watch_check(found, contents, check)
    return found.columns


def unchecked(layout: Layout) -> str:
    """The formula that adds up what is typed and cannot be used: without the counts of what cannot
    be, the questions among them."""
    span = layout.spans[WATCHED.name]
    column = f"{on(span.sheet)}!${span.letters['faults']}$"
    lists = f"{column}{span.first + 2}:{column.partition('!')[2]}{span.bottom - ROWS_FOLLOWING + 1}"
    return f"{column}{span.first}+SUM({lists})"


def _watch_cells(found: Rows, contents: "Contents") -> None:
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


def _watch_list(found: Rows, engine: Engine) -> None:
    table, layout = engine.table, engine.layout
    sound = layout.whole(table.name, CHECKED, "")
    fault = layout.whole(table.name, FAULT, "")
    front = layout.fronts[table.name]
    marked_by = _mark_column(engine)
    letter = front.letters[marked_by]
    head = f"{on(front.sheet)}!${letter}${front.first - 1}"
    area = layout.front_area(table.name, marked_by)
    at = rows_down(table, layout)
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


def _watch_count(found: Rows, contents: "Contents", item: Item) -> None:
    value = contents.ledger.cell(item.name)
    sheet, address = seen_at(contents.layout, item.name)
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


def _mark_column(engine: Engine) -> str:
    """The column of a front by which a person knows a row: its mark, else the first of its texts."""
    table = engine.table
    letters = engine.layout.fronts[table.name].letters
    if table.key in letters:
        return table.key
    return next(n for n in letters if n != POSITION and table.has(n) and table.column(n).unit.text)


def to_fix(lists: Columns, layout: Layout, problems: Any) -> Columns:
    """The first lists and counts with something to fix, then checks; and how much more there is than
    is told, in the last line, with a link to it. `problems` is what there is to fix in all."""
    span = layout.spans[TO_FIX.name]

    def whole(name: str) -> str:
        return layout.whole(WATCHED.name, name, "")

    no, told = (f"${span.letters[n]}{{r}}" for n in ("list_no", "told"))
    place = f"${span.letters[POSITION]}{{r}}"
    count = f"INDEX({whole('faults')},{no})"
    to_rest, rest_at = _link_to_rest(layout)
    last = MOST_TOLD - 1
    to_be_fixed = len(lists["list"]) - ROWS_TOLD_ONLY  # then the checks follow
    faulty = [n for n, content in enumerate(lists["faults"]) if content.value]
    checks = sum(n >= to_be_fixed for n in faulty)
    rest = max(0, len(faulty) - max(last, len(faulty) - checks)) if len(faulty) > MOST_TOLD else 0
    lines = whole("fault_no")
    # How many checks are not told, where the last line tells of what there is no room for.
    checks_left = f"MAX({lines})-MAX({last},INDEX({lines},{to_be_fixed}))"
    found: Columns = {c.name: [] for c in TO_FIX}
    said = 0
    for n in range(MOST_TOLD):
        row = span.first + n
        is_last = n == last
        above = f"${span.letters['told']}{row - 1}" if n else "0"
        no_more = f"*(${span.letters['list_no']}{row - 1}>0)" if n else ""
        more = f"({PROBLEM_COUNT}>{told}){no_more}=1"
        listed = f"IFERROR(MATCH({place},{lines},0),0)"
        no_where = no_link = no_words = '""'
        if is_last:  # it tells the last list, or that there are more than one
            listed = f"IF(MAX({lines})>{MOST_TOLD},0,{listed})"
            is_more = f"MAX({lines})>{MOST_TOLD}"
            no_where = f'IF({is_more},{checks_left}&"{_MORE_CHECKS}","")'
            no_link = f'IF({is_more},INDEX({whole("leads_to")},MATCH({MOST_TOLD},{lines},0)),"")'
            no_words = f'IF({more},IF({checks_left}>0,{checks_left}&"{_MORE_CHECKS}",""),"")'
        formulas = {
            "list_no": listed,
            "told": f"{above}+IF({no}=0,0,({no}<={to_be_fixed})*{count})",
            "where": f'IF({no}=0,IF({more},{PROBLEM_COUNT}-{told}&"{_MORE}",{no_where}),'
            f"INDEX({whole('tells')},{no}))",
            "leads_to": f"IF({no}=0,IF({more},{to_rest},{no_link}),INDEX({whole('leads_to')},{no}))",
            "says": f"IF({no}=0,{no_words},INDEX({whole('says')},{no}))",
        }
        values: dict[str, Any] = {
            "list_no": 0,
            "told": said,
            "where": "",
            "leads_to": "",
            "says": "",
        }
        if n < len(faulty) and not (is_last and len(faulty) > MOST_TOLD):
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
            values["says"] = f"{rest}{_MORE_CHECKS}" if is_last and rest else ""
        elif is_last and len(faulty) > MOST_TOLD:
            values["where"] = f"{rest}{_MORE_CHECKS}"
            values["leads_to"] = lists["leads_to"][faulty[last]].value
        for name, formula in formulas.items():
            unit = EACH if name in ("list_no", "told") else TEXT
            found[name].append(Content(in_row(formula, row), values[name], unit))
    return found


def _link_to_rest(layout: Layout) -> tuple[str, str]:
    """The formula that leads to the first of all counts, and what it gives."""
    sheet, address = seen_at(layout, COUNTS[0].name)
    to = link(sheet_named(layout, sheet), f"{on(sheet)}!{address}")
    return to, f"#{on(sheet)}!{address.replace('$', '')}"
