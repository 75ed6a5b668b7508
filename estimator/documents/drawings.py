"""The drawings that a document bears, each on a page of its own.

They are charts that hold their points themselves, so the document holds no figure for them. Their
sheet, and the words above them, are the template's; a template without it has no drawings.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from openpyxl.utils.units import pixels_to_EMU
from openpyxl.worksheet.pagebreak import Break

from ..language.ledger import Ledger
from ..pens.subjects import each
from ..pens.views import (
    CUT_IN,
    CUTTING,
    ELEVATION,
    PLAN,
    PLAN_FOR_CLIENT,
    ROOF,
    SECTION,
    SIDE,
    STRIPS,
    View,
)
from ..workbook.build import Built
from ..workbook.drawn import still
from ..workbook.template import DRAWINGS, Template
from .declaration import Listed, listed
from .issue import Issuing

# Of every floor, every wall run that has openings or placed steps in its DPC, every roof against a wall, every
# level tray cut into an old wall, every product cut in whole pieces.
FOR_CLIENT = (PLAN_FOR_CLIENT,)
FOR_SITE = (PLAN, SECTION, STRIPS, ELEVATION, ROOF, CUT_IN, CUTTING)
_ROWS = 2  # behind each drawing: no row is as high as one
_OFF = 6  # pixels from the rows before and after: LibreOffice prints what touches them with them
_POINT = 72 / 96  # to a pixel


@dataclass(frozen=True)
class Picture:
    """A view of one floor, wall, roof, tray cut in or product."""

    mark: str
    view: View
    ledger: Ledger

    def texts(self) -> Iterator[str]:
        """All that is written on it."""
        for words in self.view.words:
            yield from (str(text) for *_, text in words.each(self.ledger))


def pictures(job: Ledger, *views: View) -> list[Picture]:
    """These views of every floor of a job, floor by floor, and of every wall."""
    return [Picture(mark, view, ledger) for mark, ledger, seen in each(job, views) for view in seen]


def room_for(*views: View) -> Listed[Issuing]:
    """The rows that they lie on."""
    return listed(
        *(DRAWINGS, "drawn", "Drawings"),
        rows=lambda of: [{}] * (_ROWS * len(pictures(of.job, *views))),
    )


def draw(built: Built, template: Template, drawn: Sequence[Picture]) -> None:
    """Lay them on their rows."""
    if DRAWINGS not in template.lines:
        return
    sheet = built.workbook[template.lines[DRAWINGS].sheet]
    for n, picture in enumerate(drawn):
        first = built.layout.spans[DRAWINGS].first + n * _ROWS
        title = f"{picture.view.title} {picture.mark}"
        chart = still(picture.view, picture.ledger, title, (first, 1))
        chart.anchor._from.rowOff = pixels_to_EMU(_OFF)
        sheet._charts.append(chart)
        for row in range(first, first + _ROWS):
            sheet.row_dimensions[row].height = (SIDE + 2 * _OFF) * _POINT / _ROWS
        if n:
            sheet.row_breaks.append(Break(id=first - 1))
