"""Cell references that turn a rule into formula text.

A rule called with references instead of numbers returns a reference whose text is the native
formula. References refuse everything a formula cannot express, so a rule that would take the
wrong branch in silence fails loudly instead.
"""

from collections.abc import Iterable
from typing import Any, NoReturn

from .missing import NOT_AVAILABLE

# How tightly each kind of expression binds; a looser one is put in brackets inside a tighter one.
COMPARED, JOINED, ADDED, MULTIPLIED, WHOLE = range(5)


class TraceError(TypeError):
    """A rule asked of a reference what a native formula cannot do."""


class Ref:
    """A piece of formula text: a cell, a name, a whole column (`many`), or an expression."""

    __slots__ = ("binds", "holds_text", "many", "said_at", "text")
    __hash__ = None  # type: ignore[assignment]

    def __init__(
        self,
        text: str,
        binds: int = WHOLE,
        many: bool = False,
        holds_text: bool = False,
        said_at: str | None = None,
    ) -> None:
        self.text, self.binds, self.many, self.holds_text = text, binds, many, holds_text
        # Where a typed figure is read as 0 when it is blank, the cell that tells it from a 0.
        self.said_at = said_at

    def __add__(self, other: Any) -> "Ref":
        return operation(self, "+", other, ADDED)

    def __radd__(self, other: Any) -> "Ref":
        return operation(other, "+", self, ADDED)

    def __sub__(self, other: Any) -> "Ref":
        return operation(self, "-", other, ADDED)

    def __rsub__(self, other: Any) -> "Ref":
        return operation(other, "-", self, ADDED)

    def __mul__(self, other: Any) -> "Ref":
        return operation(self, "*", other, MULTIPLIED)

    def __rmul__(self, other: Any) -> "Ref":
        return operation(other, "*", self, MULTIPLIED)

    def __truediv__(self, other: Any) -> "Ref":
        return operation(self, "/", other, MULTIPLIED)

    def __rtruediv__(self, other: Any) -> "Ref":
        return operation(other, "/", self, MULTIPLIED)

    def __neg__(self) -> "Ref":
        # In a sheet the sign binds tighter than a power; a product is the same everywhere.
        return operation(-1, "*", self, MULTIPLIED)

    def _refuse(self, *_: Any) -> NoReturn:
        raise TraceError("a rule may not compare, test or print a cell: use the rule helpers")

    __eq__ = __ne__ = __lt__ = __le__ = __gt__ = __ge__ = _refuse
    __bool__ = __str__ = __format__ = __iter__ = __contains__ = _refuse
    __float__ = __int__ = __index__ = __len__ = __abs__ = __round__ = _refuse
    __pow__ = __rpow__ = __mod__ = __rmod__ = __floordiv__ = __rfloordiv__ = _refuse

    def __repr__(self) -> str:
        return f"Ref({self.text!r})"


class OneRow(Ref):
    """A column of one row, which is known by what stands in it."""

    __slots__ = ("row",)

    def __init__(self, row: Ref) -> None:
        super().__init__(row.text, row.binds, many=True, holds_text=row.holds_text)
        self.row = row


def as_ref(value: Any) -> Ref:
    """A literal as formula text; a reference as it is."""
    if isinstance(value, Ref):
        return value
    if isinstance(value, bool):
        raise TraceError("a rule may not use True or False as a value")
    if isinstance(value, int | float):
        return Ref(number_text(value))
    if isinstance(value, str):
        return Ref('"' + value.replace('"', '""') + '"', holds_text=True)
    if value is NOT_AVAILABLE:
        return Ref("NA()")
    raise TraceError(f"a formula cannot hold {type(value).__name__}")


def number_text(value: float) -> str:
    """A number as every spreadsheet program reads it: no exponent, no locale."""
    if float(value).is_integer():
        return str(int(value))
    return f"{value:.15f}".rstrip("0")


def operation(left: Any, sign: str, right: Any, binds: int) -> Ref:
    """`left sign right`. The right side of equal strength keeps its brackets: a-(b-c)."""
    a, b = as_ref(left), as_ref(right)
    return Ref(
        f"{_bracketed(a, a.binds < binds)}{sign}{_bracketed(b, b.binds <= binds)}",
        binds,
        many=a.many or b.many,
    )


def function(name: str, arguments: Iterable[Any], holds_text: bool = False) -> Ref:
    """`NAME(a,b,...)` over single values; a whole column inside one would go wrong silently."""
    refs = [as_ref(a) for a in arguments]
    if any(r.many for r in refs):
        raise TraceError(f"{name} over a whole column: only total, sum_of, largest_of and the like")
    return Ref(f"{name}({','.join(r.text for r in refs)})", holds_text=holds_text)


def joined_tests(name: str, a: Any, b: Any, needless: bool) -> Any:
    """AND or OR of two. One may be known beforehand: left out where it does not decide."""
    if isinstance(a, bool) or isinstance(b, bool):
        known, other = (a, b) if isinstance(a, bool) else (b, a)
        if known is needless:
            return other
        return function(name, [Ref("TRUE" if known else "FALSE"), other])
    return function(name, [a, b])


def _bracketed(ref: Ref, needed: bool) -> str:
    return f"({ref.text})" if needed else ref.text
