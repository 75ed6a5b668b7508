"""The worst figure given: what each check compares."""

from ..language import *
from ..language.helpers import NOTHING
from ..language.lookups import without_rank


@rule
def found_or_none(smallest: Amount) -> Amount:
    """The smallest figure. 0 where there was none to look at."""
    return where(less(smallest, NOTHING), smallest, 0)


@rule
def excluded(line: Text, line_key: TextColumn, line_status: TextColumn) -> Each:
    """1 when that line of the quantities is excluded."""
    return count_of(same(line_key, line), same(line_status, "excluded"))


# The lines of which a check asks whether they are excluded, each in a cell of its own.
EXCLUDED = {
    "jamb_dpc": "DPC at jambs",
    "closers": "Closers",
    "stop_ends": "Stop ends",
    "roof_stop_ends": "Stop ends at roofs",
    "inserts": "Weep inserts",
    "vents": "Weep vents",
}


@rule
def sheet_thickness(sheet_row: Each, book_thickness: Column) -> Amount:
    """Thickness of the sheet bought. 0 when it is not stated, or no sheet is bought."""
    # Times 1: one host takes a blank that was looked up for no number.
    return where(less(0, sheet_row), beside(book_thickness, sheet_row) * 1, 0)


@rule
def lowest_dpc(wall_dpc_height: Column) -> Millimetres:
    """Lowest DPC above its ground, of those given. One below its ground is less than nothing."""
    return found_or_none(smallest_of(wall_dpc_height, less(0, wall_dpc_height * wall_dpc_height)))


@rule
def shallowest_cavity(wall_cavity_rank: Column) -> Millimetres:
    """Shallowest clear cavity below a DPC that has no tray. Where all have one, of those."""
    return without_rank(smallest_of(wall_cavity_rank, less(0, wall_cavity_rank)))


@rule
def lap_of_sheet(dpm_lap: Millimetres) -> Millimetres:
    """Lap in the sheet, as used."""
    return dpm_lap


@rule
def lap_of_dpc(dpc_lap: Millimetres) -> Millimetres:
    """Lap in the DPC, as used."""
    return dpc_lap


@rule
def loose_edges(edge_loose_end: Column) -> Each:
    """Edges at walls where the sheet meets nothing."""
    return count_of(same(edge_loose_end, 1))


@rule
def edges_above(edge_above_dpc: Column) -> Each:
    """Edges where the membrane lies above the DPC it should meet."""
    return count_of(same(edge_above_dpc, 1))


@rule
def rise_of_trays(tray_rise: Millimetres) -> Millimetres:
    """Rise of trays, as used."""
    return tray_rise


@rule
def past_closers(tray_past_closer: Millimetres) -> Millimetres:
    """Trays past the closers, as used."""
    return tray_past_closer


@rule
def past_lintels(tray_past_lintel: Millimetres) -> Millimetres:
    """Trays past the lintels, as used."""
    return tray_past_lintel


@rule
def past_openings(tray_past_opening: Millimetres) -> Millimetres:
    """Trays past openings that have no lintel, as used."""
    return tray_past_opening


@rule
def openings_crowded(
    opening_with_tray: Column, opening_weeps_each: Column, opening_weeps_asked: Column
) -> Each:
    """Openings whose tray is too short for the weeps asked for."""
    return count_of(less(0, opening_with_tray), less(opening_weeps_each, opening_weeps_asked))


@rule
def vents_crowded(
    old_vent_with_tray: Column, old_vent_weeps_each: Column, old_vent_weeps_asked: Column
) -> Each:
    """Carried air bricks whose tray is too short for the weeps asked for."""
    return count_of(less(0, old_vent_with_tray), less(old_vent_weeps_each, old_vent_weeps_asked))


@rule
def openings_bare(
    opening_number: Column,
    opening_with_tray: Column,
    line_key: TextColumn,
    line_status: TextColumn,
) -> Each:
    """Openings without a tray over them. All of them where trays are excluded."""
    return where(
        less(0, excluded("trays", line_key, line_status)),
        count_of(less(0, opening_number)),
        count_of(less(0, opening_number), same(opening_with_tray, 0)),
    )


@rule
def short_lintels(opening_lintel: Column, opening_width: Column) -> Each:
    """Openings whose lintel is shorter than the opening."""
    return count_of(less(0, opening_lintel), less(opening_lintel, opening_width))


@rule
def at_boundary(wall_party_wall: TextColumn) -> Each:
    """Wall runs on a boundary."""
    return count_of(same(wall_party_wall, "yes"))


@rule
def lowest_parapet_tray(parapet_with_tray: Column, parapet_tray_height: Column) -> Millimetres:
    """Lowest tray of a parapet above its roof."""
    return found_or_none(
        smallest_of(parapet_tray_height, less(0, parapet_with_tray), less(0, parapet_tray_height))
    )


@rule
def polyethylene_copings(book_under_coping: Column, book_made_of: TextColumn) -> Each:
    """Products of polyethylene that are laid under copings."""
    return count_of(same(book_under_coping, 1), same(book_made_of, "polyethylene"))


@rule
def bare_jambs(
    opening_jambs_bare: Column,
    opening_with_jambs: Column,
    opening_with_closers: Column,
    jamb_dpc_excluded: Each,
    closers_excluded: Each,
) -> Each:
    """Openings whose jambs have neither closer nor DPC, or have it excluded."""
    return (
        count_of(less(0, opening_jambs_bare))
        + jamb_dpc_excluded * count_of(less(0, opening_with_jambs))
        + closers_excluded * count_of(less(0, opening_with_closers))
    )


@rule
def thresholds_level(opening_with_threshold: Column) -> Each:
    """Openings with a level threshold, whose DPC cannot stand as high as is asked elsewhere."""
    return count_of(less(0, opening_with_threshold))


@rule
def openings_overlapping(opening_in_its_way: Column) -> Each:
    """Placed openings that overlap another where both are windows or doors, or of one kind."""
    return count_of(less(0, opening_in_its_way))


@rule
def doors_off_threshold(opening_off_threshold: Column) -> Each:
    """Level-access doors that stand on no threshold of the floor, jamb by jamb."""
    return count_of(same(opening_off_threshold, 1))


@rule
def thresholds_bare(edge_no_door: Column) -> Each:
    """Thresholds of walked floors on which no door stands."""
    return count_of(same(edge_no_door, 1))


@rule
def polyethylene_trays(
    book_laps_as_tray: Column, book_packs: Column, book_made_of: TextColumn
) -> Each:
    """Rolls of plain polyethylene bought as trays."""
    return count_of(
        same(book_laps_as_tray, 1), less(0, book_packs), same(book_made_of, "polyethylene")
    )


@rule
def stop_ends_each(
    opening_with_tray: Column,
    opening_stop_ends: Column,
    abutment_stop_ends: Column,
    stop_ends_excluded: Each,
    roof_stop_ends_excluded: Each,
) -> Each:
    """Stop ends to each tray over an opening. 0 when stop ends are excluded, there or at a roof."""
    return where(
        less(
            0,
            stop_ends_excluded + roof_stop_ends_excluded * total(abutment_stop_ends),
        ),
        0,
        divided(total(opening_stop_ends), total(opening_with_tray)),
    )


@rule
def weeps_apart(weep_step: Millimetres, wall_weep_step: Column) -> Millimetres:
    """Weeps as built apart, at the widest. In brickwork where there is no new wall."""
    return where(less(0, total(wall_weep_step)), largest_of(wall_weep_step), weep_step)


@rule
def weeps_excluded(
    weep_inserts: Flag, weep_vents: Flag, inserts_excluded: Each, vents_excluded: Each
) -> Each:
    """1 when weeps of the kind that is bought are excluded."""
    return inserts_excluded * weep_inserts + vents_excluded * weep_vents


@rule
def fewest_weeps(
    opening_weeps_each: Column, opening_with_tray: Column, weeps_excluded: Each
) -> Each:
    """Fewest weeps over any opening. 0 when weeps of the kind that is bought are excluded."""
    return where(
        less(0, weeps_excluded),
        0,
        found_or_none(smallest_of(opening_weeps_each, less(0, opening_with_tray))),
    )


@rule
def unblinded(zone_blinded: Column, zone_blinding_volume: Column) -> Each:
    """Floors whose sheet lies on hardcore or on the ground with no blinding between."""
    return count_of(same(zone_blinded, 1), same(zone_blinding_volume, 0))


@rule
def deepest_hardcore(zone_hardcore_depth: Column, zone_suspended: Column) -> Millimetres:
    """Deepest hardcore under a ground-bearing floor."""
    return largest_of(zone_hardcore_depth, same(zone_suspended, 0))


@rule
def layer_used(hardcore_layer_max: Millimetres) -> Millimetres:
    """Thickness of layers, as used."""
    return hardcore_layer_max


@rule
def thinnest_slab(zone_slab: Column, zone_net_area: Column, zone_suspended: Column) -> Millimetres:
    """Thinnest slab on the ground."""
    return found_or_none(smallest_of(zone_slab, less(0, zone_net_area), same(zone_suspended, 0)))


@rule
def shallowest_void(zone_void_depth: Column, zone_suspended: Column) -> Millimetres:
    """Shallowest void under a suspended floor."""
    return found_or_none(smallest_of(zone_void_depth, same(zone_suspended, 1)))


@rule
def shallowest_to_plate(
    zone_void_to_plate: Column, zone_timber: Column, zone_plate_missing: Column
) -> Millimetres:
    """Shallowest void below a wall plate, of those given."""
    return found_or_none(
        smallest_of(zone_void_to_plate, same(zone_timber, 1), same(zone_plate_missing, 0))
    )


@rule
def without_opposite_sides(zone_unopposed: Column) -> Each:
    """Ventilated floors without two opposite external sides."""
    return count_of(same(zone_unopposed, 1))


@rule
def all_uncounted(cut_in_uncounted: Column) -> Each:
    """Trays in existing walls that cannot be counted."""
    return total(cut_in_uncounted)


@rule
def floors_unsheeted(zone_net_area: Column, zone_to_dpc: Column) -> Each:
    """Floors whose sheet is not dressed to the DPC: no gas sheet is counted there."""
    return count_of(less(0, zone_net_area), same(zone_to_dpc, 0))


@rule
def vents_without_tray(
    zone_air_bricks: Column, opening_number: Column, opening_kind: TextColumn
) -> Each:
    """Underfloor air bricks beyond the openings listed for them, which bring their trays."""
    return most(0, total(zone_air_bricks) - sum_of(opening_number, same(opening_kind, "air brick")))


@rule
def left_to_specialist(gas_mode: Flag) -> Flag:
    """1 where grade, laps, sealing, sump and testing are left to a specialist."""
    return gas_mode * 1


@rule
def not_looked_up() -> Flag:
    """Nothing is known until somebody has looked."""
    return 0


@rule
def old_below_new(edge_below_new_dpc: Column) -> Each:
    """Edges where the house's DPC lies below the new one."""
    return count_of(same(edge_below_new_dpc, 1))


@rule
def house_dpc_height(
    extension_asked: Flag, extension_old_dpc: Metres, extension_ground: Metres
) -> Millimetres:
    """DPC of the house above the ground as it will be. 0 while either is not known."""
    return where(
        both(same(extension_asked, 1), both(given(extension_old_dpc), given(extension_ground))),
        to_six_places(
            (first_given(extension_old_dpc, 0) - first_given(extension_ground, 0)) * 1000
        ),
        0,
    )


@rule
def none_fall_short() -> Each:
    """A figure that is given is enough here."""
    return 0
