"""Rules that many lists share: where a row is found, what stands there, how far two figures differ."""

from .helpers import available, beside, less, most, same, sum_of, whole_down
from .registry import rule, rule_of
from .tables import OwnCell, WholeColumn, Worked
from .units import EACH, Amount, Column, Each, Flag, Text, TextColumn, Unit


@rule
def found_at(name: Text, names: TextColumn, positions: Column) -> Each:
    """The row of another list that bears this name. 0 when there is none."""
    return sum_of(positions, same(names, name))


@rule
def read_at(row: Each, column: Column) -> Amount:
    """What stands in that row of another list. Not available where there is no such row."""
    return available(less(0, row), beside(column, row))


BEHIND = 10_000  # more than any figure that is ranked: what ranks behind all that do without


@rule
def ranked(figure: Amount, behind: Flag) -> Amount:
    """A figure as it ranks among others: behind all of them where `behind` is 1."""
    return figure + BEHIND * behind


@rule
def without_rank(figure: Amount) -> Amount:
    """A figure without its rank. 0 where there was none to look at."""
    return figure - BEHIND * whole_down(figure / BEHIND)


def find(name: str, label: str, by: str, where: str) -> Worked:
    """A column that finds the row of `where` (as "zones.mark") whose name stands in column `by`."""
    table, _, key = where.partition(".")
    bound = {
        "name": OwnCell(by),
        "names": WholeColumn(table, key),
        "positions": WholeColumn(table, "position"),
    }
    help = f"The row in `{table}` of what `{by}` names. 0 when there is none."
    return Worked(name, label, EACH, help, rule=rule_of(found_at), bound=bound)


def read(name: str, label: str, unit: Unit, what: str, at: str, help: str = "") -> Worked:
    """A column that shows `what` (as "book.packs") in the row whose number stands in `at`."""
    table, _, column = what.partition(".")
    bound = {"row": OwnCell(at), "column": WholeColumn(table, column)}
    meaning = help or f"As in `{table}`, column `{column}`."
    return Worked(name, label, unit, meaning, rule=rule_of(read_at), bound=bound)


@rule
def apart(one: Amount, other: Amount) -> Amount:
    """The difference of two figures, whichever is larger."""
    return most(one - other, other - one)
