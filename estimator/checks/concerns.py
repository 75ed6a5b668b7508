"""Which things a check concerns, and how many of them have no figure."""

from ..language import *
from .worst import excluded, sheet_thickness


@rule
def zones_of_sheet(zone_sheet: Column) -> Each:
    """Floors that have a sheet, whoever buys it."""
    return count_of(same(zone_sheet, 1))


@rule
def zones_on_bed(zone_blinded: Column) -> Each:
    """Floors whose sheet lies on hardcore or on the ground, and not on a slab."""
    return count_of(same(zone_blinded, 1))


@rule
def zones_on_ground(zone_net_area: Column, zone_suspended: Column) -> Each:
    """Ground-bearing floors."""
    return count_of(less(0, zone_net_area), same(zone_suspended, 0))


@rule
def zones_suspended(zone_suspended: Column) -> Each:
    """Suspended floors."""
    return count_of(same(zone_suspended, 1))


@rule
def zones_of_timber(zone_timber: Column) -> Each:
    """Suspended timber floors."""
    return count_of(same(zone_timber, 1))


@rule
def plates_not_given(zone_plate_missing: Column) -> Each:
    """Timber floors with no wall plate typed."""
    return count_of(same(zone_plate_missing, 1))


@rule
def zones_ventilated(zone_ventilated: Column) -> Each:
    """Floors with a ventilated void."""
    return count_of(same(zone_ventilated, 1))


@rule
def zones_on_hardcore(zone_hardcore_depth: Column) -> Each:
    """Floors with hardcore under them."""
    return count_of(less(0, zone_hardcore_depth))


@rule
def every_wall(wall_length_in_use: Column) -> Each:
    """Wall runs."""
    return count_of(less(0, wall_length_in_use))


@rule
def cavity_walls(wall_cavity: Column) -> Each:
    """Wall runs with a cavity."""
    return count_of(less(0, wall_cavity))


@rule
def edges_to_dpc(edge_to_dpc: Column) -> Each:
    """Edges of floors whose sheet is dressed on to a DPC."""
    return count_of(same(edge_to_dpc, 1))


@rule
def every_opening(opening_number: Column) -> Each:
    """Openings."""
    return count_of(less(0, opening_number))


@rule
def openings_without_lintel(opening_with_tray: Column, opening_lintel: Column) -> Each:
    """Openings that have a tray and no lintel."""
    return count_of(less(0, opening_with_tray), same(opening_lintel, 0))


@rule
def vents_with_tray(old_vent_with_tray: Column) -> Each:
    """Existing air bricks carried through that have a tray."""
    return count_of(less(0, old_vent_with_tray))


@rule
def openings_with_tray(opening_with_tray: Column) -> Each:
    """Openings that have a tray."""
    return count_of(less(0, opening_with_tray))


@rule
def zones_with_sheet(zone_sheet: Column, sheet_bought: Flag) -> Each:
    """Floors, where the sheet is bought."""
    return count_of(same(zone_sheet, 1)) * sheet_bought


@rule
def every_tray(
    opening_with_tray: Column,
    abutment_tray: Column,
    wall_with_base_tray: Column,
    parapet_with_tray: Column,
) -> Each:
    """Level trays, over openings, at roofs, at DPC level and in parapets."""
    return (
        count_of(less(0, opening_with_tray))
        + count_of(less(0, abutment_tray))
        + count_of(less(0, wall_with_base_tray))
        + count_of(less(0, parapet_with_tray))
    )


@rule
def trays_bought(book_laps_as_tray: Column, book_packs: Column) -> Each:
    """Rolls of tray that are bought."""
    return count_of(same(book_laps_as_tray, 1), less(0, book_packs))


@rule
def radon_asked() -> Each:
    """Every site is looked up."""
    return 1


@rule
def trays_uncounted(cut_in_uncounted: Column) -> Each:
    """Trays in existing walls that cannot be counted."""
    return count_of(less(0, cut_in_uncounted))


@rule
def floors_in_gas_area(gas_mode: Flag, zone_net_area: Column) -> Each:
    """Floors of a site where radon or gas is kept out."""
    return gas_mode * count_of(less(0, zone_net_area))


@rule
def gas_kept_out(gas_mode: Flag) -> Each:
    """1 where the sheet is to keep out radon or gas."""
    return gas_mode * 1


@rule
def none_blank() -> Each:
    """Nothing can be blank here."""
    return 0


@rule
def walls_without_height(wall_no_dpc_height: Column) -> Each:
    """Wall runs with no height of DPC typed."""
    return count_of(same(wall_no_dpc_height, 1))


@rule
def walls_without_depth(wall_no_cavity_below: Column) -> Each:
    """Cavity walls with no clear depth typed, and no tray at DPC level instead."""
    return count_of(same(wall_no_cavity_below, 1))


@rule
def none_otherwise() -> Each:
    """No other way to meet the check is known here."""
    return 0


@rule
def walls_with_tray(
    wall_with_base_tray: Column, line_key: TextColumn, line_status: TextColumn
) -> Each:
    """Cavity walls with a tray at DPC level. None where those trays are excluded."""
    return where(
        less(0, excluded("base_trays", line_key, line_status)),
        0,
        count_of(same(wall_with_base_tray, 1)),
    )


@rule
def sheet_without_thickness(zone_sheet: Column, sheet_row: Each, book_thickness: Column) -> Each:
    """Floors whose sheet states no thickness."""
    return where(
        less(0, sheet_thickness(sheet_row, book_thickness)), 0, count_of(same(zone_sheet, 1))
    )


@rule
def trays_of_unknown_make(book_no_make_of_tray: Column) -> Each:
    """Rolls of tray bought that do not say what they are made of."""
    return count_of(same(book_no_make_of_tray, 1))


@rule
def radon_unknown(radon_area: Text) -> Each:
    """1 while nobody has found out."""
    return where(same(radon_area, "unknown"), 1, 0)


@rule
def party_walls(wall_party_wall: TextColumn) -> Each:
    """Wall runs on a boundary."""
    return count_of(same(wall_party_wall, "yes"))


@rule
def parapets_with_tray(parapet_with_tray: Column) -> Each:
    """Parapets with a cavity."""
    return count_of(less(0, parapet_with_tray))


@rule
def parapets_without_height(parapet_no_tray_height: Column) -> Each:
    """Parapets whose tray has no height typed."""
    return count_of(same(parapet_no_tray_height, 1))


@rule
def under_copings(book_under_coping: Column) -> Each:
    """Products that are laid under copings."""
    return count_of(same(book_under_coping, 1))


@rule
def copings_of_unknown_make(book_no_make_of_coping: Column) -> Each:
    """Those that do not say what they are made of."""
    return count_of(same(book_no_make_of_coping, 1))


@rule
def jambs_to_close(opening_jambs_asked: Column) -> Each:
    """Openings with jambs at which a cavity is to be closed."""
    return count_of(less(0, opening_jambs_asked))


@rule
def thresholds(opening_with_threshold: Column) -> Each:
    """Openings with a level threshold."""
    return count_of(less(0, opening_with_threshold))


@rule
def openings_placed(opening_placed: Column) -> Each:
    """Openings that have a place along their run."""
    return count_of(same(opening_placed, 1))


@rule
def doors_at_sides(opening_threshold_asked: Column) -> Each:
    """Level-access doors placed in runs that follow a floor, or in runs that sides of a floor name."""
    return count_of(same(opening_threshold_asked, 1))


@rule
def thresholds_asked(edge_door_asked: Column) -> Each:
    """Thresholds of walked floors all whose level-access doors are placed, and those that name a run
    measured by hand."""
    return count_of(same(edge_door_asked, 1))


@rule
def lintels(opening_lintel: Column) -> Each:
    """Openings with a lintel."""
    return count_of(less(0, opening_lintel))


@rule
def edges_at_old_dpc(edge_at_old_dpc: Column) -> Each:
    """Edges at existing walls whose DPC has a level."""
    return count_of(same(edge_at_old_dpc, 1))


@rule
def edges_beside_assumed(edge_beside_assumed: Column) -> Each:
    """Edges at existing walls beside a new DPC whose level is assumed."""
    return count_of(same(edge_beside_assumed, 1))


@rule
def edges_at_new_dpc(edge_at_new_dpc: Column) -> Each:
    """Edges at new walls whose DPC has a level, given or assumed."""
    return count_of(same(edge_at_new_dpc, 1))


@rule
def edges_of_assumed_level(edge_new_level_assumed: Column) -> Each:
    """Edges at new walls whose DPC level is assumed."""
    return count_of(same(edge_new_level_assumed, 1))


@rule
def house_of_the_form(extension_asked: Flag) -> Each:
    """1 where the form is in use: it is built against one wall of a house."""
    return extension_asked * 1


@rule
def house_dpc_unknown(
    extension_asked: Flag, extension_old_dpc: Metres, extension_ground: Metres
) -> Each:
    """1 while the level of the house's DPC, or of the ground, is not answered."""
    return where(both(given(extension_old_dpc), given(extension_ground)), 0, extension_asked)


@rule
def lintels_assumed(opening_lintel_assumed: Column) -> Each:
    """Openings whose lintel has an assumed bearing, and so an assumed length."""
    return count_of(same(opening_lintel_assumed, 1))


@rule
def closers_assumed(opening_closer_assumed: Column, opening_with_closers: Column) -> Each:
    """Openings whose jambs are closed by a closer of an assumed width."""
    return count_of(same(opening_closer_assumed, 1), less(0, opening_with_closers))


@rule
def nothing_assumed() -> Text:
    """Nothing is assumed here."""
    return ""


@rule
def dpc_height_assumed(new_dpc_unknown: Flag, assumed_dpc_height: Millimetres) -> Amount:
    """Height of the new DPC that the quantities assume."""
    return where(same(new_dpc_unknown, 1), assumed_dpc_height, "")


@rule
def bearing_taken(opening_lintel_assumed: Column, assumed_bearing: Millimetres) -> Amount:
    """Bearing of lintels that the quantities assume."""
    return where(less(0, lintels_assumed(opening_lintel_assumed)), assumed_bearing, "")


@rule
def closer_taken(
    opening_closer_assumed: Column, opening_with_closers: Column, assumed_closer: Millimetres
) -> Amount:
    """Width of closers that the quantities assume."""
    return where(
        less(0, closers_assumed(opening_closer_assumed, opening_with_closers)), assumed_closer, ""
    )
