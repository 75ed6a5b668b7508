"""DPC: lengths of leaves, laps, rolls, jambs and sills; a run moved sideways."""

from .registry import Example, Function, Held

GROUP = "DPC and wall runs"
_LONG_ENOUGH = "a run longer than its corners take from it"
_CORNERS = ("external_corners: external_in_use", "internal_corners: internal_in_use")
_RUN = ("length: run_length", "measured_on: line_in_use", "outer_leaf", "cavity", "inner_leaf",
        *_CORNERS)  # fmt: skip
_RIGHT_ANGLED = {"splays": 0}
_AGREES = {**_RIGHT_ANGLED, "run_agrees": 1, "ends_agree": 1, "run_misfit": 0, "steps_agree": 1,
           "step_fault": 0, "cavity_agrees": 1}  # fmt: skip
_LEAVES = (  # the first says it of the leaves alone, whatever the lengths come to
    Held("wall_agrees", "inner_leaf",
         "an inner leaf behind a cavity, 0 in a solid wall, whose cavity is 0 too",
         fixed={"outer_length": 1, "inner_length": 1}),
    Held("wall_agrees", "length", _LONG_ENOUGH),
)  # fmt: skip
NO_PIECES = {  # a known supplier's roll, joined end to end: nothing is cut whole
    "slot": 1, "sheet_fails": 0, "sheet_unlaid": 0, "pieces_metres": 0,
              "pieces_cut": 0, "sheet_taken": 0}  # fmt: skip
JOINED = (
    Held("laps_of_something", "net", "more than 0 where there are laps"),
    Held("usable", "roll_length", "a roll longer than its lap"),
)
_DPC_ROLL = {**NO_PIECES, "material": "dpc_roll", "tray_lap": 0}
PIECES = {"demands.pick": 1}  # the roll asked of is the one chosen

ROWS = (
    Function(
        "RUN_LENGTH_MOVED", GROUP, "walls.moved",
        ("length", "inwards", *_CORNERS),
        Example((20, 51.25, 4, 0), 19.59, "20 − 2 × 0.05125 × 4"),
        _RIGHT_ANGLED,
        held=(Held("moved_agrees", "length", _LONG_ENOUGH),),
        meaning_here="Length of a run moved sideways: each external corner takes 2 × the shift, an "
        "internal adds it.",
    ),
    Function(
        "DPC_OUTER_LENGTH", GROUP, "walls.outer_length", _RUN,
        Example((11, "outside face", 102.5, 100, 100, 2, 0), 10.795, "11 − 2 × (0.1025 ÷ 2) × 2"),
        _AGREES, _LEAVES,
        "DPC in the outer leaf, net: the run's length on that leaf's centre line.",
    ),
    Function(
        "DPC_INNER_LENGTH", GROUP, "walls.inner_length", _RUN,
        Example((11, "outside face", 102.5, 100, 100, 2, 0), 9.99,
                "11 − 2 × (0.3025 − 0.1 ÷ 2) × 2"),
        _AGREES, _LEAVES,
        "DPC in the inner leaf, net: the run's length on that leaf's centre line. 0 in a solid "
        "wall.",
    ),
    Function(
        "DPC_END_AND_STEP_LENGTH", GROUP, "walls.outer_added",
        ("ends_at_existing: old_ends_in_use", "steps", "step_rise", "basis"),
        Example((2, 1, 150, "NHBC Standards (2024)"), 0.55, "2 × 0.1 at ends; one step of 0.15 + 2 × 0.1"),
        {"step_by": "laps"},  # preformed units add none
        (Held("steps_agree", "step_rise", "a rise where there are steps, 0 where none"),),
        "Laps on to the DPC of existing walls, and what lapped steps add, in one leaf.",
    ),
    Function(
        "DPC_CORNER_LAP_LENGTH", GROUP, "needs.corner_laps", ("corners", "dpc_width: book.width"),
        Example((4, 112.5), 0.45, "4 × 0.1125"),
        {"demands.untrimmed": 1, "demand": 1},
        meaning_here="Laps at corners and T-junctions, each as wide as the DPC.",
    ),
    Function(
        "DPC_WIDTH_MOST", GROUP, "walls.outer_limit", ("leaf: outer_leaf", "basis"),
        Example((102.5, "Common practice in small masonry building, no document"), 112.5, "102.5 + 10"),
        meaning_here="Widest DPC that lies on a leaf untrimmed. The narrowest is the leaf itself.",
    ),
    Function(
        "DPC_ROLLS", GROUP, "book.packs_needed",
        ("net", "laps", "roll_length: content", "wastage", "basis"),
        Example((61, 1, 30, 5, "NHBC Standards (2024)"), 3,
                "(61 + 1) × 1.05 = 65.1; (65.1 − 0.1) ÷ (30 − 0.1) = 2.17, up to 3"),
        _DPC_ROLL, JOINED,
        "Rolls of DPC of one width: net, laps and wastage, and a lap at each change of roll.",
    ),
    Function(
        "DPC_LAID_LENGTH", GROUP, "book.laid_needed", ("net", "laps", "roll_length: content", "basis"),
        Example((61, 1, 30, "NHBC Standards (2024)"), 62.2, "61 + 1, and 2 laps of 0.1 between 3 rolls"),
        {**_DPC_ROLL, "wastage": 0, "sheet_laid": 0}, JOINED,
        "DPC laid: net, laps, and those between rolls. No wastage.",
    ),
    Function(
        "DPC_JAMB_LENGTH", GROUP, "openings.jambs", ("openings: with_jambs", "height"),
        Example((3, 1.35), 8.1, "2 × 3 × 1.35"),
    ),
    Function(
        "DPC_JAMB_LAP_LENGTH", GROUP, "openings.jamb_laps", ("openings: with_jambs", "basis"),
        Example((3, "NHBC Standards (2024)"), 1.2, "4 × 3 × 0.1"),
    ),
    Function(
        "CLOSER_COUNT", GROUP, "demands.rolls",
        ("openings: openings.with_closers", "height: openings.height", "stock_length: book.length"),
        Example((3, 1.35, 3), 3, "6 pieces of 1.35, 2 from each length of 3"),
        {**PIECES, "book.piece": "=longest", "longest": "=openings.closer_each", "in_pieces": "=openings.closers"},
        (Held("book.piece_from_roll", "stock_length", "no shorter than the jamb"),),
        "Stock lengths of cavity closer for the jambs, each piece cut whole.",
    ),
    Function(
        "DPC_SILL_LENGTH", GROUP, "openings.sills", ("openings: with_sill", "width"),
        Example((3, 1.2), 3.6, "3 × 1.2"),
    ),
    Function(
        "DPC_SILL_TURN_UP_LENGTH", GROUP, "openings.sill_ends", ("openings: with_sill", "basis"),
        Example((3, "Common practice in small masonry building, no document"), 0.45, "2 × 3 × 0.075"),
    ),
    Function(
        "DPC_SILL_WIDTH", GROUP, "openings.sill_girth", ("outer_leaf", "basis"),
        Example((102.5, "Common practice in small masonry building, no document"), 177.5, "102.5 + 75"),
    ),
)  # fmt: skip
