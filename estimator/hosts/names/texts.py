"""Every name of the workbook with its text: each function as a LAMBDA, and what they call.

Out of limits, or of a kind that cannot be read, a figure is #N/A; a second name says why. An
argument is one cell or one value; a column of them is #N/A too, because parts of a rule would fold
it into one figure. Names refer to constants and to each other alone.
"""

from collections.abc import Iterable

from ... import __version__
from ...functions import FUNCTIONS, Function
from ...language.helpers import available
from ...language.tracing import Ref, as_ref, function
from ...language.written import NAME
from ..calc.sample import THERE
from . import basis_names, parts, why

LONGEST = 8192  # characters of a formula
LAMBDA = "_xlfn.LAMBDA"
INSTALLED = "DAMP_INSTALLED"


def names() -> dict[str, str]:
    """Every name with its text, without a sign of equality before it."""
    called = (*basis_names.inner(), *basis_names.public(), *why.inner())
    found = {name: lambda_of(parameters, body) for name, parameters, body in called}
    for function_ in FUNCTIONS.values():
        if function_.name not in found:
            found[function_.name] = text_of(function_)
        found[function_.name + why.ENDING] = lambda_of(*why.text_of(function_))
    found[INSTALLED] = lambda_of((), as_ref(f"{THERE} {__version__}").text)
    return found


def lambda_of(parameters: Iterable[str], body: str) -> str:
    """The LAMBDA with those parameters."""
    return f"{LAMBDA}({','.join((*(NAME + p for p in parameters), body))})"


def text_of(function_: Function) -> str:
    """A function of figures as a LAMBDA."""
    arguments, cells = function_.arguments, parts.cells_of(function_)
    written, conditions, result, _ = parts.worked_out(function_, cells)
    for holds, held in reversed(conditions):
        result = available(parts.kept(holds, held), result)
    body = Ref(written.expression(result))
    pairs = list(zip(arguments, cells, strict=True))
    for asked in (parts.limits, parts.kinds):
        body = available(function("AND", [c for a, cell in pairs for c in asked(a, cell)]), body)
    return lambda_of((a.name for a in arguments), body.text)
