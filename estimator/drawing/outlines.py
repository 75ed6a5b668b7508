"""Closed polylines as floors: the unit they are drawn in, their corners, one inside another."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from ..errors import DrawingError
from ..takeoff.walked_floors import LEAST_SIDES
from ..takeoff.walks import CLOSES_WITHIN
from .geometry import (
    Axis,
    Point,
    area,
    cleaned,
    first_crossing,
    inside,
    share_inside,
    sides,
    turn,
)
from .layer_names import FLOOR, NAME, UNITS
from .shapes import POLYLINE, Drawing, Shape

LEAST_AREA = 0.5  # m²: a smaller floor is no floor, or drawn in another unit
LEAST_SIDE, LONGEST_SIDE = 0.05, 60.0  # m, as the column of lengths takes them
MOST_SIDES = 200
MOST_FLOORS = 60
BACK = 179.0  # degrees: a turn beyond this goes back along the side


@dataclass
class Outline:
    """A floor as it is drawn: its corners in metres, round to the right, from its first point."""

    shape: Shape
    corners: list[Point]
    mark: str = ""
    inner: list[Shape] = field(default_factory=list)  # outlines inside it, the largest first

    def axes(self) -> list[Axis]:
        """Its sides, as they are walked."""
        return [Axis(a, b) for a, b in sides(self.corners)]

    def turns(self) -> list[float]:
        """The turn at the end of each side, degrees to the right."""
        after = self.corners[1:] + self.corners[:1]
        then = after[1:] + after[:1]
        return [turn(*three) for three in zip(self.corners, after, then, strict=True)]


def unit_of(drawing: Drawing, said: str | None) -> float:
    """Metres in a unit of the drawing: as `said`, else as it says itself.

    Raises DrawingError where neither does, or where a floor would have a side or an area that no
    floor has: the sentence names the units in which all would be floors.
    """
    unit = said or drawing.unit
    outer = _outer([s for s in drawing.lines_of([FLOOR]) if _has_area(s)])
    fitting = [name for name, (size, _) in UNITS.items() if all(_fits(s, size) for s in outer)]
    where = f"{drawing.name}: {'--units' if said else '$INSUNITS'}"
    longest = max((max(_lengths(s)) for s in outer), default=0.0)
    in_those = ", ".join(
        f"{name} (longest side {longest * UNITS[name][0]:.3g} m)" for name in fitting
    )
    accepted = f"--units {in_those}" if fitting else f"--units, one of {', '.join(UNITS)}"
    if unit is None:
        raise DrawingError(where, "no unit, or one that is not known", accepted)
    size = UNITS[unit][0]
    wrong = next((s for s in outer if not _fits(s, size)), None)
    if wrong is None or not outer:
        return size
    side = max(_lengths(wrong)) * size
    found = (
        f"a side of {side:.6g} m, with the unit {unit}"
        if side > LONGEST_SIDE
        else f"a floor of {abs(area(wrong.points)) * size**2:.3g} m², with the unit {unit}"
    )
    limits = f"sides up to {LONGEST_SIDE:g} m and floors from {LEAST_AREA:g} m²"
    raise wrong.refused(found, limits + (f": {accepted}" if fitting else ""))


def _has_area(shape: Shape) -> bool:
    """Whether its sides go round something; one that crosses itself is refused by itself."""
    count = len(shape.points)
    return count >= LEAST_SIDES and not (
        count <= MOST_SIDES and first_crossing(cleaned(shape.points, closed=True))
    )


def _lengths(shape: Shape) -> list[float]:
    return [math.dist(a, b) for a, b in sides(shape.points)]


def _fits(shape: Shape, size: float) -> bool:
    return (
        max(_lengths(shape)) * size <= LONGEST_SIDE
        and abs(area(shape.points)) * size**2 >= LEAST_AREA
    )


def _outer(shapes: Sequence[Shape]) -> list[Shape]:
    """Those that do not lie inside another: a column or a shaft may be small."""
    return [
        s for s in shapes
        if not any(o is not s and abs(area(o.points)) > abs(area(s.points)) and
                   inside(s.middle, o.points) for o in shapes)
    ]  # fmt: skip


def floors(drawing: Drawing) -> list[Outline]:
    """The floors, each with its mark; what cannot be taken is said in the drawing's lists."""
    found: list[Outline] = []
    for shape in drawing.of(FLOOR):
        if shape.kind != POLYLINE:
            continue
        try:
            outline = Outline(shape, _corners(shape))
        except DrawingError as error:
            drawing.refused.append(error)
            continue
        twin = next((o for o in found if _same(o.corners, outline.corners)), None)
        if twin is not None:
            drawing.left.append(
                f"{shape.said()} is the same as {twin.shape.name}, and is taken once."
            )
            continue
        found.append(outline)
    if len(found) > MOST_FLOORS:
        raise DrawingError(drawing.name, f"{len(found)} floors", f"up to {MOST_FLOORS}")
    found = _nested(found, drawing)
    _name(found, drawing)
    return found


def _corners(shape: Shape) -> list[Point]:
    points = list(shape.points)
    apart = math.dist(points[0], points[-1])
    if not shape.closed and (len(points) < LEAST_SIDES or apart > CLOSES_WITHIN):
        found = f"a gap of {apart * 1000:.0f} mm between its ends"
        raise shape.refused(found, "a closed polyline round the floor", points[-1])
    if not shape.closed and apart > 0:
        points.pop()  # the same corner again, within the tolerance
    corners = cleaned(points, closed=True)
    if len(corners) > MOST_SIDES:
        raise shape.refused(f"{len(corners)} sides", f"up to {MOST_SIDES}")
    for n, here in enumerate(corners):
        if (
            len(corners) >= LEAST_SIDES
            and abs(turn(corners[n - 1], here, corners[n + 1 - len(corners)])) > BACK
        ):
            raise shape.refused("a side that goes back along another", "sides once round", here)
    crossed = first_crossing(corners)
    if crossed:
        one, other, point = crossed
        accepted = "sides that meet at corners only"
        raise shape.refused(f"side {one} across side {other}", accepted, point)
    if len(corners) < LEAST_SIDES or abs(area(corners)) < 1e-6:
        raise shape.refused("no area inside it", "a closed polyline round the floor")
    if area(corners) > 0:  # round to the left, as drawings are seen
        corners = [corners[0], *reversed(corners[1:])]
    for a, b in sides(corners):
        if not LEAST_SIDE <= math.dist(a, b) <= LONGEST_SIDE:
            accepted = f"sides of {LEAST_SIDE * 1000:g} mm to {LONGEST_SIDE:g} m"
            raise shape.refused(f"a side of {math.dist(a, b) * 1000:.0f} mm", accepted, a)
    return corners


def _same(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two outlines have the same corners, from whichever they begin."""
    return len(one) == len(other) and any(
        all(math.dist(a, b) <= CLOSES_WITHIN for a, b in zip(one, turned, strict=True))
        for turned in ((*other[n:], *other[:n]) for n in range(len(other)))
        if math.dist(one[0], turned[0]) <= CLOSES_WITHIN
    )


def _nested(found: list[Outline], drawing: Drawing) -> list[Outline]:
    """The floors that lie in no other; those that overlap are refused."""
    taken: list[Outline] = []
    for outline in sorted(found, key=lambda o: area(o.corners)):  # below 0: the largest first
        for other in taken:
            within, without = share_inside(outline.corners, other.corners, CLOSES_WITHIN)
            back, _ = share_inside(other.corners, outline.corners, CLOSES_WITHIN)
            if within and not without:
                other.inner.append(outline.shape)
                break
            if within or back:
                found_ = f"a floor that overlaps {other.shape.name}"
                drawing.refused.append(
                    outline.shape.refused(found_, "floors side by side, each drawn once")
                )
                break
        else:
            taken.append(outline)
    return [o for o in found if o in taken]


def _name(found: Sequence[Outline], drawing: Drawing) -> None:
    """Each floor's mark: the name that stands in it, else Z1, Z2 ... in the order of the drawing."""
    used: dict[str, Outline] = {}
    for text in drawing.of(NAME):
        here = next((o for o in found if inside(text.points[0], o.corners)), None)
        if here and any(inside(text.points[0], i.points) for i in here.inner):
            drawing.left.append(
                f"{text.said()}, '{text.words}', lies in a hole, and names no floor."
            )
        elif here is None:
            drawing.left.append(f"{text.said()}, '{text.words}', lies in no floor, and names none.")
        elif here.mark:
            accepted = f"one name in a floor: {here.mark} is in it already"
            drawing.refused.append(text.refused(text.words, accepted))
        elif text.words.lower() in used:
            drawing.refused.append(text.refused(text.words, "a name used once"))
        else:
            here.mark = text.words
            used[text.words.lower()] = here
    number = 0
    for outline in found:
        while not outline.mark:
            number += 1
            if f"z{number}" not in used:
                outline.mark = f"Z{number}"
