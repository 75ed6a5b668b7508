"""A cell as it stands in the part of its sheet: as text, since sheets are written in one piece."""

from typing import Any

from openpyxl.compat import safe_string

from ..language import NOT_AVAILABLE
from .text_door import escaped


def as_stored(result: Any) -> tuple[str | None, str]:
    """The type attribute and the text under which a result stands in the file."""
    if isinstance(result, str):
        return "str", escaped(result)
    if result is NOT_AVAILABLE:
        return "e", "#N/A"
    if isinstance(result, bool):
        return "b", str(int(result))
    return None, repr(result)


def plain(text: str) -> str:
    """A text as it stands in XML; a bare carriage return would be read as a line end."""
    text = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return text.replace("\r", "&#13;")


# `at` is the beginning of a cell, with its address and its style: `<c r="B4" s="2"`.


def formula_cell(at: str, formula: str, result: Any) -> str:
    """A formula, without its equals sign and as it stands in XML, and beside it its result."""
    kind, text = as_stored(result)
    if kind is None:
        return f"{at}><f>{formula}</f><v>{text}</v></c>"
    return f'{at} t="{kind}"><f>{formula}</f><v>{plain(text)}</v></c>'


def number_cell(at: str, value: Any) -> str:
    """A number that stands there as it is."""
    return f'{at} t="n"><v>{safe_string(value)}</v></c>'


def text_cell(at: str, text: str) -> str:
    """A text that stands there as it is, escaped already; blanks around it are kept."""
    kept = "" if text == text.strip() else ' xml:space="preserve"'
    return f'{at} t="inlineStr"><is><t{kept}>{plain(text)}</t></is></c>'
