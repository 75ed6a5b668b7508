"""Draws the templates of the documents that leave the desk. Anyone may restyle the files.

Run `python -m estimator.documents.drawing.templates workbook_templates` after a place was added.
"""

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from openpyxl import Workbook

from ...workbook.page import set_usual_font
from .client import client
from .order import order
from .price_request import price_request
from .site_sheet import site

DRAWN: Mapping[str, Callable[[Workbook], None]] = {
    "client_quote.xlsx": client,
    "order_list.xlsx": order,
    "price_request.xlsx": price_request,
    "site_sheet.xlsx": site,
}


def draw(name: str) -> Workbook:
    """One of the templates, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    set_usual_font(book)
    DRAWN[name](book)
    return book


if __name__ == "__main__":
    for _name in DRAWN:
        draw(_name).save(Path(sys.argv[1]) / _name)
