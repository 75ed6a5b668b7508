"""DPM sheet: how far it turns up, how it is laid, how many rolls."""

from dataclasses import dataclass
from typing import Any

from ..buying import ranking
from ..rules import at_most, either, less, same
from ..rules.many import Many
from ..rules.units import (
    Amount,
    Each,
    Metres,
    Micrometres,
    Millimetres,
    Percent,
    SquareMetres,
    Text,
)
from ..takeoff import sheet_gauge
from ..takeoff.edges import by_levels, dressed, rise
from ..takeoff.floors import sheet_a as side_of_sheet
from ..takeoff.layouts import (
    actual_lap,
    along_b,
    can_a,
    can_b,
    direction,
    fewer_along_b,
    fits,
    joint,
    joints_a,
    joints_b,
    laid_area,
    metres_a,
    metres_b,
    per_roll_a,
    per_roll_b,
    rolls_a,
    rolls_b,
    strip_count,
    strip_length,
    strips_a,
    strips_b,
)
from ..takeoff.layouts import roll_metres as metres_laid
from ..takeoff.layouts import roll_width as in_metres
from ..takeoff.layouts import rolls as rolls_alone
from ..takeoff.methods import whole_strips
from ..takeoff.penetrations import collar_tape as tape_round
from ..takeoff.penetrations import collars
from .arguments import ARGUMENTS
from .guidance import Guidance
from .refusal import held
from .registry import function

GROUP = "DPM sheet"
MOST_TURN_UP = ARGUMENTS["turn_up_one"].most  # of what is asked of DAMP_DPM_SHEET_SIDE
NONE = Many([0])  # a column of one kind of edge, or of one material, that has no such mark
LAPPED = (4.13, 5.73, 4000, 25, "whole strips", "nhbc_2024")
TWO_STRIPS = "2 strips along A: (5.73 − 0.3) ÷ (4 − 0.3) = 1.47, up to 2; "


@dataclass(frozen=True)
class _Laid:
    """How one sheet is laid from one roll: the columns of the workbook's list of layouts."""

    whole: Any
    width: Any
    turned: Any  # 1 where strips run along B
    fits: Any
    rolls: Any
    strips: Any
    strip: Any
    metres: Any
    joint: Any


def _laid(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    lap: Millimetres,
) -> _Laid:
    """Both directions worked out, and the better one taken, or refused where neither can be laid."""
    held(less(lap, roll_width), "roll_width", roll_width, "a roll wider than its lap")
    whole = whole_strips(sheet_joints)
    width = in_metres(1, Many([roll_width]))
    across_b, across_a = strips_a(sheet_b, width, lap), strips_b(sheet_a, width, lap)
    a = rolls_a(across_b, per_roll_a(roll_length, sheet_a))
    b = rolls_b(across_a, per_roll_b(roll_length, sheet_b))
    laid_a, laid_b = metres_a(across_b, sheet_a), metres_b(across_a, sheet_b)
    lapped_a, lapped_b = joints_a(across_b, sheet_a), joints_b(across_a, sheet_b)
    either_a, either_b = can_a(whole, across_b, a), can_b(whole, across_a, b)
    fewer = fewer_along_b(whole, a, b, laid_a, laid_b, lapped_a, lapped_b)
    turned = along_b(either_a, either_b, fewer)
    held(fits(either_a, either_b), "roll_length", roll_length,
         "a roll as long as the sheet is along one side")  # fmt: skip
    strips = strip_count(turned, across_b, across_a)
    strip = strip_length(turned, sheet_a, sheet_b)
    return _Laid(
        whole=whole,
        width=width,
        turned=turned,
        fits=fits(either_a, either_b),
        rolls=rolls_alone(turned, a, b),
        strips=strips,
        strip=strip,
        metres=metres_laid(strips, strip),
        joint=joint(turned, lapped_a, lapped_b),
    )


@function(
    GROUP,
    (0.15, -0.175, "common_practice"),
    425,
    "(0.150 + 0.175) × 1000 = 325, and 100 dressed on",
)
def dpm_turn_up(dpc_level: Metres, dpm_level: Metres, basis: Guidance) -> Millimetres:
    """Turn-up of the sheet at a new wall: the rise to its DPC, and the length dressed on to it."""
    height = rise(1, dpc_level, 1, Many([dpm_level]))
    found = by_levels(1, height, dressed(1, 1, None, basis("dpm_dpc_lap"), 0, NONE))
    held(at_most(found, MOST_TURN_UP), "dpc_level", dpc_level,
         f"a level in metres, no more than {MOST_TURN_UP:g} mm of turn-up above the sheet")  # fmt: skip
    return found


@function(GROUP, (5, 425, 365), 5.79, "5 + 0.425 + 0.365")
def dpm_sheet_side(side: Metres, turn_up_one: Millimetres, turn_up_two: Millimetres) -> Metres:
    """Sheet needed along one side: the floor, and what turns up at both ends."""
    return side_of_sheet(1, side, turn_up_one, turn_up_two, 0)


@function(GROUP, LAPPED, 2, TWO_STRIPS + "8.26 m of roll against 11.46 m along B")
def dpm_strips(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Each:
    """Strips laid side by side in one floor, in the direction that takes less."""
    return _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap")).strips


@function(GROUP, LAPPED, 4.13, "2 strips along A, each as long as A")
def dpm_strip_length(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Metres:
    """Length of each strip."""
    return _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap")).strip


@function(GROUP, LAPPED, "along A", "8.26 m of roll along A, 11.46 m along B")
def dpm_direction(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Text:
    """Which way the strips run."""
    laid = _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap"))
    return direction(laid.turned, laid.fits)


@function(GROUP, LAPPED, 8.26, TWO_STRIPS + "2 × 4.13")
def dpm_metres(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Metres:
    """Metres of roll laid in one floor, before any joint across."""
    return _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap")).metres


@function(GROUP, LAPPED, 4.13, TWO_STRIPS + "1 lap of 4.13")
def dpm_lapped(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Metres:
    """Metres of lap between the strips of one floor: what is taped."""
    return _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap")).joint


@function(GROUP, LAPPED, 2270, "(2 × 4 − 5.73) ÷ 1 = 2.27 m")
def dpm_lap_as_laid(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> Millimetres:
    """Lap when the spare width of the strips is shared among the laps; 0 for a single strip."""
    laid = _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap"))
    return actual_lap(laid.turned, laid.strips, sheet_a, sheet_b, laid.width)


@function(GROUP, LAPPED, 33.04, "8.26 m of roll, 4 m wide")
def dpm_area_laid(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    basis: Guidance,
) -> SquareMetres:
    """Sheet laid in one floor: its area, laps, turn-ups, and what is trimmed at the last strip."""
    laid = _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap"))
    return laid_area(laid.metres, laid.width)


@function(
    GROUP, (12, 7, 4000, 25, "cross joints", 10, "nhbc_2024"), 2,
    "2 strips × 12 = 24 m, with 10 % 26.4 m; (26.4 − 0.3) ÷ (25 − 0.3) = 1.06, up to 2",
)  # fmt: skip
def dpm_rolls(
    sheet_a: Metres,
    sheet_b: Metres,
    roll_width: Millimetres,
    roll_length: Metres,
    sheet_joints: Text,
    wastage: Percent,
    basis: Guidance,
) -> Each:
    """Rolls of DPM for one floor, with laps and turn-ups; wastage only where strips are joined across.

    Whole strips show their offcut by themselves.
    Several floors from one product: sum DPM_METRES over them and use DPM_ROLLS_JOINED.
    """
    laid = _laid(sheet_a, sheet_b, roll_width, roll_length, sheet_joints, basis("dpm_lap"))
    longer = ranking.usable(1, roll_length, _lap_of_sheet(basis), 0, 0)
    held(either(same(laid.whole, 1), same(longer, 1)), "roll_length", roll_length,
         "a roll longer than its lap")  # fmt: skip
    counts = ranking.applies(1, 1, laid.whole, NONE)
    allowed = ranking.wastage(counts, wastage)
    cut = ranking.sheet_cut(laid.rolls, laid.metres, laid.strip, roll_length)
    return ranking.sheet_rolls(laid.whole, cut, laid.metres, allowed, roll_length, basis("dpm_lap"))


def _lap_of_sheet(basis: Guidance) -> Any:
    """The lap of the sheet in metres, as a roll's own lap is."""
    return ranking.lap(1, basis("dpm_lap"), 0, Many([1]), 0)


@function(
    GROUP, (63, 25, 10, "nhbc_2024"), 3,
    "63 × 1.1 = 69.3; (69.3 − 0.3) ÷ (25 − 0.3) = 2.79, up to 3",
)  # fmt: skip
def dpm_rolls_joined(
    roll_metres: Metres, roll_length: Metres, wastage: Percent, basis: Guidance
) -> Each:
    """Rolls for so many metres of one product, joined across: each change of roll costs a lap."""
    held(ranking.usable(1, roll_length, _lap_of_sheet(basis), 0, 0), "roll_length", roll_length,
         "a roll longer than its lap")  # fmt: skip
    return ranking.sheet_rolls(0, 0, roll_metres, wastage, roll_length, basis("dpm_lap"))


@function(GROUP, (1200,), 300, "1200 ÷ 4")
def micrometres(gauge: Amount) -> Micrometres:
    """Thickness of sheet of that gauge, as the trade states it."""
    return sheet_gauge.micrometres(gauge)


@function(GROUP, (2, 110), 0.691150383789754, "2 × π × 0.110")
def collar_tape(pipes: Each, diameter: Millimetres) -> Metres:
    """Double-sided tape round the collars of pipes through a floor that has a sheet."""
    return tape_round(collars(pipes, 1), diameter)
