"""Points and stretches in a plan: metres, right-handed (B lies up the sheet), angles in degrees."""

import math
from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]
STRAIGHT = 0.05  # degrees: within this of a right angle, or of straight on, a turn is one
ONE_POINT = 0.001  # m: corners nearer than this are one


def turn(before: Point, here: Point, after: Point) -> float:
    """The turn at a corner, from -180 to 180 degrees; to the right as the plan is looked at."""
    one = math.atan2(here[1] - before[1], here[0] - before[0])
    two = math.atan2(after[1] - here[1], after[0] - here[0])
    return (math.degrees(one - two) + 180) % 360 - 180


def area(corners: Sequence[Point]) -> float:
    """Area inside, in square metres; below 0 where the corners go round to the right."""
    x0, y0 = corners[0]  # counted from the first: drawings lie far from their nought
    moved = [(x - x0, y - y0) for x, y in corners]
    return math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*moved, moved[0]))) / 2


def sides(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Each side, from its start to its end."""
    return list(pairwise((*corners, corners[0])))


def cleaned(points: Sequence[Point], closed: bool) -> list[Point]:
    """The corners: no point twice in a row, none where the line goes straight on."""
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > ONE_POINT:
            kept.append(point)
    while closed and len(kept) > 1 and math.dist(kept[-1], kept[0]) <= ONE_POINT:
        kept.pop()
    n = 0 if closed else 1
    while n < (len(kept) if closed else len(kept) - 1) and len(kept) > 2:
        if abs(turn(kept[n - 1], kept[n], kept[(n + 1) % len(kept)])) <= STRAIGHT:
            kept.pop(n)
            n = max(n - 1, 0 if closed else 1)
        else:
            n += 1
    return kept


class Axis:
    """A side as a measure: how far along it a point lies, and how far off it."""

    def __init__(self, start: Point, end: Point) -> None:
        self.start, self.end = start, end
        self.length = math.dist(start, end)
        self.way = ((end[0] - start[0]) / self.length, (end[1] - start[1]) / self.length)

    def along(self, point: Point) -> float:
        """Metres from its start, to the foot of the point."""
        x, y = point[0] - self.start[0], point[1] - self.start[1]
        return x * self.way[0] + y * self.way[1]

    def off(self, point: Point) -> float:
        """Metres to the left of it; below 0 to the right."""
        x, y = point[0] - self.start[0], point[1] - self.start[1]
        return y * self.way[0] - x * self.way[1]

    def at(self, along: float) -> Point:
        """The point so many metres along it."""
        return self.start[0] + along * self.way[0], self.start[1] + along * self.way[1]

    def distance(self, point: Point) -> float:
        """Metres to its nearest point."""
        return math.dist(point, self.at(min(max(self.along(point), 0), self.length)))

    def shared(self, one: Point, two: Point, near: float) -> tuple[float, float] | None:
        """From where to where a line lies along it, no more than `near` off at either end."""
        if math.dist(one, two) <= ONE_POINT:
            return None
        a, b = sorted(((self.along(one), self.off(one)), (self.along(two), self.off(two))))
        low, high = max(a[0], 0.0), min(b[0], self.length)
        if high - low <= ONE_POINT:
            return None
        slope = (b[1] - a[1]) / (b[0] - a[0])
        ends = (a[1] + slope * (low - a[0]), a[1] + slope * (high - a[0]))
        return (low, high) if max(abs(e) for e in ends) <= near else None


def meeting(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where two sides meet or cross, in a point; None where they do not, or lie along each other."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    across = ux * vy - uy * vx
    if abs(across) <= 1e-12:
        return None
    s = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / across
    t = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / across
    if -1e-9 <= s <= 1 + 1e-9 and -1e-9 <= t <= 1 + 1e-9:
        return a[0] + s * ux, a[1] + s * uy
    return None


def first_crossing(corners: Sequence[Point]) -> tuple[int, int, Point] | None:
    """Two sides, counted from 1, that cross or touch away from their common corner, and where."""
    listed = sides(corners)
    for one in range(len(listed)):
        for other in range(one + 2, len(listed)):
            if (one, other) == (0, len(listed) - 1):
                continue
            point = meeting(*listed[one], *listed[other])
            if point is None and Axis(*listed[one]).shared(*listed[other], 1e-6):
                point = listed[other][0]
            if point is not None:
                return one + 1, other + 1, point
    return None


def inside(point: Point, corners: Sequence[Point], by: float = 0.0) -> bool:
    """Whether a point lies inside, and more than so far from every side."""
    crossed = False
    for a, b in sides(corners):
        if by and Axis(a, b).distance(point) <= by:
            return False
        if (a[1] > point[1]) != (b[1] > point[1]):
            x = a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            crossed = crossed != (point[0] < x)
    return crossed


def share_inside(
    corners: Sequence[Point], other: Sequence[Point], by: float
) -> tuple[float, float]:
    """Of an outline the lengths that run inside another, and outside it; neither along its sides."""
    within = without = 0.0
    for a, b in sides(corners):
        axis = Axis(a, b)
        cuts = {0.0, axis.length}
        for c, d in sides(other):
            point = meeting(a, b, c, d)
            if point is not None:
                cuts.add(min(max(axis.along(point), 0.0), axis.length))
            for end in (c, d):
                if axis.distance(end) <= by:
                    cuts.add(min(max(axis.along(end), 0.0), axis.length))
        for low, high in pairwise(sorted(cuts)):
            middle = axis.at((low + high) / 2)
            if min(Axis(*s).distance(middle) for s in sides(other)) <= by:
                continue
            if inside(middle, other):
                within += high - low
            else:
                without += high - low
    return within, without
