"""DPC: lengths of leaves, laps, rolls, jambs and sills; a run moved sideways."""

from typing import Any

from ..buying import ranking
from ..buying.needs import corner_laps as laps_at_corners
from ..buying.packing import rolls_of_pieces
from ..buying.taking import joined, laid, packs_needed, required
from ..rules import at_most, either, less, same
from ..rules.many import Many
from ..rules.units import Each, Metres, Millimetres, Percent, Text
from ..takeoff.jambs import closer_each, closers
from ..takeoff.openings import jamb_laps, jambs, sill_ends, sill_girth, sills
from ..takeoff.wall_details import outer_added, step_laps, steps_agree
from ..takeoff.walls import (
    MEASURING_LINE_ROWS,
    end_laps,
    inner_length,
    line_depth,
    moved,
    outer_length,
    outer_limit,
    thickness,
    turns,
    wall_agrees,
)
from .guidance import Guidance
from .refusal import held
from .registry import function

GROUP = "DPC and wall runs"
LINE_NAMES = Many((r["name"] for r in MEASURING_LINE_ROWS), holds_text=True)
LINE_SHARES = Many(r["share"] for r in MEASURING_LINE_ROWS)
LONG_ENOUGH = "a run longer than its corners take from it"


@function(GROUP, (20, 51.25, 4, 0), 19.59, "20 − 2 × 0.05125 × 4")
def run_moved(
    length: Metres, inwards: Millimetres, external_corners: Each, internal_corners: Each
) -> Metres:
    """Length of a run moved sideways: each external corner takes 2 × the shift, an internal adds it."""
    found = moved(length, inwards, turns(external_corners, internal_corners))
    held(less(0, found), "length", length, LONG_ENOUGH)
    return found


def _leaves(
    length: Metres,
    measured_on: Text,
    outer_leaf: Millimetres,
    cavity: Millimetres,
    inner_leaf: Millimetres,
    corners: Each,
) -> tuple[Any, Any]:
    """Both leaves on their centre lines, or refused where the workbook refuses the wall."""
    whole = thickness(outer_leaf, cavity, inner_leaf)
    behind = line_depth(measured_on, whole, LINE_NAMES, LINE_SHARES)
    outer = outer_length(length, outer_leaf, behind, corners)
    inner = inner_length(length, inner_leaf, whole, behind, corners)
    held(wall_agrees(1, 1, cavity, inner_leaf, 1, 1, 1, 1), "inner_leaf", inner_leaf,
         "an inner leaf behind a cavity; 0 in a solid wall, whose cavity is 0 too")  # fmt: skip
    held(wall_agrees(1, 1, cavity, inner_leaf, outer, inner, 1, 1), "length", length, LONG_ENOUGH)
    return outer, inner


@function(
    GROUP, (11, "outside face", 102.5, 100, 100, 2, 0), 10.795, "11 − 2 × (0.1025 ÷ 2) × 2"
)  # fmt: skip
def dpc_outer_length(
    length: Metres,
    measured_on: Text,
    outer_leaf: Millimetres,
    cavity: Millimetres,
    inner_leaf: Millimetres,
    external_corners: Each,
    internal_corners: Each,
) -> Metres:
    """DPC in the outer leaf, net: the run's length on that leaf's centre line."""
    corners = turns(external_corners, internal_corners)
    return _leaves(length, measured_on, outer_leaf, cavity, inner_leaf, corners)[0]


@function(
    GROUP, (11, "outside face", 102.5, 100, 100, 2, 0), 9.99, "11 − 2 × (0.3025 − 0.1 ÷ 2) × 2"
)  # fmt: skip
def dpc_inner_length(
    length: Metres,
    measured_on: Text,
    outer_leaf: Millimetres,
    cavity: Millimetres,
    inner_leaf: Millimetres,
    external_corners: Each,
    internal_corners: Each,
) -> Metres:
    """DPC in the inner leaf, net: the run's length on that leaf's centre line; 0 in a solid wall."""
    corners = turns(external_corners, internal_corners)
    return _leaves(length, measured_on, outer_leaf, cavity, inner_leaf, corners)[1]


@function(
    GROUP, (2, 1, 150, "nhbc_2024"), 0.55, "2 × 0.1 at ends; one step of 0.15 + 2 × 0.1"
)  # fmt: skip
def dpc_ends_and_steps(
    ends_at_existing: Each, steps: Each, step_rise: Millimetres, basis: Guidance
) -> Metres:
    """Laps on to the DPC of existing walls, and what lapped steps add, in one leaf."""
    lap = basis("dpc_lap")
    held(
        steps_agree(steps, step_rise),
        "step_rise",
        step_rise,
        "a rise where there are steps, 0 where none",
    )
    return outer_added(end_laps(ends_at_existing, lap), step_laps(steps, step_rise, "laps", lap))


@function(GROUP, (4, 112.5), 0.45, "4 × 0.1125")
def dpc_corner_laps(corners: Each, dpc_width: Millimetres) -> Metres:
    """Laps at corners and T-junctions, each as wide as the DPC."""
    return laps_at_corners(corners, 1, Many([dpc_width]), Many([1]))


@function(GROUP, (102.5, "common_practice"), 112.5, "102.5 + 10")
def dpc_widest(leaf: Millimetres, basis: Guidance) -> Millimetres:
    """Widest DPC that lies on a leaf untrimmed; the narrowest is the leaf itself."""
    return outer_limit(leaf, basis("dpc_projection"))


@function(
    GROUP, (61, 1, 30, 5, "nhbc_2024"), 3,
    "(61 + 1) × 1.05 = 65.1; (65.1 − 0.1) ÷ (30 − 0.1) = 2.17, up to 3",
)  # fmt: skip
def dpc_rolls(
    net: Metres, laps: Metres, roll_length: Metres, wastage: Percent, basis: Guidance
) -> Each:
    """Rolls of DPC of one width: net, laps and wastage, and a lap at each change of roll."""
    held(either(less(0, net), same(laps, 0)), "net", net, "more than 0 where there are laps")
    lap = ranking.lap(1, basis("dpc_lap"), 0, Many([1]), 0)
    held(ranking.usable(1, roll_length, lap, 0, 0), "roll_length", roll_length,
         "a roll longer than its lap")  # fmt: skip
    return packs_needed(net, required(net, laps, wastage), lap, roll_length, 0, 0, 0)


@function(
    GROUP, (61, 1, 30, "nhbc_2024"), 62.2, "61 + 1, and 2 laps of 0.1 between 3 rolls"
)  # fmt: skip
def dpc_laid(net: Metres, laps: Metres, roll_length: Metres, basis: Guidance) -> Metres:
    """DPC laid: net, laps, and those between rolls; no wastage."""
    held(either(less(0, net), same(laps, 0)), "net", net, "more than 0 where there are laps")
    lap = ranking.lap(1, basis("dpc_lap"), 0, Many([1]), 0)
    held(ranking.usable(1, roll_length, lap, 0, 0), "roll_length", roll_length,
         "a roll longer than its lap")  # fmt: skip
    rolls = packs_needed(net, required(net, laps, 0), lap, roll_length, 0, 0, 0)
    return laid(net, laps, joined(net, laps, 0), rolls, lap, roll_length, 0, 0)


@function(GROUP, (3, 1.35), 8.1, "2 × 3 × 1.35")
def jamb_dpc(openings: Each, height: Metres) -> Metres:
    """DPC at jambs, net: both sides of each opening."""
    return jambs(openings, height)


@function(GROUP, (3, "nhbc_2024"), 1.2, "4 × 3 × 0.1")
def jamb_dpc_laps(openings: Each, basis: Guidance) -> Metres:
    """Laps of the jamb DPC: at the head and at the sill, both sides."""
    return jamb_laps(openings, basis("dpc_lap"))


@function(GROUP, (3, 1.35, 3), 3, "6 pieces of 1.35, 2 from each length of 3")
def closer_lengths(openings: Each, height: Metres, stock_length: Metres) -> Each:
    """Stock lengths of cavity closer for the jambs, each piece cut whole."""
    piece = closer_each(openings, height)
    held(at_most(piece, stock_length), "stock_length", stock_length, "no shorter than the jamb")
    return rolls_of_pieces(closers(openings, height), piece, stock_length)


@function(GROUP, (3, 1.2), 3.6, "3 × 1.2")
def sill_dpc(openings: Each, width: Metres) -> Metres:
    """DPC under sills, net: the width of each opening."""
    return sills(openings, width)


@function(GROUP, (3, "common_practice"), 0.45, "2 × 3 × 0.075")
def sill_dpc_turn_ups(openings: Each, basis: Guidance) -> Metres:
    """Turn-ups at the two ends of each sill DPC."""
    return sill_ends(openings, basis("sill_turn_up"))


@function(GROUP, (102.5, "common_practice"), 177.5, "102.5 + 75")
def sill_dpc_width(outer_leaf: Millimetres, basis: Guidance) -> Millimetres:
    """Width of sill DPC: across the outer leaf, turned up at the back."""
    return sill_girth(outer_leaf, basis("sill_turn_up"))
