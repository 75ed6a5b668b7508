"""The outline of the sheet on a floor that is walked: how far it goes at each side, and past the floor.

Past each side the sheet turns up, or laps another; round an external corner it goes on as far as
the side after turns up. Strips are laid over this outline (bands.py).
"""

from ..language import *

# ---- what a side says ---------------------------------------------------------------------------


@rule
def outward(step: Metres, zone_row: Each, way: Amount, zone_turned_round: Column) -> Amount:
    """Above 0 where the floor ends at this side and lies before it, below 0 where it lies behind;
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
def farthest(
    outward: Amount, high: Metres, reach: Millimetres, zone_row: Each, zone_from: Column
) -> Metres:
    """Where the sheet ends past this side, counted from the back of the floor; 0 for other sides."""
    return where(less(0, outward), beside(zone_from, zone_row) + high + reach / 1000, 0)


@rule
def nearest(
    outward: Amount, low: Metres, reach: Millimetres, zone_row: Each, zone_to: Column
) -> Metres:
    """Where the sheet ends past this side, counted from the front of the floor; 0 for other sides."""
    return where(less(outward, 0), beside(zone_to, zone_row) - low + reach / 1000, 0)


@rule
def first_end(
    step: Metres,
    low: Metres,
    reach_before: Millimetres,
    reach_after: Millimetres,
    zone_row: Each,
    zone_from: Column,
) -> Metres:
    """Where the sheet at this side begins, with what turns up past the side next to it."""
    return (
        beside(zone_from, zone_row) + low - where(less(0, step), reach_before, reach_after) / 1000
    )


@rule
def last_end(
    step: Metres,
    high: Metres,
    reach_before: Millimetres,
    reach_after: Millimetres,
    zone_row: Each,
    zone_from: Column,
) -> Metres:
    """Where the sheet at this side ends, with what turns up past the side next to it."""
    return (
        beside(zone_from, zone_row) + high + where(less(0, step), reach_after, reach_before) / 1000
    )


SHEET_AT_SIDE: tuple[Item, ...] = (
    worked(reach_before, "Goes on at its beginning"),
    worked(reach_after, "Goes on at its end"),
    worked(outward, "Outward along A", "outward_a", step=OwnCell("step_b"), way=1),
    worked(outward, "Outward along B", "outward_b", step=OwnCell("step_a"), way=-1),
    *(
        column
        for w in "ab"
        for column in (
            worked(farthest, f"Sheet ends ahead, along {w.upper()}", f"far_{w}",
                   outward=OwnCell(f"outward_{w}"), high=OwnCell(f"high_{w}"),
                   zone_from=WholeColumn("zones", f"from_{w}")),
            worked(nearest, f"Sheet ends at the back, along {w.upper()}", f"near_{w}",
                   outward=OwnCell(f"outward_{w}"), low=OwnCell(f"low_{w}"),
                   zone_to=WholeColumn("zones", f"to_{w}")),
            worked(first_end, f"Sheet begins, along {w.upper()}", f"first_{w}",
                   step=OwnCell(f"step_{w}"), low=OwnCell(f"low_{w}"),
                   zone_from=WholeColumn("zones", f"from_{w}")),
            worked(last_end, f"Sheet ends, along {w.upper()}", f"last_{w}",
                   step=OwnCell(f"step_{w}"), high=OwnCell(f"high_{w}"),
                   zone_from=WholeColumn("zones", f"from_{w}")),
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
    """Its place among those; 0 for all others."""
    return shaped * count_of(same(zone_shaped, 1), less(zone_position, position + 1))


@rule
def sheet_past(
    shaped: Flag, mark: Text, extent: Metres, edge_end: Column, edge_zone: TextColumn
) -> Metres:
    """How far the sheet reaches past the end of the floor; 0 for a rectangle."""
    return where(same(shaped, 1), largest_of(edge_end, same(edge_zone, mark)) - extent, 0)


SHAPED_COLUMNS: tuple[Item, ...] = (
    worked(shaped, "No rectangle"),
    worked(shaped_no, "No rectangle, no."),
    *(
        worked(sheet_past, f"Sheet past the {end}, along {w.upper()}", f"{name}_{w}",
               extent=OwnCell(f"extent_{w}"), edge_end=WholeColumn("edges", f"{column}_{w}"))
        for w in "ab"
        for name, end, column in (("behind", "back", "near"), ("ahead", "front", "far"))
    ),
)  # fmt: skip
