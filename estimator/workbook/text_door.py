"""The one door through which a person's text enters a cell, and never becomes a formula."""

import re
from typing import Any

from openpyxl.cell.cell import Cell

MOST = 32767  # what a cell can hold
_CODED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
FORBIDDEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def escaped(text: str) -> str:
    """The text with `_x0041_` and its like written so that no program decodes it to a letter."""
    return _CODED.sub("_x005F_", text) if "_x" in text else text


def as_text(text: str) -> str:
    """The text as a cell holds it. Raises ValueError when a cell cannot hold it."""
    if len(text) > MOST or FORBIDDEN.search(text):
        raise ValueError(f"a text of up to {MOST} characters, without control characters")
    return escaped(text)


def put_text(cell: Cell, text: str) -> None:
    """Put a text into a cell, as text. Raises ValueError when a cell cannot hold it."""
    cell._value = as_text(text)
    cell.data_type = "s"


def as_text_style(cell: Cell) -> Any:
    """The cell's style, made one that keeps what is typed there as text."""
    cell.number_format = "@"
    cell.quotePrefix = True
    return cell._style
