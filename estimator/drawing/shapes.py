"""What a drawing holds of interest: lines, outlines, blocks and words, each with its place."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ..errors import DrawingError
from .geometry import Point

LINE, POLYLINE, BLOCK, CIRCLE, TEXT = "line", "polyline", "block", "circle", "text"


@dataclass(frozen=True)
class Shape:
    """One entity of the drawing; its points in metres once the unit is known.

    `points` of a block are those of all that is drawn in it, `at` is where it was put in.
    """

    meaning: str
    kind: str
    layer: str
    handle: str
    points: tuple[Point, ...]
    closed: bool = False
    words: str = ""  # of a text; of a block its attribute MARK
    block: str = ""  # the block's name
    unit: float = 1.0  # metres in the drawing's unit

    @property
    def name(self) -> str:
        """As a sentence calls it: `layer Floors, polyline 2F`."""
        return f"layer {self.layer}, {self.kind} {self.handle}"

    @property
    def middle(self) -> Point:
        """The middle of the rectangle round it."""
        across, up = zip(*self.points, strict=True)
        return (min(across) + max(across)) / 2, (min(up) + max(up)) / 2

    def said(self, point: Point | None = None) -> str:
        """Where it is, or a point of it, in the drawing's own units."""
        return f"{self.name} at {spot(point or self.points[0], self.unit)}"

    def refused(self, found: object, accepted: str, point: Point | None = None) -> DrawingError:
        """The sentence about something in it that cannot be taken."""
        return DrawingError(self.said(point), found, accepted)

    def in_metres(self, unit: float) -> "Shape":
        """The same, of a drawing whose unit is so many metres."""
        return replace(self, points=tuple((x * unit, y * unit) for x, y in self.points), unit=unit)


def spot(point: Point, unit: float) -> str:
    """A point in the drawing's own units, to a tenth of a millimetre.

    >>> spot((3.0, 4.5), 0.001), spot((3.0, 4.5), 1)
    ('(3000, 4500)', '(3, 4.5)')
    """
    return "({}, {})".format(*(f"{round(x / unit, 4) + 0:.10g}" for x in point))


@dataclass
class Drawing:
    """What was read of a file: shapes by what they mean, and all that was not taken."""

    name: str
    unit: str | None  # as the drawing says it; None where it does not, or one that is not known
    shapes: list[Shape] = field(default_factory=list)
    left: list[str] = field(default_factory=list)  # sentences: what is not taken, and why
    refused: list[DrawingError] = field(default_factory=list)
    ignored: Counter[tuple[str, str]] = field(default_factory=Counter)  # by layer and kind

    def of(self, *meanings: str) -> list[Shape]:
        """The shapes that have one of those meanings, as they stand in the drawing."""
        return [s for s in self.shapes if s.meaning in meanings]

    def lines_of(self, meanings: Sequence[str]) -> list[Shape]:
        """Those of them that are lines or polylines."""
        return [s for s in self.of(*meanings) if s.kind in (LINE, POLYLINE)]
