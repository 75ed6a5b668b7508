"""The sheets on which lists are typed: which lists stand on which, and how each is laid out.

A block is a heading, the labels, the units, the rows and an end line. The unit row and the end line
are inside what the engine reads from, so that rows put in anywhere between them are read.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from openpyxl.utils import get_column_letter

from ..language.plan import Plan
from ..language.tables import FAULT, Table
from .layout import Span

TOP = 4  # the row in which the first block begins
ABOVE, _BELOW = 3, 3  # rows of a block above its first row, and from its end line on
BEHIND = 2  # rows that the engine has beyond those of its front, for rows that are put in


@dataclass(frozen=True)
class Front:
    """One sheet, and the lists typed on it, one under another."""

    sheet: str
    heading: str
    intro: str
    lists: tuple[str, ...]
    widths: Mapping[str, float] = field(default_factory=dict)


FRONTS = (
    Front(
        "Floors",
        "Floors",
        "Shaded cells are typed. Rows may be put in, taken out, sorted and pasted above each end "
        "line; what is worked out follows by itself.",
        ("zones", "edges", "floor_features", "penetrations"),
    ),
    Front(
        "Walls",
        "Walls",
        "A DPC lies in each leaf, on its centre line; a tray lies over each opening.",
        ("walls", "openings", "parapets"),
    ),
    Front(
        "House",
        "Roofs against walls, and the house that stands",
        "Level trays and stepped units on new walls; what is known of the old walls, and what is "
        "opened up in them. Solid, stone or unknown: no count, a provisional sum.",
        ("abutments", "tray_units", "old_walls", "cut_ins", "tie_ins", "old_vents"),
    ),
    Front(
        "Prices",
        "Price book",
        "One row for each supplier and product; beside it what this job takes.",
        ("book",),
    ),
    Front(
        "Labour",
        "Labour, plant, preliminaries and fees",
        "Your own hours, rates and sums: none is shipped. A line may follow anything counted.",
        ("work_lines",),
    ),
    Front(
        "Revisions",
        "Revisions",
        "One row for each issue of the quote, the latest last. Written when a quote is issued; put "
        "right by hand where a quote went out another way. Nothing is priced from it.",
        ("revisions",),
    ),
)


def columns(table: Table) -> list[str]:
    """The columns of a front, from the left: the mark, what is typed, results, what to fix."""
    typed = [i.name for i in table.inputs]
    typed.sort(key=lambda name: name != table.key)
    return [*typed, *table.shown, FAULT]


def spans(plan: Plan, rows: Mapping[str, int]) -> Iterator[tuple[str, Span]]:
    """Where each list of so many rows stands on its front."""
    for front in FRONTS:
        row = TOP
        for name in front.lists:
            names = columns(plan.tables[name])
            letters = {n: get_column_letter(at) for at, n in enumerate(names, 1)}
            first = row + ABOVE
            last = first + rows[name] - 1
            yield name, Span(front.sheet, letters, first, last, True)
            row = last + _BELOW + 1
