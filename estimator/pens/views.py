"""What is drawn: which columns of which lists are its lines and its words."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from ..drawn import (
    costs,
    cut_in_bays,
    cuts,
    elevation,
    elevation_dpc,
    elevation_lines,
    roof,
    section_wall,
    side_words,
    sides,
)
from ..drawn.side_lines import LINES
from ..drawn.side_words import FOR_CLIENT, KEY
from ..drawn.strokes import named
from ..language.ledger import Ledger, is_available
from .styles import DASHED, DOTTED, DOTTED_FINE, FINE, HEAVY, LONG, MEDIUM, OLD, SHEET, SOLID, Style

FRAME = 100  # both ways: the lists say where in it each point is
Point = tuple[float, float]


@dataclass(frozen=True)
class Lines:
    """Two columns of a list, from the left and from below; an empty row breaks the line."""

    name: str
    style: Style
    table: str
    x: str
    y: str
    rows: tuple[int, int] | None = None  # the first and the last, where not all

    def points(self, ledger: Ledger) -> list[Point | None]:
        """Its points in the frame, None where it is broken or a figure is not available."""
        table = ledger.plan.tables[self.table]
        keys, xs, ys = (ledger.column(self.table, c) for c in (table.key, self.x, self.y))
        first, last = self.rows or (1, len(keys))
        found = zip(keys[first - 1 : last], xs[first - 1 : last], ys[first - 1 : last], strict=True)
        return [
            (x, y) if key != "" and is_available(x) and is_available(y) else None
            for key, x, y in found
        ]

    def strokes(self, ledger: Ledger) -> Iterator[list[Point]]:
        """Its lines, without those that have no length, and no point twice running."""
        stroke: list[Point] = []
        for point in (*self.points(ledger), None):
            if point is not None:
                stroke.append(point)
                continue
            if len(set(stroke)) > 1:
                yield [point for point, _ in groupby(stroke)]
            stroke = []


@dataclass(frozen=True)
class Words:
    """Three columns of a list: where each of its texts is, and what it says."""

    table: str
    x: str
    y: str
    says: str
    rows: tuple[int, int] | None = None
    ahead: bool = False  # the text begins at the point; else it is its middle
    size: float = 9  # points, where the frame is SIDE pixels wide
    bold: bool = False

    def each(self, ledger: Ledger) -> Iterator[tuple[int, Point, Any]]:
        """Its rows, counted from 1, their points and texts; without those that are not available."""
        xs, ys, says = (ledger.column(self.table, c) for c in (self.x, self.y, self.says))
        first, last = self.rows or (1, len(says))
        for row in range(first, last + 1):
            word = xs[row - 1], ys[row - 1], says[row - 1]
            if all(map(is_available, word)):
                yield row, word[:2], word[2]


SIDE = 640  # pixels, of a drawing on its sheet
UNITS_TO_POINT = 96 / 72 / (SIDE * 0.98) * FRAME  # hundredths of the frame to a point


@dataclass(frozen=True)
class View:
    """One drawing."""

    name: str
    title: str
    told: str  # what it shows, for who cannot see it
    lines: tuple[Lines, ...]
    words: tuple[Words, ...]
    scale: str  # the named cell that says how much of the frame a metre takes, or a millimetre
    millimetres: int  # in what that cell counts
    of: str = "zones"  # the list of which one row is drawn
    chosen: str = sides.CHOSEN.name  # the named cell that says which
    worth: str = "drawn_row"  # the named cell that is 0 where there is nothing to see

    def unit(self, ledger: Ledger) -> float:
        """Millimetres as built to a hundredth of the frame; 1 where nothing is drawn."""
        scale = float(ledger.cell(self.scale))
        return self.millimetres / scale if scale else 1.0


_STYLES = (HEAVY, OLD, MEDIUM, LONG, DOTTED)
_KEY_STYLES = (*_STYLES, DASHED, FINE, FINE)

_DIMENSIONS, _SCALE, _LENGTHS = (
    Words("drawn_words", "x", "y", "says", (5, 6)),
    Words("drawn_words", "x", "y", "says", (7, 7), ahead=True, size=8),
    Words("drawn_sides", "label_x", "label_y", "label", size=8),
)
_TITLE = Words("drawn_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True)


def _fixed_words(first: int, last: int) -> Words:
    return Words("drawn_key", "x", "y", "name", (first, last), ahead=True, size=8)


PLAN = View(
    "plan",
    "Plan of the floor",
    "A floor, to scale: its sides by what they meet, with their lengths, their refs and those of "
    "their wall runs; where the sheet turns up; the openings that have a place; holes; dimensions over all, and a scale.",
    (
        *(
            Lines(name, style, "drawn_lines", f"x_{n}", f"y_{n}")
            for n, (name, style) in enumerate(zip(LINES, _STYLES, strict=True), 1)
        ),
        Lines("sheet turned up", DASHED, "drawn_lines", "turn_x", "turn_y"),
        Lines("openings", FINE, "drawn_boxes", "x", "y"),
        Lines("holes", FINE, "drawn_crosses", "x", "y"),
        Lines(
            "dimensions",
            FINE,
            "drawn_measures",
            "x",
            "y",
            named(side_words.MEASURE_ROWS, "along A", "along B"),
        ),
        Lines("scale", MEDIUM, "drawn_measures", "x", "y", named(side_words.MEASURE_ROWS, "scale")),
        *(
            Lines(
                f"key: {name}",
                style,
                "drawn_measures",
                "x",
                "y",
                named(side_words.MEASURE_ROWS, name),
            )
            for name, style in zip(KEY, _KEY_STYLES, strict=True)
        ),
    ),
    (
        _TITLE,
        Words("drawn_words", "x", "y", "says", (2, 4), ahead=True, size=8),
        _DIMENSIONS,
        _SCALE,
        _LENGTHS,
        Words("drawn_sides", "label_x", "mark_y", "marked", size=8),
        Words("drawn_openings", "label_x", "label_y", "label", size=8),
        _fixed_words(1, len(KEY) + 1),
    ),
    "drawn_scale",
    1000,
)
# The same for a client, who knows neither the refs of sides, runs and openings nor what a run is.
PLAN_FOR_CLIENT = replace(
    PLAN,
    told="A floor, to scale: its sides by what they meet, with their lengths; where the sheet turns "
    "up; openings; holes; dimensions over all, and a scale.",
    words=(
        *(_TITLE, _DIMENSIONS, _SCALE, _LENGTHS, _fixed_words(1, len(KEY))),
        _fixed_words(len(KEY) + 2, len(KEY) + 1 + len(FOR_CLIENT)),
    ),
)

SECTION = View(
    "section",
    "Section of the floor at its wall",
    "A floor where it meets a new wall, to scale: its layers from the finished "
    "floor to the formation with their depths, the damp-proof membrane with its turn-up, both "
    "leaves with their DPC, the ground outside, the heights in figures, and a scale.",
    (
        Lines("leaves", MEDIUM, "drawn_wall", "x", "y", named(section_wall.WALL_ROWS, "leaf")),
        Lines(
            "finished floor", MEDIUM, "drawn_wall", "x", "y", named(section_wall.WALL_ROWS, "floor")
        ),
        Lines("ground", LONG, "drawn_wall", "x", "y", named(section_wall.WALL_ROWS, "ground")),
        Lines("layers", FINE, "drawn_feet", "x", "y"),
        Lines("to labels", DOTTED_FINE, "drawn_feet", "leader_x", "leader_y"),
        Lines("DPC", HEAVY, "drawn_wall", "x", "y", named(section_wall.WALL_ROWS, "DPC")),
        Lines("sheet", SHEET, "drawn_wall", "x", "y", named(section_wall.WALL_ROWS, "sheet")),
        Lines("scale", MEDIUM, "drawn_pieces", "x", "y"),
    ),
    (
        Words("drawn_labels", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("drawn_labels", "x", "y", "says", (2, 4), ahead=True, size=8),
        Words("drawn_labels", "x", "y", "says", (5, 9), size=8),
        Words("drawn_labels", "x", "y", "says", (10, 13), ahead=True, size=8),
        Words("drawn_layers", "label_x", "label_y", "label", ahead=True, size=8),
    ),
    "section_scale",
    1,
)

STRIPS = View(
    "sheet",
    "Sheet on the floor",
    "The strips of the damp-proof membrane over a floor, to scale: each where it lies, with its "
    "number and length. Where two overlap is a lap.",
    (
        *(Lines(name, FINE, "drawn_lines", f"x_{n}", f"y_{n}") for n, name in enumerate(LINES, 1)),
        Lines("strips", MEDIUM, "drawn_sheets", "x", "y"),
        Lines("holes", FINE, "drawn_crosses", "x", "y"),
        Lines("scale", MEDIUM, "drawn_measures", "x", "y", named(side_words.MEASURE_ROWS, "scale")),
    ),
    (
        Words("sheet_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("sheet_words", "x", "y", "says", (2, 4), ahead=True, size=8),
        Words("drawn_words", "x", "y", "says", (7, 7), ahead=True, size=8),
        Words("drawn_strips", "middle_x", "middle_y", "mark"),
        Words("drawn_strips", "list_x", "list_y", "says", ahead=True, size=8),
    ),
    "drawn_scale",
    1000,
    worth="strips_layout",
)

ELEVATION = View(
    "elevation",
    "Elevation of wall",
    "A wall run, unrolled and to scale: its openings that have a place, the tray over each with "
    "its stop ends and weeps, the DPC with its steps, the ground outside, corners, its length, and a "
    "scale.",
    (
        Lines("ends", MEDIUM, "elevation_wall", "x", "y", named(elevation_lines.WALL_ROWS, "end")),
        Lines(
            "DPC", HEAVY, "elevation_stepped", "x", "y", named(elevation_dpc.STEPPED_ROWS, "DPC")
        ),
        Lines(
            "ground",
            LONG,
            "elevation_stepped",
            "x",
            "y",
            named(elevation_dpc.STEPPED_ROWS, "ground"),
        ),
        Lines(
            "length", FINE, "elevation_wall", "x", "y", named(elevation_lines.WALL_ROWS, "length")
        ),
        Lines("corners", DOTTED_FINE, "elevation_turns", "x", "y"),
        Lines("openings", FINE, "elevation_boxes", "x", "y"),
        Lines("trays and stop ends", SOLID, "elevation_trays", "x", "y"),
        Lines("weeps", FINE, "elevation_weeps", "x", "y"),
        Lines("scale", MEDIUM, "elevation_pieces", "x", "y"),
    ),
    (
        Words("elevation_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("elevation_words", "x", "y", "says", (2, 4), ahead=True, size=8),
        Words("elevation_words", "x", "y", "says", (5, 5)),
        Words("elevation_words", "x", "y", "says", (6, 11), ahead=True, size=8),
        Words("elevation_openings", "middle_x", "middle_y", "label", size=8),
        Words("elevation_openings", "list_x", "list_y", "says", ahead=True, size=8),
    ),
    "elevation_scale",
    1000,
    "walls",
    elevation.CHOSEN.name,
    "elevation_worth",
)

CUTTING = View(
    "cutting",
    "Cutting of product",
    "The rolls of a product that is cut in whole pieces, to scale: each roll a bar, the pieces cut "
    "from it from the left with their lengths, and what is left of it.",
    (
        Lines("rolls", MEDIUM, "bars", "x", "y"),
        Lines("cuts", FINE, "knives", "x", "y"),
    ),
    (
        Words("cut_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("cut_words", "x", "y", "says", (2, 4 + cuts.ROLLS_DRAWN), ahead=True, size=8),
        *(
            Words("drawn_cuts", f"x_{roll}", f"y_{roll}", f"says_{roll}", size=8)
            for roll in cuts.ROLLS
        ),
    ),
    "bars_scale",
    1000,
    "cuts",
    cuts.CHOSEN.name,
    "bars_product",
)

ROOF = View(
    "roof",
    "Roof against the wall",
    "A roof where it meets a new wall, to scale: its slope with the stepped tray units, one for each "
    "course, or a level tray with its stop ends and weeps, and a scale.",
    (
        Lines("roof", FINE, "roof_lines", "x", "y", named(roof.LINE_ROWS, "roof")),
        Lines("level tray", SOLID, "roof_lines", "x", "y", named(roof.LINE_ROWS, "tray")),
        Lines("units", SOLID, "roof_stairs", "x", "y"),
        Lines("units of the second slope", SOLID, "roof_stairs", "other_x", "other_y"),
        Lines("weeps", FINE, "roof_weep_lines", "x", "y"),
        Lines("scale", MEDIUM, "roof_pieces", "x", "y"),
    ),
    (
        Words("roof_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("roof_words", "x", "y", "says", (2, 5), ahead=True, size=8),
    ),
    "roof_scale",
    1000,
    "abutments",
    roof.CHOSEN.name,
    "roof_row",
)

CUT_IN = View(
    "cut in",
    "Tray cut into the old wall",
    "A level tray cut into an existing wall, to scale: the bays in which the wall is opened, those of "
    "the first pass struck through, those of the second dashed, each with its number. Below them the "
    "tray with its stop ends and weeps, its length, and a scale.",
    (
        Lines(
            "bays of the first pass",
            MEDIUM,
            "bay_lines",
            "x",
            "y",
            named(cut_in_bays.BAY_ROWS, "first pass"),
        ),
        Lines(
            "bays of the second pass",
            DASHED,
            "bay_lines",
            "x",
            "y",
            named(cut_in_bays.BAY_ROWS, "second pass"),
        ),
        Lines(
            "tray and stop ends", SOLID, "bay_tray", "x", "y", named(cut_in_bays.TRAY_ROWS, "tray")
        ),
        Lines("length", FINE, "bay_tray", "x", "y", named(cut_in_bays.TRAY_ROWS, "length")),
        Lines("weeps", FINE, "bay_weeps", "x", "y"),
        Lines("scale", MEDIUM, "bay_pieces", "x", "y"),
    ),
    (
        Words("bay_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("bay_words", "x", "y", "says", (2, 7), ahead=True, size=8),
        Words("bay_words", "x", "y", "says", (8, 8)),
        Words("bay_words", "x", "y", "says", (9, 9), ahead=True, size=8),
        Words("bay_numbers", "x", "y", "says", size=8),
    ),
    "bays_scale",
    1000,
    "cut_ins",
    cut_in_bays.CHOSEN.name,
    "bays_all",
)

COSTS = View(
    "costs",
    "What it would cost",
    "Bars to one scale, goods and delivery: everything from each supplier, each material where it "
    "is cheapest, and the job as it is now.",
    (
        Lines("goods", MEDIUM, "cost_boxes", "x", "y", costs.rows_of(delivery=False)),
        Lines("delivery", FINE, "cost_boxes", "x", "y", costs.rows_of(delivery=True)),
    ),
    (
        Words("cost_words", "x", "y", "says", (1, 1), ahead=True, size=11, bold=True),
        Words("cost_words", "x", "y", "says", (2, 3), ahead=True, size=8),
        Words("cost_bars", "name_x", "name_y", "name", ahead=True, size=8),
        Words("cost_bars", "value_x", "value_y", "says", ahead=True, size=8),
    ),
    "costs_scale",
    1,
)
