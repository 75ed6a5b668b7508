"""A whole column of known figures, or of what is still formula text."""

from collections.abc import Sequence
from typing import Any

from .many import Many
from .missing import NOT_AVAILABLE
from .tracing import OneRow, Ref, TraceError, as_ref


def column_of(values: Sequence[Any], holds_text: bool = False) -> Any:
    """The values of one column as rules read them. Raises TraceError for several rows of formula text."""
    if not any(isinstance(v, Ref) for v in values):
        return Many(values, holds_text)
    if len(values) != 1:
        raise TraceError("a column of several rows, each a formula of its own")
    return OneRow(values[0])


def as_constants(column: Many) -> Ref:
    """A column of known figures or texts as formula text: `{1;2;3}`."""
    rows = [Ref("#N/A") if v is NOT_AVAILABLE else as_ref(v) for v in column.values]
    holds_text = any(r.holds_text for r in rows)
    return Ref("{" + ";".join(r.text for r in rows) + "}", many=True, holds_text=holds_text)
