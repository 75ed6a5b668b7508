"""DPM sheet: how far it turns up, how it is laid, how many rolls."""

from ..takeoff.edges import TURN_UP_MOST
from .registry import Example, Function, Held

GROUP = "DPM sheet"
_TAKES = ("sheet_a", "sheet_b", "roll_width: book.width", "roll_length: book.length",
          "sheet_joints", "basis")  # fmt: skip
_RECTANGLE = {  # no strips of their own lengths, no holes
    "layouts.upstands_a": 0, "layouts.upstands_b": 0, "layouts.at": 1, "bands.zone_row": 0,
    "bands.width_no": 0, "bands.long_a": 0, "bands.long_b": 0, "bands.lap_a": 0, "bands.lap_b": 0,
}  # fmt: skip
_ONE_ROLL = {
    "book_row": 1,
    "width_no": 1,
    "shaped": 0,
    **_RECTANGLE,
}  # the roll asked of is the whole price book
_LAPPED = (4.13, 5.73, 4000, 25, "whole strips", "NHBC Standards (2024)")
_TWO_STRIPS = "2 strips along A: (5.73 − 0.3) ÷ (4 − 0.3) = 1.47, up to 2; "
_LAID = (
    Held("layouts.roll_wider_than_lap", "roll_width", "a roll wider than its lap"),
    Held("layouts.fits", "roll_length", "a roll as long as the sheet is along one side"),
)
_JOINS = Held("book.joins", "roll_length", "a roll longer than its lap")


def _laid(
    method: str, figure: str, gives: float | str, working: str, meaning: str = ""
) -> Function:
    """A figure of one sheet laid from one roll, in the direction that takes less."""
    example = Example(_LAPPED, gives, working)
    return Function(method, GROUP, figure, _TAKES, example, _ONE_ROLL, _LAID, meaning)


ROWS = (
    Function(
        "DPM_TURN_UP", GROUP, "edges.by_levels",
        ("dpc_level", "dpm_level: zones.dpm_level", "basis"),
        Example((0.15, -0.175, "Common practice in small masonry building, no document"), 425,
                "(0.150 + 0.175) × 1000 = 325, and 100 dressed on"),
        # Dressed as far as the basis says; a gas sheet, which crosses the wall, is not asked.
        {"kind": "new wall", "to_dpc": 1, "zone_row": 1, "dress": None, "wall_crossed": 0},
        (Held("turn_up_possible", "dpc_level", "a level in metres, no more than "
              f"{TURN_UP_MOST:g} mm of turn-up above the sheet"),),
        "Turn-up of the sheet at a new wall: the rise to its DPC, and the length dressed on to it.",
    ),
    Function(
        "DPM_SHEET_LENGTH", GROUP, "zones.sheet_a",
        ("side: extent_a", "turn_up_one: past_b_one", "turn_up_two: past_b_two"),
        Example((5, 425, 365), 5.79, "5 + 0.425 + 0.365"),
        {"sheet": 1, "dips_a": 0},  # no thickening crossed
        meaning_here="Sheet needed along one side: the floor, and what turns up at both ends.",
    ),
    _laid("DPM_STRIP_COUNT", "layouts.strip_count", 2,
          _TWO_STRIPS + "8.26 m of roll against 11.46 m along B",
          "Strips laid side by side in one floor, in the direction that takes less."),
    _laid("DPM_STRIP_LENGTH", "layouts.strip_length", 4.13, "2 strips along A, each as long as A"),
    _laid("DPM_STRIP_DIRECTION", "layouts.direction", "along A",
          "8.26 m of roll along A, 11.46 m along B"),
    _laid("DPM_LAID_LENGTH", "layouts.roll_metres", 8.26, _TWO_STRIPS + "2 × 4.13"),
    _laid("DPM_LAP_LENGTH", "layouts.joint", 4.13, _TWO_STRIPS + "1 lap of 4.13"),
    _laid("DPM_LAP_WIDTH", "layouts.actual_lap", 2270, "(2 × 4 − 5.73) ÷ 1 = 2.27 m"),
    _laid("DPM_LAID_AREA", "layouts.laid_area", 33.04, "8.26 m of roll, 4 m wide",
          "Sheet laid in one floor: its area, laps, turn-ups, and what is trimmed at the last strip."),
    Function(
        "DPM_ROLLS_FLOOR", GROUP, "book.sheet_rolls",
        ("floor_length: zones.extent_a", "floor_width: zones.extent_b", "turn_up: zones.past_a_one "
         "zones.past_a_two zones.past_b_one zones.past_b_two", "roll_width: width",
         "roll_length: length", "basis"),
        Example((5, 4, 150, 2000, 12.5, "NHBC Standards (2024)"), 2, "sheet 5.3 × 4.3; along B 3 strips of 4.3: "
                "(5.3 − 0.3) ÷ (2 − 0.3) = 2.94, up to 3; 12.5 ÷ 4.3, 2 from each roll"),
        # One floor with no thickenings, one roll; whole strips show their offcut by themselves.
        {"zones.sheet": 1, "layouts.shaped": 0, "zones.dips_a": 0, "zones.dips_b": 0, "sheet_joints": "whole strips",
         "layouts.sheet_a": "=zones.sheet_a", "layouts.sheet_b": "=zones.sheet_b",
         "roll_no": 1, "layouts.book_row": 1, **_RECTANGLE, "wastage": 0},
        _LAID,
        "Rolls of DPM for one rectangular floor turned up alike all round, laid in whole strips.",
        "Edges that turn up differently: DPM_SHEET_LENGTH for each side, then DPM_ROLLS.",
    ),
    Function(
        "DPM_ROLLS", GROUP, "book.sheet_rolls",
        ("sheet_a: layouts.sheet_a", "sheet_b: layouts.sheet_b", "roll_width: width",
         "roll_length: length", "sheet_joints", "wastage: wastage_listed", "basis"),
        Example((12, 7, 4000, 25, "cross joints", 10, "NHBC Standards (2024)"), 2, "2 strips × 12 = 24 m, with "
                "10 % 26.4 m; (26.4 − 0.3) ÷ (25 − 0.3) = 1.06, up to 2"),
        {"roll_no": 1, "layouts.book_row": 1, "layouts.shaped": 0, **_RECTANGLE, "material": "dpm_sheet"},
        (*_LAID, _JOINS),
        "Rolls of DPM for one floor, with laps and turn-ups. Wastage only where strips are joined "
        "across.",
        "Whole strips show their offcut by themselves. Several floors from one product: sum "
        "DPM_LAID_LENGTH over them and use DPM_ROLLS_JOINED.",
    ),
    Function(
        "DPM_ROLLS_JOINED", GROUP, "book.sheet_rolls",
        ("roll_metres: sheet_metres", "roll_length: length", "wastage", "basis"),
        Example((63, 25, 10, "NHBC Standards (2024)"), 3,
                "63 × 1.1 = 69.3; (69.3 − 0.3) ÷ (25 − 0.3) = 2.79, up to 3"),
        {"sheet_joints": "cross joints", "sheet_cut": 0},
        (_JOINS,),
        "Rolls for so many metres of one product, joined across: each change of roll costs a lap.",
    ),
    Function(
        "DPM_THICKNESS", GROUP, "book.micrometres", ("gauge",), Example((1200,), 300, "1200 ÷ 4"),
        meaning_here="Thickness of sheet of that gauge, as the trade states it.",
    ),
    Function(
        "COLLAR_TAPE_LENGTH", GROUP, "penetrations.collar_tape", ("pipes: number", "diameter"),
        Example((2, 110), 0.691150383789754, "2 × π × 0.110"),
        {"on_sheet": 1},
    ),
)  # fmt: skip
