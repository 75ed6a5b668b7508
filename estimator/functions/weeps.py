"""Weeps over trays, and the drainage below a timber frame."""

from ..rules import at_most
from ..rules.units import Each, Metres, Millimetres
from ..takeoff.base_trays import drains_along, weeps_on_ring
from ..takeoff.openings import weep_room, weeps_over
from ..takeoff.wall_details import wall_weep_first, wall_weep_step
from .guidance import Guidance
from .refusal import held
from .registry import function

GROUP = "Weeps"
OWN_END = "england_adc_2013; weep_from_end=225"


def _step(brick: Millimetres, basis: Guidance) -> Millimetres:
    spacing = basis("weep_spacing")
    held(at_most(brick, spacing), "brick", brick, "no longer than the basis's weep_spacing")
    return wall_weep_step(spacing, brick)


@function(
    GROUP, (1.5, 225, OWN_END), 3, "(1500 − 2 × 225) ÷ 900 = 1.17, up to 2, and 1"
)  # fmt: skip
def weep_count(tray_length: Metres, brick: Millimetres, basis: Guidance) -> Each:
    """Weeps over one level tray: one from each end, the rest no further apart than allowed."""
    step, first = _step(brick, basis), wall_weep_first(basis("weep_from_end"), brick)
    weeps = weeps_over(tray_length, first, step, basis("weeps_min"))
    held(at_most(weeps, weep_room(tray_length, brick)), "tray_length", tray_length,
         "long enough for its weeps: each takes one brick's length of tray")  # fmt: skip
    return weeps


@function(GROUP, (20, 225, OWN_END), 23, "20,000 ÷ 900 = 22.2, up to 23")
def weep_count_round(tray_length: Metres, brick: Millimetres, basis: Guidance) -> Each:
    """Weeps along a tray that closes on itself: as many as there are gaps."""
    return weeps_on_ring(tray_length, _step(brick, basis), basis("weeps_min"))


@function(GROUP, (225, "project_specification_2014"), 900, "1000 down to whole units of 225")
def weep_step(brick: Millimetres, basis: Guidance) -> Millimetres:
    """Spacing of weeps as built: whole bricks within the limit."""
    return _step(brick, basis)


@function(GROUP, (225, "nhbc_2024; weep_from_end=500"), 450, "500 down to whole units of 225")
def weep_first(brick: Millimetres, basis: Guidance) -> Millimetres:
    """First weep from the tray's end as built: whole bricks within the limit."""
    return wall_weep_first(basis("weep_from_end"), brick)


@function(
    GROUP, (6, "common_practice"), 5,
    "by area 6 × 500 ÷ 650 = 4.6, by spacing 6000 ÷ 1350 = 4.4: up to 5",
)  # fmt: skip
def frame_drains(length: Metres, basis: Guidance) -> Each:
    """Open perpends below the sole plate of a timber frame: by free area and by spacing."""
    return drains_along(length, basis("frame_drain_area"), basis("frame_drain_spacing"))
