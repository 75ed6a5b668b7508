"""A drawing as a native chart: the part of its file, with its points as they were last worked out.

Strokes are series of a scatter chart on axes that go from 0 to 100 both ways; an empty cell breaks
a line. A word is a series of one point, labelled by its own name. Figures and names are read from
cells, or are the chart's own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.chart._chart import ChartBase
from openpyxl.drawing.spreadsheet_drawing import OneCellAnchor, SpreadsheetDrawing
from openpyxl.utils.units import pixels_to_EMU
from openpyxl.xml.functions import fromstring

from ..pens.styles import Style
from .cell_text import as_stored, plain

EDGE = 0.01  # of the chart's side, left free round its plot area
POINT = 12_700  # EMU
_CHART = "http://schemas.openxmlformats.org/drawingml/2006/chart"
_MAIN = "http://schemas.openxmlformats.org/drawingml/2006/main"


@dataclass(frozen=True)
class Area:
    """Cells a series reads, as a formula says them, and what they hold; None for an empty one.

    Without a formula there are no cells: the figures or the text are the chart's own.
    """

    formula: str
    values: Sequence[Any]


@dataclass(frozen=True)
class Stroke:
    """A series of lines of one style."""

    name: str
    style: Style
    x: Area
    y: Area


@dataclass(frozen=True)
class Word:
    """A text at a point: in its middle ("ctr"), or to the right of it ("r")."""

    said: Area
    x: Area
    y: Area
    place: str = "ctr"
    size: float = 9
    bold: bool = False


class Drawing(ChartBase):
    """One drawing on a sheet: square, so that both axes have one scale."""

    tagname = "scatterChart"

    def __init__(
        self,
        title: str,
        told: str,
        strokes: Sequence[Stroke],
        words: Sequence[Word],
        at: tuple[int, int],
        side: int,
    ) -> None:
        super().__init__()
        self.title_said, self.told = title, told
        self.strokes, self.words = strokes, words
        self.anchor = OneCellAnchor()
        self.anchor._from.row, self.anchor._from.col = at[0] - 1, at[1] - 1
        self.anchor.ext.width = self.anchor.ext.height = pixels_to_EMU(side)

    def _write(self) -> Any:
        return fromstring("".join(self._parts()))

    def _parts(self) -> Iterator[str]:
        yield f'<c:chartSpace xmlns:c="{_CHART}" xmlns:a="{_MAIN}"><c:roundedCorners val="0"/>'
        yield '<c:chart><c:autoTitleDeleted val="1"/><c:plotArea><c:layout><c:manualLayout>'
        yield '<c:layoutTarget val="inner"/><c:xMode val="edge"/><c:yMode val="edge"/>'
        yield f'<c:x val="{EDGE}"/><c:y val="{EDGE}"/>'
        yield f'<c:w val="{1 - 2 * EDGE}"/><c:h val="{1 - 2 * EDGE}"/>'
        yield "</c:manualLayout></c:layout>"
        yield '<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>'
        for number, stroke in enumerate(self.strokes):
            yield from _stroke(number, stroke)
        for number, word in enumerate(self.words, len(self.strokes)):
            yield from _word(number, word)
        yield '<c:axId val="1"/><c:axId val="2"/></c:scatterChart>'
        yield _axis(1, 2, "b") + _axis(2, 1, "l")
        yield "<c:spPr><a:noFill/><a:ln><a:noFill/></a:ln></c:spPr></c:plotArea>"
        yield '<c:plotVisOnly val="0"/><c:dispBlanksAs val="gap"/></c:chart>'
        yield '<c:spPr><a:solidFill><a:srgbClr val="FFFFFF"/></a:solidFill>'
        yield '<a:ln w="6350"><a:solidFill><a:srgbClr val="808080"/></a:solidFill></a:ln></c:spPr>'
        yield "</c:chartSpace>"


def _axis(number: int, crossed: int, where: str) -> str:
    return (
        f'<c:valAx><c:axId val="{number}"/><c:scaling><c:orientation val="minMax"/>'
        '<c:max val="100"/><c:min val="0"/></c:scaling><c:delete val="1"/>'
        f'<c:axPos val="{where}"/><c:numFmt formatCode="General" sourceLinked="0"/>'
        '<c:majorTickMark val="none"/><c:minorTickMark val="none"/><c:tickLblPos val="none"/>'
        f'<c:crossAx val="{crossed}"/><c:crosses val="min"/></c:valAx>'
    )


def _stroke(number: int, stroke: Stroke) -> Iterator[str]:
    style = stroke.style
    yield f'<c:ser><c:idx val="{number}"/><c:order val="{number}"/>'
    yield f"<c:tx><c:v>{plain(stroke.name)}</c:v></c:tx>"
    yield f'<c:spPr><a:ln w="{round(style.weight * POINT)}" cap="flat"><a:solidFill>'
    yield f'<a:srgbClr val="{style.colour}"/></a:solidFill><a:prstDash val="{style.dash}"/>'
    yield '<a:round/></a:ln></c:spPr><c:marker><c:symbol val="none"/></c:marker>'
    yield from _points(stroke.x, stroke.y)


def _word(number: int, word: Word) -> Iterator[str]:
    yield f'<c:ser><c:idx val="{number}"/><c:order val="{number}"/>'
    yield f"<c:tx>{_said(word.said)}</c:tx>"
    yield '<c:spPr><a:ln w="6350"><a:noFill/></a:ln></c:spPr>'
    yield '<c:marker><c:symbol val="none"/></c:marker>'
    yield "<c:dLbls><c:spPr><a:noFill/><a:ln><a:noFill/></a:ln></c:spPr>"
    yield '<c:txPr><a:bodyPr wrap="none"/><a:lstStyle/><a:p><a:pPr>'
    yield f'<a:defRPr sz="{round(word.size * 100)}" b="{int(word.bold)}"><a:solidFill>'
    yield '<a:srgbClr val="000000"/></a:solidFill><a:latin typeface="Arial"/></a:defRPr></a:pPr>'
    yield '<a:endParaRPr lang="en-GB"/></a:p></c:txPr>'
    yield f'<c:dLblPos val="{word.place}"/><c:showLegendKey val="0"/><c:showVal val="0"/>'
    yield '<c:showCatName val="0"/><c:showSerName val="1"/><c:showPercent val="0"/>'
    yield '<c:showBubbleSize val="0"/></c:dLbls>'
    yield from _points(word.x, word.y)


def _points(x: Area, y: Area) -> Iterator[str]:
    for name, area in (("xVal", x), ("yVal", y)):
        yield f"<c:{name}>{_figures(area)}</c:{name}>"
    yield '<c:smooth val="0"/></c:ser>'


def _said(area: Area) -> str:
    if not area.formula:
        return f"<c:v>{plain(as_stored(area.values[0])[1])}</c:v>"
    return f"<c:strRef>{_read(area)}{_texts(area)}</c:strRef>"


def _figures(area: Area) -> str:
    if not area.formula:
        return f"<c:numLit>{_numbers(area)}</c:numLit>"
    return f"<c:numRef>{_read(area)}<c:numCache>{_numbers(area)}</c:numCache></c:numRef>"


def _read(area: Area) -> str:
    return f"<c:f>{plain(area.formula)}</c:f>"


def _numbers(area: Area) -> str:
    points = "".join(
        f'<c:pt idx="{n}"><c:v>{as_stored(value)[1]}</c:v></c:pt>'
        for n, value in enumerate(area.values)
        if value is not None
    )
    head = f'<c:formatCode>General</c:formatCode><c:ptCount val="{len(area.values)}"/>'
    return f"{head}{points}"


def _texts(area: Area) -> str:
    points = "".join(
        f'<c:pt idx="{n}"><c:v>{plain(as_stored(value)[1])}</c:v></c:pt>'
        for n, value in enumerate(area.values)
    )
    return f'<c:strCache><c:ptCount val="{len(area.values)}"/>{points}</c:strCache>'


class Drawings(SpreadsheetDrawing):
    """What is drawn on a sheet; each of our drawings says in words what it shows."""

    __elements__ = SpreadsheetDrawing.__elements__

    def _chart_frame(self, idx: int) -> Any:
        frame = super()._chart_frame(idx)
        chart = self.charts[idx - 1]
        if isinstance(chart, Drawing):
            told = frame.nvGraphicFramePr.cNvPr
            told.name, told.descr, told.title = chart.title_said, chart.told, chart.title_said
        return frame
