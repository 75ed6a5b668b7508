"""Draws the long sheets of working: sheet layouts, and needs row by row. Paper gets what is chosen."""

from collections.abc import Sequence

from openpyxl import Workbook

from ...language.tables import POSITION, Table
from ..page import LINE, Page


def layouts(book: Workbook, tables: dict[str, Table]) -> None:
    """Each zone on each roll of sheet."""
    printed = (
        *("zone", "mark", "roll_width", "roll_length", "fits", "direction", "strip_count"),
        *("strip_length", "rolls", "roll_metres", "joint", "actual_lap", "laid_area"),
    )
    _working(
        book,
        "Layouts",
        "Sheet layouts",
        "Each zone on each stocked roll of sheet, in whole strips, both ways.",
        tables["layouts"],
        printed,
        {"zone": 8, "mark": 9, "direction": 16},
    )


def needs(book: Workbook, tables: dict[str, Table]) -> None:
    """What every row of every list needs."""
    printed = (
        *("line", "mark", "material", "net", "added", "wanted", "provisional", "width", "limit"),
        *("longest", "uncovered", "pick", "rolls"),
    )
    _working(
        book,
        "Needs",
        "Needs, row by row",
        "What every row of every list needs, and the product its supplier would send.",
        tables["needs"],
        printed,
        {"line": 15, "mark": 9, "material": 17},
    )


def figures_read(book: Workbook, tables: dict[str, Table]) -> None:
    """Which allowances each quantity is worked out from."""
    printed = ("what", "figure", "read_by", "used", "assumed")
    _working(
        book,
        "Rests",
        "What each quantity rests on",
        "The allowances each quantity is worked out from, and whether this job uses them.",
        tables["figures_read"],
        printed,
        {"what": 34, "figure": 20, "read_by": 26},
    )


def _working(
    book: Workbook,
    title: str,
    heading: str,
    intro: str,
    table: Table,
    printed: Sequence[str],
    widths: dict[str, float],
) -> None:
    page = Page(book, title, heading, intro, landscape=False)
    head = page.row
    rest = [c.name for c in table if c.name not in printed]
    bands = {rest[0]: "How it is worked out (not printed)"}
    page.list(
        table,
        [POSITION, *printed, *rest],
        widths,
        inside=len(printed) + 1,
        bands=bands,
        height=12,
    )
    spare = f'$C{head + 2}=""'
    page.quiet(f"B{head + 2}", spare, LINE)
    page.finish(freeze=f"C{head + 2}")
