"""The one door between a host's cells and the functions: kinds, limits, blanks, whole columns.

A host hands over what its cells hold and gets back a figure or text, a Refusal, or a list of
these, one for each row. What is said here about kinds of value is said nowhere else:

- a number is a number; a text that looks like one is refused, and so are TRUE, FALSE and dates
  where the host tells them apart (Calc does not: there they arrive as numbers);
- a blank is refused, except that rows blank in every column, below the last filled one, are
  spare: they stay empty. A single blank cell reaches us as 0 from Calc, so 0 is refused wherever
  it is not a legal value;
- an error of another cell, whatever way the host hands it over, is refused, never read as blank;
- a whole column in one call gives a column, one row for each row; single values stand beside
  every row; columns of different height, and areas more than one column wide, are refused.
"""

import math
from collections.abc import Sequence
from datetime import date, time
from decimal import Decimal
from typing import Any

from ..language import NOT_AVAILABLE
from ..language.percent import percent_of, percent_usable
from ..language.units import EACH, PERCENT
from .arguments import Argument
from .guidance import guidance
from .refusal import CellError, Plain, Refusal, in_words
from .registry import Function

ERROR_TEXTS = frozenset(
    {"#N/A", "#NAME?", "#VALUE!", "#REF!", "#DIV/0!", "#NUM!", "#NULL!", "#SPILL!", "#CALC!",
     "#GETTING_DATA", "#BLOCKED!", "#FIELD!", "#CONNECT!", "#BUSY!", "#UNKNOWN!"}
)  # fmt: skip
ERROR_CODES = range(-2146826288, -2146826220)  # as whole numbers, where a host hands over codes
MESSAGE = "Check: "  # how a host that has no error values of its own begins a refusal
BLANK = ("", None)
SPARE_ROWS = 10_000  # more below the last filled row are left out: nobody looks at a million blanks


def call_from_cell(function: Function, *cells: Any) -> Any:
    """What the function gives for these cells: a value, a Refusal, or a list with one a row.

    Never raises for what a person may type.
    """
    try:
        if len(cells) != len(function.arguments):
            raise CellError(
                function.name, Plain(_counted(len(cells), "argument")), signature(function)
            )
        columns = [_column(a, c) for a, c in zip(function.arguments, cells, strict=True)]
        heights = {len(c) for c in columns if len(c) > 1}
        if len(heights) > 1:
            raise _uneven(function, columns)
        if not heights:
            return _row(
                function, [_read(a, c[0]) for a, c in zip(function.arguments, columns, strict=True)]
            )
        return _rows(function, columns, heights.pop())
    except CellError as error:
        return Refusal(str(error))


def why(function: Function, *cells: Any) -> Any:
    """For each answer the sentence that says why there is no figure; an empty text where one is."""
    found = call_from_cell(function, *cells)
    return [_sentence(f) for f in found] if isinstance(found, list) else _sentence(found)


def signature(function: Function) -> str:
    """How it is written: name and arguments."""
    return f"{function.name}({'; '.join(a.shown for a in function.arguments)})"


def _sentence(found: Any) -> str:
    return found.sentence if isinstance(found, Refusal) else ""


def _column(argument: Argument, cell: Any) -> Sequence[Any]:
    if not isinstance(cell, tuple | list):
        return (cell,)
    rows = [row if isinstance(row, tuple | list) else (row,) for row in cell]
    if not rows or any(len(row) != 1 for row in rows):
        raise CellError(_words(argument), Plain(f"{max((len(r) for r in rows), default=0)} columns"),
                        "one cell, or cells below each other in one column")  # fmt: skip
    return [row[0] for row in rows]


def _uneven(function: Function, columns: Sequence[Sequence[Any]]) -> CellError:
    tall = [(a, len(c)) for a, c in zip(function.arguments, columns, strict=True) if len(c) > 1]
    (one, rows), (other, found) = tall[0], next(t for t in tall if t[1] != tall[0][1])
    return CellError(
        _words(other), Plain(f"{found} rows"), f"{rows} rows, as many as {_words(one)}"
    )


def _rows(function: Function, columns: Sequence[Sequence[Any]], height: int) -> list[Any]:
    single = [_read(a, c[0]) if len(c) == 1 else None
              for a, c in zip(function.arguments, columns, strict=True)]  # fmt: skip
    tall = [(i, function.arguments[i], c) for i, c in enumerate(columns) if len(c) > 1]
    used = height
    while used and all(c[used - 1] in BLANK for _, _, c in tall):
        used -= 1
    found: list[Any] = []
    for n in range(used):
        try:
            values = list(single)
            for i, argument, column in tall:
                values[i] = _read(argument, column[n])
            found.append(_row(function, values))
        except CellError as error:
            found.append(Refusal(str(error)))
    spare = height - used
    # One blank at least: a program repeats a single row in every cell of an array formula.
    return found + [""] * (spare if spare <= SPARE_ROWS else 1)


def _row(function: Function, values: Sequence[Any]) -> Any:
    try:
        found = function.work(*values)
    except CellError as error:
        return Refusal(str(error))
    if found is not NOT_AVAILABLE:
        return found
    said = function.unstated(*values) or f"{function.name}: not available for these figures."
    return Refusal(said, unstated=True)


def _read(argument: Argument, cell: Any) -> Any:
    """The argument's value. Raises CellError with what was found and what is accepted."""
    if _is_error(cell):
        raise CellError(_words(argument), Plain("an error of another cell"), argument.accepted)
    if argument.unit.text:
        return _text(argument, cell)
    return _number(argument, cell)


def _is_error(cell: Any) -> bool:
    if isinstance(cell, Refusal):
        return True
    if isinstance(cell, str):
        return cell in ERROR_TEXTS or cell.startswith(MESSAGE)
    return isinstance(cell, int) and not isinstance(cell, bool) and cell in ERROR_CODES


def _text(argument: Argument, cell: Any) -> Any:
    if not isinstance(cell, str) or cell.strip() == "":
        raise CellError(_words(argument), _found(cell), argument.accepted)
    if argument.choices is None:
        return guidance(cell)
    wanted = cell.strip().lower()
    found = next((c for c in argument.choices() if c.lower() == wanted), None)
    if found is None:
        raise CellError(_words(argument), cell, argument.accepted)
    return found


def _number(argument: Argument, cell: Any) -> Any:
    if isinstance(cell, Decimal):
        cell = float(cell)  # a cell shown as money
    if isinstance(cell, bool) or not isinstance(cell, int | float):
        raise CellError(_words(argument), _found(cell), argument.accepted)
    if argument.unit is PERCENT and math.isfinite(cell):
        if not percent_usable(cell, argument.most):
            raise CellError(_words(argument), _found(cell), argument.accepted)
        return percent_of(cell)
    shown = float(f"{cell:.15g}")  # as a cell shows it: (0.1 + 0.7) × 10 is 8
    in_limits = math.isfinite(shown) and argument.least <= shown <= argument.most
    if not in_limits or (argument.unit is EACH and not shown.is_integer()):
        raise CellError(_words(argument), _found(cell), argument.accepted)
    return shown if argument.unit is EACH else cell


def _found(cell: Any) -> Any:
    """What was found, in a person's words; a text stays a text, and is quoted."""
    if cell is None:
        return None
    if isinstance(cell, bool):
        return Plain("TRUE" if cell else "FALSE")
    if isinstance(cell, date | time):
        return Plain(f"a date or time, {cell}")
    if isinstance(cell, str):
        return Plain("a blank cell") if cell.strip() == "" else cell
    if isinstance(cell, int | float):
        return in_words(cell)
    return Plain(f"a value of kind {type(cell).__name__}")


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _words(argument: Argument) -> str:
    return argument.name.replace("_", " ")
