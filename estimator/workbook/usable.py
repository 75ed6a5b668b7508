"""Whether what is typed in a cell can be used, as formula text."""

from ..language.percent import percent_usable, read_usable
from ..language.tables import IN_USE, Input, Table
from ..language.tracing import Ref, as_ref, number_text
from ..language.units import EACH, FLAG, PERCENT
from ..model.spelling import NOT_IN_NAMES
from .layout import Layout


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
        test = _percent(item, cell, table, layout, most)
    elif item.percent_in is not None and item.limits_in and table is not None:
        column, says = item.percent_in
        read = _percent(item, cell, table, layout, most)
        test = f'IF({layout.own(table.name, column)}="{says}",{read},{test})'
    if item.under is not None:
        test = f'({item.under[0]}<>"")*{test}'
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


def _percent(item: Input, cell: str, table: Table | None, layout: Layout, most: str) -> str:
    """The test of a percentage; a text beside it is no number, and is not compared with one."""
    used = IN_USE + item.name
    if table is not None and table.has(used):
        test = read_usable(Ref(cell), Ref(layout.own(table.name, used)), Ref(most))
    else:
        test = percent_usable(Ref(cell), Ref(most))
    return f"IF(ISNUMBER({cell}),{as_ref(test).text},0)"


def limits(item: Input, table: Table | None, layout: Layout) -> tuple[str, str]:
    """The least and the most that may be typed: numbers, or the row's own limits."""
    if table is not None and item.limits_in:
        least, most = (layout.own(table.name, c) for c in item.limits_in)
        return least, most
    return number_text(item.least or 0), number_text(item.most or 0)
