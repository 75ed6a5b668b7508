"""What is printed above a column of a list, and how high a row of labels is."""

from collections.abc import Iterable

from ..language.tables import CHECKED, FAULT, POSITION, Item, Table
from ..language.units import FLAG, TEXT
from .layout import RAW, SOUND, STANDS


def item_of(table: Table, name: str) -> Item:
    """The column of that name, those among them that only the sheet has."""
    if name == CHECKED:
        return Item(name, name.capitalize(), FLAG)
    if name == FAULT:
        return Item(name, "To fix", TEXT)
    return table.column(name)


def label_of(table: Table, name: str) -> str:
    """What a column is called behind; of one that an engine has beyond those of its list, what it
    is of. One that is called as a typed one says that it is not that."""
    if table.has(name) or name in (CHECKED, FAULT):
        label = item_of(table, name).label
        taken = (i.label for i in table.inputs if i.name != name)
        return f"{label}, worked out" if label in taken else label
    for item in table.inputs:
        for before, words in ((RAW, "as it is typed"), (SOUND, "can be used")):
            if name == before + item.name:
                return f"{item.label}, {words}"
    if name == STANDS:
        return "Its row on the sheet where it is typed"
    return f"{table.column(table.key).label}, the only one"


def head_of(table: Table, name: str) -> str:
    """What is printed above a column."""
    return item_of(table, name).label


def sign_of(table: Table, name: str) -> str:
    """What is printed under the label: its unit."""
    if name == FAULT:
        return "or to know" if table.said else "if anything"
    return "" if name == POSITION else item_of(table, name).unit.sign


def head_height(heads: Iterable[tuple[str, float]]) -> float:
    """How high a row of labels must be for the longest of them, each in its width."""
    return 6 + 12 * max(_lines(text, width) for text, width in heads)


def _lines(text: str, width: float) -> int:
    """How many lines the words take, at about 0.9 characters of bold to one of width."""
    room, lines, used = 0.88 * width - 1, 1, 0
    for word in text.split():
        if used and used + 1 + len(word) > room:
            lines, used = lines + 1, 0
        used += len(word) + (1 if used else 0)
    return lines
