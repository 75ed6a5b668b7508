"""The register of rules: what each returns, and proof that a formula can say the same.

A rule is one expression. It is proven while its module is imported, because the worst mistakes
(`x is None`, a chained comparison, an f-string) run without complaint on cells and trace the
wrong branch. What Python compiled the rule to is looked at first: where that is arithmetic, calls
of rules and helpers, and constants, nothing else can have been written. Whatever else it holds,
or an instruction that is not known here, has the rule's syntax tree read, which says what is
wrong. So a later Python is at worst slower, and never laxer.
"""

import ast
import dis
import inspect
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from types import CodeType
from typing import Any, get_args, get_type_hints

from .helpers import HELPERS
from .units import Unit

_ALLOWED = (
    *(ast.Expression, ast.Call, ast.Name, ast.Constant, ast.BinOp, ast.UnaryOp, ast.Load),
    *(ast.Add, ast.Sub, ast.Mult, ast.Div, ast.USub, ast.Starred),
)

# What a plain rule compiles to, by name; a name that this Python does not have stands for nothing.
_PLAIN = (
    *("RESUME", "CACHE", "NOP", "NOT_TAKEN", "EXTENDED_ARG", "PUSH_NULL", "PRECALL", "CALL"),
    *("LOAD_CONST", "LOAD_SMALL_INT", "LOAD_GLOBAL", "LOAD_FAST", "LOAD_FAST_BORROW"),
    *("LOAD_FAST_LOAD_FAST", "LOAD_FAST_BORROW_LOAD_FAST_BORROW", "LOAD_FAST_CHECK"),
    *("UNARY_NEGATIVE", "BINARY_OP", "RETURN_VALUE", "RETURN_CONST"),
)
_KNOWN = frozenset(dis.opmap[name] for name in _PLAIN if name in dis.opmap)
_BINARY, _EXTENDED = dis.opmap["BINARY_OP"], dis.opmap["EXTENDED_ARG"]
_ARITHMETIC = frozenset(
    n for n, (_, sign) in enumerate(getattr(dis, "_nb_ops", ())) if sign in tuple("+-*/")
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
    if not _is_plain(work):
        _check(work, _expression(work))
    code = work.__code__
    parameters = code.co_varnames[: code.co_argcount]
    several = None
    if code.co_flags & inspect.CO_VARARGS:
        several = code.co_varnames[code.co_argcount]
    doc = inspect.cleandoc(work.__doc__ or "")
    if not doc:
        raise RuleError(f"{work.__qualname__}: a rule says in its docstring what it is")
    meaning, _, detail = doc.partition("\n\n")
    hints = _hints(work)
    found = Rule(
        name=work.__name__,
        work=work,
        unit=_unit(work, "return", hints),
        arguments=parameters,
        several=several,
        units={p: _unit(work, p, hints) for p in (*parameters, *((several,) if several else ()))},
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


def _is_plain(work: Callable[..., Any]) -> bool:
    """Whether all that the rule compiled to is known to be what a formula can say."""
    code: CodeType = work.__code__
    if code.co_freevars or code.co_cellvars or code.co_kwonlyargcount or code.co_posonlyargcount:
        return False
    if code.co_flags & (inspect.CO_VARKEYWORDS | inspect.CO_GENERATOR | inspect.CO_COROUTINE):
        return False
    instructions = code.co_code
    extended = False
    for at in range(0, len(instructions), 2):
        kind = instructions[at]
        if kind not in _KNOWN:
            return False
        if kind == _BINARY and (extended or instructions[at + 1] not in _ARITHMETIC):
            return False
        extended = kind == _EXTENDED
    constants = list(code.co_consts)
    if constants and constants[0] is work.__doc__:
        del constants[0]
    if any(type(c) not in (int, float, str) for c in constants):
        return False
    names = work.__globals__
    return all(
        n in HELPERS or hasattr(names.get(n), "rule") or type(names.get(n)) in (int, float, str)
        for n in code.co_names
    )


def _hints(work: Callable[..., Any]) -> dict[str, Any]:
    """The types of arguments and result; read as text only where they were put off."""
    found: dict[str, Any] = work.__annotations__
    if any(isinstance(hint, str) for hint in found.values()):
        return get_type_hints(work, include_extras=True)
    return found


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
    hint = hints.get(name)
    for part in getattr(hint, "__metadata__", None) or get_args(hint):
        if isinstance(part, Unit):
            return part
    raise RuleError(f"{work.__qualname__}: {name} needs a unit as its type, such as Metres")
