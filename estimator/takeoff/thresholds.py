"""Level access: the tray under the threshold, and the channel before it that others lay."""

from ..language import *


@rule
def with_threshold(number: Each, kind_row: Each, opening_kind_has_threshold: Column) -> Each:
    """How many of them have a level threshold."""
    return number * beside(opening_kind_has_threshold, kind_row)


@rule
def threshold_length(width: Metres, threshold_past: Millimetres) -> Metres:
    """Length of one threshold tray as fixed: the opening, and past it at both ends."""
    return width + 2 * threshold_past / 1000


@rule
def threshold_each(threshold_length: Metres, sill_turn_up: Millimetres) -> Metres:
    """Length of roll in one threshold tray, turned up at both ends."""
    return threshold_length + 2 * sill_turn_up / 1000


@rule
def threshold_girth(
    outer_leaf: Millimetres, cavity: Millimetres, sill_turn_up: Millimetres
) -> Millimetres:
    """Width of a threshold tray: across the outer leaf and the cavity, turned up at the back."""
    return outer_leaf + cavity + sill_turn_up


@rule
def thresholds(with_threshold: Each, threshold_length: Metres) -> Metres:
    """Threshold trays, net: no turn-ups, no laps."""
    return with_threshold * threshold_length


@rule
def threshold_ends(with_threshold: Each, sill_turn_up: Millimetres) -> Metres:
    """Turn-ups at the two ends of each threshold tray."""
    return 2 * with_threshold * sill_turn_up / 1000


@rule
def channels(with_threshold: Each, width: Metres) -> Metres:
    """Drainage channel before the thresholds: the opening's width. Laid by others."""
    return with_threshold * width


THRESHOLD_COLUMNS = (
    worked(with_threshold, "With threshold"),
    worked(threshold_length),
    worked(threshold_each, "Threshold tray"),
    worked(threshold_girth, "Threshold width"),
    worked(thresholds, "Thresholds, net"),
    worked(threshold_ends, "Threshold turn-ups"),
    worked(channels, "Channels"),
)
