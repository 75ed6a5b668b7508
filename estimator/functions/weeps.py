"""Weeps over trays, and the drainage below a timber frame."""

from .registry import Example, Function, Held

GROUP = "Weeps"
_OWN_END = "Approved Document C (2004); weep_from_end=225"
_SPACED = Held(
    "walls.bricks_in_spacing", "brick", "no longer than the weep_spacing of the guidance"
)

ROWS = (
    Function(
        "WEEP_COUNT", GROUP, "openings.weeps_each",
        ("tray_length", "brick: unit walls.unit_used", "basis"),
        Example((1.5, 225, _OWN_END), 3, "(1500 − 2 × 225) ÷ 900 = 1.17, up to 2, and 1"),
        {"weep_first": "=walls.weep_first", "weep_step": "=walls.weep_step"},
        (_SPACED, Held("weeps_have_room", "tray_length",
                       "long enough for its weeps: each takes one brick's length of tray")),
        "Weeps over one level tray: one from each end, the rest no further apart than allowed.",
    ),
    Function(
        "WEEP_COUNT_CLOSED_RUN", GROUP, "walls.weeps_round",
        ("tray_length: outer_length", "brick: unit_used", "basis"),
        Example((20, 225, _OWN_END), 23, "20,000 ÷ 900 = 22.2, up to 23"),
        {"run_in_use": "closed", "weep_first": 0}, (_SPACED,),  # no end to be a distance from
        "Weeps along a tray that closes on itself: as many as there are gaps.",
    ),
    Function(
        "WEEP_SPACING", GROUP, "walls.weep_step", ("brick: unit_used", "basis"),
        Example((225, "project_specification_2014"), 900, "1000 down to whole units of 225"),
        held=(_SPACED,),
    ),
    Function(
        "WEEP_FIRST_DISTANCE", GROUP, "walls.weep_first", ("brick: unit_used", "basis"),
        Example((225, "NHBC Standards (2024); weep_from_end=500"), 450, "500 down to whole units of 225"),
    ),
    Function(
        "FRAME_DRAIN_COUNT", GROUP, "walls.frame_drains", ("length: outer_length", "basis"),
        Example((6, "Common practice in small masonry building, no document"), 5,
                "by area 6 × 500 ÷ 650 = 4.6, by spacing 6000 ÷ 1350 = 4.4: up to 5"),
        {"inner_of": "timber frame"},
        meaning_here="Open perpends below the sole plate of a timber frame: by free area and by "
        "spacing.",
    ),
)  # fmt: skip
