"""The lines of the elevation of a wall run: openings, trays with stop ends and weeps, corners, ends."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..language import *
from ..takeoff.weep_places import weep_place
from .elevation import LEFT, OPENINGS_SEEN
from .frame import SCALE_ROWS, TICK, scale_table
from .strokes import RING, TRAY, WEEP, Rows, numbered, stroke_table, strokes

WEEPS_SEEN, CORNERS_SEEN = 8, 12  # over one opening, in a run
DIM_OFF = 4  # of the frame


# ---- the run's corners -----------------------------------------------------------------------------------


@rule
def corner_found(
    elevation_floor: Each,
    above_corner_found: Amount,
    edge_position: Column,
    edge_zone_row: Column,
    edge_in_run: Column,
    edge_run_corner: Column,
) -> Amount:
    """The next side of the floor that ends at a corner of the run. NOTHING or more when none is left."""
    return where(
        less(0, elevation_floor),
        smallest_of(
            edge_position,
            same(edge_zone_row, elevation_floor),
            same(edge_in_run, 1),
            same(edge_run_corner, 1),
            less(above_corner_found, edge_position),
        ),
        NOTHING,
    )


@rule
def corner_at(corner_found: Amount, edge_run_to: Column) -> Metres:
    """How far along the run the corner is. 0 for none."""
    return where(less(corner_found, NOTHING), beside(edge_run_to, corner_found), 0)


ELEVATION_CORNERS = Table(
    "elevation_corners",
    "elevation_corner",
    "Elevation: the corners of the run drawn",
    (
        Fixed("name", "Corner", TEXT),
        worked(corner_found, "Row of its side"),
        worked(corner_at, "Along the run", "at"),
    ),
    key="name",
    guarded=False,
    since=8,
)

CORNER_ROWS = tuple({"name": f"corner {n}"} for n in range(1, CORNERS_SEEN + 1))
# ---- boxes, trays, weeps, corners ------------------------------------------------------------------


@rule
def along_x(along: Metres, elevation_begins: Amount, elevation_way: Amount) -> Amount:
    """A point along the run, from the left."""
    return elevation_begins + along * elevation_way


@rule
def box_along(of: Each, end: Flag, seen_begins: Column, seen_ends: Column) -> Metres:
    """A jamb of an opening, along the run."""
    return where(same(end, 1), beside(seen_ends, of), beside(seen_begins, of))


@rule
def box_y(
    of: Each,
    up: Flag,
    seen_sill: Column,
    seen_height: Column,
    elevation_dpc: Amount,
    elevation_scale: Amount,
) -> Amount:
    """Its sill or its head, from below."""
    return elevation_dpc + (beside(seen_sill, of) + up * beside(seen_height, of)) * elevation_scale


@rule
def tray_along(of: Each, end: Flag, seen_tray_from: Column, seen_tray_seen: Column) -> Metres:
    """An end of its tray, along the run."""
    return beside(seen_tray_from, of) + end * beside(seen_tray_seen, of)


@rule
def tray_y(
    of: Each,
    up: Amount,
    seen_head: Column,
    seen_tray_seen: Column,
    elevation_dpc: Amount,
    elevation_scale: Amount,
) -> Amount:
    """A point of its tray or of a stop end, from below. Its head where there is no tray."""
    return (
        elevation_dpc
        + beside(seen_head, of) * elevation_scale
        + where(less(0, beside(seen_tray_seen, of)), up, 0)
    )


@rule
def weep_along(
    of: Each,
    weep: Each,
    seen_tray_from: Column,
    seen_weep_end: Column,
    seen_weep_step: Column,
    seen_weep_units: Column,
    seen_weeps_seen: Column,
    seen_unit: Column,
) -> Metres:
    """A weep, along the run."""
    return (
        beside(seen_tray_from, of)
        + weep_place(
            weep,
            beside(seen_weeps_seen, of),
            beside(seen_weep_end, of),
            beside(seen_weep_units, of),
            beside(seen_weep_step, of),
            beside(seen_unit, of),
        )
        / 1000
    )


@rule
def weep_y(
    of: Each,
    weep: Each,
    up: Amount,
    seen_head: Column,
    seen_weeps_seen: Column,
    elevation_dpc: Amount,
    elevation_scale: Amount,
) -> Amount:
    """An end of its stroke, from below. One that is not there has no length."""
    return (
        elevation_dpc
        + beside(seen_head, of) * elevation_scale
        + where(at_most(weep, beside(seen_weeps_seen, of)), up, 0)
    )


@rule
def corner_y(
    of: Each,
    up: Flag,
    elevation_corner_at: Column,
    elevation_dpc: Amount,
    elevation_up: Metres,
    elevation_down: Metres,
    elevation_scale: Amount,
) -> Amount:
    """An end of the line at a corner, from below. One that is not there has no length."""
    return elevation_dpc + (
        where(
            less(0, beside(elevation_corner_at, of)),
            where(same(up, 1), elevation_up, 0 - elevation_down),
            0,
        )
        * elevation_scale
    )


@rule
def corner_along(of: Each, elevation_corner_at: Column) -> Metres:
    """A corner, along the run."""
    return beside(elevation_corner_at, of)


def _lines(
    name: str, row: str, title: str, along: Callable[..., Any], y: Callable[..., Any], *fixed: Fixed
) -> Table:
    return stroke_table(
        *(name, row, title, "Point"),
        Fixed("of", "Of number", EACH),
        *fixed,
        worked(along, "Along the run", "along"),
        worked(along_x, "From the left", "x"),
        worked(y, "From below", "y"),
    )


ELEVATION_BOXES = _lines(
    *("elevation_boxes", "elevation_box", "Elevation: round each opening", box_along, box_y),
    *(Fixed("end", "1 at its second jamb", FLAG), Fixed("up", "1 at its head", FLAG)),
)
ELEVATION_TRAYS = _lines(
    *("elevation_trays", "elevation_tray", "Elevation: trays and stop ends", tray_along, tray_y),
    *(Fixed("end", "1 at its end", FLAG), Fixed("up", "Above the head", AMOUNT)),
)
ELEVATION_WEEPS = _lines(
    *("elevation_weeps", "elevation_weep", "Elevation: weeps", weep_along, weep_y),
    *(Fixed("weep", "Weep no.", EACH), Fixed("up", "Above the head", AMOUNT)),
)
ELEVATION_TURNS = _lines(
    *("elevation_turns", "elevation_turn", "Elevation: lines at corners", corner_along, corner_y),
    Fixed("up", "1 at the top", FLAG),
)


def _each(count: int, *points: Mapping[str, Any]) -> Rows:
    """The same stroke for each number."""
    return strokes(
        numbered(str(of), ({"of": of, **point} for point in points)) for of in range(1, count + 1)
    )


BOX_ROWS = _each(OPENINGS_SEEN, *({"end": end, "up": up} for end, up in RING))
TRAY_ROWS = _each(OPENINGS_SEEN, *({"end": end, "up": up} for end, up in TRAY))
WEEP_ROWS = strokes(
    numbered(f"{of}, {weep}", ({"of": of, "weep": weep, "up": up} for up in WEEP))
    for of in range(1, OPENINGS_SEEN + 1)
    for weep in range(1, WEEPS_SEEN + 1)
)
TURN_ROWS = _each(CORNERS_SEEN, {"up": 0}, {"up": 1})


# ---- the wall: its ends and its length ---------------------------------------------------------


@rule
def wall_there(needs: Each, elevation_row: Each, elevation_ground: Millimetres) -> Flag:
    """1 where the line is there: with a run, that of the ground where its height is known."""
    return where(
        less(0, elevation_row), where(same(needs, 2), where(less(0, elevation_ground), 1, 0), 1), 0
    )


@rule
def wall_x(there: Flag, end: Flag, elevation_wide: Amount) -> Amount:
    """A point of the wall, from the left."""
    return LEFT + there * end * elevation_wide


@rule
def wall_y(
    there: Flag,
    level: Each,
    more_y: Amount,
    elevation_dpc: Amount,
    elevation_up: Metres,
    elevation_down: Metres,
    elevation_scale: Amount,
) -> Amount:
    """The same, from below."""
    return elevation_dpc + there * (
        where(same(level, 1), elevation_up, 0 - elevation_down) * elevation_scale + more_y
    )


ELEVATION_WALL = stroke_table(
    "elevation_wall",
    "elevation_point",
    "Elevation: the wall's ends and its length",
    "Point",
    Fixed("end", "1 at its right end", FLAG),
    Fixed("level", "At: 1 its top, 0 its foot", FLAG),
    Fixed("more_y", "And more up", AMOUNT),
    worked(wall_there, "There", "there", needs=1),
    worked(wall_x, "From the left", "x"),
    worked(wall_y, "From below", "y"),
)

# Each line: of each point the end, the level, and what is added.
_LENGTH = ((0, -TICK), (0, TICK), (0, 0), (1, 0), (1, -TICK), (1, TICK))
_WALL: tuple[tuple[str, tuple[tuple[float, ...], ...]], ...] = (
    ("end", ((0, 1, 0), (0, 0, 0))),
    ("end", ((1, 0, 0), (1, 1, 0))),
    ("length", tuple((end, 0, tick - DIM_OFF) for end, tick in _LENGTH)),
)
WALL_ROWS = strokes(
    ({"name": name, **dict(zip(("end", "level", "more_y"), at, strict=True))} for at in points)
    for name, points in _WALL
)


ELEVATION_SCALE = scale_table(
    *("elevation_pieces", "elevation_piece", "Elevation: the scale"),
    *("elevation_bar", "elevation_scale", 8),
)
TABLES = (
    *(ELEVATION_BOXES, ELEVATION_TRAYS, ELEVATION_WEEPS, ELEVATION_TURNS),
    *(ELEVATION_CORNERS, ELEVATION_WALL, ELEVATION_SCALE),
)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "elevation_corners": CORNER_ROWS,
    "elevation_boxes": BOX_ROWS,
    "elevation_trays": TRAY_ROWS,
    "elevation_weeps": WEEP_ROWS,
    "elevation_turns": TURN_ROWS,
    "elevation_wall": WALL_ROWS,
    "elevation_pieces": SCALE_ROWS,
}
