"""Lists of points: the rows of each stroke and an empty one behind it, which breaks the line."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from ..language import *

Rows = tuple[Mapping[str, Any], ...]

RING = ((0, 0), (1, 0), (1, 1), (0, 1), (0, 0))
BAR = ((0, -1), (1, -1), (1, 1), (0, 1), (0, -1))  # round its middle line
# A tray on an elevation: from its end along and up, in its length and in the frame; weeps above it.
STOP_HIGH, WEEP_LOW, WEEP_HIGH = 2.0, 0.5, 1.6
TRAY = ((0, STOP_HIGH), (0, 0), (1, 0), (1, STOP_HIGH))
WEEP = (WEEP_LOW, WEEP_HIGH)


def strokes(each: Iterable[Iterable[Mapping[str, Any]]]) -> Rows:
    """The points of each stroke, an empty row behind it."""
    return tuple(row for stroke in each for row in (*stroke, {}))


def numbered(label: str, points: Iterable[Mapping[str, Any]], first: int = 1) -> Rows:
    """The points of one stroke, each named by its label and number."""
    return tuple({"name": f"{label}, {k}", **point} for k, point in enumerate(points, first))


def named(rows: Sequence[Mapping[str, Any]], *names: str) -> tuple[int, int]:
    """The first and the last row of the points of those names, counted from 1."""
    at = [n for n, row in enumerate(rows, 1) if row.get("name") in names]
    return at[0], at[-1]


def stroke_table(
    name: str, row: str, title: str, point: str, *items: Item, since: int = 8
) -> Table:
    """A list of points, each with a name; what else it has is given."""
    first = Fixed("name", point, TEXT)
    return Table(name, row, title, (first, *items), key="name", broken=True, since=since)
