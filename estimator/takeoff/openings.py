"""Openings: the tray over each, its stop ends and weeps, the DPC at jambs and sill."""

from ..language import *
from .jambs import JAMB_COLUMNS
from .opening_places import PLACE_COLUMNS, to_know
from .thresholds import THRESHOLD_COLUMNS

YES_NO = ("yes", "no")
PERPEND = 225  # one brick and one joint, 215 + 10 mm: RICS isurv measurement conventions, p. 8

OPENING_KINDS = Table(
    "opening_kinds",
    "opening_kind",
    "Kinds of opening",
    (
        Fixed("name", "Kind of opening", TEXT),
        Fixed("has_tray", "Tray, stop ends and weeps", FLAG),
        Fixed("has_jambs", "DPC at jambs", FLAG),
        Fixed("has_sill", "DPC under sill", FLAG),
        Fixed("has_threshold", "Threshold tray", FLAG),
        Fixed("door", "A door", FLAG, since=6),
        Fixed("note", "Left to the designer", TEXT),
    ),
    key="name",
    guarded=False,
)


def _kind(name: str, note: str = "", **has: int) -> dict[str, object]:
    flags = ("has_tray", "has_jambs", "has_sill", "has_threshold", "door")
    return {"name": name, **{f: has.get(f, 0) for f in flags}, "note": note}


OPENING_KIND_ROWS = (
    _kind("window", has_tray=1, has_jambs=1, has_sill=1),
    _kind("raised door", has_tray=1, has_jambs=1, has_sill=1, door=1),
    _kind("level-access door", "threshold: designer's detail", has_tray=1, has_jambs=1,
          has_threshold=1, door=1),
    _kind("air brick", has_tray=1),
    _kind("meter box", has_tray=1),
    _kind("flue or duct", has_tray=1),
)  # fmt: skip


@rule
def in_units(distance: Millimetres, unit: Millimetres) -> Millimetres:
    """A distance rounded down to whole units of masonry, and never below one."""
    return most(unit, whole_down(distance / unit) * unit)


@rule
def in_perpends(distance: Millimetres) -> Millimetres:
    """A distance rounded down to whole perpends of brickwork, and never below one."""
    return in_units(distance, PERPEND)


@rule
def weep_step(weep_spacing: Millimetres) -> Millimetres:
    """Spacing of weeps as built: whole perpends within the limit."""
    return in_perpends(weep_spacing)


@rule
def weep_first(weep_from_end: Millimetres) -> Millimetres:
    """First weep from the tray's end as built: whole perpends within the limit."""
    return in_perpends(weep_from_end)


@rule
def with_tray(
    number: Each, kind_row: Each, cavity: Millimetres, opening_kind_has_tray: Column
) -> Each:
    """How many of them have a tray: none in a solid wall, which has no cavity to cross."""
    return where(less(0, cavity), number * beside(opening_kind_has_tray, kind_row), 0)


@rule
def note(kind_note: Text, cavity: Millimetres) -> Text:
    """What is left to the designer."""
    return where(less(0, cavity), kind_note, "solid wall: designer's detail")


@rule
def with_jambs(
    number: Each, kind_row: Each, jamb_dpc: Millimetres, opening_kind_has_jambs: Column
) -> Each:
    """How many of them have a DPC of their own at the jambs: none where a closer brings it."""
    return where(
        less(0, first_given(jamb_dpc, 0)), number * beside(opening_kind_has_jambs, kind_row), 0
    )


@rule
def with_sill(number: Each, kind_row: Each, opening_kind_has_sill: Column) -> Each:
    """How many of them have a DPC under a sill."""
    return number * beside(opening_kind_has_sill, kind_row)


@rule
def past_lintel(lintel: Metres, tray_past_lintel: Millimetres) -> Millimetres:
    """How far its tray reaches past the lintel, where it has one."""
    return where(less(0, first_given(lintel, 0)), tray_past_lintel, 0)


@rule
def past_opening(lintel: Metres, tray_past_opening: Millimetres) -> Millimetres:
    """How far its tray reaches past the opening, where it has no lintel."""
    return where(less(0, first_given(lintel, 0)), 0, tray_past_opening)


@rule
def tray_length(
    width: Metres,
    lintel: Metres,
    closer: Millimetres,
    tray_past_lintel: Millimetres,
    tray_past_opening: Millimetres,
    tray_past_closer: Millimetres,
) -> Metres:
    """Length of one tray: past the lintel's ends, and past the closers, whichever is longer.

    Without a lintel, what bridges the cavity is as wide as the opening, and the tray reaches past
    that by a figure of its own.
    """
    return most(
        where(
            less(0, first_given(lintel, 0)),
            first_given(lintel, 0) + 2 * tray_past_lintel / 1000,
            width + 2 * tray_past_opening / 1000,
        ),
        width + 2 * (first_given(closer, 0) + tray_past_closer) / 1000,
    )


@rule
def tray_girth(
    outer_leaf: Millimetres, cavity: Millimetres, tray_rise: Millimetres, tray_build_in: Millimetres
) -> Millimetres:
    """Girth of the tray: over the outer leaf, up across the cavity, into the inner leaf."""
    return outer_leaf + root_of(cavity * cavity + tray_rise * tray_rise) + tray_build_in


@rule
def weeps_over(
    length: Metres, weep_first: Millimetres, weep_step: Millimetres, weeps_min: Each
) -> Each:
    """Weeps over any level tray: one from each end, the rest no further apart than allowed."""
    return most(weeps_min, whole_up(divided(length * 1000 - 2 * weep_first, weep_step)) + 1)


@rule
def weep_room(length: Metres, unit: Millimetres) -> Each:
    """Weeps that can be built on a tray: they stand on perpends.

    n weeps take n - 1 units between them and half a unit from each of the two outer ones to its
    stop end: n units in all, whatever the bond.
    """
    return whole_down(length * 1000 / unit)


@rule
def weeps_asked(
    tray_length: Metres, weep_first: Millimetres, weep_step: Millimetres, weeps_min: Each
) -> Each:
    """Weeps asked for over one of these trays."""
    return weeps_over(tray_length, weep_first, weep_step, weeps_min)


@rule
def weeps_each(weeps_asked: Each, tray_length: Metres, unit: Millimetres) -> Each:
    """Weeps over one of these trays: those asked for, as far as the tray is long enough for them."""
    return least(weeps_asked, weep_room(tray_length, unit))


@rule
def trays(with_tray: Each, tray_length: Metres, lintel_tray: Text) -> Metres:
    """Tray, net: no laps. None where the lintel is one, which keeps its stop ends and weeps."""
    return where(same(lintel_tray, "yes"), 0, with_tray * tray_length)


@rule
def opening_agrees(lintel_tray: Text, lintel: Metres, place_fault: Each) -> Flag:
    """1 unless a lintel that is said to be the tray has no length, or a place does not fit."""
    return where(
        less(0, place_fault),
        0,
        where(same(lintel_tray, "yes"), where(less(0, first_given(lintel, 0)), 1, 0), 1),
    )


@rule
def sill_given(sill_height: Metres) -> Flag:
    """1 where it is typed how far the sill lies above the DPC."""
    return where(given(sill_height), 1, 0)


@rule
def stop_ends(with_tray: Each) -> Each:
    """Stop ends: two to a tray."""
    return 2 * with_tray


@rule
def weeps(with_tray: Each, weeps_each: Each) -> Each:
    """Weeps over all of these trays."""
    return with_tray * weeps_each


@rule
def inserts(weeps: Each, weep_inserts: Flag) -> Each:
    """Weep inserts to buy."""
    return weeps * weep_inserts


@rule
def vents(weeps: Each, weep_vents: Flag) -> Each:
    """Weep vents to buy."""
    return weeps * weep_vents


@rule
def jambs(with_jambs: Each, height: Metres) -> Metres:
    """Jamb DPC, net: both sides, no laps."""
    return 2 * with_jambs * height


@rule
def jamb_laps(with_jambs: Each, dpc_lap: Millimetres) -> Metres:
    """Laps of the jamb DPC: at the head and at the sill, both sides."""
    return 4 * with_jambs * dpc_lap / 1000


@rule
def sills(with_sill: Each, width: Metres) -> Metres:
    """Sill DPC, net: the opening's width."""
    return with_sill * width


@rule
def sill_ends(with_sill: Each, sill_turn_up: Millimetres) -> Metres:
    """Turn-ups at the two ends of each sill DPC."""
    return 2 * with_sill * sill_turn_up / 1000


@rule
def sill_girth(outer_leaf: Millimetres, sill_turn_up: Millimetres) -> Millimetres:
    """Width of sill DPC: across the outer leaf, turned up at the back."""
    return outer_leaf + sill_turn_up


@rule
def jamb_width(with_jambs: Each, jamb_dpc: Millimetres) -> Millimetres:
    """Width of jamb DPC."""
    return where(less(0, with_jambs), first_given(jamb_dpc, 0), 0)


OPENINGS = Table(
    "openings",
    "opening",
    "Openings",
    (
        text("mark", "Ref", "The opening's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("wall", "In wall", "The run it is in: gives the outer leaf and the cavity.",
             choice_of="walls.mark"),
        text("kind", "Kind of opening", choice_of="opening_kinds.name"),
        number("number", "Number", EACH, 1, 200, "How many alike."),
        number("width", "Width", METRES, 0.05, 12, "Clear structural opening."),
        number("height", "Height", METRES, 0.05, 6, "Clear structural opening."),
        number("lintel", "Lintel", METRES, 0.05, 13, "Overall length. Blank where there is none.",
               required=False),
        number("closer", "Closer", MILLIMETRES, 0, 300,
               "How far the cavity closer reaches along the wall beside the jamb. The tray goes "
               "past it. It is bought as wide as the cavity, unless a jamb DPC is given. Blank: "
               "none.", required=False),
        number("jamb_dpc", "Jamb DPC", MILLIMETRES, 0, 600,
               "Width of a DPC at the jambs, bought instead of closers. Blank where the closer is "
               "enough.", required=False),
        text("lintel_tray", "Lintel is a tray", "yes: the lintel is the tray. Stop ends and weeps "
                                                "are still counted. Blank: no.", choices=YES_NO, required=False),
        number("first_jamb", "First jamb", METRES, 0, 200, "From the start of its run, or of the "
                                                           "side named beside it, to the nearer "
                                                           "jamb of the structural opening, on "
                                                           "the line the run is measured on. "
                                                           "Blank: counted, but not drawn.", required=False, since=6),
        text("side", "On side", "Where its run follows a floor: the side that the first jamb is "
             "measured from. Blank: from the start of the run.", choice_of="edges.mark",
             required=False, since=6),
        number("sill_height", "Sill above DPC", METRES, -1, 10, "For the elevation: above the DPC at the "
               "start of the run, where that has steps. Blank: a window's head is drawn in line with "
               "the others, anything else on the DPC.", required=False,
               since=8),
        find("kind_row", "Kind no.", by="kind", where="opening_kinds.name"),
        find("wall_row", "Wall no.", by="wall", where="walls.mark"),
        read("outer_leaf", "Outer leaf", MILLIMETRES, "walls.outer_leaf", at="wall_row"),
        read("cavity", "Cavity", MILLIMETRES, "walls.cavity", at="wall_row"),
        read("weep_step", "Weeps apart", MILLIMETRES, "walls.weep_step", at="wall_row"),
        read("weep_first", "First weep", MILLIMETRES, "walls.weep_first", at="wall_row"),
        read("unit", "Whole brick", MILLIMETRES, "walls.unit_used", at="wall_row"),
        worked(with_tray, "With tray"),
        worked(past_lintel),
        worked(past_opening),
        worked(tray_length, "Tray length", tray_past_lintel=OwnCell("past_lintel"),
               tray_past_opening=OwnCell("past_opening")),
        worked(tray_girth, "Tray girth"),
        worked(weeps_asked, "Weeps asked"),
        worked(weeps_each, "Weeps each"),
        worked(trays),
        worked(stop_ends),
        worked(weeps),
        worked(inserts, "Inserts bought"),
        worked(vents, "Vents bought"),
        worked(opening_agrees, "Agrees"),
        worked(with_jambs, "With jamb DPC"),
        worked(jamb_width, "Jamb width"),
        worked(jambs, "Jamb DPC, net"),
        worked(jamb_laps),
        *JAMB_COLUMNS,
        worked(with_sill, "With sill DPC"),
        worked(sill_girth, "Sill DPC width"),
        worked(sills, "Sill DPC, net"),
        worked(sill_ends, "Sill turn-ups"),
        *THRESHOLD_COLUMNS,
        read("kind_note", "By its kind", TEXT, "opening_kinds.note", at="kind_row"),
        worked(note),
        *PLACE_COLUMNS,
        worked(sill_given, "Sill's height given"),
        worked(to_know, "To know"),
    ),
    grows=True,
    shown=("trays", "tray_length", "weeps",), said="to_know",
    spare=(8, 16),
)  # fmt: skip
