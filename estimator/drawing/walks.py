"""Each floor walked: its sides cut where what they meet changes, and their joints to each other."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ..errors import DrawingError
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.walks import CLOSES_WITHIN
from .geometry import Axis, Point
from .holes import Hole, holes_in
from .layers import EDGE_KINDS, Layers
from .outlines import LEAST_SIDE, Outline
from .shapes import Drawing, Shape
from .squaring import closing, gap, squared, ways

JOINT: str = next(str(r["name"]) for r in EDGE_KIND_ROWS if r["joins"])
THRESHOLD = "threshold"  # the kind that a level door makes of its side


@dataclass
class Piece:
    """A side of the walk, or the part of one along which it meets one thing."""

    side: int  # which side of the outline it is on, from 0
    low: float  # metres along that side, as drawn, where it begins
    high: float
    kind: str
    joins: str | None = None
    length: float = 0.0  # metres, as it is typed
    turn: float = 0.0  # degrees to the right, at its end


@dataclass
class Floor:
    """A walked floor: what a job's list of edges says of it."""

    outline: Outline
    pieces: list[Piece]
    holes: list[Hole] = field(default_factory=list)

    @property
    def mark(self) -> str:
        """The floor's mark."""
        return self.outline.mark

    @property
    def area(self) -> float:
        """Area inside the walk, as it is typed, without its holes, in square metres."""
        lengths, leads = [p.length for p in self.pieces], ways([p.turn for p in self.pieces])
        at_a = at_b = swept = 0.0
        for length, (a, b) in zip(lengths, leads, strict=True):
            swept += at_a * length * b - at_b * length * a
            at_a, at_b = at_a + length * a, at_b + length * b
        return abs(swept) / 2 - math.fsum(h.area for h in self.holes)

    def piece_at(self, side: int, along: float) -> tuple[int, Piece]:
        """The piece of a side on which a point lies, and its number in the walk, from 1."""
        of_side = [(n, p) for n, p in enumerate(self.pieces, 1) if p.side == side]
        return next((f for f in of_side if along < f[1].high - 1e-6), of_side[-1])


@dataclass(frozen=True)
class _Stretch:
    low: float
    high: float
    kind: str
    joins: str | None
    source: Shape


def walked(
    outlines: Sequence[Outline],
    drawing: Drawing,
    layers: Layers,
    thresholds: Mapping[tuple[str, int], Sequence[tuple[float, float, Shape]]],
) -> list[Floor]:
    """The floors as they are walked. `thresholds`: what level doors take of each side."""
    lines = drawing.lines_of(EDGE_KINDS)
    used: set[str] = set()
    found = []
    for outline in outlines:
        stretches = [
            list(_along(outline, axis, outlines, lines, layers.near, used))
            + [_Stretch(a, b, THRESHOLD, None, s)
               for a, b, s in thresholds.get((outline.mark, n), ())]
            for n, axis in enumerate(outline.axes())
        ]  # fmt: skip
        pieces: list[Piece] = []
        for n, (axis, there) in enumerate(zip(outline.axes(), stretches, strict=True)):
            try:
                pieces += _cut(outline, n, axis, there, layers, drawing)
            except DrawingError as error:
                drawing.refused.append(error)
                pieces.append(Piece(n, 0.0, axis.length, layers.usual))
        holes = list(holes_in(outline, lines, layers, drawing, used))
        found.append(Floor(outline, pieces, holes))
    for line in lines:
        if line.handle not in used:
            drawing.left.append(f"{line.said()} lies along no side of a floor, and is not taken.")
    _type(found, drawing)
    return found


def _along(
    outline: Outline,
    axis: Axis,
    outlines: Sequence[Outline],
    lines: Iterable[Shape],
    near: float,
    used: set[str],
) -> Iterator[_Stretch]:
    """What lies along a side: other floors, within the closing tolerance, and lines."""
    for other in outlines:
        if other is outline:
            continue
        for theirs in other.axes():
            shared = axis.shared(theirs.start, theirs.end, CLOSES_WITHIN)
            if shared and shared[1] - shared[0] >= LEAST_SIDE:
                yield _Stretch(*shared, JOINT, other.mark, other.shape)
    for line in lines:
        points = [*line.points, line.points[0]] if line.closed else line.points
        for one, two in pairwise(points):
            shared = axis.shared(one, two, near)
            if shared and shared[1] - shared[0] >= min(LEAST_SIDE, axis.length) - 1e-9:
                used.add(line.handle)
                yield _Stretch(*shared, line.meaning, None, line)


def _cut(
    outline: Outline,
    side: int,
    axis: Axis,
    stretches: Sequence[_Stretch],
    layers: Layers,
    drawing: Drawing,
) -> list[Piece]:
    """The pieces of a side, each of one kind. Raises DrawingError where two kinds lie there."""
    ends = [0.0, axis.length]
    for at in sorted(x for s in stretches for x in (s.low, s.high)):
        if all(abs(at - e) > layers.near for e in ends):
            ends.append(at)
    pieces: list[Piece] = []
    for low, high in pairwise(sorted(ends)):
        middle = (low + high) / 2
        there = [s for s in stretches if s.low < middle < s.high]
        kind, joins = _kind(outline, side, axis.at(middle), there, layers, drawing)
        if pieces and (pieces[-1].kind, pieces[-1].joins) == (kind, joins):
            pieces[-1].high = high
        else:
            pieces.append(Piece(side, low, high, kind, joins))
    return _no_scraps(pieces)


def _kind(
    outline: Outline,
    side: int,
    at: Point,
    there: Sequence[_Stretch],
    layers: Layers,
    drawing: Drawing,
) -> tuple[str, str | None]:
    """A joint before all else, then a threshold, then what is drawn there, then what is usual."""
    joint = next((s for s in there if s.joins), None)
    walls = [s for s in there if not s.joins]
    if joint is not None:
        for wall in walls:
            sentence = (
                f"{wall.source.said()} lies where floors {outline.mark} and {joint.joins} meet: "
                f"it is a joint, and no {wall.kind} is taken."
            )
            if sentence not in drawing.left:
                drawing.left.append(sentence)
        return JOINT, joint.joins
    kinds = {s.kind: s for s in walls}
    if len(kinds) > 1 and THRESHOLD not in kinds:
        one, other = list(kinds.values())[:2]
        raise other.source.refused(
            f"{other.kind} along side {side + 1} of floor {outline.mark}",
            f"one kind there: {one.source.name} makes it {one.kind}",
            at,
        )
    if THRESHOLD in kinds:
        return THRESHOLD, None
    return next(iter(kinds), layers.usual), None


def _no_scraps(pieces: list[Piece]) -> list[Piece]:
    """Pieces too short for a job are part of the longer one beside them."""
    while len(pieces) > 1:
        n = min(range(len(pieces)), key=lambda i: pieces[i].high - pieces[i].low)
        if pieces[n].high - pieces[n].low >= LEAST_SIDE - 1e-9:
            break
        scrap = pieces.pop(n)
        longer = max(pieces[max(n - 1, 0) : n + 1], key=lambda p: p.high - p.low)
        longer.low, longer.high = min(longer.low, scrap.low), max(longer.high, scrap.high)
    return pieces


def _type(found: Sequence[Floor], drawing: Drawing) -> None:
    """Turns and lengths as they are typed; a joint has one length on both floors."""
    joints: list[tuple[str, str, Point, float]] = []
    for floor in found:
        axes, at_end = floor.outline.axes(), floor.outline.turns()
        after = [*floor.pieces[1:], floor.pieces[0]]
        turns = squared(
            [
                0.0 if piece.side == then.side else at_end[piece.side]
                for piece, then in zip(floor.pieces, after, strict=True)
            ]
        )
        lengths, fixed = [], []
        for piece in floor.pieces:
            length = piece.high - piece.low
            if piece.joins is not None:
                middle = axes[piece.side].at((piece.low + piece.high) / 2)
                length = _joint(floor, piece, middle, length, joints, drawing)
            lengths.append(length)
            fixed.append(piece.joins is not None)
        leads = ways(turns)
        typed = closing(lengths, leads, fixed)
        for piece, turn, length in zip(floor.pieces, turns, typed, strict=True):
            piece.turn, piece.length = turn, length
        ends = math.hypot(*gap(typed, leads))
        if ends > CLOSES_WITHIN:
            found_ = f"sides that end {ends * 1000:.0f} mm from the start, with right angles exact"
            accepted = f"an outline that closes within {CLOSES_WITHIN * 1000:.0f} mm"
            drawing.refused.append(floor.outline.shape.refused(found_, accepted))
    for floor in found:
        for mark in sorted({p.joins for p in floor.pieces if p.joins and p.joins > floor.mark}):
            other = next(f for f in found if f.mark == mark)
            here, there = _joined(floor, mark), _joined(other, floor.mark)
            if abs(here - there) > 1e-6:
                said = f"{here:.3f} m of joint along {floor.mark}, {there:.3f} m along {mark}"
                accepted = "floors that meet along the same length"
                drawing.refused.append(floor.outline.shape.refused(said, accepted))


def _joined(floor: Floor, mark: str) -> float:
    return math.fsum(p.length for p in floor.pieces if p.joins == mark)


def _joint(
    floor: Floor,
    piece: Piece,
    middle: Point,
    length: float,
    joints: list[tuple[str, str, Point, float]],
    drawing: Drawing,
) -> float:
    """The length of a joint: as the floor before has it, where that lists it already."""
    assert piece.joins is not None
    length = round(length, 3)
    listed = [j for j in joints if (j[0], j[1]) == (piece.joins, floor.mark)]
    if not listed:
        joints.append((floor.mark, piece.joins, middle, length))
        return length
    other = min(listed, key=lambda j: math.dist(j[2], middle))
    if abs(other[3] - length) > CLOSES_WITHIN:
        shape = floor.outline.shape
        found = (
            f"a joint of {length:.3f} m along {floor.mark}, {other[3]:.3f} m along {piece.joins}"
        )
        drawing.refused.append(shape.refused(found, "floors that meet in one line", middle))
    return other[3]
