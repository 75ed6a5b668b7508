"""Whether what stands in a typed cell can be used: one rule, of values and as formula text of cells.

Of values it is true or false; of cells it is text that is 0 where it cannot be used. Limits are
compared to the last digit, as they are when a file is read.
"""

from dataclasses import dataclass
from typing import Any

from ..language.helpers import given, where
from ..language.percent import percent_usable, read_usable
from ..language.tables import Input
from ..language.tracing import COMPARED, Ref, as_ref, function, operation
from ..language.units import DAY, EACH, FLAG, PERCENT
from .spelling import NOT_IN_NAMES


@dataclass(frozen=True)
class Around:
    """What stands around a cell and is asked with it: values, or references, blank where there is
    none. `listed` is the column of what may be typed there."""

    least: Any = 0
    most: Any = 0
    listed: Any = ()
    unit: Any = None  # of its row, where a row says one
    says: Any = None  # what says that it is a percentage, where something does
    meant: Any = None  # the percentage that it is read as, where that stands beside it
    under: Any = None  # what must say something, where something must


def usable(item: Input, cell: Any, around: Around) -> Any:
    """Whether what is typed there can be used."""
    test = _typed(item, cell, around)
    if item.under is not None:
        test = both(says_something(around.under), test)
    return test if item.required else either(is_empty(cell), test)


def usable_or_offered(item: Input, cell: Any, offered: Any, around: Around) -> Any:
    """As `usable`; of a blank cell, whether what the form says there can be used."""
    found = usable(item, cell, around)
    return where(is_empty(cell), _offered(item, offered, around), found)


def mark_usable(cell: Any, offered: Any = None) -> Any:
    """Whether a mark can be used that is typed; of a blank one, whether the form says one, where
    it may: that a row has one at all is asked of the row."""
    found = is_mark(cell)
    return found if offered is None else where(is_empty(cell), says_something(offered), found)


def _offered(item: Input, offered: Any, around: Around) -> Any:
    if not item.required:
        return 1
    if item.unit.text and not item.choice_of:  # by rule: one of its choices, or nothing
        return says_something(offered)
    return usable(item, offered, around)


def _typed(item: Input, cell: Any, around: Around) -> Any:
    if item.choice_of:
        return both(says_something(cell), is_among(cell, around.listed))
    if item.choices:
        return is_one_of(cell, item.choices)
    if item.unit.text:
        return is_words(cell)
    if item.unit is PERCENT:
        return _percent(cell, around)
    test = within(cell, around.least, around.most)
    if item.unit in (DAY, EACH, FLAG):
        test = both(test, is_whole(cell))
    elif around.unit is not None:  # where the unit stands in the row, counts alone are whole
        test = both(test, either(differs(around.unit, EACH.sign), is_whole(cell)))
    found = where(given(cell), test, 0)
    if item.percent_in is not None and around.says is not None:
        return where(equals(around.says, item.percent_in[1]), _percent(cell, around), found)
    return found


def _percent(cell: Any, around: Around) -> Any:
    """A text beside it is no number, and is not compared with one."""
    if not isinstance(cell, Ref) and not given(cell):
        return 0
    if around.meant is None:
        test = percent_usable(cell, around.most)
    else:
        test = read_usable(cell, around.meant, around.most)
    return where(given(cell), test, 0)


# ---- each of a value, and of a cell -----------------------------------------------------------


def both(*tests: Any) -> Any:
    """All of them hold."""
    if not any(isinstance(t, Ref) for t in tests):
        return all(tests)
    return Ref("*".join(as_ref(t).text for t in tests))


def either(*tests: Any) -> Any:
    """One of them holds."""
    if not any(isinstance(t, Ref) for t in tests):
        return any(tests)
    return Ref(f"(({'+'.join(as_ref(t).text for t in tests)})>0)")


def _compared(left: Any, sign: str, right: Any) -> Ref:
    return Ref(f"({operation(left, sign, right, COMPARED).text})")


def is_empty(cell: Any) -> Any:
    """Nothing is typed there."""
    return _compared(cell, "=", "") if isinstance(cell, Ref) else cell == ""


def says_something(cell: Any) -> Any:
    """Something stands there."""
    return _compared(cell, "<>", "") if isinstance(cell, Ref) else cell != ""


def is_words(cell: Any) -> Any:
    """A text that is not blank."""
    if isinstance(cell, Ref):
        return _compared(function("TRIM", [cell]), "<>", "")
    return bool(str(cell).strip())


def equals(cell: Any, text: str) -> Any:
    """That text stands there."""
    return _compared(cell, "=", text) if isinstance(cell, Ref) else cell == text


def differs(cell: Any, text: str) -> Any:
    """Another text stands there."""
    return _compared(cell, "<>", text) if isinstance(cell, Ref) else cell != text


def is_one_of(cell: Any, texts: tuple[str, ...]) -> Any:
    """One of those texts."""
    if isinstance(cell, Ref):
        return either(*(_compared(cell, "=", text) for text in texts))
    return cell in texts


def is_among(cell: Any, listed: Any) -> Any:
    """It stands in that column."""
    if isinstance(cell, Ref):
        return Ref(f"(SUMPRODUCT(({listed.text}={cell.text})*1)>0)")
    return cell in listed


def within(cell: Any, least: Any, most: Any) -> Any:
    """Neither below one limit nor above the other."""
    if isinstance(cell, Ref):
        return both(_compared(cell, ">=", least), _compared(cell, "<=", most))
    return given(cell) and least <= cell <= most


def is_whole(cell: Any) -> Any:
    """A number without decimals."""
    if isinstance(cell, Ref):
        return _compared(function("ROUNDDOWN", [cell, 0]), "=", cell)
    return given(cell) and cell == int(cell)


def is_mark(cell: Any) -> Any:
    """A text without blanks that no one sees, or signs that are patterns in one host or another."""
    if isinstance(cell, Ref):
        signs = [as_ref(sign).text for sign in NOT_IN_NAMES] + ["CHAR(10)"]
        found = "+".join(f"ISNUMBER(FIND({sign},{cell.text}))" for sign in signs)
        trimmed = _compared(function("TRIM", [cell]), "=", cell)
        return both(trimmed, Ref(f"(ISNUMBER({cell.text})+{found}=0)"))
    return isinstance(cell, str) and cell.strip() == cell and not set(cell) & {*NOT_IN_NAMES, "\n"}
