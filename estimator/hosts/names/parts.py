"""What a function's names are made of: its cells, kinds, limits, and the rules it works by.

The rules are traced, as they are for the workbook's cells: no formula of theirs is written here.
"""

from collections.abc import Sequence
from functools import reduce
from typing import Any

from ...functions import Function
from ...functions.arguments import Argument
from ...functions.registry import BASIS, Held
from ...language.helpers import either, given, same
from ...language.percent import percent_of, percent_usable
from ...language.tracing import COMPARED, Ref, as_ref, function, operation
from ...language.units import EACH, PERCENT
from ...language.written import NAME, Written
from . import basis_names

Conditions = list[tuple[Any, Held]]  # a figure, and what it must be


def cells_of(function_: Function) -> list[Ref]:
    """What stands for each argument."""
    return [Ref(NAME + a.name, holds_text=a.unit.text) for a in function_.arguments]


def kinds(argument: Argument, cell: Ref) -> list[Ref]:
    """One cell, which holds a number, or a text."""
    kind = function("ISTEXT", [cell]) if argument.unit.text else given(cell)
    return [basis_names.is_one_cell(cell), kind]


def limits(argument: Argument, cell: Ref) -> list[Ref]:
    """What a cell of the right kind must fulfil."""
    if argument.name == BASIS:
        return [operation(0, "<", basis_names.number_of(cell), COMPARED)]
    if argument.choices:
        return [reduce(either, (same(cell, c) for c in argument.choices()))]
    if argument.unit is PERCENT:
        return [as_ref(percent_usable(cell, argument.most))]
    return basis_names.within(cell, argument.least, argument.most, argument.unit is EACH)


def worked_out(
    function_: Function, cells: Sequence[Ref]
) -> tuple[Written, Conditions, Any, dict[str, Ref]]:
    """The rules' results, what must hold among them, the figure, and each allowance that is read."""
    written = Written(a.name for a in function_.arguments)
    if callable(function_.figure):
        return written, [], Ref("NA()"), {"that key": Ref("NA()")}
    values, basis = [], None
    for argument, cell in zip(function_.arguments, cells, strict=True):
        if argument.name == BASIS:
            basis = cell
        else:
            values.append(written.named(argument.name, _read(argument, cell)))
    stated: dict[str, Ref] = {}
    found: list[list[Any]] = []
    for asked in function_.asked:
        for key in asked.names:
            stated[key] = written.named(key, basis_names.figure_of(key, basis))
        found.append(written.figures(asked, [*values, *(stated[k] for k in asked.names)]))
    *alone, (*together, result) = found
    own, shared = iter(figures[0] for figures in alone), iter(together)
    conditions = [(next(own if held.fixed else shared), held) for held in function_.held]
    return written, conditions, result, stated


def kept(holds: Any, held: Held) -> Ref:
    """Whether a condition is kept; what cannot be said does not break it."""
    return function("IFERROR", [same(as_ref(holds), held.holds), Ref("TRUE")])


def _read(argument: Argument, cell: Ref) -> Ref:
    """The figure that rules read for what a cell holds."""
    if argument.unit is PERCENT:
        return as_ref(percent_of(cell))
    return function("ROUND", [cell, 0]) if argument.unit is EACH else cell
