"""The register of spreadsheet functions: one entry serves every host, the pages and the tests.

A function only calls registered rules: what it can say, the workbook says too.
"""

import ast
import inspect
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, get_args, get_type_hints

from ..rules.units import Unit
from .arguments import ARGUMENTS, Argument

PREFIX = "DAMP_"


@dataclass(frozen=True)
class Example:
    """A call worked by hand: what is given, what must come out, and how."""

    given: tuple[Any, ...]
    gives: float | str
    working: str


@dataclass(frozen=True)
class Function:
    """A spreadsheet function: its name in a cell, what it means, what it takes and gives."""

    name: str
    group: str
    meaning: str
    detail: str
    arguments: tuple[Argument, ...]
    unit: Unit
    rules: tuple[str, ...]
    work: Callable[..., Any]
    example: Example

    @property
    def method(self) -> str:
        """The name without its prefix."""
        return self.name.removeprefix(PREFIX)

    @property
    def described(self) -> str:
        """What a function wizard says of it: its group, its meaning and the unit of its result."""
        sign = f" In {self.unit.sign}." if self.unit.sign else ""
        return f"{self.group}: {self.meaning}{sign}"


FUNCTIONS: dict[str, Function] = {}


def function(
    group: str, given: tuple[Any, ...], gives: float | str, working: str, name: str = ""
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Register a function under DAMP_ and its own name, in capitals. It stays a plain function."""

    def register(work: Callable[..., Any]) -> Callable[..., Any]:
        meaning, _, detail = (inspect.getdoc(work) or "").partition("\n\n")
        found = Function(
            name=PREFIX + (name or work.__name__).upper(),
            group=group,
            meaning=" ".join(meaning.split()),
            detail=" ".join(detail.split()),
            arguments=tuple(ARGUMENTS[p] for p in inspect.signature(work).parameters),
            unit=_unit(get_type_hints(work, include_extras=True)["return"]),
            rules=_rules_called(work),
            work=work,
            example=Example(given, gives, working),
        )
        assert found.name not in FUNCTIONS, found.name
        FUNCTIONS[found.name] = found
        return work

    return register


def _unit(hint: Any) -> Unit:
    return next(part for part in get_args(hint) if isinstance(part, Unit))


def _rules_called(work: Callable[..., Any]) -> tuple[str, ...]:
    """The registered rules it calls, itself or through a helper of its module."""
    found: dict[str, None] = {}
    for node in ast.walk(ast.parse(textwrap.dedent(inspect.getsource(work)))):
        called = _called(node, getattr(work, "__globals__", {}))
        if hasattr(called, "rule"):
            found[called.rule.name] = None
        elif inspect.isfunction(called) and called.__module__ == work.__module__:
            found |= dict.fromkeys(_rules_called(called))
    return tuple(found)


def _called(node: ast.AST, names: dict[str, Any]) -> Any:
    """What a call calls: a name of its module, or a name of a module it imports."""
    if not isinstance(node, ast.Call):
        return None
    if isinstance(node.func, ast.Name):
        return names.get(node.func.id)
    if isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Name):
        return getattr(names.get(node.func.value.id), node.func.attr, None)
    return None
