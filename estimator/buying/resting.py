"""What a quantity rests on that nobody gave."""

from ..language import *


@rule
def rests_on(position: Each, figure_read_assumed_in: Column) -> Each:
    """Times the line's quantity reads an allowance that is assumed: nobody gives a figure for it."""
    return count_of(same(figure_read_assumed_in, position))
