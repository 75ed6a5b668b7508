"""Each function as the text of a LAMBDA: what it takes, its limits, then the rules of the plan.

The rules are traced, as they are for the workbook's cells: no formula of theirs is written here.
Out of limits, or of a kind that cannot be read, the figure is #N/A. An argument is one cell or one
value; a column of them is #N/A too, because parts of a rule would fold it into one figure.
"""

from collections.abc import Iterable
from functools import reduce
from typing import Any

from ... import __version__
from ...functions import FUNCTIONS, Function
from ...functions.arguments import Argument
from ...language import NOT_AVAILABLE
from ...language.helpers import available, either, given, same
from ...language.percent import percent_of, percent_usable
from ...language.tracing import COMPARED, MULTIPLIED, Ref, as_ref, function, operation
from ...language.units import EACH, PERCENT
from ...language.written import NAME, Written
from ..calc.sample import THERE
from . import basis_names

LONGEST = 8192  # characters of a formula
LAMBDA = "_xlfn.LAMBDA"
INSTALLED = "DAMP_INSTALLED"


def names() -> dict[str, str]:
    """Every name of the workbook with its text, without a sign of equality before it."""
    found = {
        name: lambda_of(parameters, body)
        for name, parameters, body in (*basis_names.inner(), *basis_names.public())
    }
    for function_ in FUNCTIONS.values():
        if function_.name not in found:
            found[function_.name] = text_of(function_)
    found[INSTALLED] = lambda_of((), as_ref(f"{THERE} {__version__}").text)
    return found


def lambda_of(parameters: Iterable[str], body: str) -> str:
    """The LAMBDA with those parameters."""
    return f"{LAMBDA}({','.join((*(NAME + p for p in parameters), body))})"


def text_of(function_: Function) -> str:
    """A function of figures as a LAMBDA."""
    arguments = function_.arguments
    cells = [Ref(NAME + a.name, holds_text=a.unit.text) for a in arguments]
    body = Ref(_body(function_, cells))
    for conditions in (_limits(arguments, cells), _kinds(arguments, cells)):
        body = available(function("AND", conditions), body)
    return lambda_of((a.name for a in arguments), body.text)


def _body(function_: Function, cells: list[Ref]) -> str:
    written = Written(a.name for a in function_.arguments)
    values, basis = [], None
    for argument, cell in zip(function_.arguments, cells, strict=True):
        if argument.name == "basis":
            basis = cell
        else:
            values.append(written.named(argument.name, _read(argument, cell)))
    found: list[list[Any]] = []
    for asked in function_.asked:
        stated = [written.named(key, basis_names.figure_of(key, basis)) for key in asked.names]
        found.append(written.figures(asked, [*values, *stated]))
    *alone, (*together, result) = found
    shared = iter(together)
    own = iter(figures[0] for figures in alone)
    conditions = [(next(own) if held.fixed else next(shared), held) for held in function_.held]
    for holds, held in reversed(conditions):
        result = available(same(holds, held.holds), result)
    return written.expression(result)


def _read(argument: Argument, cell: Ref) -> Ref:
    """The figure that rules read for what a cell holds."""
    if argument.unit is PERCENT:
        return as_ref(percent_of(cell))
    return function("ROUND", [cell, 0]) if argument.unit is EACH else cell


def _kinds(arguments: Iterable[Argument], cells: Iterable[Ref]) -> list[Ref]:
    """One cell each, which holds a number, or a text."""
    found = []
    for argument, cell in zip(arguments, cells, strict=True):
        found.append(basis_names.is_one_cell(cell))
        found.append(function("ISTEXT", [cell]) if argument.unit.text else given(cell))
    return found


def _limits(arguments: Iterable[Argument], cells: Iterable[Ref]) -> list[Ref]:
    found: list[Ref] = []
    for argument, cell in zip(arguments, cells, strict=True):
        if argument.name == "basis":
            found.append(operation(0, "<", basis_names.number_of(cell), COMPARED))
        elif argument.choices:
            found.append(reduce(either, (same(cell, c) for c in argument.choices())))
        elif argument.unit is PERCENT:
            found.append(as_ref(percent_usable(cell, argument.most)))
        else:
            found += basis_names.within(cell, argument.least, argument.most, argument.unit is EACH)
    return found
