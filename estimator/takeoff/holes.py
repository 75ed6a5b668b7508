"""Holes in a floor: a shaft, a stair, a column or a chimney breast that stands clear of the walls.

One edge goes round each: a rectangle along the sides of the floor, by its size and by where it
begins from the floor's first corner. Of a round or odd hole it is the rectangle round it. Its area is
taken off the floor, whatever its size; what an edge has by the metre, it has all round. The sheet is
laid over the hole and cut out (common practice), so that strips are counted as if it were not there;
what is cut out turns up round it, as far as half the shorter side.
"""

from ..language import *
from .walks import CLOSES_WITHIN

CORNERS = 4
SHORTEST = 0.05  # m; keeps a division sound on a floor narrower than a lap

TYPED = tuple(
    number(f"hole_{name}_{way}", f"Hole {label} {way.upper()}", METRES, least, 60, help_,
           required=False, since=9)
    for name, label, least, help_ in (
        ("along", "along", 0.05, "Only where this edge goes round a hole in the floor: its size "
         "{way}. Of a round hole: the rectangle round it."),
        ("from", "from, along", -60, "From the floor's first corner to where the hole begins, {way}. "
         "Below 0 where it lies behind that corner."),
    )
    for way, help_ in (("a", help_.format(way="along A")), ("b", help_.format(way="along B")))
)  # fmt: skip


# ---- the edge round it --------------------------------------------------------------------------


@rule
def hole_typed(
    hole_along_a: Metres, hole_along_b: Metres, hole_from_a: Metres, hole_from_b: Metres
) -> Each:
    """How many are typed of a hole's two sizes and two places."""
    return (
        where(given(hole_along_a), 1, 0)
        + where(given(hole_along_b), 1, 0)
        + where(given(hole_from_a), 1, 0)
        + where(given(hole_from_b), 1, 0)
    )


@rule
def round_hole(hole_typed: Each) -> Flag:
    """1 for an edge that goes round a hole."""
    return where(less(0, hole_typed), 1, 0)


@rule
def hole_misfit(
    round_hole: Flag,
    hole_typed: Each,
    kind_row: Each,
    side: Text,
    length: Metres,
    number: Each,
    turn: Degrees,
    edge_kind_may_hole: Column,
) -> Flag:
    """1 for a hole that is not typed in full, is of a kind that none has, or is typed as a side too."""
    return round_hole * where(
        both(
            both(same(hole_typed, 4), same(beside(edge_kind_may_hole, kind_row), 1)), same(side, "")
        ),
        where(given(length), 1, where(given(number), 1, where(given(turn), 1, 0))),
        1,
    )


@rule
def hole_size(round_hole: Flag, along: Metres) -> Metres:
    """Its size one way. 0 where there is no hole."""
    return round_hole * first_given(along, 0)


@rule
def hole_begins(round_hole: Flag, place: Metres) -> Metres:
    """Where it begins one way, from the floor's first corner. 0 where there is no hole."""
    return round_hole * first_given(place, 0)


@rule
def hole_ends(begins: Metres, size: Metres) -> Metres:
    """Where it ends, the same way."""
    return begins + size


@rule
def hole_round(hole_size_a: Metres, hole_size_b: Metres) -> Metres:
    """Length of its four sides."""
    return 2 * (hole_size_a + hole_size_b)


@rule
def hole_area(hole_size_a: Metres, hole_size_b: Metres) -> SquareMetres:
    """Area that it takes from the floor."""
    return hole_size_a * hole_size_b


@rule
def hole_corners(round_hole: Flag, turn_up: Millimetres) -> Each:
    """Preformed corners where the sheet turns up round it: all four are internal to the floor."""
    return where(same(round_hole, 1), where(less(0, turn_up), CORNERS, 0), 0)


HOLE_COLUMNS: tuple[Item, ...] = (
    worked(hole_typed, "Of a hole typed"),
    worked(round_hole, "Goes round a hole"),
    worked(hole_misfit, "Hole misfits"),
    *(
        item
        for w in "ab"
        for item in (
            worked(hole_size, f"Hole, size along {w.upper()}", f"hole_size_{w}",
                   along=OwnCell(f"hole_along_{w}")),
            worked(hole_begins, f"Hole begins, along {w.upper()}", f"hole_begins_{w}",
                   place=OwnCell(f"hole_from_{w}")),
            worked(hole_ends, f"Hole ends, along {w.upper()}", f"hole_ends_{w}",
                   begins=OwnCell(f"hole_begins_{w}"), size=OwnCell(f"hole_size_{w}")),
        )
    ),
    worked(hole_round, "Round the hole"),
    worked(hole_area, "Hole's area"),
)  # fmt: skip


# ---- whether it lies in its floor, clear of its sides and of other holes -----------------------


@rule
def hole_within(
    round_hole: Flag,
    begins: Metres,
    ends: Metres,
    zone_row: Each,
    zone_from: Column,
    zone_extent: Column,
) -> Flag:
    """1 where it lies one way between the back and the front of the floor, clear of both."""
    return round_hole * where(
        both(
            less(CLOSES_WITHIN - beside(zone_from, zone_row), begins),
            less(ends + CLOSES_WITHIN, beside(zone_extent, zone_row) - beside(zone_from, zone_row)),
        ),
        1,
        0,
    )


@rule
def meets(begins: Metres, ends: Metres, low: Column, high: Column) -> Column:
    """1 for each of others that lies, one way, where this begins and ends, or touches it."""
    return less(low, ends + CLOSES_WITHIN) * less(begins - CLOSES_WITHIN, high)


@rule
def sides_met(
    round_hole: Flag,
    zone: Text,
    hole_begins_a: Metres,
    hole_ends_a: Metres,
    hole_begins_b: Metres,
    hole_ends_b: Metres,
    edge_zone: TextColumn,
    edge_walked: Column,
    edge_splayed: Column,
    edge_low_a: Column,
    edge_high_a: Column,
    edge_low_b: Column,
    edge_high_b: Column,
) -> Each:
    """Right-angled sides of the walk that it crosses or touches. A splayed side it may cross unseen: a
    job file finds that."""
    return round_hole * count_of(
        same(edge_zone, zone),
        less(edge_splayed, edge_walked),
        meets(hole_begins_a, hole_ends_a, edge_low_a, edge_high_a),
        meets(hole_begins_b, hole_ends_b, edge_low_b, edge_high_b),
    )


@rule
def sides_behind(
    round_hole: Flag,
    zone: Text,
    hole_begins_a: Metres,
    middle_b: Metres,
    edge_zone: TextColumn,
    edge_walked: Column,
    edge_high_a: Column,
    edge_low_b: Column,
    edge_high_b: Column,
) -> Each:
    """Sides of the walk that lie straight behind it, along A: inside a right-angled floor an odd number."""
    return round_hole * count_of(
        same(edge_zone, zone),
        same(edge_walked, 1),
        less(edge_high_a, hole_begins_a),
        at_most(edge_low_b, middle_b),
        less(middle_b, edge_high_b),
    )


@rule
def middle_b(hole_begins_b: Metres, hole_ends_b: Metres) -> Metres:
    """Half-way through it, along B."""
    return (hole_begins_b + hole_ends_b) / 2


@rule
def hole_outside(
    round_hole: Flag,
    within_a: Flag,
    within_b: Flag,
    sides_met: Each,
    sides_behind: Each,
    floor_walked: Flag,
    zone_row: Each,
    zone_sides_splayed: Column,
) -> Flag:
    """1 for a hole that is not inside its floor, or is not clear of its sides."""
    return round_hole * where(
        both(same(within_a + within_b, 2), same(sides_met, 0)),
        where(
            both(same(floor_walked, 1), same(beside(zone_sides_splayed, zone_row), 0)),
            1 - (sides_behind - 2 * whole_down(sides_behind / 2)),
            0,
        ),
        1,
    )


@rule
def holes_met(
    round_hole: Flag,
    zone: Text,
    hole_begins_a: Metres,
    hole_ends_a: Metres,
    hole_begins_b: Metres,
    hole_ends_b: Metres,
    edge_zone: TextColumn,
    edge_round_hole: Column,
    edge_hole_begins_a: Column,
    edge_hole_ends_a: Column,
    edge_hole_begins_b: Column,
    edge_hole_ends_b: Column,
) -> Each:
    """Other holes of the floor that it overlaps or touches."""
    return round_hole * (
        count_of(
            same(edge_zone, zone),
            same(edge_round_hole, 1),
            meets(hole_begins_a, hole_ends_a, edge_hole_begins_a, edge_hole_ends_a),
            meets(hole_begins_b, hole_ends_b, edge_hole_begins_b, edge_hole_ends_b),
        )
        - 1
    )


PLACE_COLUMNS: tuple[Item, ...] = (
    *(
        worked(hole_within, f"Hole within, along {w.upper()}", f"within_{w}",
               begins=OwnCell(f"hole_begins_{w}"), ends=OwnCell(f"hole_ends_{w}"),
               zone_from=WholeColumn("zones", f"from_{w}"),
               zone_extent=WholeColumn("zones", f"extent_{w}"))
        for w in "ab"
    ),
    worked(middle_b, "Hole's middle, along B"),
    worked(sides_met, "Sides it meets"),
    worked(sides_behind, "Sides behind it"),
    worked(hole_outside, "Hole not in its floor"),
    worked(holes_met, "Holes it meets"),
)  # fmt: skip


# ---- the sheet round it -------------------------------------------------------------------------


@rule
def hole_band(
    hole_corners: Each,
    turn_up: Millimetres,
    hole_size_a: Metres,
    hole_size_b: Metres,
    on_sheet: Flag,
    dpm_lap: Millimetres,
) -> Metres:
    """Width of a band of sheet for its upstand: the turn-up and a lap on the sheet.

    Only where the turn-up is more than half the shorter side: what is cut out of the sheet over it
    is then too short to turn up (common practice).
    """
    return where(
        less(0, hole_corners),
        where(
            less(least(hole_size_a, hole_size_b) * 1000, 2 * turn_up),
            on_sheet * (turn_up + dpm_lap) / 1000,
            0,
        ),
        0,
    )


@rule
def strip_ends(
    hole_band: Metres,
    hole_round: Metres,
    zone_row: Each,
    dpm_lap: Millimetres,
    zone_extent: Column,
) -> Metres:
    """What each strip that runs one way is longer, so that the band can be cut from their ends.

    The ends of all strips make one band across the floor. A hole longer round takes several, each
    lapped on the next.
    """
    return hole_band * whole_up(
        divided(hole_round, most(SHORTEST, beside(zone_extent, zone_row) - dpm_lap / 1000))
    )


SHEET_COLUMNS: tuple[Item, ...] = (
    worked(hole_corners, "Preformed corners at the hole"),
    worked(hole_band, "Band for its upstand"),
    *(
        worked(strip_ends, f"Strips longer, along {w.upper()}", f"strip_ends_{w}",
               zone_extent=WholeColumn("zones", f"extent_{across}"))
        for w, across in ("ab", "ba")
    ),
)  # fmt: skip


# ---- the floor ----------------------------------------------------------------------------------


@rule
def holes(mark: Text, edge_round_hole: Column, edge_zone: TextColumn) -> Each:
    """Holes in the floor."""
    return sum_of(edge_round_hole, same(edge_zone, mark))


@rule
def holes_area(mark: Text, edge_hole_area: Column, edge_zone: TextColumn) -> SquareMetres:
    """Their area."""
    return sum_of(edge_hole_area, same(edge_zone, mark))


@rule
def holes_outside(mark: Text, edge_hole_outside: Column, edge_zone: TextColumn) -> Each:
    """Those that are not inside it, clear of its sides."""
    return sum_of(edge_hole_outside, same(edge_zone, mark))


@rule
def holes_together(mark: Text, edge_holes_met: Column, edge_zone: TextColumn) -> Each:
    """Those that overlap or touch, each as often as it meets another."""
    return sum_of(edge_holes_met, same(edge_zone, mark))


@rule
def upstands(mark: Text, edge_strip_ends: Column, edge_zone: TextColumn) -> Metres:
    """What each strip that runs one way is longer for the upstands round holes."""
    return sum_of(edge_strip_ends, same(edge_zone, mark))


FLOOR_COLUMNS: tuple[Item, ...] = (
    worked(holes, "Holes"),
    worked(holes_area, "Area of holes"),
    worked(holes_outside, "Holes not in it"),
    worked(holes_together, "Holes that meet"),
    *(
        worked(upstands, f"Upstands at holes, strips along {w.upper()}", f"upstands_{w}",
               edge_strip_ends=WholeColumn("edges", f"strip_ends_{w}"))
        for w in "ab"
    ),
)  # fmt: skip
