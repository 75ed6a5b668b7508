"""Draws the template that is shipped. Anyone may restyle the file itself; this is its origin.

Run `python -m estimator.workbook.drawing.template FILE` after adding a column or a list.
"""

import sys
from pathlib import Path

from openpyxl import Workbook

from ...model.plan import plan
from ..page import set_usual_font
from . import background as draw_background
from . import form as draw_form
from . import job as draw_job
from . import quote as draw_quote
from . import site as draw_site
from . import working as draw_working


def draw() -> Workbook:
    """The template, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    set_usual_font(book)
    cells = plan().cells
    tables = plan().tables
    draw_job.job(book, cells)
    draw_form.form(book, tables, cells)
    draw_background.allowances(book, tables, cells)
    draw_background.suppliers(book, tables)
    draw_working.layouts(book, tables)
    draw_working.needs(book, tables)
    draw_working.figures_read(book, tables)
    draw_quote.quantities(book, tables)
    draw_quote.orders(book, tables)
    draw_quote.quote(book, tables, cells)
    draw_site.site(book, tables)
    draw_background.checks(book, tables)
    draw_background.kinds(book, tables, cells)
    draw_background.notes(book, tables)
    draw_background.places(book, tables)
    return book


if __name__ == "__main__":
    draw().save(Path(sys.argv[1]))
