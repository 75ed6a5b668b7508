"""Draws the template that is shipped. Anyone may restyle the file itself; this is its origin.

It holds what is laid out by hand: the first sheet, the quote, the sheet for site. All other sheets
are laid out from the plan (fronts.py). Run `python -m estimator.workbook.drawing.template FILE`.
"""

import sys
from pathlib import Path

from openpyxl import Workbook

from ...model.plan import plan
from ..page import set_usual_font
from . import quote as draw_quote
from . import site as draw_site
from . import start as draw_start


def draw() -> Workbook:
    """The template, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    set_usual_font(book)
    cells, tables = plan().cells, plan().tables
    draw_start.start(book, tables, cells)
    draw_quote.quote(book, tables, cells)
    draw_site.site(book, tables)
    return book


if __name__ == "__main__":
    draw().save(Path(sys.argv[1]))
