"""The outline of the sheet on a floor that is walked: how far it goes at each side, and past the floor.

Past each side the sheet turns up, or laps another; round an external corner it goes on as far as
the side after turns up. Strips are laid over this outline (bands.py).
"""

from ..language import *

# ---- what a side says ---------------------------------------------------------------------------


@rule
def outward(step: Metres, zone_row: Each, way: Amount, zone_turned_round: Column) -> Amount:
    """Above 0 where the floor ends at this side and lies before it, below 0 where it lies behind.
    0 for a side that runs the way that is asked of."""
    return way * step * beside(zone_turned_round, zone_row)


@rule
def reach_before(
    side_before: Each, splayed: Flag, reach: Millimetres, edge_reach: Column, edge_turns_out: Column
) -> Millimetres:
    """How far the sheet goes on at its beginning: round an external corner, and at a splay."""
    return where(
        less(0, side_before),
        most(
            splayed * reach, beside(edge_reach, side_before) * beside(edge_turns_out, side_before)
        ),
        0,
    )


@rule
def reach_after(
    side_after: Each, splayed: Flag, reach: Millimetres, turns_out: Flag, edge_reach: Column
) -> Millimetres:
    """How far the sheet goes on at its end: round an external corner, and at a splay."""
    return where(
        less(0, side_after), most(splayed * reach, beside(edge_reach, side_after) * turns_out), 0
    )


@rule
def goes_on(
    outward: Amount,
    splayed: Flag,
    step: Metres,
    reach: Millimetres,
    reach_before: Millimetres,
    reach_after: Millimetres,
) -> Millimetres:
    """How far the sheet at this side goes on one way: what turns up where the floor ends here, or what
    goes round the corner ahead where the side runs this way."""
    return where(
        same(splayed, 1),
        most(reach_before, reach_after),
        where(
            less(0, outward),
            reach,
            where(less(outward, 0), 0, where(less(0, step), reach_after, reach_before)),
        ),
    )


@rule
def first_end(
    outward: Amount,
    splayed: Flag,
    step: Metres,
    low: Metres,
    reach: Millimetres,
    reach_before: Millimetres,
    reach_after: Millimetres,
    zone_row: Each,
    zone_from: Column,
) -> Metres:
    """Where the sheet at this side begins one way, from the back of the floor."""
    return (
        beside(zone_from, zone_row)
        + low
        - goes_on(0 - outward, splayed, 0 - step, reach, reach_before, reach_after) / 1000
    )


@rule
def last_end(
    outward: Amount,
    splayed: Flag,
    step: Metres,
    high: Metres,
    reach: Millimetres,
    reach_before: Millimetres,
    reach_after: Millimetres,
    zone_row: Each,
    zone_from: Column,
) -> Metres:
    """Where the sheet at this side ends, the same way."""
    return (
        beside(zone_from, zone_row)
        + high
        + goes_on(outward, splayed, step, reach, reach_before, reach_after) / 1000
    )


SHEET_AT_SIDE: tuple[Item, ...] = (
    worked(reach_before, "Goes on at its beginning"),
    worked(reach_after, "Goes on at its end"),
    worked(outward, "Outward along A", "outward_a", step=OwnCell("step_b"), way=1),
    worked(outward, "Outward along B", "outward_b", step=OwnCell("step_a"), way=-1),
    *(
        worked(rule, f"Sheet {label}, along {w.upper()}", f"{name}_{w}",
               outward=OwnCell(f"outward_{w}"), step=OwnCell(f"step_{w}"),
               zone_from=WholeColumn("zones", f"from_{w}"), **{end: OwnCell(f"{end}_{w}")})
        for w in "ab"
        for rule, label, name, end in (
            (first_end, "begins", "first", "low"),
            (last_end, "ends", "last", "high"),
        )
    ),
)  # fmt: skip

# ---- what its floor says ------------------------------------------------------------------------


@rule
def shaped(walk_fault: Each, sheet: Flag, corners_in: Each, sides_splayed: Each) -> Flag:
    """1 for a floor with a sheet that is no rectangle, and whose walk closes."""
    return where(
        both(same(walk_fault, 0), less(0, corners_in + sides_splayed)), sheet, 0
    )  # fmt: skip


@rule
def shaped_no(shaped: Flag, position: Each, zone_shaped: Column, zone_position: Column) -> Each:
    """Its place among those. 0 for all others."""
    return shaped * count_of(same(zone_shaped, 1), less(zone_position, position + 1))


@rule
def behind(shaped: Flag, mark: Text, edge_first: Column, edge_zone: TextColumn) -> Metres:
    """How far the sheet reaches past the back of the floor. 0 for a rectangle."""
    return where(same(shaped, 1), 0 - smallest_of(edge_first, same(edge_zone, mark)), 0)


@rule
def ahead(
    shaped: Flag, mark: Text, extent: Metres, edge_last: Column, edge_zone: TextColumn
) -> Metres:
    """How far the sheet reaches past the front of the floor. 0 for a rectangle."""
    return where(same(shaped, 1), largest_of(edge_last, same(edge_zone, mark)) - extent, 0)


@rule
def past(shaped: Flag, reach: Millimetres, beyond: Metres) -> Millimetres:
    """How far the sheet reaches past one end of the floor: of a rectangle as past that side, of any
    other floor as past the side that is outermost."""
    return where(same(shaped, 1), beyond * 1000, reach)


SHAPED_COLUMNS: tuple[Item, ...] = (
    worked(shaped, "No rectangle"),
    worked(shaped_no, "No rectangle, no."),
    *(
        worked(behind, f"Sheet past the back, along {w.upper()}", f"behind_{w}",
               edge_first=WholeColumn("edges", f"first_{w}"))
        for w in "ab"
    ),
    *(
        worked(ahead, f"Sheet past the front, along {w.upper()}", f"ahead_{w}",
               extent=OwnCell(f"extent_{w}"), edge_last=WholeColumn("edges", f"last_{w}"))
        for w in "ab"
    ),
    *(
        worked(past, f"Sheet past {end}, along {w.upper()}", f"past_{side}_{n}",
               reach=OwnCell(f"reach_{side}_{n}"), beyond=OwnCell(f"{name}_{w}"))
        for w, side in ("ab", "ba")
        for n, end, name in (("one", "one end", "behind"), ("two", "the other", "ahead"))
    ),
)  # fmt: skip
