"""Trays stepped into existing walls: counted in units as in new walls; the cutting is the designer's."""

from ..language import *
from .wall_details import COURSE


@rule
def slopes_pitched(kind_slopes: Each, pitch: Pitch) -> Each:
    """Slopes up which units step, where their pitch is known."""
    return where(given(pitch), kind_slopes, 0)


@rule
def slopes(wall_counted: Flag, slopes_pitched: Each) -> Each:
    """Slopes whose stepped units are counted: in a cavity wall, as in a new one."""
    return wall_counted * slopes_pitched


@rule
def course_height(course: Millimetres) -> Millimetres:
    """Height of a course of the existing wall, with its joint."""
    return first_given(course, COURSE)


@rule
def flashing_length(slopes_pitched: Each, length: Metres, slope_length: Metres) -> Metres:
    """Length of one run of flashing: up one slope where its pitch is known, else as on plan."""
    return where(less(0, slopes_pitched), slope_length, length)


@rule
def flashing_runs(number: Each, over_opening: Flag, kind_slopes: Each) -> Each:
    """Runs of flashing over the roof, on a wall that cannot be counted too. None at an opening."""
    return number * (1 - over_opening) * most(1, kind_slopes)
