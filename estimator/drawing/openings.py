"""Openings: on which side each lies, how wide it is, and how far along it begins."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..errors import DrawingError
from ..language import Input
from ..takeoff.openings import OPENING_KIND_ROWS, OPENINGS
from ..takeoff.walks import CLOSES_WITHIN
from .geometry import Axis, inside
from .layers import FEATURES, OPENING_KINDS, Layers
from .outlines import Outline
from .runs import Run
from .shapes import LINE, POLYLINE, Drawing, Shape
from .walks import Floor

REACH = 0.5  # m: common practice, the thickest wall in which an opening is drawn
LEVEL_DOORS = tuple(str(r["name"]) for r in OPENING_KIND_ROWS if r["has_threshold"])


@dataclass(frozen=True)
class Held:
    """An opening, and the line it lies on: a side of an outline, or a part of a drawn run."""

    shape: Shape
    width: float
    figures: Mapping[str, float]
    on: str  # the mark of the floor or of the run
    of_floor: bool
    side: int  # from 0: of the outline, or of the parts of the run
    low: float  # metres along it, to the nearer jamb and to the farther one
    high: float


@dataclass
class Opening:
    """An opening as a job has it. `side` and `along`: see `place`."""

    mark: str
    kind: str
    width: float
    run: str
    floor: str | None
    side: int
    along: float
    figures: Mapping[str, float] = field(default_factory=dict)


@dataclass
class Feature:
    """Columns or piers in a floor, all of one kind."""

    zone: str
    kind: str
    number: int


def held(
    drawing: Drawing, outlines: Sequence[Outline], runs: Sequence[Run], layers: Layers
) -> list[Held]:
    """Every opening with the line it lies on; what lies on none is refused, and said."""
    lines = [(o.mark, True, n, axis) for o in outlines for n, axis in enumerate(o.axes())]
    lines += [(r.mark, False, n, axis) for r in runs for n, axis in enumerate(r.axes)]
    found = []
    for shape in drawing.of(*OPENING_KINDS):
        try:
            found.append(_held(shape, lines, layers))
        except DrawingError as error:
            drawing.refused.append(error)
    return found


def _held(shape: Shape, lines: Sequence[tuple[str, bool, int, Axis]], layers: Layers) -> Held:
    best: tuple[float, float] | None = None
    chosen: tuple[str, bool, int, Axis] | None = None
    for line in lines:
        axis = line[3]
        low, high = _extent(shape, axis)
        off = [axis.off(p) for p in shape.points]
        apart = 0.0 if min(off) <= 0 <= max(off) else min(abs(o) for o in off)
        over = min(high, axis.length) - max(low, 0.0)
        if apart > REACH or over <= (high - low) / 2:
            continue
        rank = (round(apart, 4), -over)
        if best is None or rank < best:
            best, chosen = rank, line
    where = shape.middle
    if chosen is None:
        found = f"a {shape.meaning} on no wall"
        accepted = f"one beside a floor's side or a wall run, within {REACH * 1000:.0f} mm"
        raise shape.refused(found, accepted, where)
    mark, of_floor, side, axis = chosen
    low, high = _extent(shape, axis)
    block = layers.block(shape.block) if shape.block else None
    figures = block.figures if block else {}
    if "width" in figures:  # about the middle of what is drawn: the swing is as wide as the leaf
        middle = (low + high) / 2
        low, high = middle - figures["width"] / 2, middle + figures["width"] / 2
    past = max(0 - low, high - axis.length)
    name = f"side {side + 1} of {mark}"
    if past > layers.near:
        found = f"a {shape.meaning} that reaches {past * 1000:.0f} mm past the end of {name}"
        raise shape.refused(found, "an opening between the ends of its side", where)
    width, limits = round(high - low, 3), OPENINGS.column("width")
    assert isinstance(limits, Input)
    if not (limits.least or 0) <= width <= (limits.most or 0):
        found = f"a {shape.meaning} {width * 1000:.0f} mm wide along {name}"
        raise shape.refused(found, limits.accepted, where)
    return Held(shape, width, figures, mark, of_floor, side, max(low, 0.0), min(high, axis.length))


def _extent(shape: Shape, axis: Axis) -> tuple[float, float]:
    """From where to where along a line it reaches."""
    at = [axis.along(p) for p in shape.points]
    return min(at), max(at)


def thresholds(found: Sequence[Held]) -> dict[tuple[str, int], list[tuple[float, float, Shape]]]:
    """What level doors take of the sides of floors: there the floor meets a threshold."""
    taken: dict[tuple[str, int], list[tuple[float, float, Shape]]] = {}
    for one in found:
        if one.of_floor and one.shape.meaning in LEVEL_DOORS:
            taken.setdefault((one.on, one.side), []).append((one.low, one.high, one.shape))
    return taken


def place(one: Held, floors: Sequence[Floor]) -> tuple[int, float]:
    """Where an opening stands: the number of its side, and metres from there to its nearer jamb.

    Of a floor the side of the walk, as the list of edges numbers it; of a drawn run its straight
    part, from 1.
    """
    if not one.of_floor:
        return one.side + 1, round(one.low, 3)
    floor = next(f for f in floors if f.mark == one.on)
    number, piece = floor.piece_at(one.side, one.low)
    return number, round(max(one.low - piece.low, 0.0), 3)


def placed(
    found: Sequence[Held], floors: Sequence[Floor], runs: Sequence[Run], drawing: Drawing
) -> list[Opening]:
    """The openings in their runs; one in an old wall or on a joint is not taken, and said."""
    openings: list[Opening] = []
    used = {o.shape.words.lower() for o in found if o.shape.words}
    number = 0
    given: set[str] = set()
    for one in found:
        side, along = place(one, floors)
        run = next(
            (r for r in runs if r.along == one.on and side in r.pieces)
            if one.of_floor
            else (r for r in runs if r.mark == one.on),
            None,
        )
        if run is None:
            kind = next(f for f in floors if f.mark == one.on).pieces[side - 1].kind
            drawing.left.append(
                f"{one.shape.said(one.shape.middle)} lies on side {side} of {one.on}, which is "
                f"{kind}: no opening in a new wall, and is not taken."
            )
            continue
        mark = one.shape.words
        if mark.lower() in given:
            drawing.refused.append(one.shape.refused(mark, "a ref used once"))
            continue
        while not mark:
            number += 1
            if f"o-{number}" not in used:
                mark = f"O-{number}"  # as nobody marks one by hand
        given.add(mark.lower())
        kind = one.shape.meaning
        floor_mark = one.on if one.of_floor else None
        openings.append(
            Opening(mark, kind, one.width, run.mark, floor_mark, side, along, one.figures)
        )
    return openings


def features(drawing: Drawing, outlines: Sequence[Outline]) -> list[Feature]:
    """Columns and piers, counted by floor and kind; one in no floor is said."""
    found: dict[tuple[str, str], Feature] = {}
    for shape in drawing.of(*FEATURES):
        apart = math.dist(shape.points[0], shape.points[-1])
        if shape.kind == LINE or (
            shape.kind == POLYLINE and not shape.closed and apart > CLOSES_WITHIN
        ):
            drawing.left.append(f"{shape.said()} is no outline, and no {shape.meaning} is taken.")
            continue
        here = next((o for o in outlines if inside(shape.middle, o.corners)), None)
        if here is None:
            drawing.left.append(f"{shape.said()} lies in no floor, and is not taken.")
            continue
        of = found.setdefault((here.mark, shape.meaning), Feature(here.mark, shape.meaning, 0))
        of.number += 1
    return list(found.values())
