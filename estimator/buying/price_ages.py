"""How old prices are: the day each is of, held against how long the office takes a price for good.

Nothing is refused by it, and no figure follows: it is said on Start, and before an issue.
"""

from ..language import *
from ..language.units import FIRST_DAY, LAST_DAY


@rule
def price_day_in_use(price_day: Day, book_priced_on: Column) -> Day:
    """The day to which prices are counted: the one typed, else the newest that a price is of."""
    return first_given(price_day, largest_of(book_priced_on))


@rule
def price_old(packs: Each, priced_on: Day, price_limit: Days, price_day_in_use: Day) -> Flag:
    """1 for a product that the job takes, and whose price is older than the office's limit."""
    return where(
        given(packs),
        where(
            both(less(0, packs), both(given(priced_on), given(price_limit))),
            where(
                less(first_given(priced_on, 0) + first_given(price_limit, 0), price_day_in_use),
                1,
                0,
            ),
            0,
        ),
        0,
    )


INPUTS = (
    number("price_limit", "Prices are good for", DAYS, 1, 3650,
           "Start counts older ones. The total stays. Blank: no limit.",
           required=False, since=8),
    number("price_day", "Prices counted to", DAY, FIRST_DAY, LAST_DAY,
           "The day the quote goes out, as 2026-03-01. Blank: the day of the newest price.",
           required=False, since=8),
)  # fmt: skip
CELLS = (worked(price_day_in_use, "Prices counted to, in use"),)
