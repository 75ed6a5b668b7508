"""A percentage as a person types it in a cell: 20, or 20% (which the cell holds as 0.2), or 0.2.

Above 1 it is per cent; above 0 and below 1 it is a fraction of the whole. 1 alone can mean either,
so it is something to mend, and so is what comes to less than 0.5 % or to more than 100 %.
A job file, a price file and the core itself hold per cent only.
"""

from collections.abc import Callable, Mapping
from typing import Any

from .helpers import at_most, both, either, first_given, given, less, same, to_six_places, where
from .registry import rule, rule_of
from .tables import IN_USE, Input, NamedCell, OwnCell, TypedCell, Worked
from .units import PERCENT_LEAST, Amount, Flag, Percent, Text


@rule
def percent_of(figure: Amount) -> Percent:
    """The percentage that a figure stands for: a fraction of the whole is taken a hundredfold."""
    return where(less(1, figure), figure, to_six_places(figure * 100))


@rule
def percent_in_use(typed: Amount) -> Percent:
    """The percentage that is read for what is typed. Nothing where no number is."""
    return where(given(typed), percent_of(first_given(typed, 0)), "")


@rule
def figure_in_use(typed: Amount, says: Text, percent: Text, blank: Amount) -> Amount:
    """The figure that is read, where another column says whether it is a percentage."""
    return where(
        given(typed),
        where(same(says, percent), percent_of(first_given(typed, 0)), first_given(typed, 0)),
        blank,
    )


@rule
def read_usable(typed: Amount, meant: Percent, most: Percent) -> Flag:
    """As `percent_usable`, of what is typed and the percentage it is read as."""
    return where(
        either(
            same(typed, 0),
            both(
                either(less(typed, 1), less(1, typed)),
                both(at_most(PERCENT_LEAST, meant), at_most(meant, most)),
            ),
        ),
        1,
        0,
    )


@rule
def percent_usable(typed: Amount, most: Percent) -> Flag:
    """1 for no percentage at all, and for one that can be read in one way only: never for 1."""
    return read_usable(typed, percent_of(typed), most)


def column_in_use(item: Input) -> Worked:
    """The column that rules read for a typed column of percentages."""
    if item.percent_in is None:
        return _in_use(item, percent_in_use, typed=TypedCell(item.name))
    column, says = item.percent_in
    bound = {"typed": TypedCell(item.name), "says": OwnCell(column), "percent": says,
             "blank": 0 if item.required else ""}  # fmt: skip
    return _in_use(item, figure_in_use, **bound)


def cell_in_use(item: Input) -> Worked:
    """The named cell that rules read for one in which a percentage is typed."""
    return _in_use(item, percent_in_use, typed=NamedCell(item.name))


def _in_use(item: Input, work: Callable[..., Any], **bound: Any) -> Worked:
    found = rule_of(work)
    name, label = IN_USE + item.name, f"{item.label}, in use"
    return Worked(name, label, item.unit, found.meaning, rule=found, bound=bound)


def as_typed(item: Input, value: Any, row: Mapping[str, Any]) -> Any:
    """What stands in the cell for a figure of the job: 1 % and less as a fraction, to be read as meant."""
    if item.is_percent(row) and isinstance(value, int | float) and 0 < value <= 1:
        return value / 100
    return value


def as_meant(item: Input, value: Any, row: Mapping[str, Any]) -> Any:
    """The figure of the job for what stands in its cell. Raises ValueError for 1, which says nothing."""
    if not item.is_percent(row) or not isinstance(value, int | float) or isinstance(value, bool):
        return value
    if value == 1:
        raise ValueError("20 or 20% for twenty per cent; 1 alone may mean 1 % or 100 %")
    return percent_of(float(value))
