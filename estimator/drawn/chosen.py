"""Which row of a list is drawn: a number from 1, or 0 where nothing is."""

from ..language import *


@rule
def there(found: Amount) -> Each:
    """The row that was looked for. 0 where none was found."""
    return where(less(found, NOTHING), found, 0)


@rule
def chosen_row(chosen: Text, first: Each, mark: TextColumn, position: Column) -> Each:
    """The row of the ref that is typed, else the first. 0 for none."""
    return where(same(chosen, ""), first, sum_of(position, same(mark, chosen)))


@rule
def in_row(row: Each, column: Column) -> Amount:
    """What stands in that row. 0 where there is none."""
    return where(less(0, row), beside(column, row), 0)
