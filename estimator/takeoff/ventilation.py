"""Ventilation of the void under suspended floors: free area, and the air bricks that give it.

Openings stand in two opposite external sides, half the area in each. The side at the house does
not count. Where both pairs of sides are external, the pair with the longer run is taken: it asks
for more, and the air crosses the shorter way.
"""

from ..language import *
from .edges import NAMED_SIDES


@rule
def external_side(
    mark: Text,
    side: Text,
    edge_external: Column,
    edge_external_run: Column,
    edge_zone: TextColumn,
    edge_faces: TextColumn,
) -> Metres:
    """Run of external wall on that side, its thresholds counted in. 0 where no wall is new."""
    return where(
        less(0, sum_of(edge_external, same(edge_zone, mark), same(edge_faces, side))),
        sum_of(edge_external_run, same(edge_zone, mark), same(edge_faces, side)),
        0,
    )


@rule
def opposite(one: Metres, two: Metres) -> Metres:
    """Run of two opposite sides. 0 unless both are external."""
    return where(both(less(0, one), less(0, two)), one + two, 0)


@rule
def opposite_a(external_a_one: Metres, external_a_two: Metres) -> Metres:
    """Run of sides A1 and A2, where both are external."""
    return opposite(external_a_one, external_a_two)


@rule
def opposite_b(external_b_one: Metres, external_b_two: Metres) -> Metres:
    """Run of sides B1 and B2, where both are external."""
    return opposite(external_b_one, external_b_two)


@rule
def unopposed(ventilated: Flag, opposite_a: Metres, opposite_b: Metres) -> Flag:
    """1 for a ventilated floor without two opposite external sides."""
    return ventilated * where(less(0, opposite_a + opposite_b), 0, 1)


@rule
def vent_run(
    opposite_a: Metres,
    opposite_b: Metres,
    external_a_one: Metres,
    external_a_two: Metres,
    external_b_one: Metres,
    external_b_two: Metres,
) -> Metres:
    """Run that asks for ventilation: two opposite sides. Where there are none, all external ones.

    The latter is a finding, and only keeps the figure from being low.
    """
    return where(
        less(0, opposite_a + opposite_b),
        most(opposite_a, opposite_b),
        external_a_one + external_a_two + external_b_one + external_b_two,
    )


@rule
def vent_area(
    ventilated: Flag,
    vent_run: Metres,
    net_area: SquareMetres,
    vent_per_metre: PerMetre,
    vent_per_area: PerSquareMetre,
) -> SquareMillimetres:
    """Free area of openings to the void: by the run or by the floor, whichever is greater."""
    return where(same(ventilated, 1), most(vent_per_metre * vent_run, vent_per_area * net_area), 0)


@rule
def bricks_each(vent_area: SquareMillimetres, free_area: SquareMillimetres) -> Each:
    """Underfloor air bricks in each of the two sides: half the area. 0 until theirs is typed."""
    return whole_up(divided(vent_area / 2, first_given(free_area, 0)))


@rule
def air_bricks(bricks_each: Each) -> Each:
    """Underfloor air bricks in both sides."""
    return bricks_each * 2


@rule
def free_area_missing(ventilated: Flag, free_area: SquareMillimetres) -> Flag:
    """1 for a ventilated floor whose air brick has no free area typed."""
    return where(given(free_area), 0, ventilated)


VENT_COLUMNS: tuple[Item, ...] = (
    *(worked(external_side, f"External run, {s}", f"external_{n}", side=s) for n, s in NAMED_SIDES),
    worked(opposite_a, "Opposite, A"),
    worked(opposite_b, "Opposite, B"),
    worked(unopposed, "No opposite sides"),
    worked(vent_run, "Ventilated along"),
    worked(vent_area, "Free area"),
    worked(bricks_each, "Air bricks a side"),
    worked(air_bricks, "Air bricks"),
    worked(free_area_missing, "No free area"),
)
