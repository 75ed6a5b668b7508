"""The turns and lengths of a walk as they are typed: right angles exact, whole millimetres."""

import math
from collections.abc import Sequence
from itertools import accumulate

from ..takeoff.walks import AROUND, QUARTER, quarter, quarters, share_a, share_b, slant
from .geometry import STRAIGHT

PLACES = 4  # decimals of a turn: a tenth of a millimetre in 60 m
Ways = list[tuple[float, float]]


def squared(turns: Sequence[float]) -> list[float]:
    """The turns, degrees to the right, once round: those near a right angle exactly one.

    What that leaves over is shared among the others.
    """
    whole = [round(t / QUARTER) * QUARTER for t in turns]
    exact = [abs(t - w) <= STRAIGHT for t, w in zip(turns, whole, strict=True)]
    found = [float(w) if e else t for t, w, e in zip(turns, whole, exact, strict=True)]
    free = [n for n, e in enumerate(exact) if not e]
    left = 4 * QUARTER - math.fsum(found)
    for n in free:
        found[n] = round(found[n] + left / len(free), PLACES)
    if free:
        others = math.fsum(t for n, t in enumerate(found) if n != free[-1])
        found[free[-1]] = round(4 * QUARTER - others, PLACES)
    return found


def ways(turns: Sequence[float]) -> Ways:
    """Of each side its progress along A and along B for each metre, by the rules of a walk."""
    found = []
    for leads in accumulate((AROUND, *turns[:-1])):
        whole = quarters(leads)
        left = slant(leads, whole)
        found.append((share_a(1, quarter(whole), left), share_b(1, quarter(whole), left)))
    return found


def gap(lengths: Sequence[float], ways: Ways) -> tuple[float, float]:
    """Where the walk ends, along A and along B, counted from its start."""
    pairs = list(zip(lengths, ways, strict=True))
    return math.fsum(x * w[0] for x, w in pairs), math.fsum(x * w[1] for x, w in pairs)


def closing(lengths: Sequence[float], ways: Ways, fixed: Sequence[bool]) -> list[float]:
    """The lengths in metres, in whole millimetres, changed as little as brings the walk back.

    A fixed one is kept: the other side of a joint has it too.
    """
    free = [n for n, f in enumerate(fixed) if not f]
    kept = [round(x, 3) if f else x for x, f in zip(lengths, fixed, strict=True)]
    smooth = _spread(kept, ways, free)
    found = [round(x * 1000) for x in smooth]
    ends = gap(found, ways)
    while True:
        # One millimetre more or less, where it brings the end nearest to the start.
        tried = (
            (math.hypot(ends[0] + by * ways[n][0], ends[1] + by * ways[n][1]),
             abs(found[n] + by - smooth[n] * 1000), n, by)
            for n in free for by in (1, -1)
            if abs(found[n] + by - smooth[n] * 1000) <= 1 + 1e-6
        )  # fmt: skip
        best = min(tried, default=None)
        if best is None or best[0] > math.hypot(*ends) - 1e-6:
            return [x / 1000 for x in found]
        found[best[2]] += best[3]
        ends = gap(found, ways)


def _spread(lengths: Sequence[float], ways: Ways, free: Sequence[int]) -> list[float]:
    """Least squares: the free lengths share what the walk misses its start by."""
    aa = math.fsum(ways[n][0] ** 2 for n in free)
    bb = math.fsum(ways[n][1] ** 2 for n in free)
    ab = math.fsum(ways[n][0] * ways[n][1] for n in free)
    ends = gap(lengths, ways)
    one_way = aa * bb - ab * ab
    if one_way > 1e-6:
        along = (bb * ends[0] - ab * ends[1]) / one_way
        across = (aa * ends[1] - ab * ends[0]) / one_way
    else:  # all that is free leads one way: only that can be mended
        along, across = (ends[0] / (aa + bb), ends[1] / (aa + bb)) if free else (0.0, 0.0)
    found = list(lengths)
    for n in free:
        found[n] -= along * ways[n][0] + across * ways[n][1]
    return found
