"""Wall runs: round each walked floor, and those that are drawn by themselves."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.floor_runs import INSIDE_FACE
from ..takeoff.walks import CLOSES_WITHIN
from ..takeoff.walls import CLOSED, OPEN
from .geometry import STRAIGHT, Axis, Point, area, cleaned, first_crossing, sides, turn
from .layer_names import RUN
from .layers import Layers
from .outlines import Outline
from .shapes import Drawing, Shape
from .walks import Floor

KINDS: Mapping[str, Mapping[str, object]] = {str(r["name"]): r for r in EDGE_KIND_ROWS}
OLD_WALLS = tuple(name for name, kind in KINDS.items() if kind["seals"])
LEAST_RUN = 0.1  # m, as the column of lengths takes it


@dataclass
class Run:
    """A wall run: one that follows a floor, or one measured from the drawing.

    `pieces` are the sides of the floor that it takes, by their numbers; `axes` the straight parts
    of a run that is drawn by itself.
    """

    mark: str
    floor: str | None = None  # the floor it follows
    along: str | None = None  # the floor whose sides it takes, followed or not
    pieces: tuple[int, ...] = ()
    axes: list[Axis] = field(default_factory=list)
    run: str = OPEN
    length: float = 0.0
    measured_on: str = INSIDE_FACE
    external: int = 0
    internal: int = 0
    old_ends: int = 0


def round_floors(floors: Sequence[Floor]) -> list[Run]:
    """The runs of new wall round each floor: one follows it, two are measured by its sides."""
    found = []
    for floor in floors:
        chains = list(_chains(floor))
        for n, chain in enumerate(chains, 1):
            run = _of_chain(floor, chain)
            run.mark = f"W-{floor.mark}" + (f"-{n}" if len(chains) > 1 else "")
            run.floor = floor.mark if len(chains) == 1 else None
            found.append(run)
    return found


def _chains(floor: Floor) -> Iterator[tuple[int, ...]]:
    """Sides of new wall that follow each other, by their numbers."""
    new = [bool(KINDS[p.kind]["external_run"]) for p in floor.pieces]
    count = len(new)
    if all(new):
        yield tuple(range(1, count + 1))
        return
    for n in range(count):
        if new[n] and not new[n - 1]:
            chain = [n]
            while new[(chain[-1] + 1) % count]:
                chain.append((chain[-1] + 1) % count)
            yield tuple(m + 1 for m in chain)


def _of_chain(floor: Floor, chain: tuple[int, ...]) -> Run:
    pieces, count = floor.pieces, len(floor.pieces)
    closed = len(chain) == count
    corners = [pieces[n - 1].turn for n in (chain if closed else chain[:-1])]
    ends = () if closed else (pieces[chain[0] - 2], pieces[chain[-1] % count])
    return Run(
        "",
        along=floor.mark,
        pieces=chain,
        run=CLOSED if closed else OPEN,
        length=round(math.fsum(pieces[n - 1].length for n in chain), 3),
        external=sum(t > 0 for t in corners),
        internal=sum(t < 0 for t in corners),
        old_ends=sum(bool(KINDS[p.kind]["seals"]) for p in ends),
    )


def drawn(drawing: Drawing, outlines: Sequence[Outline], layers: Layers) -> list[Run]:
    """The runs that are drawn by themselves; what is none is said in the drawing's list."""
    found: list[Run] = []
    old = drawing.lines_of(OLD_WALLS)
    for shape in drawing.lines_of([RUN]):
        points = list(shape.points)
        closed = shape.closed
        if not closed and len(points) > 3 and math.dist(points[0], points[-1]) <= CLOSES_WITHIN:
            closed = True
            points.pop()  # the first corner again
        corners = cleaned(points, closed)
        closed = closed and len(corners) > 2
        parts = sides(corners) if closed else list(pairwise(corners))
        length = math.fsum(math.dist(a, b) for a, b in parts)
        if length < LEAST_RUN:
            drawing.left.append(f"{shape.said()} is {length * 1000:.0f} mm long, and is no run.")
            continue
        floor = _beside(parts, length, outlines, layers.near)
        if floor:
            drawing.left.append(
                f"{shape.said()} lies along floor {floor}, whose sides say what run follows it."
            )
            continue
        run = _measured(shape, corners, closed, drawing)
        if run is not None:
            run.measured_on = layers.measured_on
            run.mark = f"W-{len(found) + 1}"  # as nobody marks one by hand
            run.old_ends = 0 if closed else _old_ends(corners, old, layers.near)
            found.append(run)
    return found


def _measured(shape: Shape, corners: Sequence[Point], closed: bool, drawing: Drawing) -> Run | None:
    """Length and corners of a run: the way it turns mostly is taken as round its inside."""
    parts = sides(corners) if closed else list(pairwise(corners))
    if closed:
        turns = [turn(corners[n - 1], p, q) for n, (p, q) in enumerate(parts)]
        round_right = area(corners) < 0
    else:
        turns = [turn(a, b, c) for a, b, c in zip(corners, corners[1:], corners[2:], strict=False)]
        round_right = sum(t > 0 for t in turns) >= sum(t < 0 for t in turns)
    external = sum((t > 0) == round_right for t in turns)
    splays = [t for t in turns if abs(abs(t) - 90) > STRAIGHT]
    if closed and (splays or first_crossing(corners)):
        drawing.refused.append(
            shape.refused(
                "a closed run that is not all right angles",
                "right angles, or a floor drawn inside it, which a run can follow",
            )
        )
        return None
    if splays:
        drawing.left.append(
            f"{shape.said()}: a run measured by hand has right angles, and {len(splays)} of its "
            f"{len(turns)} corners {'is' if len(splays) == 1 else 'are'} none: counted as one each."
        )
    return Run(
        "",
        axes=[Axis(a, b) for a, b in parts],
        run=CLOSED if closed else OPEN,
        length=round(math.fsum(math.dist(a, b) for a, b in parts), 3),
        external=external,
        internal=len(turns) - external,
    )


def _beside(
    parts: Sequence[tuple[Point, Point]], length: float, outlines: Sequence[Outline], near: float
) -> str:
    """The floor along whose sides most of a line lies; "" where there is none."""
    for outline in outlines:
        along = 0.0
        for axis in outline.axes():
            shared = (axis.shared(a, b, near) for a, b in parts)
            along += math.fsum(s[1] - s[0] for s in shared if s)
        if along > length / 2:
            return outline.mark
    return ""


def _old_ends(corners: Sequence[Point], old: Sequence[Shape], near: float) -> int:
    """Ends of a run that touch an existing wall."""
    walls = [
        Axis(a, b) for s in old for a, b in pairwise(s.points) if math.dist(a, b) > CLOSES_WITHIN
    ]
    return sum(any(w.distance(end) <= near for w in walls) for end in (corners[0], corners[-1]))
