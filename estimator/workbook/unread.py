"""Where a person may type and nothing reads it: on a list's end line and below it, as far as the
heading of the next list or of the drawings and below these, and in rows that are more than its
engine has. The sheet counts what
stands there; whoever reads the file names its cell.
"""

from openpyxl.utils import column_index_from_string

from ..language.tables import FAULT, Table
from .fronts import ABOVE, FRONTS
from .layout import Layout, Span, on

LOOKED_AT = 200  # rows below the last list of a sheet, or its drawings' heading
_CHOSEN = {name for front in FRONTS for name in front.chosen}


def columns(table: Table, front: Span) -> list[str]:
    """The letters of a list from its first typed column to its last column, from the left."""
    typed = {i.name for i in table.inputs}
    first = min(column_index_from_string(at) for n, at in front.letters.items() if n in typed)
    found = sorted(front.letters.values(), key=column_index_from_string)
    return [letter for letter in found if column_index_from_string(letter) >= first]


def for_remarks(front: Span) -> str:
    """The first column of a list: two rows below the last list of a sheet it is for remarks."""
    return min(front.letters.values(), key=column_index_from_string)


def heading_below(layout: Layout, table: Table) -> tuple[int, int] | None:
    """The first and last row of the heading of what is under that list on the same sheet, a list or
    a cell that is typed; None below the last."""
    front = layout.fronts[table.name]
    lists = [
        (s.first - ABOVE, s.first - 1)
        for s in layout.fronts.values()
        if s.sheet == front.sheet and s.first > front.last
    ]
    at = (at for sheet, at in layout.typed_cells.values() if sheet == front.sheet)
    rows = (int(cell.rpartition("$")[2]) for cell in at)
    cells = [(row - 1, row - 1) for row in rows if row > front.bottom + 1]
    return min([*lists, *cells], default=None)


def drawings_from(layout: Layout, table: Table) -> int | None:
    """The row from which the drawings below the last list of a sheet lie; None for other lists."""
    front = layout.fronts[table.name]
    if any(s.sheet == front.sheet and s.first > front.last for s in layout.fronts.values()):
        return None
    at = (layout.typed_cells[n] for n in _CHOSEN if n in layout.typed_cells)
    rows = [int(cell.rpartition("$")[2]) for sheet, cell in at if sheet == front.sheet]
    return max((row + 1 for row in rows if row > front.bottom), default=None)


def below(table: Table, layout: Layout) -> str:
    """The formula that counts what is typed from the end line down; of a list that does not grow,
    in the row under its last. It names nothing above, where cells show what follows from it."""
    front, under = layout.fronts[table.name], heading_below(layout, table)
    letters = columns(table, front)
    begins, ends, at, sheet = letters[0], letters[-1], front.bottom, on(front.sheet)

    def counted(first: int, last: int, until: str = ends) -> str:
        return f"COUNTA({sheet}!${begins}${first}:${until}${last})"

    if not table.apart:  # the row has nothing to name it but the one above
        return f"{counted(at, at + 1)}-{counted(at, at)}"

    def to_the_end(first: int, remarks_from: int) -> str:
        last = first + LOOKED_AT
        if begins != for_remarks(front):
            return counted(first, last)
        return f"{counted(first, last)}-{counted(remarks_from, last, begins)}"

    if under is None:
        return to_the_end(at, at + 2)
    heading, labels = under
    between = f"{counted(at, labels)}-{counted(heading, labels)}"
    drawn = drawings_from(layout, table)
    return between if drawn is None else f"{between}+{to_the_end(drawn, drawn)}"


def beyond(table: Table, layout: Layout, room: int) -> str:
    """The formula that counts what is typed in more rows than the engine has, which is `room`."""
    if not table.apart:
        return "0"
    front, inputs = layout.fronts[table.name], {i.name for i in table.inputs}
    typed = [n for n in front.letters if n in inputs]
    # What few rows need stands past the results and what is to be fixed: those do not count.
    names = list(front.letters)
    past = names.index(FAULT) if FAULT in names else len(names)
    sides = [n for n in typed if n in names[:past]], [n for n in typed if n in names[past:]]
    counts = []
    for side in filter(None, sides):
        a, b = (layout.front_area(table.name, n) for n in (side[0], side[-1]))
        counts.append(f"COUNTA(INDEX({a},{room + 2}):INDEX({b},ROWS({b})-1))")
    more = f"ROWS({layout.front_area(table.name, typed[0])})-2>{room}"
    block = layout.front_area(table.name, typed[0], typed[-1])
    return f"IF({more},{'+'.join(counts)},0)" + _live(block)


def _live(block: str) -> str:
    """Nothing, of a block that is named: LibreOffice works a formula out again when a cell changes
    that it names, and what lies between two INDEX is not named."""
    return f"+0*COUNTA({block})"
