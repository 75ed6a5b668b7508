"""Trays cut into existing walls, above a new roof or over a new opening: counted brick by brick."""

from ..language import *
from . import cut_in_steps
from .abutments import catchments, intermediates, ridges, step, units_each
from .flashings import flashing_laps, lead_pieces, pieces_of_lead, sealant, slope_length
from .jambs import closer_each, closers
from .openings import PERPEND, in_units, inserts, past_lintel, vents, weeps_over
from .openings import tray_length as over_an_opening

CUT_IN_KINDS = Table(
    "cut_in_kinds",
    "cut_in_kind",
    "Kinds of cutting into an existing wall",
    (
        Fixed("name", "Tray cut in", TEXT),
        Fixed("over_opening", "Tray reaches past lintel and closers", FLAG),
        Fixed("counted", "Level: can be counted whole", FLAG),
        Fixed("slopes", "Slopes with stepped units", EACH),
    ),
    key="name",
    guarded=False,
)
CUT_IN_KIND_ROWS = (
    {"name": "above a new roof", "over_opening": 0, "counted": 1, "slopes": 0},
    {"name": "over a new opening", "over_opening": 1, "counted": 1, "slopes": 0},
    {"name": "stepped up a slope", "over_opening": 0, "counted": 0, "slopes": 1},
    {"name": "stepped up two slopes meeting", "over_opening": 0, "counted": 0, "slopes": 2},
)


@rule
def counted(wall_counted: Flag, kind_counted: Flag) -> Flag:
    """1 where the wall is known to be a cavity wall, and the tray is level."""
    return wall_counted * kind_counted


@rule
def note(wall_note: Text, kind_counted: Flag, slopes: Each) -> Text:
    """What is left to the designer."""
    return where(
        same(kind_counted, 1),
        wall_note,
        where(
            less(0, slopes),
            "units counted. Support and order of cutting: provisional sum, designer's detail",
            "no count: provisional sum, designer's detail",
        ),
    )


@rule
def reach(
    over_opening: Flag,
    length: Metres,
    lintel: Metres,
    closer: Millimetres,
    tray_past_lintel: Millimetres,
    tray_past_closer: Millimetres,
) -> Metres:
    """Least length of the tray: the roof's full outside width, or as over any opening.

    A new opening always has a lintel, longer than itself.
    """
    return where(
        same(over_opening, 1),
        over_an_opening(length, lintel, closer, tray_past_lintel, 0, tray_past_closer),
        length,
    )


@rule
def past_closer(over_opening: Flag, tray_past_closer: Millimetres) -> Millimetres:
    """How far its tray reaches past the closers of a new opening."""
    return over_opening * tray_past_closer


@rule
def brick_unit(brick: Millimetres) -> Millimetres:
    """Length of one brick of the existing wall with its joint."""
    return first_given(brick, PERPEND)


@rule
def bricks(counted: Flag, reach: Metres, brick_unit: Millimetres) -> Each:
    """Bricks along the tray: its length taken up to whole bricks. None where nothing is counted."""
    return counted * whole_up(reach * 1000 / brick_unit)


@rule
def taken(bricks: Each, brick_unit: Millimetres) -> Metres:
    """Length of one tray, in whole bricks."""
    return bricks * brick_unit / 1000


@rule
def turned(counted: Flag, corners: Each) -> Each:
    """Corners of the old house that a level tray turns. Blank is none."""
    return counted * first_given(corners, 0)


@rule
def corner_units(number: Each, turned: Each) -> Each:
    """Preformed corner units: one at each corner."""
    return number * turned


@rule
def units(
    number: Each, taken: Metres, unit_length: Metres, unit_lap: Millimetres, turned: Each
) -> Each:
    """Tray units of the stocked length that reach along it, lapped or butted.

    One more for each corner, up to which one is cut (common practice).
    """
    return number * where(
        less(0, taken),
        whole_up((taken - unit_lap / 1000) / (unit_length - unit_lap / 1000)) + turned,
        0,
    )


@rule
def bricks_out(number: Each, bricks: Each, courses: Each) -> Each:
    """Bricks cut out: those along the tray, in every course removed."""
    return number * bricks * courses


@rule
def bays(taken: Metres, bay_most: Metres, turned: Each) -> Each:
    """Bays in which it is opened up, none longer than the designer allows, none round a corner."""
    return where(less(0, taken), whole_up(taken / bay_most) + turned, 0)


@rule
def bays_odd(number: Each, bays: Each) -> Each:
    """Bays opened in the first pass: the odd ones."""
    return number * whole_up(bays / 2)


@rule
def bays_even(number: Each, bays: Each, bays_odd: Each) -> Each:
    """Bays opened in the second pass: the even ones, when the odd ones carry again."""
    return number * bays - bays_odd


@rule
def stop_ends(number: Each, counted: Flag, slopes: Each) -> Each:
    """Stop ends: two to a level tray, two to each catchment unit."""
    return 2 * number * (counted + slopes)


@rule
def weep_step(weep_spacing: Millimetres, brick_unit: Millimetres) -> Millimetres:
    """Spacing of weeps as built: whole bricks of the existing wall within the limit."""
    return in_units(weep_spacing, brick_unit)


@rule
def weep_first(weep_from_end: Millimetres, brick_unit: Millimetres) -> Millimetres:
    """First weep from the tray's end as built: whole bricks within the limit.

    Where one brick is longer than the limit, as in ordinary brickwork: more weeps, never fewer.
    """
    return where(
        at_most(brick_unit, weep_from_end),
        in_units(weep_from_end, brick_unit),
        in_units(weep_from_end, PERPEND),
    )


@rule
def weeps(
    number: Each,
    counted: Flag,
    taken: Metres,
    weep_first: Millimetres,
    weep_step: Millimetres,
    weeps_min: Each,
    slopes: Each,
) -> Each:
    """Weeps: as over any level tray, and one at the foot of each slope."""
    return number * (counted * weeps_over(taken, weep_first, weep_step, weeps_min) + slopes)


@rule
def made_good(number: Each, taken: Metres) -> Metres:
    """Length of brickwork made good."""
    return number * taken


@rule
def cleared(made_good: Metres, filled: Flag) -> Metres:
    """Length along which the cavity's fill is cleared above the tray."""
    return made_good * filled


@rule
def uncounted(number: Each, counted: Flag) -> Each:
    """Trays left to the designer, with a provisional sum: no count, or none of cutting in steps."""
    return number * (1 - counted)


@rule
def height_used(height: Metres) -> Metres:
    """Height of the new opening. 0 where none is given, which nothing may then need."""
    return first_given(height, 0)


@rule
def jamb_net(
    over_opening: Flag, number: Each, height_used: Metres, jamb_dpc: Millimetres
) -> Metres:
    """DPC at the jambs of new openings, both sides, net."""
    return where(
        both(same(over_opening, 1), less(0, first_given(jamb_dpc, 0))),
        2 * number * height_used,
        0,
    )


@rule
def closer_width(with_closers: Each, wall_row: Each, old_wall_cavity: Column) -> Millimetres:
    """Least width of the closers that are bought: the cavity they close."""
    return where(less(0, with_closers), beside(old_wall_cavity, wall_row) * 1, 0)


@rule
def with_closers(
    over_opening: Flag,
    counted: Flag,
    number: Each,
    closer: Millimetres,
    jamb_dpc: Millimetres,
) -> Each:
    """New openings in a cavity wall closed by closers: those with no DPC at the jambs."""
    return where(
        both(less(0, first_given(closer, 0)), same(first_given(jamb_dpc, 0), 0)),
        over_opening * counted * number,
        0,
    )


@rule
def jamb_laps(jamb_net: Metres, number: Each, dpc_lap: Millimetres) -> Metres:
    """Laps of that DPC: at head and foot, both sides."""
    return where(less(0, jamb_net), 4 * number * dpc_lap / 1000, 0)


@rule
def jamb_width(jamb_net: Metres, jamb_dpc: Millimetres) -> Millimetres:
    """Width of the DPC at the jambs."""
    return where(less(0, jamb_net), first_given(jamb_dpc, 0), 0)


@rule
def cut_in_agrees(
    wall_agrees: Flag,
    corners: Each,
    turned: Each,
    unit_length: Metres,
    unit_lap: Millimetres,
    over_opening: Flag,
    length: Metres,
    lintel: Metres,
    jamb_dpc: Millimetres,
    with_closers: Each,
    height_used: Metres,
    brick_unit: Millimetres,
    weep_spacing: Millimetres,
) -> Flag:
    """1 when its wall is known as far as its kind says, and its units, jambs and weeps can be made.

    Only a level tray in a wall that is known turns corners.
    """
    return where(
        both(
            both(
                both(
                    both(same(wall_agrees, 1), at_most(brick_unit, weep_spacing)),
                    either(same(over_opening, 0), less(length, first_given(lintel, 0))),
                ),
                less(unit_lap, unit_length * 1000),
            ),
            both(
                same(first_given(corners, 0), turned),
                either(
                    same(first_given(jamb_dpc, 0) + with_closers, 0),
                    less(0, height_used),
                ),
            ),
        ),
        1,
        0,
    )


CUT_INS = Table(
    "cut_ins",
    "cut_in",
    "Trays cut into existing walls",
    (
        text("mark", "Ref", "The tray's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("wall", "In existing wall", choice_of="old_walls.mark"),
        text("kind", "Tray cut in", choice_of="cut_in_kinds.name"),
        number("number", "Number", EACH, 1, 20, "How many alike."),
        number("length", "Length", METRES, 0.3, 40,
               "Above a roof: the full outside width of the roof. Over an opening: its width. "
               "Stepped: of one slope, on plan."),
        number("lintel", "Lintel", METRES, 0.3, 40, "Over an opening: longer than it. Blank above a roof.",
               required=False),
        number("closer", "Closer", MILLIMETRES, 0, 300,
               "How far it reaches along the wall beside a new jamb. It is bought where the jamb "
               "has no DPC. Blank: none.",
               required=False),
        number("height", "Height", METRES, 0.3, 6, "Of a new opening with a DPC at its jambs.",
               required=False),
        number("jamb_dpc", "Jamb DPC", MILLIMETRES, 0, 600, "Its width. Blank: none.",
               required=False),
        number("brick", "Brick and joint", MILLIMETRES, 190, 300,
               "Along the existing wall. Blank: 225.", required=False),
        number("pitch", "Pitch", PITCH, 5, 75, "Of a roof that slopes along the wall: its stepped "
                                               "units are then counted. Blank: they are not.", required=False, since=4),
        number("course", "Course height", MILLIMETRES, 50, 300,
               "Of the existing wall, with its joint. Blank: 75.", required=False, since=4),
        number("corners", "Corners turned", EACH, 1, 8,
               "Corners of the old house, external or internal, that a level tray goes round. "
               "Measure its length along both walls. Each corner takes a preformed unit. Blank: "
               "none.", required=False,
               since=7),
        number("courses", "Courses out", EACH, 1, 12,
               "Courses of the outer leaf taken out to place the tray."),
        number("unit_length", "Tray unit", METRES, 0.2, 6, "Length of the unit that is stocked."),
        number("unit_lap", "Units lap", MILLIMETRES, 0, 500, "0 where they butt."),
        number("bay_most", "Longest bay", METRES, 0.2, 6,
               "The most that may be open at once. The designer of the support decides."),
        find("wall_row", "Wall no.", by="wall", where="old_walls.mark"),
        find("kind_row", "Kind no.", by="kind", where="cut_in_kinds.name"),
        read("over_opening", "Over an opening", FLAG, "cut_in_kinds.over_opening", at="kind_row"),
        read("wall_counted", "Wall counted", FLAG, "old_walls.counted", at="wall_row"),
        read("kind_counted", "Kind counted", FLAG, "cut_in_kinds.counted", at="kind_row"),
        read("kind_slopes", "By its kind, slopes", EACH, "cut_in_kinds.slopes", at="kind_row"),
        worked(counted),
        worked(cut_in_steps.slopes_pitched, "Slopes of known pitch"),
        worked(cut_in_steps.slopes),
        worked(cut_in_steps.course_height),
        worked(units_each, "Units a slope"),
        worked(step, "Step"),
        worked(catchments, "Catchment units"),
        worked(intermediates, "Intermediate units"),
        worked(ridges, "Ridge units"),
        read("filled", "Filled cavity", FLAG, "old_walls.filled", at="wall_row"),
        read("wall_agrees", "Wall known", FLAG, "old_walls.old_wall_agrees", at="wall_row"),
        worked(height_used, "Height in use"),
        worked(with_closers),
        worked(closers, "Closers, net", height=OwnCell("height_used")),
        worked(closer_each, "Closer length", height=OwnCell("height_used")),
        worked(closer_width),
        worked(cut_in_agrees, "Holds together"),
        worked(past_lintel),
        worked(past_closer),
        worked(reach, "Reaches", tray_past_lintel=OwnCell("past_lintel"),
               tray_past_closer=OwnCell("past_closer")),
        worked(brick_unit, "Whole brick"),
        worked(bricks, "Bricks along it"),
        worked(taken, "In whole bricks"),
        worked(turned, "Corners in use"),
        worked(corner_units),
        worked(units, "Tray units"),
        worked(bricks_out, "Bricks out"),
        worked(bays, "Bays each"),
        worked(bays_odd, "Odd bays, first"),
        worked(bays_even, "Even bays, then"),
        worked(stop_ends),
        worked(weep_step, "Weeps apart"),
        worked(weep_first, "First weep"),
        worked(weeps),
        worked(inserts, "Inserts bought"),
        worked(vents, "Vents bought"),
        worked(made_good, "Made good"),
        worked(cleared, "Fill cleared"),
        worked(jamb_net, "Jamb DPC, net"),
        worked(jamb_laps),
        worked(jamb_width, "Jamb width"),
        worked(slope_length, "Length up slope", kind_slopes=OwnCell("slopes_pitched")),
        worked(cut_in_steps.flashing_length),
        worked(cut_in_steps.flashing_runs),
        worked(pieces_of_lead, "Lead, each run"),
        worked(lead_pieces, "Lead"),
        worked(flashing_laps),
        worked(sealant),
        worked(uncounted, "No count"),
        read("wall_note", "Of the wall", TEXT, "old_walls.note", at="wall_row"),
        worked(note),
    ),
    grows=True,
    shown=("bricks_out", "units", "weeps",), said="note",
    spare=(2, 4),
)  # fmt: skip
