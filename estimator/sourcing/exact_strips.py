"""Strips of sheet on a floor with splays: how long the parts are that lie on it, strip by strip.

In the sheet a splayed side counts as if all of it lay in each strip that it touches. Here the outline
itself is cut at the edges of each strip, by plain arithmetic: the floor; at each side a band as wide
as the sheet reaches past it; round an external corner between right-angled sides the rectangle of
both, as in the sheet; round one at a splay a sector as far as the larger of both. Where the shape
leaves a gap the strip is in two parts. Strips lie where the sheet lays them (takeoff/bands.py).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..language.ledger import Ledger

Point = tuple[float, float]  # along the strip, across it; metres
Part = tuple[float, float]  # from, to; metres along the strip
ROUNDING = 1e-9  # m: ends that are one
TOUCHES = 5e-7  # m: what lies in a strip by no more than this only touches it, as in the sheet


@dataclass(frozen=True)
class Side:
    """A side of a walk: where it begins, how it leads, and how far the sheet reaches past it; metres."""

    begins: Point
    step: Point
    reach: float
    out: bool  # an external corner at its end
    splayed: bool


@dataclass(frozen=True)
class Sector:
    """A part of a disk about a corner, from one direction to another, less than half of it."""

    middle: Point
    radius: float
    one: Point  # unit vectors
    other: Point

    def within(self, first: float, last: float) -> Part | None:
        """From where to where it lies in a strip across which `first` to `last` is covered."""
        x, y = self.middle
        found = [self.middle]
        found += [(x + self.radius * a, y + self.radius * b) for a, b in (self.one, self.other)]
        found += [
            (x + self.radius * a, y + self.radius * b)
            for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))
            if self._holds(a, b)
        ]
        low, high = max(first, min(b for _, b in found)), min(last, max(b for _, b in found))
        if high - low <= TOUCHES:
            return None
        inside = [a for a, b in found if low <= b <= high]
        for at in (low, high):
            inside += [x + a * (at - y) / b for a, b in (self.one, self.other)
                       if b and 0 <= (at - y) / b <= self.radius]  # fmt: skip
            if abs(at - y) <= self.radius:
                half = math.sqrt(self.radius**2 - (at - y) ** 2)
                inside += [x + a for a in (half, -half) if self._holds(a, at - y)]
        return min(inside), max(inside)

    def _holds(self, a: float, b: float) -> bool:
        """Whether a direction lies between its two."""
        (a1, b1), (a2, b2) = self.one, self.other
        round_ = math.copysign(1, a1 * b2 - b1 * a2)
        return (a1 * b - b1 * a) * round_ >= 0 and (a * b2 - b * a2) * round_ >= 0


def parts(sides: Sequence[Side], first: float, last: float) -> list[Part]:
    """The parts of a strip that lie on the sheet of a floor: from, to, in their order along it.

    `first` and `last` are where the strip covers it, across; the sides go round the floor. A part that
    only touches the strip is none.
    """
    found = list(_within([side.begins for side in sides], first, last))
    for side, then in zip(sides, [*sides[1:], sides[0]], strict=True):
        found += _flap(sides, side, first, last)
        if side.out:
            found += _corner(sides, side, then, first, last)
    joined: list[Part] = []
    for begins, ends in sorted(found):
        if joined and begins <= joined[-1][1] + TOUCHES:
            joined[-1] = joined[-1][0], max(joined[-1][1], ends)
        else:
            joined.append((begins, ends))
    return joined


def _outwards(sides: Sequence[Side], side: Side) -> Point:
    """The direction in which the floor ends at a side, of unit length."""
    swept = sum(s.begins[0] * s.step[1] - s.begins[1] * s.step[0] for s in sides)
    a, b = side.step
    length = math.copysign(math.hypot(a, b), swept)
    return b / length, -a / length


def _flap(sides: Sequence[Side], side: Side, first: float, last: float) -> Iterator[Part]:
    out = _outwards(sides, side)
    one = side.begins
    two = _moved(one, side.step, 1)
    ring = [one, two, _moved(two, out, side.reach), _moved(one, out, side.reach)]
    yield from _within(ring, first, last)


def _corner(
    sides: Sequence[Side], side: Side, then: Side, first: float, last: float
) -> Iterator[Part]:
    at, one, two = then.begins, _outwards(sides, side), _outwards(sides, then)
    if side.splayed or then.splayed:
        part = Sector(at, max(side.reach, then.reach), one, two).within(first, last)
        if part is not None:
            yield part
        return
    ahead = _moved(at, one, side.reach)
    yield from _within(
        [at, ahead, _moved(ahead, two, then.reach), _moved(at, two, then.reach)], first, last
    )


def _moved(at: Point, way: Point, by: float) -> Point:
    return at[0] + way[0] * by, at[1] + way[1] * by


def _within(ring: Sequence[Point], first: float, last: float) -> Iterator[Part]:
    """From where to where a ring of straight sides lies in a strip.

    Between two neighbouring corners, or crossings of its sides with the strip's edges, it lies in the
    strip all along or nowhere.
    """
    sides = list(zip(ring, [*ring[1:], ring[0]], strict=True))
    ends = {a for a, _ in ring}
    for (a1, b1), (a2, b2) in sides:
        ends |= {
            a1 + (a2 - a1) * (at - b1) / (b2 - b1)
            for at in (first, last)
            if min(b1, b2) < at < max(b1, b2)
        }
    for begins, then in pairwise(sorted(ends)):
        if then - begins < ROUNDING:
            continue
        middle = (begins + then) / 2
        crossed = sorted(
            b1 + (b2 - b1) * (middle - a1) / (a2 - a1)
            for (a1, b1), (a2, b2) in sides
            if min(a1, a2) < middle < max(a1, a2)
        )
        inside = zip(crossed[::2], crossed[1::2], strict=True)
        if any(min(high, last) - max(low, first) > TOUCHES for low, high in inside):
            yield begins, then


# ---- of a job ------------------------------------------------------------------------------------


def exact_strip(job: Ledger, row: int) -> tuple[float, ...]:
    """The lengths of sheet, m, that a strip of the list of strips takes: one, or more where the shape
    leaves a gap; none where nothing lies on it. `row` counts from 1, and is of a strip that is laid.

    What thickenings and upstands at holes take is added to a strip, which then stays in one piece: it
    is not known in which part they are.
    """
    zone, way = (job.column("bands", c)[row - 1] for c in ("zone_row", "way_laid"))
    along, across = ("a", "b") if way == 1 else ("b", "a")
    first, last, dips, more, long = (
        job.column("bands", f"{c}_{along}")[row - 1]
        for c in ("from", "to", "dips", "upstands", "long")
    )
    found = parts(sides_of(job, int(zone), along, across), first, last)
    if not found:
        return ()
    if dips or more or len(found) == 1:  # the sheet's figure is rounded to six places
        return (min(long, found[-1][1] - found[0][0] + dips + more),)
    return tuple(end - start for start, end in found)


def sides_of(job: Ledger, zone: int, along: str, across: str) -> list[Side]:
    """The sides of a walked floor in their order, from its back."""
    columns = ("zone_row", "side_no", "reach", "turns_out", "splayed", f"at_{along}", f"at_{across}",
               f"step_{along}", f"step_{across}")  # fmt: skip
    rows = zip(*(job.column("edges", c) for c in columns), strict=True)
    back = tuple(job.column("zones", f"from_{way}")[zone - 1] for way in (along, across))
    walk = sorted(row[1:] for row in rows if row[0] == zone and row[1])
    return [
        Side((back[0] + a, back[1] + b), (to_a, to_b), reach / 1000, out == 1, splayed == 1)
        for _, reach, out, splayed, a, b, to_a, to_b in walk
    ]
