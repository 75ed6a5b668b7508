"""Preformed units in a level tray: corners, junctions, steps, penetrations."""

from ..language import *

TRAY_UNIT_KINDS = Table(
    "tray_unit_kinds",
    "tray_unit_kind",
    "Kinds of preformed tray unit",
    (
        Fixed("name", "Kind of unit", TEXT),
        Fixed("legs", "Legs, each lapped by the tray", EACH),
        Fixed("corner", "Corner unit", FLAG),
        Fixed("junction", "Junction unit", FLAG),
        Fixed("step", "Level step unit", FLAG),
        Fixed("penetration", "Penetration unit", FLAG),
    ),
    key="name",
    guarded=False,
)
TRAY_UNIT_KIND_ROWS = tuple(
    {"name": name, "legs": legs, **{flag: int(flag == own) for flag in
     ("corner", "junction", "step", "penetration")}}
    for name, legs, own in (
        ("corner", 2, "corner"),
        ("T-junction", 3, "junction"),
        ("level step", 2, "step"),
        ("penetration", 2, "penetration"),
    )
)  # fmt: skip


# ---- the units, row by row -----------------------------------------------------------------


@rule
def legs_each(number: Each, legs: Each) -> Each:
    """Legs of these units in one tray: the straight tray laps each."""
    return number * legs


@rule
def metres_each(legs_each: Each, leg: Millimetres) -> Metres:
    """Length of one tray that these units make up."""
    return legs_each * leg / 1000


@rule
def ends_each(number: Each, kind_row: Each, tray_unit_kind_junction: Column) -> Each:
    """Ends that they add to one tray: a T-junction branches."""
    return number * beside(tray_unit_kind_junction, kind_row)


@rule
def units(number: Each, level_trays: Each) -> Each:
    """Units in all trays of that abutment."""
    return number * level_trays


@rule
def corners(units: Each, kind_row: Each, tray_unit_kind_corner: Column) -> Each:
    """Corner units."""
    return units * beside(tray_unit_kind_corner, kind_row)


@rule
def junctions(units: Each, kind_row: Each, tray_unit_kind_junction: Column) -> Each:
    """Junction units."""
    return units * beside(tray_unit_kind_junction, kind_row)


@rule
def steps(units: Each, kind_row: Each, tray_unit_kind_step: Column) -> Each:
    """Level step units."""
    return units * beside(tray_unit_kind_step, kind_row)


@rule
def penetrations(units: Each, kind_row: Each, tray_unit_kind_penetration: Column) -> Each:
    """Penetration units."""
    return units * beside(tray_unit_kind_penetration, kind_row)


TRAY_UNITS = Table(
    "tray_units",
    "tray_unit",
    "Preformed units in level trays",
    (
        text("mark", "Ref", "The unit's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("abutment", "In abutment", "A level one.", choice_of="abutments.mark"),
        text("kind", "Kind of unit", choice_of="tray_unit_kinds.name"),
        number("number", "Number", EACH, 1, 50, "In each tray of that abutment."),
        number("leg", "Leg", MILLIMETRES, 50, 1500, "Length of each leg, on the wall's face."),
        find("kind_row", "Kind no.", by="kind", where="tray_unit_kinds.name"),
        find("abutment_row", "Abutment no.", by="abutment", where="abutments.mark"),
        read("legs", "Legs", EACH, "tray_unit_kinds.legs", at="kind_row"),
        read("level_trays", "Trays", EACH, "abutments.level_trays", at="abutment_row"),
        worked(legs_each, "Legs in a tray"),
        worked(metres_each, "They make up"),
        worked(ends_each, "Ends they add"),
        worked(units),
        worked(corners, "Corner units"),
        worked(junctions, "Junction units"),
        worked(steps, "Level step units"),
        worked(penetrations, "Penetration units"),
    ),
    grows=True,
    shown=("units",),
    spare=(3, 5),
)  # fmt: skip


# ---- what they leave of the tray they stand in ----------------------------------------------


@rule
def unit_legs(mark: Text, tray_unit_legs_each: Column, tray_unit_abutment: TextColumn) -> Each:
    """Legs of preformed units in one tray."""
    return sum_of(tray_unit_legs_each, same(tray_unit_abutment, mark))


@rule
def unit_metres(
    mark: Text, tray_unit_metres_each: Column, tray_unit_abutment: TextColumn
) -> Metres:
    """Length of one tray that preformed units make up."""
    return sum_of(tray_unit_metres_each, same(tray_unit_abutment, mark))


@rule
def branch_ends(mark: Text, tray_unit_ends_each: Column, tray_unit_abutment: TextColumn) -> Each:
    """Ends that junction units add to one tray."""
    return sum_of(tray_unit_ends_each, same(tray_unit_abutment, mark))


@rule
def abutment_agrees(kind_level: Flag, length: Metres, unit_metres: Metres, unit_legs: Each) -> Flag:
    """1 unless its units are longer than its tray, or it is no level one and has units."""
    return where(
        same(kind_level, 1),
        where(at_most(unit_metres, length), 1, 0),
        where(same(unit_legs, 0), 1, 0),
    )


UNIT_COLUMNS = (
    worked(unit_legs, "Legs of units"),
    worked(unit_metres, "Units make up"),
    worked(branch_ends, "Ends of branches"),
    worked(abutment_agrees, "Agrees"),
)
