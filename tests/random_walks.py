"""Random outlines of floors, and the walk round each."""

import math
import random
from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely import Polygon, box, unary_union
from shapely.geometry.polygon import orient

Corners = Sequence[tuple[float, float]]


def right_angled(rng: random.Random) -> Corners:
    """The outline of a few rooms that overlap, in whole millimetres; either way round."""
    while True:
        rooms = []
        for _ in range(rng.randint(1, 4)):
            x, y = rng.randint(0, 5000), rng.randint(0, 5000)
            rooms.append(box(x, y, x + rng.randint(900, 6000), y + rng.randint(900, 6000)))
        shape = unary_union(rooms)
        if isinstance(shape, Polygon) and not shape.interiors and _long_enough(shape):
            return _begun_anywhere(shape, rng)


def _long_enough(shape: Polygon) -> bool:
    """Whether each side can be typed: 50 mm at the least."""
    return min(math.dist(a, b) for a, b in pairwise(shape.exterior.coords)) >= 50


def splayed(rng: random.Random) -> Corners:
    """A star-shaped outline: corners all round a point, near and far."""
    while True:
        ways = sorted(rng.uniform(0, 360) for _ in range(rng.randint(3, 12)))
        apart = [(b - a) % 360 for a, b in zip(ways, [*ways[1:], ways[0]], strict=True)]
        if min(apart) > 8 and max(apart) < 170:
            break
    spokes = [(rng.uniform(900, 7000), math.radians(way)) for way in ways]
    return _begun_anywhere(Polygon([(r * math.cos(w), r * math.sin(w)) for r, w in spokes]), rng)


def _begun_anywhere(shape: Polygon, rng: random.Random) -> Corners:
    """Its corners in metres, to the right or to the left, from any of them; none on a straight side."""
    ring = list(orient(shape, rng.choice((1, -1))).exterior.coords)[:-1]
    kept = [
        p
        for n, p in enumerate(ring)
        if abs(_turn(ring[n - 1], p, ring[(n + 1) % len(ring)])) > 1e-9
    ]
    first = rng.randrange(len(kept))
    return [(x / 1000, y / 1000) for x, y in (*kept[first:], *kept[:first])]


def sides_of(corners: Corners) -> Iterator[tuple[float, float]]:
    """Of each side its length, and the turn at its end, in degrees to the right (as B lies)."""
    count = len(corners)
    for n, here in enumerate(corners):
        after, then = corners[(n + 1) % count], corners[(n + 2) % count]
        turn = _turn(here, after, then)
        # A right angle is typed as one.
        yield math.dist(here, after), round(turn) if abs(turn - round(turn)) < 1e-9 else turn


def _turn(one: tuple[float, float], two: tuple[float, float], three: tuple[float, float]) -> float:
    before = math.atan2(two[1] - one[1], two[0] - one[0])
    after = math.atan2(three[1] - two[1], three[0] - two[0])
    return (math.degrees(after - before) + 180) % 360 - 180
