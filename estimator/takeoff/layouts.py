"""How each stocked roll of sheet would be laid in each zone: whole strips, both directions.

One row for each zone and roll, because what is laid depends on the roll, and the roll on the
supplier. A strip longer than its roll cannot be laid whole: 0 strips to a roll, never an error.
"""

from ..language import *

# As many stocked rolls of sheet as are laid out for every zone: four from each of five suppliers,
# or twenty from one.
ROLLS_LAID_OUT = 20


@rule
def book_row(roll_no: Each, book_roll_no: Column, book_position: Column) -> Each:
    """The row of the price book that holds this roll. 0 when fewer rolls are stocked."""
    return sum_of(book_position, same(book_roll_no, roll_no))


@rule
def mark(book_row: Each, zone: Text, sheet_a: Metres) -> Text:
    """The floor laid out here. Nothing where there is no roll, no floor, or no sheet in it."""
    return where(both(less(0, book_row), less(0, sheet_a)), zone, "")


@rule
def roll_width(book_row: Each, book_width: Column) -> Metres:
    """Width of the roll, unfolded."""
    return beside(book_width, book_row) / 1000


@rule
def strips(across: Metres, roll_width: Metres, dpm_lap: Millimetres) -> Each:
    """Strips side by side that cover a width, each lapping the one before. 0 if none can."""
    return where(
        less(dpm_lap / 1000, roll_width),
        most(1, whole_up(divided(across - dpm_lap / 1000, roll_width - dpm_lap / 1000))),
        0,
    )


@rule
def strips_a(sheet_b: Metres, roll_width: Metres, dpm_lap: Millimetres) -> Each:
    """Strips when they run along A."""
    return strips(sheet_b, roll_width, dpm_lap)


@rule
def strips_b(sheet_a: Metres, roll_width: Metres, dpm_lap: Millimetres) -> Each:
    """Strips when they run along B."""
    return strips(sheet_a, roll_width, dpm_lap)


@rule
def strip_by_strip(
    shaped: Flag,
    at: Each,
    width_no: Each,
    strips: Each,
    band_long: Column,
    band_zone_row: Column,
    band_width_no: Column,
) -> Flag:
    """1 on a floor that is no rectangle when the length of each strip is known. Else all count as
    the longest."""
    return where(
        same(shaped, 1),
        where(
            same(
                count_of(
                    less(0, band_long), same(band_zone_row, at), same(band_width_no, width_no)
                ),
                strips,
            ),
            1,
            0,
        ),
        0,
    )


@rule
def longest(
    strip_by_strip: Flag,
    sheet: Metres,
    upstands: Metres,
    at: Each,
    width_no: Each,
    band_long: Column,
    band_zone_row: Column,
    band_width_no: Column,
) -> Metres:
    """Length of the longest strip that runs this way, with what is cut off for upstands at holes."""
    return where(
        same(strip_by_strip, 1),
        largest_of(band_long, same(band_zone_row, at), same(band_width_no, width_no)),
        sheet + upstands,
    )


@rule
def per_roll_a(roll_length: Metres, long_a: Metres) -> Each:
    """Whole strips along A from one roll, each as long as the longest."""
    return whole_down(divided(roll_length, long_a))


@rule
def per_roll_b(roll_length: Metres, long_b: Metres) -> Each:
    """Whole strips along B from one roll, each as long as the longest."""
    return whole_down(divided(roll_length, long_b))


@rule
def rolls_a(strips_a: Each, per_roll_a: Each) -> Each:
    """Rolls when strips run along A. 0 where a strip cannot be laid whole."""
    return whole_up(divided(strips_a, per_roll_a))


@rule
def rolls_b(strips_b: Each, per_roll_b: Each) -> Each:
    """Rolls when strips run along B. 0 where a strip cannot be laid whole."""
    return whole_up(divided(strips_b, per_roll_b))


@rule
def metres(
    strip_by_strip: Flag,
    strips: Each,
    fewer: Each,
    sheet: Metres,
    more: Metres,
    at: Each,
    width_no: Each,
    band_length: Column,
    band_zone_row: Column,
    band_width_no: Column,
) -> Metres:
    """Metres of roll when strips run this way, or of the laps between them: one fewer."""
    return where(
        same(strip_by_strip, 1),
        sum_of(band_length, same(band_zone_row, at), same(band_width_no, width_no)),
        most(0, strips - fewer) * (sheet + more),
    )


@rule
def fewer_along_b(
    whole_strips: Flag,
    rolls_a: Each,
    rolls_b: Each,
    metres_a: Metres,
    metres_b: Metres,
    joints_a: Metres,
    joints_b: Metres,
) -> Flag:
    """1 when along B takes fewer rolls, then fewer metres of roll, then fewer metres of lap.

    Where strips may be joined across, rolls are pooled and only the metres count.
    """
    return where(
        either(
            less(rolls_b * whole_strips, rolls_a * whole_strips),
            both(
                same(rolls_b * whole_strips, rolls_a * whole_strips),
                either(
                    less(metres_b, metres_a),
                    both(
                        same(to_six_places(metres_b), to_six_places(metres_a)),
                        less(joints_b, joints_a),
                    ),
                ),
            ),
        ),
        1,
        0,
    )


@rule
def can_a(whole_strips: Flag, strips_a: Each, rolls_a: Each) -> Flag:
    """1 when strips can run along A."""
    return where(less(0, where(same(whole_strips, 1), rolls_a, strips_a)), 1, 0)


@rule
def can_b(whole_strips: Flag, strips_b: Each, rolls_b: Each) -> Flag:
    """1 when strips can run along B."""
    return where(less(0, where(same(whole_strips, 1), rolls_b, strips_b)), 1, 0)


@rule
def along_b(can_a: Flag, can_b: Flag, fewer_along_b: Flag) -> Flag:
    """1 when strips run along B: it can be laid so, and along A is worse or cannot."""
    return where(same(can_b, 1), where(same(can_a, 1), fewer_along_b, 1), 0)


@rule
def fits(can_a: Flag, can_b: Flag) -> Flag:
    """1 when this sheet can be laid in this floor."""
    return most(can_a, can_b)


@rule
def direction(along_b: Flag, fits: Flag) -> Text:
    """Which way the strips run."""
    return where(
        same(fits, 1),
        where(same(along_b, 1), "along B", "along A"),
        "roll too short or too narrow",
    )


@rule
def rolls(along_b: Flag, rolls_a: Each, rolls_b: Each) -> Each:
    """Rolls for this floor alone: at most this many, since offcuts may serve another floor."""
    return where(same(along_b, 1), rolls_b, rolls_a)


@rule
def strip_count(along_b: Flag, strips_a: Each, strips_b: Each) -> Each:
    """Strips laid."""
    return where(same(along_b, 1), strips_b, strips_a)


@rule
def strip_length(along_b: Flag, long_a: Metres, long_b: Metres) -> Metres:
    """Length of each strip. On a floor that is no rectangle, of the longest."""
    return where(same(along_b, 1), long_b, long_a)


@rule
def roll_metres(along_b: Flag, metres_a: Metres, metres_b: Metres) -> Metres:
    """Metres of roll laid, before any joint across."""
    return where(same(along_b, 1), metres_b, metres_a)


@rule
def way(along_b: Flag, by_strip_a: Flag, by_strip_b: Flag) -> Each:
    """1 where strips of their own lengths run along A, 2 along B. 0 where all are alike."""
    return where(same(along_b, 1), 2 * by_strip_b, by_strip_a)


@rule
def strips_alike(way: Each, strip_count: Each) -> Each:
    """Strips that all have one length."""
    return where(same(way, 0), strip_count, 0)


@rule
def joint(along_b: Flag, joints_a: Metres, joints_b: Metres) -> Metres:
    """Metres of lap between strips."""
    return where(same(along_b, 1), joints_b, joints_a)


@rule
def actual_lap(
    along_b: Flag, strip_count: Each, sheet_a: Metres, sheet_b: Metres, roll_width: Metres
) -> Millimetres:
    """Lap when the spare width is shared among the laps. 0 for a single strip."""
    return divided(
        strip_count * roll_width - where(same(along_b, 1), sheet_a, sheet_b), strip_count - 1
    ) * 1000  # fmt: skip


@rule
def laid_area(roll_metres: Metres, roll_width: Metres) -> SquareMetres:
    """Sheet laid: net area, laps and turn-ups, and what is trimmed at the last strip."""
    return roll_metres * roll_width


@rule
def least_metres(
    shaped: Flag,
    at: Each,
    roll_width: Metres,
    can_a: Flag,
    can_b: Flag,
    metres_a: Metres,
    metres_b: Metres,
    zone_net_area: Column,
) -> Metres:
    """Metres of roll that no way of laying is below: the direction that takes fewer.

    A floor that is no rectangle may be laid from another edge: no fewer than cover its bare area.
    """
    return where(
        same(shaped, 1),
        divided(beside(zone_net_area, at), roll_width),
        where(
            same(can_a * can_b, 1), least(metres_a, metres_b), can_a * metres_a + can_b * metres_b
        ),
    )


LAYOUTS = Table(
    "layouts",
    "layout",
    "Sheet layouts: each floor on each stocked roll",
    (
        Fixed("at", "Floor no.", EACH),
        Fixed("roll_no", "Roll no.", EACH),
        worked(book_row, "Book row"),
        Linked("zone", "Floor", TEXT),
        worked(mark, "Laid out"),
        Linked("sheet_a", "Sheet along A", METRES),
        Linked("sheet_b", "Sheet along B", METRES),
        worked(roll_width),
        read("roll_length", "Roll length", METRES, "book.length", at="book_row"),
        read("width_no", "Width no.", EACH, "book.width_no", at="book_row"),
        read("shaped", "No rectangle", FLAG, "zones.shaped", at="at"),
        *(read(f"upstands_{w}", f"Upstands at holes, {w.upper()}", METRES, f"zones.upstands_{w}",
               at="at") for w in "ab"),
        worked(strips_a, "Strips along A"),
        worked(strips_b, "Strips along B"),
        *(worked(strip_by_strip, f"Strip by strip, {w.upper()}", f"by_strip_{w}",
                 strips=OwnCell(f"strips_{w}"), band_long=WholeColumn("bands", f"long_{w}"))
          for w in "ab"),
        *(worked(longest, f"Longest strip, {w.upper()}", f"long_{w}",
                 strip_by_strip=OwnCell(f"by_strip_{w}"), sheet=OwnCell(f"sheet_{w}"),
                 upstands=OwnCell(f"upstands_{w}"),
                 band_long=WholeColumn("bands", f"long_{w}")) for w in "ab"),
        worked(per_roll_a, "To a roll, A"),
        worked(per_roll_b, "To a roll, B"),
        worked(rolls_a, "Rolls, A"),
        worked(rolls_b, "Rolls, B"),
        *(worked(metres, f"{label}, {w.upper()}", f"{name}_{w}", fewer=fewer,
                 strip_by_strip=OwnCell(f"by_strip_{w}"), strips=OwnCell(f"strips_{w}"),
                 sheet=OwnCell(f"sheet_{w}"), more=0 if fewer else OwnCell(f"upstands_{w}"),
                 band_length=WholeColumn("bands", f"{of}_{w}"))
          for name, label, of, fewer in (("metres", "Metres", "long", 0), ("joints", "Laps", "lap", 1))
          for w in "ab"),
        worked(fewer_along_b, "B is less"),
        worked(can_a, "A can be laid"),
        worked(can_b, "B can be laid"),
        worked(along_b, "Along B"),
        worked(fits, "Can be laid"),
        worked(rolls, "Rolls, at most"),
        worked(strip_count, "Strips"),
        worked(strip_length),
        worked(way, "Strip by strip"),
        worked(strips_alike, "Strips alike"),
        worked(roll_metres, "Metres of roll"),
        worked(joint, "Metres of lap"),
        worked(actual_lap),
        worked(laid_area),
        worked(direction, "Strips run"),
        worked(least_metres, "Metres, at least"),
    ),
)  # fmt: skip
LAYOUT_LINKS = {"zone": "mark", "sheet_a": "sheet_a", "sheet_b": "sheet_b"}
