"""The register of rules: what each returns, and proof that a formula can say the same.

A rule is one expression. Its syntax tree is read when it is registered, because the worst
mistakes (`x is None`, a chained comparison, an f-string) run without complaint on cells and
trace the wrong branch.
"""

import ast
import inspect
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, get_args, get_type_hints

from .helpers import HELPERS
from .units import Unit

_ALLOWED = (
    *(ast.Expression, ast.Call, ast.Name, ast.Constant, ast.BinOp, ast.UnaryOp, ast.Load),
    *(ast.Add, ast.Sub, ast.Mult, ast.Div, ast.USub, ast.Starred),
)


class RuleError(TypeError):
    """A function that cannot be a rule: it says why, and where."""


@dataclass(frozen=True)
class Rule:
    """A rule: its name (the column's name), what it returns, and the names it reads."""

    name: str
    work: Callable[..., Any]
    unit: Unit
    arguments: tuple[str, ...]
    several: str | None  # an argument *like_this takes every numbered column of that name
    units: dict[str, Unit]
    meaning: str
    detail: str
    module: str


RULES: dict[str, Rule] = {}


def rule(work: Callable[..., Any]) -> Callable[..., Any]:
    """Register a rule. The function stays a plain function.

    Raises RuleError when the body is more than one expression, or uses anything but
    arithmetic, the rule helpers, other rules and constants.
    """
    body = _expression(work)
    _check(work, body)
    hints = get_type_hints(work, include_extras=True)
    parameters = inspect.signature(work).parameters
    several = [p.name for p in parameters.values() if p.kind is p.VAR_POSITIONAL]
    doc = inspect.getdoc(work) or ""
    if not doc:
        raise RuleError(f"{work.__qualname__}: a rule says in its docstring what it is")
    meaning, _, detail = doc.partition("\n\n")
    found = Rule(
        name=work.__name__,
        work=work,
        unit=_unit(work, "return", hints),
        arguments=tuple(p for p in parameters if p not in several),
        several=several[0] if several else None,
        units={p: _unit(work, p, hints) for p in parameters},
        meaning=" ".join(meaning.split()),
        detail=detail,
        module=work.__module__,
    )
    work.rule = found  # type: ignore[attr-defined]
    RULES[f"{work.__module__}.{work.__name__}"] = found
    return work


def rule_of(work: Callable[..., Any]) -> Rule:
    """The registered rule behind a function."""
    return work.rule  # type: ignore[attr-defined]


def _expression(work: Callable[..., Any]) -> ast.expr:
    tree = ast.parse(textwrap.dedent(inspect.getsource(work))).body[0]
    if not isinstance(tree, ast.FunctionDef):
        raise RuleError(f"{work.__qualname__}: a rule is a plain function")
    statements = tree.body
    if statements and isinstance(statements[0], ast.Expr):
        statements = statements[1:]
    if len(statements) != 1 or not isinstance(statements[0], ast.Return):
        raise RuleError(f"{work.__qualname__}: a rule is one expression, returned")
    value = statements[0].value
    if value is None:
        raise RuleError(f"{work.__qualname__}: a rule returns something")
    return value


def _check(work: Callable[..., Any], body: ast.expr) -> None:
    for node in ast.walk(body):
        if not isinstance(node, _ALLOWED):
            raise RuleError(
                f"{work.__qualname__}: a formula cannot say {type(node).__name__}"
                f" (line {getattr(node, 'lineno', '?')})"
            )
        if isinstance(node, ast.Constant) and not isinstance(node.value, int | float | str):
            raise RuleError(f"{work.__qualname__}: a formula cannot hold {node.value!r}")
        if isinstance(node, ast.Constant) and isinstance(node.value, bool):
            raise RuleError(f"{work.__qualname__}: a formula cannot hold {node.value!r}")
        if isinstance(node, ast.Call):
            _check_call(work, node)


def _check_call(work: Callable[..., Any], node: ast.Call) -> None:
    name = node.func.id if isinstance(node.func, ast.Name) else ast.unparse(node.func)
    known = getattr(work, "__globals__", {}).get(name)
    if node.keywords:
        raise RuleError(f"{work.__qualname__}: {name} is called with its arguments in order")
    if name not in HELPERS and not hasattr(known, "rule"):
        raise RuleError(f"{work.__qualname__}: {name} is neither a rule helper nor a rule")


def _unit(work: Callable[..., Any], name: str, hints: dict[str, Any]) -> Unit:
    for part in get_args(hints.get(name)):
        if isinstance(part, Unit):
            return part
    raise RuleError(f"{work.__qualname__}: {name} needs a unit as its type, such as Metres")
