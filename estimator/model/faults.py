"""What the sheet itself finds that cannot be used: how much in each list, and what is to be fixed.

Their figures are the sheet's own (workbook/watching.py): a job file is checked when it is read.
"""

from ..checks import CHECKS, CHECKS_TABLE, PRODUCTS_TABLE, Check
from ..language.tables import Fixed, Item, Table
from ..language.units import EACH, TEXT
from ..pricing.refusals import COUNTS, ROWS_UNCHECKED, prices_missing

MOST_TOLD = 10  # lists and counts with something to fix that are told at once
MOST_PRODUCTS = 5  # products without a price that are told by name, each in a line
# Counted by rules from what can be used row by row, and cannot be all the same.
FOLLOWING = tuple(item for item in COUNTS if item is not ROWS_UNCHECKED)
# Checks whose figure may not be given, and where it is typed: nothing is to fix, but to be told.
ASKING: tuple[Check, ...] = tuple(check for check in CHECKS if check.typed)
# The lists of checks, in a row each: the first that is short by name, and how many more.
CHECK_LISTS = (CHECKS_TABLE.name, PRODUCTS_TABLE.name)
# What is told and is nothing to fix: the last rows.
ROWS_TOLD_ONLY = len(CHECK_LISTS) + len(ASKING)
# How many rows follow those of the lists: a count, products by name before theirs, then checks.
ROWS_FOLLOWING = len(FOLLOWING) + MOST_PRODUCTS + ROWS_TOLD_ONLY


def names_products(item: Item) -> bool:
    """Whether a count is one of products, the first of which are told by name."""
    return item.name == prices_missing.__name__


WATCHED = Table(
    "watched",
    "watched_list",
    "What is typed and cannot be used, list by list",
    (
        Fixed("list", "List", TEXT),
        Fixed("below", "Typed on the end line or below it", EACH, since=7),
        Fixed("beyond", "Typed in more rows than there is room for", EACH, since=7),
        Fixed("faults", "To fix", EACH),
        Fixed("first_fault", "The first, by its row", EACH),
        Fixed("fault_no", "Lists with something to fix, so far", EACH),
        Fixed("sheet", "Typed on", TEXT),
        Fixed("leads_to", "Its cell", TEXT),
        Fixed("says", "What is asked of it", TEXT),
        Fixed("tells", "What is told of it", TEXT, since=10),
    ),
    key="list",
    guarded=False,
    since=5,
)
TO_FIX = Table(
    "to_fix",
    "one_to_fix",
    "To fix before there is a total, then checks that are short and figures not given",
    (
        Fixed("list_no", "List no.", EACH),
        Fixed("told", "To fix, as far as told", EACH, since=7),
        Fixed("where", "Where", TEXT),
        Fixed("leads_to", "Its cell", TEXT),
        Fixed("says", "What is asked", TEXT),
    ),
    key="where",
    guarded=False,
    since=5,
)
