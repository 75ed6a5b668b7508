"""What one pack holds, as a client reads it: 30.00 m; 1 t, or 800 kg where it is less than a tonne."""

from typing import Any

from ...buying.materials import MATERIAL_ROWS
from ...language.ledger import Ledger
from ...model.reports import plain
from .words import as_worked, in_few_digits

_MATERIALS: dict[Any, dict[str, Any]] = {m["key"]: m for m in MATERIAL_ROWS}
_TONNES, _KILOGRAMS_IN_ONE = "t", 1000


def in_words(content: float | None, unit: str) -> str:
    """A pack's content; bags and the steps of loose loads are said in kilograms below a tonne."""
    if content is None or unit != _TONNES:
        return as_worked(content, unit)
    if content < 1:
        return in_few_digits(content * _KILOGRAMS_IN_ONE, "kg")
    return in_few_digits(content, unit)


def weight_of(ledger: Ledger, book_row: float | None) -> str:
    """What a pack of that row of the price book weighs; nothing for goods not bought by weight.

    `book_row` is 0 for a line of the quote that is no goods.
    """
    if not book_row:
        return ""
    at = int(book_row)
    material = _MATERIALS.get(plain(ledger.figure("book", at, "material")))
    if material is None or not material["by_weight"]:
        return ""
    return in_words(plain(ledger.figure("book", at, "content")), str(material["unit"]))
