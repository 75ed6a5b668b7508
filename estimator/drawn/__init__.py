"""Drawings, worked out point by point in a frame of 0 to 100 both ways. Who draws the points: pens, charts.

Each module says the lists, rows and named cells of one drawing or of a part of it; here they are
together, by the sheet that shows them.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import Input, Item, Table
from . import (
    costs,
    cut_in_bays,
    cut_in_words,
    cuts,
    elevation,
    elevation_dpc,
    elevation_lines,
    elevation_words,
    holes,
    openings,
    roof,
    roof_words,
    section,
    section_layers,
    section_wall,
    section_words,
    side_lines,
    side_words,
    sides,
    strip_lines,
    strips,
    unplaced,
)

Rows = Mapping[str, Sequence[Mapping[str, Any]]]

# The named cells that say what is drawn.
CHOSEN: tuple[Input, ...] = (
    sides.CHOSEN,
    elevation.CHOSEN,
    roof.CHOSEN,
    cut_in_bays.CHOSEN,
    cuts.CHOSEN,
)

_FLOORS: Rows = {
    "drawn_sides": sides.SIDE_ROWS,
    "drawn_lines": side_lines.LINE_ROWS,
    "drawn_openings": openings.OPENING_ROWS,
    "drawn_boxes": openings.BOX_ROWS,
    "drawn_holes": holes.HOLE_ROWS,
    "drawn_crosses": holes.CROSS_ROWS,
    "plan_unplaced": unplaced.UNPLACED_ROWS,
    "drawn_measures": side_words.MEASURE_ROWS,
    "drawn_words": side_words.WORD_ROWS,
    "drawn_key": side_words.KEY_ROWS,
    "drawn_layers": section_layers.LAYER_ROWS,
    "drawn_feet": section_layers.FOOT_ROWS,
    "drawn_wall": section_wall.WALL_ROWS,
    "drawn_pieces": section_wall.PIECE_ROWS,
    "drawn_labels": section_words.LABEL_ROWS,
    **strips.ROWS,
    **strip_lines.ROWS,
}
ON: Mapping[str, Rows] = {
    "Floors": _FLOORS,
    "Walls": {
        **elevation.ROWS,
        **elevation_lines.ROWS,
        **elevation_dpc.ROWS,
        "elevation_unplaced": unplaced.UNPLACED_ROWS,
        **elevation_words.ROWS,
    },
    "House": {**roof.ROWS, **roof_words.ROWS, **cut_in_bays.ROWS, **cut_in_words.ROWS},
    "Prices": costs.ROWS,
    "Quantities": cuts.ROWS,
}
"""The rows of each list, by the sheet behind which it is worked out."""
ROWS: Rows = {name: rows for lists in ON.values() for name, rows in lists.items()}

TABLES: tuple[Table, ...] = (
    *(sides.DRAWN_SIDES, side_lines.DRAWN_LINES, openings.DRAWN_OPENINGS, openings.DRAWN_BOXES),
    *(holes.DRAWN_HOLES, holes.DRAWN_CROSSES),
    unplaced.PLAN_UNPLACED,
    *(side_words.DRAWN_MEASURES, side_words.DRAWN_WORDS, side_words.DRAWN_KEY),
    *(section_layers.DRAWN_LAYERS, section_layers.DRAWN_FEET),
    *(section_wall.DRAWN_WALL, section_wall.DRAWN_PIECES, section_words.DRAWN_LABELS),
    *strips.TABLES,
    *strip_lines.TABLES,
    *elevation.TABLES,
    *elevation_lines.TABLES,
    *elevation_dpc.TABLES,
    unplaced.ELEVATION_UNPLACED,
    *elevation_words.TABLES,
    *roof.TABLES,
    *roof_words.TABLES,
    *cut_in_bays.TABLES,
    *cut_in_words.TABLES,
    *cuts.TABLES,
    *costs.TABLES,
)
CELLS: tuple[Item, ...] = (
    *sides.FLOOR_CELLS,
    *openings.OPENING_CELLS,
    *holes.HOLE_CELLS,
    *unplaced.PLAN_CELLS,
    *side_words.WORD_CELLS,
    *section.SECTION_CELLS,
    *section_wall.WALL_CELLS,
    *section_words.WORD_CELLS,
    *strips.STRIP_CELLS,
    *elevation.ELEVATION_CELLS,
    *unplaced.ELEVATION_CELLS,
    *elevation_words.WORD_CELLS,
    *roof.ROOF_CELLS,
    *roof_words.WORD_CELLS,
    *cut_in_bays.BAY_CELLS,
    *cut_in_words.WORD_CELLS,
    *cuts.BAR_CELLS,
    *costs.CELLS,
)
