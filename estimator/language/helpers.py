"""What a rule may use: each helper works on numbers, and writes itself as formula text on cells.

Over whole columns only the helpers of the last part work, and inside them the plain operators
and `same`, `less`, `at_most`, `both`, `either`: these become signs, not functions, because
functions over a range give wrong numbers in some hosts (measured, not assumed).
"""

import math
from collections.abc import Callable
from functools import wraps
from typing import Any

from . import rounding, tracing
from .many import Many, Rows, lost, rows_where
from .missing import NOT_AVAILABLE
from .tracing import ADDED, COMPARED, JOINED, MULTIPLIED, OneRow, Ref, as_ref, function, operation

NOTHING = 1000000000  # above any figure of a job: no row met the conditions
HAIR = 0.000001  # two lengths nearer than this are the same length


def _helper(traced: Callable[..., Ref]) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Pair what a helper does with numbers and the formula text it becomes on cells."""

    def pair(plain: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(plain)
        def either_way(*args: Any) -> Any:
            gap = False
            for a in args:
                if isinstance(a, Ref):
                    return traced(*args)
                gap = gap or a is NOT_AVAILABLE
            return NOT_AVAILABLE if gap else plain(*args)

        return either_way

    return pair


def _named(name: str) -> Callable[..., Ref]:
    return lambda *args: function(name, args)


def _six(value: Any) -> Ref:
    return function("ROUND", [value, 6])


def _gap(a: Any, b: Any) -> Ref:
    return _six(operation(a, "-", b, ADDED))


def _is_nought(value: Any) -> bool:
    return isinstance(value, int) and value == 0


def _sign(left: Any, sign: str, right: Any) -> Ref:
    return operation(left, sign, right, COMPARED)


def _is_many(*args: Any) -> bool:
    return any(isinstance(a, Many) or (isinstance(a, Ref) and a.many) for a in args)


# ---- single values -------------------------------------------------------------------------


@_helper(_named("MAX"))
def most(*values: float) -> float:
    """The largest of them."""
    return max(values)


@_helper(_named("MIN"))
def least(*values: float) -> float:
    """The smallest of them."""
    return min(values)


@_helper(lambda x: function("ROUNDUP", [_six(x), 0]))
def whole_up(value: float) -> float:
    """Up to whole units."""
    return rounding.up(value)


@_helper(lambda x: function("ROUNDDOWN", [_six(x), 0]))
def whole_down(value: float) -> float:
    """Down to whole units."""
    return rounding.down(value)


@_helper(lambda x: function("ROUND", [x, 2]))
def to_pence(value: float) -> float:
    """Pounds to the penny, half up."""
    return rounding.pence(value)


@_helper(_six)
def to_six_places(value: float) -> float:
    """To six decimals, so that equal figures are equal in every host."""
    return rounding.six_places(value)


@_helper(_named("SQRT"))
def root_of(value: float) -> float:
    """Square root."""
    return math.sqrt(value)


@_helper(lambda x: function("TAN", [x * function("PI", []) / 180]))
def tan_of(degrees: float) -> float:
    """Tangent of an angle in degrees."""
    return math.tan(degrees * math.pi / 180)


@_helper(lambda x: function("SIN", [x * function("PI", []) / 180]))
def sin_of(degrees: float) -> float:
    """Sine of an angle in degrees."""
    return math.sin(degrees * math.pi / 180)


@_helper(lambda x: function("COS", [x * function("PI", []) / 180]))
def cos_of(degrees: float) -> float:
    """Cosine of an angle in degrees."""
    return math.cos(degrees * math.pi / 180)


def divided(value: Any, by: Any) -> Any:
    """value / by; 0 where `by` is not above zero (nothing fits, nothing is covered)."""
    if isinstance(value, Ref) or isinstance(by, Ref):
        over = operation(value, "/", by, MULTIPLIED)
        return function("IF", [_sign(0, "<", _six(by)), over, 0])
    if by is NOT_AVAILABLE:
        return NOT_AVAILABLE
    # As in the sheet, where IF does not look at what it does not take.
    if rounding.six_places(by) <= 0:
        return 0
    return NOT_AVAILABLE if value is NOT_AVAILABLE else value / by


def where(condition: Any, then: Any, otherwise: Any) -> Any:
    """`then` where the condition holds, `otherwise` where it does not."""
    if isinstance(condition, Ref):
        holds_text = as_ref(then).holds_text or as_ref(otherwise).holds_text
        return function("IF", [condition, then, otherwise], holds_text)
    if condition is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return then if condition else otherwise


def given(value: Any) -> Any:
    """Whether a number was given: 0 is given, a blank or a text is not."""
    if isinstance(value, Ref):
        return function("ISNUMBER", [Ref(value.said_at) if value.said_at else value])
    return isinstance(value, int | float)


def is_blank(value: Any) -> Any:
    """Whether a text says nothing."""
    if isinstance(value, Ref):
        return operation(function("TRIM", [value]), "=", "", COMPARED)
    return value.strip(" ") == ""


def first_given(*values: Any) -> Any:
    """The first that was given; not available when none was."""
    if any(isinstance(v, Ref) for v in values):
        chain: Any = tracing.Ref("NA()")
        for value in reversed(values):
            if isinstance(value, Ref):
                chain = where(given(value), value, chain)
            elif given(value):
                chain = as_ref(value)
        return chain
    return next((v for v in values if isinstance(v, int | float)), NOT_AVAILABLE)


def available(condition: Any, value: Any) -> Any:
    """The value where the condition holds; otherwise it refuses, and all that needs it."""
    if isinstance(condition, Ref):
        return function("IF", [condition, value, tracing.Ref("NA()")])
    return where(condition, value, NOT_AVAILABLE)


@_helper(lambda slot, *values: function("CHOOSE", [slot, *values], as_ref(values[0]).holds_text))
def choose(slot: float, *values: Any) -> Any:
    """The value in that place, counted from 1."""
    place = int(slot)
    return values[place - 1] if 1 <= place <= len(values) else NOT_AVAILABLE


def column_at(slot: Any, *columns: Any) -> Any:
    """The column in that place, counted from 1."""
    if isinstance(columns[0], Ref):
        texts = ",".join(as_ref(c).text for c in (slot, *columns))
        return Ref(f"CHOOSE({texts})", many=True, holds_text=columns[0].holds_text)
    return lost(len(columns[0])) if slot is NOT_AVAILABLE else columns[int(slot) - 1]


# ---- comparisons: single values, or row by row within a column -----------------------------


def at_most(a: Any, b: Any) -> Any:
    """a <= b, within a hair."""
    if isinstance(a, Ref) or isinstance(b, Ref):
        many = _is_many(a, b)
        return _sign(a, "<=", as_ref(b) + HAIR) if many else _sign(_gap(a, b), "<=", 0)
    if isinstance(a, Many):
        if isinstance(b, Many):
            return rows_where(lambda a, b: bool(a <= b + HAIR), a, b)
        return a.below(b, HAIR, or_equal=True)
    if isinstance(b, Many):
        return b.above(a, HAIR, or_equal=True)
    if a is NOT_AVAILABLE or b is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return rounding.six_places(a - b) <= 0


def less(a: Any, b: Any) -> Any:
    """a < b, by more than a hair."""
    if isinstance(a, Ref) or isinstance(b, Ref):
        if _is_many(a, b):
            return _sign(a, "<", as_ref(b) - HAIR)
        return _sign(0, "<", _six(b)) if _is_nought(a) else _sign(_gap(a, b), "<", 0)
    if isinstance(a, Many):
        if isinstance(b, Many):
            return rows_where(lambda a, b: bool(a < b - HAIR), a, b)
        return a.below(b, -HAIR, or_equal=False)
    if isinstance(b, Many):
        return b.above(a, -HAIR, or_equal=False)
    if a is NOT_AVAILABLE or b is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return rounding.six_places(a - b) < 0


def same(a: Any, b: Any) -> Any:
    """The same text (capitals do not matter, as in every host), or the same whole number."""
    if isinstance(a, Ref) or isinstance(b, Ref):
        return _sign(a, "=", b)
    if isinstance(a, Many):
        return rows_where(_same, a, b) if isinstance(b, Many) else a.same_as(b)
    if isinstance(b, Many):
        return b.same_as(a)
    if a is NOT_AVAILABLE or b is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return _same(a, b)


def _same(a: Any, b: Any) -> bool:
    if isinstance(a, str) and isinstance(b, str):
        return a.lower() == b.lower()
    return bool(a == b)


def both(a: Any, b: Any) -> Any:
    """Both hold."""
    if _is_many(a, b):
        return a * b
    if isinstance(a, Ref) or isinstance(b, Ref):
        return tracing.joined_tests("AND", a, b, needless=True)
    if a is NOT_AVAILABLE or b is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return a and b


def either(a: Any, b: Any) -> Any:
    """At least one holds."""
    if isinstance(a, Rows) and isinstance(b, Rows):
        return a.either(b)
    if _is_many(a, b):
        return less(0, a + b)
    if isinstance(a, Ref) or isinstance(b, Ref):
        return tracing.joined_tests("OR", a, b, needless=False)
    if a is NOT_AVAILABLE or b is NOT_AVAILABLE:
        return NOT_AVAILABLE
    return a or b


# ---- whole columns to one value ------------------------------------------------------------


def _product(columns: tuple[Any, ...]) -> Any:
    product = columns[0]
    for column in columns[1:]:
        product = product * column
    return product


def _needs_column(value: Any) -> None:
    if not _is_many(value):
        raise tracing.TraceError("this helper reads a whole column, and was given a single value")


def total(column: Any) -> Any:
    """The sum of a column, or of a row-by-row product of columns."""
    _needs_column(column)
    if isinstance(column, Ref):
        plain = column.binds in (tracing.WHOLE, COMPARED)
        # Times 1, because SUM would skip a text typed over a figure and come out low.
        return Ref(f"SUMPRODUCT({operation(column, '*', 1, MULTIPLIED).text})" if plain
                   else f"SUMPRODUCT({column.text})")  # fmt: skip
    return column.total()


def sum_of(column: Any, *conditions: Any) -> Any:
    """The sum of the rows for which every condition holds."""
    return total(_product((column, *conditions)))


def count_of(*conditions: Any) -> Any:
    """How many rows meet every condition."""
    return total(_product(conditions))


def largest_of(column: Any, *conditions: Any) -> Any:
    """The largest figure (none below 0) among the rows that meet every condition; 0 if none."""
    product = _product((column, *conditions))
    _needs_column(product)
    if isinstance(product, Ref):
        return Ref(f"SUMPRODUCT(LARGE({product.text},1))")
    return product.largest()


def smallest_of(column: Any, *conditions: Any) -> Any:
    """The smallest figure among the rows that meet every condition; NOTHING or more if none."""
    met = _product(conditions)
    _needs_column(column)
    if isinstance(column, Ref):
        return Ref(f"SUMPRODUCT(SMALL({(column + NOTHING * (1 - met)).text},1))")
    if isinstance(met, Rows):
        return column.smallest(met, NOTHING)
    product = column + NOTHING * (1 - met)
    return NOT_AVAILABLE if product.has_gap else min(product, default=NOTHING)


def beside(column: Any, position: Any) -> Any:
    """The figure or text that stands in that row of the column, counted from 1."""
    _needs_column(column)
    if isinstance(column, Ref):
        if isinstance(column, OneRow):  # not every program finds a row in what has none
            return where(same(position, 1), column.row, NOT_AVAILABLE)
        # A blank cell reads as 0; the empty text added makes it an empty text again.
        text = f"INDEX({column.text},{as_ref(position).text})"
        return Ref(text + '&""', JOINED, holds_text=True) if column.holds_text else Ref(text)
    if position is NOT_AVAILABLE or not 1 <= int(position) <= len(column):
        return NOT_AVAILABLE
    return column.values[int(position) - 1]


def sum_of_first(count: float, *values: Any) -> Any:
    """The sum of the first so many of these figures; `count` is fixed when the list is laid out."""
    first, *others = values[: int(count)] or (0,)
    return sum(others, start=first)


def first_row(column: Any, value: Any) -> Any:
    """The first row of the column that holds that text or whole number, counted from 1; 0 if none.

    What is not available is found nowhere, and hides nothing. Capitals do not matter, as in every host. Of a person's texts only by `same`: in a sheet a star
    in what is looked for would stand for anything.
    """
    _needs_column(column)
    if isinstance(column, OneRow):
        return function("IFERROR", [function("IF", [same(column.row, value), 1, 0]), 0])
    if isinstance(column, Ref):
        found = function("MATCH", [value, Ref(column.text), 0])
        return function("IFERROR", [found, 0])
    return column.first_row(value)


def _in_label(part: Any) -> Ref:
    return part if as_ref(part).holds_text else function("ROUND", [part * 1_000_000, 0])


def _label(*parts: Any) -> Ref:
    first, *others = map(_in_label, parts)
    for other in others:
        first = operation(operation(first, "&", " ", JOINED), "&", other, JOINED)
    return Ref(first.text, JOINED, holds_text=True)


@_helper(_label)
def label_of(*parts: str | float) -> str:
    """Texts and figures as one text, alike where all are alike: figures to six places."""
    return " ".join(
        p if isinstance(p, str) else str(rounding.to_places(p * 1_000_000, 0)) for p in parts
    )


HELPERS = frozenset(
    {
        *("first_row", "label_of", "sum_of_first", "in_metres", "in_figures", "one_text"),
        "letters_in",
        *("most", "least", "whole_up", "whole_down", "to_pence", "to_six_places", "root_of"),
        *("tan_of", "sin_of", "cos_of", "smallest_of"),
        *("divided", "where", "given", "first_given", "is_blank", "available", "choose"),
        *("at_most", "less", "same", "both", "either"),
        *("total", "sum_of", "count_of", "largest_of", "beside", "column_at"),
    }
)
