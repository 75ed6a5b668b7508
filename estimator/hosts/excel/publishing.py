"""Wraps every function so that xlwings can offer it to Excel.

What xlwings is given are plain functions of positional arguments without type hints: hints would
be read as its own converters. Everything a cell may hold arrives as rows, errors as texts. Excel
cannot be given an error value this way, so a refusal is one sentence that begins "Check: "; a
function that is given one refuses in its turn, and a total over such cells must be guarded
(docs/install-excel.md).
"""

import inspect
from collections.abc import Callable, MutableMapping
from typing import Any

from ... import __version__
from ...functions import FUNCTIONS, Function, Refusal, call_from_cell
from ...functions.arguments import Argument
from ...functions.cells import MESSAGE

CATEGORY = "Damp-proofing"
LONGEST = 255  # characters of a text that Excel takes in an array, and of a line of help
INSTALLED = "DAMP_INSTALLED"


def publish(into: MutableMapping[str, Any], func: Any, arg: Any) -> None:
    """Put every function into a module's names, made known to xlwings by its func and arg."""
    for function in FUNCTIONS.values():
        wrapped = wrapper(function)
        for argument in function.arguments:
            told = arg(
                argument_name(argument), doc=shortened(argument.described), ndim=2, err_to_str=True
            )
            wrapped = told(wrapped)
        into[function.name] = func(category=CATEGORY)(wrapped)
    into[INSTALLED] = func(category=CATEGORY)(_installed())


def wrapper(function: Function) -> Callable[..., Any]:
    """A function of positional arguments that takes rows of cells and never raises."""

    def wrapped(*cells: Any) -> Any:
        try:
            return _rows(call_from_cell(function, *cells))
        except Exception as error:  # a defect of ours must not put a traceback into a cell
            return shortened(f"{MESSAGE}{function.name} failed: {type(error).__name__}: {error}")

    return _dressed(wrapped, function.name, shortened(function.described), function.arguments)


def argument_name(argument: Argument) -> str:
    """An argument's name with its unit, as Visual Basic allows it."""
    ending = argument.unit.ending
    return argument.name if argument.name.endswith(ending) else argument.name + ending


def shortened(text: str) -> str:
    """On one line, and no longer than Excel takes."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else line[: LONGEST - 3] + "..."


def _installed() -> Callable[[], str]:
    def installed() -> str:
        return f"Damp-proofing functions {__version__}"

    return _dressed(installed, INSTALLED, "That the functions are there, and which.", ())


def _dressed(
    work: Callable[..., Any], name: str, doc: str, arguments: tuple[Argument, ...]
) -> Callable[..., Any]:
    kind = inspect.Parameter.POSITIONAL_OR_KEYWORD
    parameters = [inspect.Parameter(argument_name(a), kind) for a in arguments]
    work.__name__ = work.__qualname__ = name
    work.__doc__, work.__annotations__ = doc, {}
    work.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    return work


def _rows(found: Any) -> Any:
    if isinstance(found, list):
        return [[_in_cell(f)] for f in found]
    return _in_cell(found)


def _in_cell(found: Any) -> float | str:
    if isinstance(found, Refusal):
        return shortened(MESSAGE + found.sentence)
    return found if isinstance(found, str) else float(found)
