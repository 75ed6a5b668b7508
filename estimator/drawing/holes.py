"""Outlines inside a floor as holes in it: their size, their place from its first corner, what they meet."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..errors import DrawingError
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.walks import CLOSES_WITHIN, QUARTER
from .geometry import STRAIGHT, Axis, Point, cleaned, meeting, share_inside, sides, turn
from .layers import Layers
from .outlines import LEAST_SIDE, Outline
from .shapes import Drawing, Shape

HOLE_KINDS = tuple(str(r["name"]) for r in EDGE_KIND_ROWS if r["may_hole"])
CLEAR = CLOSES_WITHIN + 0.001  # m: nearer to a side it is at it, once lengths are whole millimetres


@dataclass(frozen=True)
class Hole:
    """A hole as a job's list of edges has it: a rectangle along the sides of its floor, in metres."""

    shape: Shape
    kind: str
    along_a: float
    along_b: float
    from_a: float
    from_b: float

    @property
    def area(self) -> float:
        """Its area in square metres."""
        return self.along_a * self.along_b


def holes_in(
    outline: Outline, lines: Sequence[Shape], layers: Layers, drawing: Drawing, used: set[str]
) -> Iterator[Hole]:
    """The holes in a floor; what is none is said in the drawing's lists. `used`: lines along them."""
    taken: list[tuple[Shape, list[Point]]] = []
    for shape in outline.inner:
        corners = cleaned(shape.points, closed=True)
        if not _is_along(corners, outline.axes()[0]):
            drawing.left.append(
                f"{shape.said()} lies inside floor {outline.mark}, is no rectangle along its first "
                f"side, and is not taken: {outline.mark} is counted whole there. Draw the rectangle "
                "round it, or type that as a hole."
            )
            continue
        try:
            if _within(corners, taken):
                drawing.left.append(
                    f"{shape.said()} lies inside a hole of floor {outline.mark}, and is not taken."
                )
                continue
            _check_clear(shape, corners, outline, taken)
            kind = _kind(shape, corners, lines, layers, used)
        except DrawingError as error:
            drawing.refused.append(error)
            continue
        taken.append((shape, corners))
        yield _measured(shape, corners, outline.axes()[0], kind)


def _is_along(corners: Sequence[Point], first: Axis) -> bool:
    """Whether they are those of a rectangle along the first side of the floor."""
    if len(corners) != 4:
        return False
    after = [*corners[1:], corners[0]]
    before = [corners[-1], *corners[:-1]]
    turns = [abs(turn(*three)) for three in zip(before, corners, after, strict=True)]
    end = first.end[0] + corners[1][0] - corners[0][0], first.end[1] + corners[1][1] - corners[0][1]
    leads = abs(turn(first.start, first.end, end)) % QUARTER
    return max(abs(t - QUARTER) for t in turns) <= STRAIGHT and (
        min(leads, QUARTER - leads) <= STRAIGHT
    )


def _within(corners: Sequence[Point], taken: Iterable[tuple[Shape, Sequence[Point]]]) -> bool:
    """Whether they lie inside a hole that is taken: the larger come first."""
    for _, other in taken:
        within, without = share_inside(corners, other, CLOSES_WITHIN)
        if within and not without:
            return True
    return False


def _check_clear(
    shape: Shape,
    corners: Sequence[Point],
    outline: Outline,
    taken: Iterable[tuple[Shape, Sequence[Point]]],
) -> None:
    """Raises DrawingError for a hole at a side of its floor, or at another hole."""
    for number, axis in enumerate(outline.axes(), 1):
        if _apart(corners, [axis.start, axis.end]) < CLEAR:
            raise shape.refused(
                f"a hole at side {number} of floor {outline.mark}",
                "a hole clear of the sides. Draw the outline of the floor round anything at a side",
            )
    for other, theirs in taken:
        if _apart(corners, [*theirs, theirs[0]]) < CLEAR:
            found = f"a hole that overlaps or touches {other.name}"
            raise shape.refused(found, "holes clear of each other: draw two that meet as one")


def _apart(corners: Sequence[Point], line: Sequence[Point]) -> float:
    """Metres from a rectangle's sides to a line, where they come nearest; 0 where they cross."""
    nearest = []
    for a, b in sides(corners):
        for c, d in pairwise(line):
            if meeting(a, b, c, d) is not None:
                return 0.0
            nearest += [Axis(a, b).distance(c), Axis(a, b).distance(d)]
            nearest += [Axis(c, d).distance(a), Axis(c, d).distance(b)]
    return min(nearest)


def _kind(
    shape: Shape, corners: Sequence[Point], lines: Iterable[Shape], layers: Layers, used: set[str]
) -> str:
    """What is drawn along its sides, all round it; else what is usual."""
    kinds: dict[str, Shape] = {}
    for a, b in sides(corners):
        for line in lines:
            points = [*line.points, line.points[0]] if line.closed else line.points
            for one, two in pairwise(points):
                shared = Axis(a, b).shared(one, two, layers.near)
                if shared and shared[1] - shared[0] >= LEAST_SIDE - 1e-9:
                    used.add(line.handle)
                    kinds[line.meaning] = line
    if len(kinds) > 1:
        one_line, other = list(kinds.values())[:2]
        found = f"{one_line.meaning} and {other.meaning} round one hole"
        raise shape.refused(found, "one kind all round it")
    kind = next(iter(kinds), layers.usual)
    if kind not in HOLE_KINDS:
        raise shape.refused(f"{kind} round a hole", ", ".join(HOLE_KINDS))
    return kind


def _measured(shape: Shape, corners: Sequence[Point], first: Axis, kind: str) -> Hole:
    """In whole millimetres; B lies to the right of the first side."""
    at_a = [first.along(p) for p in corners]
    at_b = [-first.off(p) for p in corners]
    return Hole(
        shape,
        kind,
        *(round(max(at) - min(at), 3) for at in (at_a, at_b)),
        *(round(min(at), 3) + 0.0 for at in (at_a, at_b)),
    )
