"""Trays: width, length, rolls, stop ends; stepped units; trays cut into existing walls; lead."""

from .dpc import JOINED, NO_PIECES, PIECES
from .registry import Example, Function, Held

GROUP = "Cavity trays"
_CUT_IN = {"counted": 1}  # a level tray in a cavity wall

ROWS = (
    Function(
        "TRAY_WIDTH", GROUP, "openings.tray_girth", ("outer_leaf", "cavity", "basis"),
        Example((102.5, 80, "project_specification_2014; tray_build_in=100"), 372.5,
                "102.5 + √(80² + 150²) + 100 = 102.5 + 170 + 100"),
        {"kind": "window", "number": 1},  # any that has a tray
        (Held("with_tray", "cavity",
              "the width of a cavity: a solid wall has no tray across one"),),
        "Width of a tray: over the outer leaf, up across the cavity, into the inner leaf.",
    ),
    Function(
        "TRAY_LENGTH", GROUP, "openings.tray_length", ("width", "lintel", "closer", "basis"),
        Example((1.2, 1.35, 100, "NHBC Standards (2024); tray_past_lintel=0"), 1.45,
                "the longer of 1.35 and 1.2 + 2 × (0.100 + 0.025)"),
        meaning_here="Length of a tray over an opening: past the lintel's ends and past the "
        "closers.",
        detail="Without a lintel (0), what bridges the cavity is taken as wide as the opening.",
    ),
    Function(
        "TRAY_STOP_END_COUNT", GROUP, "openings.stop_ends", ("trays: with_tray",),
        Example((5,), 10, "2 × 5"),
    ),
    Function(
        "TRAY_ROLLS", GROUP, "book.packs_needed",
        ("net", "laps", "roll_length: content", "wastage", "basis"),
        Example((22, 0.4, 8, 5, "project_specification_2014"), 3,
                "(22 + 0.4) × 1.05 = 23.52; (23.52 − 0.1) ÷ (8 − 0.1) = 2.96, up to 3"),
        {**NO_PIECES, "material": "tray_roll", "dpc_lap": 0}, JOINED,
        "Rolls of tray joined roll to roll: net, laps, wastage, and a lap at each change of roll.",
    ),
    Function(
        "TRAY_ROLLS_ONE_PIECE", GROUP, "demands.rolls",
        ("trays: openings.with_tray", "tray_length: openings.tray_length",
         "roll_length: book.length"),
        Example((5, 4.2, 8), 5, "1 piece of 4.2 from each roll of 8"),
        {**PIECES, "book.piece": "=longest", "openings.lintel_tray": "no", "longest": "=openings.tray_length",
         "in_pieces": "=openings.trays"},
        (Held("book.piece_from_roll", "roll_length", "no shorter than the tray"),),
        "Rolls for trays all alike, each cut in one piece.",
    ),
    Function(
        "THRESHOLD_TRAY_LENGTH", GROUP, "openings.threshold_each", ("width", "basis"),
        Example((2.4, "Common practice in small masonry building, no document"), 2.85, "2.4 + 2 × 0.15, turned up 0.075 at both ends"),
        meaning_here="Length of the tray under a level threshold, turned up at both ends.",
    ),
    Function(
        "THRESHOLD_TRAY_WIDTH", GROUP, "openings.threshold_girth",
        ("outer_leaf", "cavity", "basis"),
        Example((102.5, 100, "Common practice in small masonry building, no document"), 277.5, "102.5 + 100 + 75"),
    ),
    Function(
        "STEPPED_UNIT_COUNT", GROUP, "abutments.units_each",
        ("slope_run: length", "pitch", "course: course_height"),
        Example((3.6, 30, 75), 28, "3600 × tan 30° ÷ 75 = 27.7, up to 28"),
        {"slopes": 1},
    ),
    Function(
        "STEPPED_UNIT_SPACING", GROUP, "abutments.step", ("pitch", "course: course_height"),
        Example((45, 75), 75, "75 ÷ tan 45°"),
        {"slopes": 1},
    ),
    Function(
        "STEPPED_INTERMEDIATE_COUNT", GROUP, "abutments.intermediates",
        ("roofs: number", "slopes", "slope_run: length", "pitch", "course: course_height"),
        Example((1, 2, 3.6, 30, 75), 54, "2 slopes of 28 units, less the catchment unit of each"),
        meaning_here="Intermediate units: all but the catchment unit at the foot of each slope.",
    ),
    Function(
        "STEPPED_CATCHMENT_COUNT", GROUP, "abutments.catchments", ("roofs: number", "slopes"),
        Example((3, 2), 6, "3 × 2"),
    ),
    Function(
        "STEPPED_RIDGE_COUNT", GROUP, "abutments.ridges", ("roofs: number", "slopes"),
        Example((3, 2), 3, "one where two slopes meet"),
    ),
    Function(
        "STEPPED_STOP_END_COUNT", GROUP, "abutments.stop_ends", ("roofs: number", "slopes"),
        Example((3, 2), 12, "3 × 2 catchment units, two ends each"),
        {"level": 0, "branch_ends": 0},  # a level tray has a function of its own
        meaning_here="Stop ends of stepped trays: two to each catchment unit.",
    ),
    Function(
        "CUT_IN_UNIT_COUNT", GROUP, "cut_ins.units",
        ("cut_ins: number", "roof_width: reach length", "brick: brick_unit",
         "tray_unit: unit_length", "unit_lap"),
        Example((1, 3.6, 225, 0.9, 0), 4, "16 bricks = 3.6 m; 3.6 ÷ 0.9"),
        # Above a roof there is no lintel, jamb or closer; its weeps are not asked here.
        {**_CUT_IN, "corners": 0, "wall_agrees": 1, "over_opening": 0, "lintel": 0, "jamb_dpc": 0,
         "with_closers": 0, "height_used": 0, "weep_spacing": "=brick_unit"},
        (Held("cut_in_agrees", "unit_lap", "less than the length of the unit"),),
        "Units of a level tray cut into an existing cavity wall, over whole bricks.",
    ),
    Function(
        "CUT_IN_BRICK_COUNT", GROUP, "cut_ins.bricks_out",
        ("cut_ins: number", "roof_width: reach", "brick: brick_unit", "courses"),
        Example((1, 3.6, 225, 2), 32, "16 bricks in each of 2 courses"),
        _CUT_IN,
    ),
    Function(
        "CUT_IN_BAY_COUNT", GROUP, "cut_ins.bays",
        ("roof_width: reach", "brick: brick_unit", "longest_bay: bay_most"),
        Example((3.6, 225, 1), 4, "3.6 m in whole bricks; 3.6 ÷ 1, up to 4"),
        {**_CUT_IN, "turned": 0},
        meaning_here="Bays in which one wall is opened up, none longer than the designer of its "
        "support allows.",
    ),
    Function(
        "LEAD_PIECE_COUNT", GROUP, "abutments.pieces_of_lead", ("length: flashing_length", "basis"),
        Example((4, "Common practice in small masonry building, no document"), 3, "(4000 − 100) ÷ (1500 − 100) = 2.8, up to 3"),
        meaning_here="Pieces of lead in one run of flashing, laid by others: each after the first "
        "gives up a lap.",
    ),
)  # fmt: skip
