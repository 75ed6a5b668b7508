"""The columns of a list in blocks: what is typed, what is in use, what is worked out."""

import re
from collections.abc import Iterable
from math import ceil

from ..language.tables import CHECKED, FAULT, IN_USE, POSITION, Item, Table
from ..language.units import EACH, FLAG, TEXT
from .layout import RAW, ROW_SOUND, SOUND, STANDS

USE, WORKED_OUT = "in use", "worked out"
_ENDING = re.compile(r", in use$")


def item_of(table: Table, name: str) -> Item:
    """The column of that name, those among them that only the sheet has."""
    if name in (CHECKED, ROW_SOUND):
        return Item(name, name.capitalize(), FLAG)
    if name == FAULT:
        return Item(name, "To fix", TEXT)
    return table.column(name)


def label_of(table: Table, name: str) -> str:
    """What a column is called; of one that an engine has beyond those of its list, what it is of."""
    if table.has(name) or name in (CHECKED, FAULT):
        return item_of(table, name).label
    for item in table.inputs:
        for before, words in ((RAW, "as it is typed"), (SOUND, "can be used")):
            if name == before + item.name:
                return f"{item.label}, {words}"
    if name == STANDS:
        return "Its row on the sheet where it is typed"
    return f"{table.column(table.key).label}, the only one"


def block_of(name: str) -> str:
    """The block a column stands in by its name."""
    return USE if name.startswith(IN_USE) else WORKED_OUT


def head_of(table: Table, name: str) -> str:
    """What is printed above a column: its label, without the words that its block says."""
    return _ENDING.sub("", item_of(table, name).label)


def sign_of(table: Table, name: str) -> str:
    """What is printed under the label: its unit, and for what is not typed which block it is of."""
    if name == FAULT:
        return "or to know" if table.said else "if anything"
    if name == POSITION:
        return ""
    sign, block = item_of(table, name).unit.sign, block_of(name)
    return sign if block != USE else f"{sign} {block}".strip()


def width_of(table: Table, name: str, widths: dict[str, float]) -> float:
    """How wide a column is: as asked, else as its kind of figure and its longest word need."""
    plain = name.removeprefix(IN_USE)
    head = head_of(table, name)
    longest = max((len(w) for w in head.split()), default=0) * 1.02 + 2
    if plain in widths:
        return max(widths[plain], longest)
    if name == POSITION:
        return 5
    unit = item_of(table, name).unit
    usual = 20 if unit.text else 9 if unit in (EACH, FLAG) else 10
    return max(usual, longest, ceil(len(head) / 3) + 2)


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
