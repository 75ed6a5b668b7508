"""The lines and words of the sheet on the floor drawn: round each strip; how many, which way, what laps."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from .frame import Words, fixed, more_than, words_table
from .strips import STRIPS_DRAWN
from .strokes import RING, numbered, stroke_table, strokes


@rule
def round_strip(of: Each, far: Flag, drawn_strip_from: Column, drawn_strip_to: Column) -> Amount:
    """A corner of a strip, from the left or from below."""
    return where(same(far, 1), beside(drawn_strip_to, of), beside(drawn_strip_from, of))


DRAWN_SHEETS = stroke_table(
    "drawn_sheets",
    "drawn_sheet",
    "Sheet on the floor drawn: round each strip",
    "Corner of a strip",
        Fixed("of", "Of strip", EACH),
        Fixed("far_x", "1 where it ends, across the drawing", FLAG),
        Fixed("far_y", "1 where it ends, down the drawing", FLAG),
        *(
            worked(round_strip, label, axis, far=OwnCell(f"far_{axis}"),
                   drawn_strip_from=WholeColumn("drawn_strips", f"from_{axis}"),
                   drawn_strip_to=WholeColumn("drawn_strips", f"to_{axis}"))
            for axis, label in (("x", "From the left"), ("y", "From below"))
        ),
)  # fmt: skip

SHEET_ROWS = strokes(
    numbered(str(n), ({"of": n, "far_x": x, "far_y": y} for x, y in RING), 0)
    for n in range(1, STRIPS_DRAWN + 1)
)


# ---- words ------------------------------------------------------------------------------------------


@rule
def strips_title(drawn_row: Each, zone_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, drawn_row),
        one_text("Sheet on floor ", beside(zone_mark, drawn_row)),
        "Sheet: no floor to draw",
    )


@rule
def strips_say(strips_layout: Each, strips_count: Each, strips_along_b: Flag) -> Text:
    """How many strips, and which way they run."""
    return where(
        less(0, strips_layout),
        one_text(
            "Strips: ",
            in_figures(strips_count),
            more_than(strips_count, STRIPS_DRAWN, "strips"),
            where(
                same(strips_along_b, 1),
                ", along B (down the drawing)",
                ", along A (across the drawing)",
            ),
        ),
        "No sheet, or none that can be laid here",
    )


@rule
def roll_says(strips_layout: Each, strips_width: Metres) -> Text:
    """How wide the roll is."""
    return where(
        less(0, strips_layout), one_text("From a roll ", in_metres(strips_width), " m wide"), " "
    )


@rule
def laps_say(
    strips_count: Each, strips_layout: Each, dpm_lap: Millimetres, drawn_holes_all: Each
) -> Text:
    """The lap, and what is in the lengths."""
    return where(
        less(0, strips_layout),
        one_text(
            where(less(1, strips_count), one_text("Laps ", in_figures(dpm_lap), " mm. "), ""),
            "Lengths with turn-ups. Trim the last strip to the floor.",
            where(less(0, drawn_holes_all), " Lay it over holes, then cut them out.", ""),
        ),
        " ",
    )


_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(strips_title)),
    ("strips", fixed(2), fixed(94.2), rule_of(strips_say)),
    ("roll", fixed(2), fixed(91.8), rule_of(roll_says)),
    ("laps", fixed(2), fixed(89.4), rule_of(laps_say)),
)
SHEET_WORDS = words_table(
    "sheet_words", "sheet_word", "Sheet on the floor drawn: its title and words", _WORDS, 8
)
TABLES = (DRAWN_SHEETS, SHEET_WORDS)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "drawn_sheets": SHEET_ROWS,
    "sheet_words": tuple({"name": name} for name, *_ in _WORDS),
}
