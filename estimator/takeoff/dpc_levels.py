"""The house's DPC against the new one at the same floor: which lies lower, as far as both are known."""

from ..language import *


@rule
def at_old_dpc(
    kind_row: Each, dpc_level: Metres, edge_kind_by_levels: Column, edge_kind_by_chase: Column
) -> Flag:
    """1 at an existing wall whose DPC has a level."""
    return where(
        given(dpc_level),
        beside(edge_kind_by_levels, kind_row) * beside(edge_kind_by_chase, kind_row),
        0,
    )


@rule
def at_new_dpc(
    kind_row: Each, dpc_level: Metres, at_old_dpc: Flag, edge_kind_by_levels: Column
) -> Flag:
    """1 at a new wall whose DPC has a level."""
    return where(given(dpc_level), beside(edge_kind_by_levels, kind_row) - at_old_dpc, 0)


@rule
def new_dpc_down(at_new_dpc: Flag, dpc_level: Metres) -> Metres:
    """The new DPC's level turned about 0, so that the smallest is the highest. 0 elsewhere."""
    return where(same(at_new_dpc, 1), 0 - first_given(dpc_level, 0), 0)


@rule
def below_new_dpc(
    at_old_dpc: Flag,
    dpc_level: Metres,
    zone_row: Each,
    edge_at_new_dpc: Column,
    edge_new_dpc_down: Column,
    edge_zone_row: Column,
) -> Flag:
    """1 where the house's DPC lies below the highest new DPC of the same floor."""
    return where(
        same(at_old_dpc, 1),
        where(
            less(
                first_given(dpc_level, 0),
                0
                - smallest_of(
                    edge_new_dpc_down, same(edge_at_new_dpc, 1), same(edge_zone_row, zone_row)
                ),
            ),
            1,
            0,
        ),
        0,
    )


@rule
def new_level_assumed(at_new_dpc: Flag, dpc_level_assumed: Flag) -> Flag:
    """1 at a new wall whose DPC level nobody gave."""
    return at_new_dpc * dpc_level_assumed


@rule
def beside_assumed(
    at_old_dpc: Flag, zone_row: Each, edge_new_level_assumed: Column, edge_zone_row: Column
) -> Flag:
    """1 where the house's DPC cannot be compared: the new one of the floor has an assumed level."""
    return where(
        same(at_old_dpc, 1),
        where(
            less(0, count_of(same(edge_new_level_assumed, 1), same(edge_zone_row, zone_row))), 1, 0
        ),
        0,
    )
