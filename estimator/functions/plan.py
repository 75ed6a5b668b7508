"""The plan as functions read it: the workbook's own lists and cells, and what only functions ask.

The lists are those of the workbook, as they are before the form offers anything to them. It is
apart from the whole plan because it travels into spreadsheet programs, which have the standard
library alone; a test holds the two to the same rules.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from ..buying.book import BOOK
from ..buying.demands import DEMANDS
from ..buying.materials import MATERIAL_ROWS, MATERIALS
from ..buying.needs import NEEDS
from ..language import Fixed, Item, Plan, at_most, either, less, rule, same, where, worked
from ..language.units import AMOUNT, METRES, MILLIMETRES, Amount, Each, Flag, Metres, Millimetres
from ..pricing import quote, vat
from ..takeoff import methods, sheet_gauge
from ..takeoff.abutments import ABUTMENTS
from ..takeoff.bands import BANDS
from ..takeoff.build_ups import FLOOR_KIND_ROWS, FLOOR_KINDS
from ..takeoff.cut_ins import CUT_INS
from ..takeoff.edge_kinds import EDGE_KIND_ROWS, EDGE_KINDS
from ..takeoff.edges import EDGES, TURN_UP_MOST
from ..takeoff.floors import ZONES
from ..takeoff.layouts import LAYOUTS
from ..takeoff.openings import OPENING_KIND_ROWS, OPENING_KINDS, OPENINGS, weep_room
from ..takeoff.penetrations import PENETRATIONS
from ..takeoff.walls import MEASURING_LINE_ROWS, MEASURING_LINES, WALLS, moved
from .guidance import keys as known_keys


@rule
def laps_of_something(net: Amount, laps: Amount) -> Flag:
    """1 unless there are laps and nothing that is lapped."""
    return where(either(less(0, net), same(laps, 0)), 1, 0)


@rule
def joins(whole_strips: Flag, length: Metres, dpm_lap: Millimetres) -> Flag:
    """1 unless strips are joined across and the roll is no longer than its lap."""
    return where(either(same(whole_strips, 1), less(dpm_lap / 1000, length)), 1, 0)


@rule
def roll_wider_than_lap(roll_width: Metres, dpm_lap: Millimetres) -> Flag:
    """1 where strips of the roll can lap at all."""
    return where(less(dpm_lap, roll_width * 1000), 1, 0)


@rule
def turn_up_possible(by_levels: Millimetres) -> Flag:
    """1 unless the turn-up is so long that a level was mistyped."""
    return where(at_most(by_levels, TURN_UP_MOST), 1, 0)


@rule
def moved_agrees(moved: Metres) -> Flag:
    """1 where corners leave something of a run that is moved."""
    return where(less(0, moved), 1, 0)


@rule
def bricks_in_spacing(unit_used: Millimetres, weep_spacing: Millimetres) -> Flag:
    """1 unless a brick is longer than weeps may be apart."""
    return where(at_most(unit_used, weep_spacing), 1, 0)


@rule
def weeps_have_room(weeps_asked: Each, tray_length: Metres, unit: Millimetres) -> Flag:
    """1 where a tray is long enough for the weeps that are asked for."""
    return where(at_most(weeps_asked, weep_room(tray_length, unit)), 1, 0)


@rule
def piece_from_roll(piece: Metres, length: Metres) -> Flag:
    """1 where a piece comes whole from one roll."""
    return where(at_most(piece, length), 1, 0)


# What the workbook's lists do not have.
_MORE: Mapping[str, tuple[Item, ...]] = {
    "book": (
        worked(laps_of_something),
        worked(joins),
        Fixed("piece", "Of one piece", METRES),
        worked(piece_from_roll),
        Fixed("gauge", "Gauge", AMOUNT),
        worked(sheet_gauge.micrometres),
    ),
    "edges": (worked(turn_up_possible),),
    "layouts": (worked(roll_wider_than_lap),),
    "openings": (worked(weeps_have_room),),
    "walls": (
        Fixed("inwards", "Moved inwards", MILLIMETRES),
        worked(moved),
        worked(moved_agrees),
        worked(bricks_in_spacing),
    ),
}
_LISTS = (FLOOR_KINDS, EDGE_KINDS, MEASURING_LINES, OPENING_KINDS, MATERIALS, vat.VAT_STATUSES, ZONES, EDGES,
          WALLS, OPENINGS, PENETRATIONS, ABUTMENTS, CUT_INS, BOOK, BANDS, LAYOUTS, NEEDS, DEMANDS)  # fmt: skip
ROWS: Mapping[str, Sequence[Mapping[str, Any]]] = {
    "floor_kinds": FLOOR_KIND_ROWS,
    "edge_kinds": EDGE_KIND_ROWS,
    "measuring_lines": MEASURING_LINE_ROWS,
    "opening_kinds": OPENING_KIND_ROWS,
    "materials": MATERIAL_ROWS,
    "vat_statuses": vat.VAT_STATUS_ROWS,
}


@cache
def plan() -> Plan:
    """The plan, made when it is first asked."""
    tables = (replace(t, columns=(*t.columns, *_MORE.get(t.name, ()))) for t in _LISTS)
    return Plan(
        tables=tables,
        cells=(
            *methods.INPUTS, *methods.CELLS,
            *quote.INPUTS, *quote.CELLS, *quote.COUNTS,
            *vat.INPUTS, *vat.CELLS, *vat.COUNTS,
            *(Item(key, key, AMOUNT) for key in known_keys()),
        ),
        keyed={},
    )  # fmt: skip


def item_at(place: str) -> Item:
    """The column or cell of a place, as "layouts.rolls" or "quote_vat"."""
    table, dot, column = place.partition(".")
    return plan().tables[table].column(column) if dot else plan().cells[place]
