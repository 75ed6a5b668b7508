"""Trays: width, length, rolls, stop ends; stepped units; trays cut into existing walls; lead."""

from ..buying import ranking
from ..buying.packing import rolls_of_pieces
from ..buying.taking import packs_needed, required
from ..rules import at_most, either, less, same
from ..rules.many import Many
from ..rules.units import Each, Metres, Millimetres, Percent, Pitch
from ..takeoff import abutments, openings
from ..takeoff import cut_ins as old_wall
from ..takeoff.flashings import pieces_of_lead
from ..takeoff.thresholds import threshold_each, threshold_girth, threshold_length
from .guidance import Guidance
from .refusal import held
from .registry import function

GROUP = "Cavity trays"


@function(
    GROUP, (102.5, 80, "project_specification_2014; tray_build_in=100"), 372.5,
    "102.5 + √(80² + 150²) + 100 = 102.5 + 170 + 100",
)  # fmt: skip
def tray_width(outer_leaf: Millimetres, cavity: Millimetres, basis: Guidance) -> Millimetres:
    """Width of a tray: over the outer leaf, up across the cavity, into the inner leaf."""
    held(openings.with_tray(1, 1, cavity, Many([1])), "cavity", cavity,
         "the width of a cavity: a solid wall has no tray across one")  # fmt: skip
    return openings.tray_girth(outer_leaf, cavity, basis("tray_rise"), basis("tray_build_in"))


@function(
    GROUP, (1.2, 1.35, 100, "nhbc_2024; tray_past_lintel=0"), 1.45,
    "the longer of 1.35 and 1.2 + 2 × (0.100 + 0.025)",
)  # fmt: skip
def tray_length(width: Metres, lintel: Metres, closer: Millimetres, basis: Guidance) -> Metres:
    """Length of a tray over an opening: past the lintel's ends and past the closers.

    Without a lintel (0), what bridges the cavity is taken as wide as the opening.
    """
    past_lintel, past_opening = basis("tray_past_lintel"), basis("tray_past_opening")
    past_closer = basis("tray_past_closer")
    return openings.tray_length(width, lintel, closer, past_lintel, past_opening, past_closer)


@function(GROUP, (5,), 10, "2 × 5")
def stop_ends(trays: Each) -> Each:
    """Stop ends of level trays: two to each."""
    return openings.stop_ends(trays)


@function(
    GROUP, (22, 0.4, 8, 5, "project_specification_2014"), 3,
    "(22 + 0.4) × 1.05 = 23.52; (23.52 − 0.1) ÷ (8 − 0.1) = 2.96, up to 3",
)  # fmt: skip
def tray_rolls(
    net: Metres, laps: Metres, roll_length: Metres, wastage: Percent, basis: Guidance
) -> Each:
    """Rolls of tray joined roll to roll: net, laps, wastage, and a lap at each change of roll."""
    held(either(less(0, net), same(laps, 0)), "net", net, "more than 0 where there are laps")
    lap = ranking.lap(1, 0, basis("tray_lap"), Many([0]), 1)
    held(ranking.usable(1, roll_length, lap, 0, 0), "roll_length", roll_length,
         "a roll longer than its lap")  # fmt: skip
    return packs_needed(net, required(net, laps, wastage), lap, roll_length, 0, 0, 0)


@function(GROUP, (5, 4.2, 8), 5, "1 piece of 4.2 from each roll of 8")
def tray_rolls_one_piece(trays: Each, tray_length: Metres, roll_length: Metres) -> Each:
    """Rolls for trays all alike, each cut in one piece."""
    held(at_most(tray_length, roll_length), "roll_length", roll_length, "no shorter than the tray")
    return rolls_of_pieces(openings.trays(trays, tray_length, "no"), tray_length, roll_length)


@function(GROUP, (2.4, "common_practice"), 2.85, "2.4 + 2 × 0.15, turned up 0.075 at both ends")
def threshold_tray(width: Metres, basis: Guidance) -> Metres:
    """Length of the tray under a level threshold, turned up at both ends."""
    fixed = threshold_length(width, basis("threshold_past"))
    return threshold_each(fixed, basis("sill_turn_up"))


@function(GROUP, (102.5, 100, "common_practice"), 277.5, "102.5 + 100 + 75")
def threshold_tray_width(
    outer_leaf: Millimetres, cavity: Millimetres, basis: Guidance
) -> Millimetres:
    """Width of that tray: across the outer leaf and the cavity, turned up at the back."""
    return threshold_girth(outer_leaf, cavity, basis("sill_turn_up"))


@function(GROUP, (3.6, 30, 75), 28, "3600 × tan 30° ÷ 75 = 27.7, up to 28")
def stepped_units(slope_run: Metres, pitch: Pitch, course: Millimetres) -> Each:
    """Stepped units up one slope: one for every course the roof climbs along the wall."""
    return abutments.units_each(1, slope_run, pitch, course)


@function(GROUP, (45, 75), 75, "75 ÷ tan 45°")
def stepped_unit_step(pitch: Pitch, course: Millimetres) -> Millimetres:
    """Horizontal step from unit to unit: it sets the length of the unit."""
    return abutments.step(1, pitch, course)


@function(GROUP, (1, 2, 3.6, 30, 75), 54, "2 slopes of 28 units, less the catchment unit of each")
def stepped_intermediates(
    roofs: Each, slopes: Each, slope_run: Metres, pitch: Pitch, course: Millimetres
) -> Each:
    """Intermediate units: all but the catchment unit at the foot of each slope."""
    each = abutments.units_each(slopes, slope_run, pitch, course)
    return abutments.intermediates(slopes, roofs, each)


@function(GROUP, (3, 2), 6, "3 × 2")
def stepped_catchments(roofs: Each, slopes: Each) -> Each:
    """Catchment units: one at the foot of each slope, with its weep."""
    return abutments.catchments(slopes, roofs)


@function(GROUP, (3, 2), 3, "one where two slopes meet")
def stepped_ridges(roofs: Each, slopes: Each) -> Each:
    """Ridge units: one where two slopes meet."""
    return abutments.ridges(slopes, roofs)


@function(GROUP, (3, 2), 12, "3 × 2 catchment units, two ends each")
def stepped_stop_ends(roofs: Each, slopes: Each) -> Each:
    """Stop ends of stepped trays: two to each catchment unit."""
    return abutments.stop_ends(0, slopes, roofs, 0)


@function(GROUP, (1, 3.6, 225, 0.9, 0), 4, "16 bricks = 3.6 m; 3.6 ÷ 0.9")
def cut_in_units(
    cut_ins: Each, roof_width: Metres, brick: Millimetres, tray_unit: Metres, unit_lap: Millimetres
) -> Each:
    """Units of a level tray cut into an existing cavity wall, over whole bricks."""
    possible = old_wall.cut_in_agrees(
        1, tray_unit, unit_lap, 0, roof_width, 0, 0, 0, 0, brick, brick
    )
    held(possible, "unit_lap", unit_lap, "less than the length of the unit")
    along = old_wall.taken(old_wall.bricks(1, roof_width, brick), brick)
    return old_wall.units(cut_ins, along, tray_unit, unit_lap)


@function(GROUP, (1, 3.6, 225, 2), 32, "16 bricks in each of 2 courses")
def cut_in_bricks_out(cut_ins: Each, roof_width: Metres, brick: Millimetres, courses: Each) -> Each:
    """Bricks cut out for that tray: those along it, in every course removed."""
    return old_wall.bricks_out(cut_ins, old_wall.bricks(1, roof_width, brick), courses)


@function(GROUP, (3.6, 225, 1), 4, "3.6 m in whole bricks; 3.6 ÷ 1, up to 4")
def cut_in_bays(roof_width: Metres, brick: Millimetres, longest_bay: Metres) -> Each:
    """Bays in which one wall is opened up, none longer than the designer of its support allows."""
    along = old_wall.taken(old_wall.bricks(1, roof_width, brick), brick)
    return old_wall.bays(along, longest_bay)


@function(GROUP, (4, "common_practice"), 3, "(4000 − 100) ÷ (1500 − 100) = 2.8, up to 3")
def lead_pieces(length: Metres, basis: Guidance) -> Each:
    """Pieces of lead in one run of flashing, laid by others: each after the first gives up a lap."""
    return pieces_of_lead(length, basis("lead_piece_max"), basis("lead_lap"))
