"""The guards beside each list that comes with the program and is typed in: does every row read
itself, and is what was typed usable? Of lists that are typed apart see engine.py.

`wired` is 0 when a row's cells were cut and pasted, and missing when a row was put in without
its formulas. `checked` is 0 when a row is incomplete, out of range, marked like another, or
names something that is not listed. The quote refuses its total until both hold everywhere.
"""

from collections.abc import Iterable

from ..language.percent import percent_usable
from ..language.plan import Plan
from ..language.tables import CHECKED, POSITION, WIRED, Input, Table
from ..language.tracing import Ref, as_ref, number_text
from ..language.units import EACH, FLAG, PERCENT
from ..model.spelling import NOT_IN_NAMES
from .layout import Layout, on


def wired(table: Table, layout: Layout) -> str:
    """1 when every typed cell this row's formulas read stands in this row, and no row above the
    first was put in, where no list would read it."""
    terms = [f"(ROW({layout.own(table.name, i.name)})=ROW())" for i in table.inputs]
    span = layout.spans[table.name]
    down_to_here = f"${span.letters[POSITION]}${span.first}:{layout.own(table.name, POSITION)}"
    terms.append(f"(ROWS({down_to_here})={layout.own(table.name, POSITION)})")
    return "*".join(terms)


def checked(table: Table, layout: Layout) -> str:
    """1 when what was typed in this row can be used; an empty row can."""
    key = layout.own(table.name, table.key_in_use)
    key_is_typed = any(i.name == table.key for i in table.inputs)
    terms = [
        term
        for i in table.inputs
        if (term := usable(i, layout.own(table.name, i.name), table, layout))
    ]
    if not key_is_typed:
        return "*".join(terms) or "1"
    column = layout.whole(table.name, table.key_in_use, table.name)
    terms.insert(0, is_name(key))
    alone = f"(SUMPRODUCT(({column}={key})*1)=1)"
    span = layout.spans[table.name]
    # A row beyond those laid out is read by no other list.
    most = layout.reached.get(table.name, span.last - span.first + 1)
    reached = f"({layout.own(table.name, POSITION)}<={most})"
    others = ",".join(layout.own(table.name, i.name) for i in table.inputs if i.name != table.key)
    return f'IF({key}="",IF(COUNTA({others})=0,1,0),{"*".join([alone, reached, *terms])})'


def particulars_usable(inputs: Iterable[Input], layout: Layout) -> str:
    """1 when every named cell a person types in can be used."""
    terms = [t for i in inputs if (t := usable(i, i.name, None, layout))]
    return "*".join(terms)


def rows_unwired(plan: Plan, layout: Layout) -> str:
    """How many rows, over all lists, do not read themselves."""
    return _missing(plan, layout, WIRED)


def rows_unchecked(plan: Plan, layout: Layout, particulars: Iterable[Input]) -> str:
    """How many rows, over all lists, cannot be used; the particulars count as one."""
    return f"{_missing(plan, layout, CHECKED)}+1-{particulars_usable(particulars, layout)}"


def _missing(plan: Plan, layout: Layout, guard: str) -> str:
    parts = []
    for table in plan.tables.values():
        if not table.inputs or (guard == WIRED and table.apart):
            continue
        area = layout.whole(table.name, guard, "")
        end = "-1" if layout.spans[table.name].has_end else ""
        parts.append(f"ROWS({area}){end}-SUMPRODUCT({area}*1)")
        if table.apart:  # what is typed in rows that are more than its engine has
            span = layout.spans[table.name]
            parts.append(f"{on(span.sheet)}!${span.letters[guard]}$1")
    return "+".join(parts)


def usable(item: Input, cell: str, table: Table | None, layout: Layout) -> str:
    """The test of one typed cell; empty when anything will do."""
    if item.choice_of:
        area = layout.choices(item, table)
        test = f"(SUMPRODUCT(({area}={cell})*1)>0)"
        return f'({cell}<>"")*{test}' if item.required else f'((({cell}="")+{test})>0)'
    if item.choices:
        blank = "" if item.required else f'({cell}="")+'
        return f"(({blank}" + "+".join(f'({cell}="{c}")' for c in item.choices) + ")>0)"
    if item.unit.text:
        return f'(TRIM({cell})<>"")' if item.required else ""
    least, most = limits(item, table, layout)
    test = f"ISNUMBER({cell})*({cell}>={least})*({cell}<={most})"
    whole = _is_whole(item, cell, table, layout)
    if whole:
        test = f"IF(ISNUMBER({cell}),({cell}>={least})*({cell}<={most})*{whole},0)"
    if item.unit is PERCENT:
        test = _percent(cell, most)
    elif item.percent_in is not None and item.limits_in and table is not None:
        column, says = item.percent_in
        read = _percent(cell, most)
        test = f'IF({layout.own(table.name, column)}="{says}",{read},{test})'
    return test if item.required else f'((({cell}="")+{test})>0)'


def _is_whole(item: Input, cell: str, table: Table | None, layout: Layout) -> str:
    """The test that a count is whole; where the unit stands in the row, only of counts."""
    test = f"(ROUNDDOWN({cell},0)={cell})"
    if item.unit in (EACH, FLAG):
        return test
    if item.limits_in and table is not None and table.has("unit"):
        unit = layout.own(table.name, "unit")
        return f'((({unit}<>"{EACH.sign}")+{test})>0)'
    return ""


def is_name(cell: str) -> str:
    """The test that a mark is one: a text, without blanks that no one sees or signs that are
    patterns in one host or another."""
    signs = [f'"{sign}"' for sign in NOT_IN_NAMES] + ["CHAR(10)"]
    found = "+".join(f"ISNUMBER(FIND({sign},{cell}))" for sign in signs)
    return f"(TRIM({cell})={cell})*(ISNUMBER({cell})+{found}=0)"


def _percent(cell: str, most: str) -> str:
    """The test of a percentage; a text beside it is no number, and is not compared with one."""
    return f"IF(ISNUMBER({cell}),{as_ref(percent_usable(Ref(cell), Ref(most))).text},0)"


def limits(item: Input, table: Table | None, layout: Layout) -> tuple[str, str]:
    """The least and the most that may be typed: numbers, or the row's own limits."""
    if table is not None and item.limits_in:
        least, most = (layout.own(table.name, c) for c in item.limits_in)
        return least, most
    return number_text(item.least or 0), number_text(item.most or 0)
