"""Strips of sheet on a floor that is no rectangle: how far each must reach, both directions.

Laid along A, a strip covers a band across B, and must reach as far as the sides that the band
touches, with what turns up or laps there (sheet_outlines.py). Right-angled floors exactly; a splayed
side counts as if all of it lay in each band it touches: enough, if not least. Of a floor whose shape
leaves a gap (a courtyard), a strip crosses the gap in one piece. One row for each strip of each such
floor, for each width of roll in the price book.
"""

from collections.abc import Iterator

from ..language import *
from .layouts import strips

STRIPS_HELD = 10  # of a floor, in one width of roll: with more, each counts as the longest


@rule
def block(position: Each) -> Each:
    """Floor and width in one number, from 0."""
    return whole_down((position - 1) / STRIPS_HELD)


@rule
def strip(position: Each, block: Each) -> Each:
    """Which strip."""
    return position - STRIPS_HELD * block


@rule
def zone_row(block: Each, sheet_widths: Each, zone_shaped_no: Column) -> Each:
    """The floor. 0 in a spare row."""
    return first_row(zone_shaped_no, 1 + whole_down(block / most(1, sheet_widths)))


@rule
def width_no(block: Each, sheet_widths: Each) -> Each:
    """Which width of roll, the narrowest first."""
    return 1 + block - most(1, sheet_widths) * whole_down(block / most(1, sheet_widths))


@rule
def mark(zone_row: Each, sheet_widths: Each, zone_mark: TextColumn) -> Text:
    """The floor's ref."""
    return where(both(less(0, zone_row), less(0, sheet_widths)), beside(zone_mark, zone_row), "")


@rule
def roll_width(width_no: Each, book_width_no: Column, book_width: Column) -> Metres:
    """Width of the roll, unfolded."""
    return beside(book_width, first_row(book_width_no, width_no)) / 1000


@rule
def begins(strip: Each, roll_width: Metres, dpm_lap: Millimetres) -> Metres:
    """How far across the sheet it begins."""
    return (strip - 1) * (roll_width - dpm_lap / 1000)


@rule
def strips_across(across: Metres, roll_width: Metres, dpm_lap: Millimetres) -> Each:
    """Strips of that width that cover the floor."""
    return strips(across, roll_width, dpm_lap)


@rule
def covers_from(begins: Metres, behind: Metres, dips: Metres) -> Metres:
    """Where on the floor its band begins at the earliest: thickenings before it take sheet."""
    return begins - behind - dips


@rule
def covers_to(begins: Metres, behind: Metres, roll_width: Metres) -> Metres:
    """Where on the floor its band ends."""
    return begins - behind + roll_width


@rule
def lap_from(covers_to: Metres, dips: Metres, dpm_lap: Millimetres) -> Metres:
    """Where on the floor its lap with the next strip begins at the earliest."""
    return covers_to - dips - dpm_lap / 1000


@rule
def far(
    here: Flag,
    zone_row: Each,
    covers_from: Metres,
    covers_to: Metres,
    edge_end: Column,
    edge_first: Column,
    edge_last: Column,
    edge_zone_row: Column,
) -> Metres:
    """Where on the floor the sheet ends at the farthest of the sides in that band."""
    return where(
        same(here, 1),
        largest_of(
            edge_end,
            same(edge_zone_row, zone_row),
            less(edge_first, covers_to),
            less(covers_from, edge_last),
        ),
        0,
    )


@rule
def near(
    here: Flag,
    zone_row: Each,
    covers_from: Metres,
    covers_to: Metres,
    edge_begin: Column,
    edge_first: Column,
    edge_last: Column,
    edge_zone_row: Column,
) -> Metres:
    """Where on the floor the sheet begins at the nearest of them."""
    return where(
        same(here, 1),
        smallest_of(
            edge_begin,
            same(edge_zone_row, zone_row),
            less(edge_first, covers_to),
            less(covers_from, edge_last),
        ),
        0,
    )


@rule
def here(strip: Each, strips_across: Each) -> Flag:
    """1 for a strip that is laid."""
    return where(at_most(strip, strips_across), 1, 0)


@rule
def long(here: Flag, far: Metres, near: Metres, dips: Metres, more: Metres) -> Metres:
    """Its length, with what turns up at its ends, thickenings crossed, and what is cut off for
    upstands at holes. 0 where none is laid."""
    return where(same(here, 1), to_six_places(most(0, far - near)) + dips + more, 0)


@rule
def lapped(strip: Each, strips_across: Each) -> Flag:
    """1 for a strip on which the next one laps."""
    return where(less(strip, strips_across), 1, 0)


def _strips(way: str, other: str) -> tuple[Item, ...]:
    """Of strips that run along one side of the floor; their bands lie across, along the other."""
    along = f"along {way.upper()}"
    dips, over = OwnCell(f"dips_{way}"), OwnCell(f"dips_{other}")
    behind, to = OwnCell(f"behind_{other}"), OwnCell(f"to_{way}")
    across = OwnCell(f"strips_{way}")

    def reaches(of: str, label: str, here: str, start: str) -> Iterator[Item]:
        """Where it ends and begins, and so its length."""
        band = {
            "here": OwnCell(f"{here}_{way}"), "covers_from": OwnCell(f"{start}_{way}"),
            "covers_to": to, "edge_first": WholeColumn("edges", f"first_{other}"),
            "edge_last": WholeColumn("edges", f"last_{other}"),
        }  # fmt: skip
        ends, begins = f"{of}far_{way}", f"{of}near_{way}"
        yield worked(
            far,
            f"{label} ends, {along}",
            ends,
            edge_end=WholeColumn("edges", f"last_{way}"),
            **band,
        )
        yield worked(
            near,
            f"{label} begins, {along}",
            begins,
            edge_begin=WholeColumn("edges", f"first_{way}"),
            **band,
        )
        name = f"{of.strip('_') or 'long'}_{way}"
        yield worked(
            long,
            f"{label}, {along}",
            name,
            here=OwnCell(f"{here}_{way}"),
            far=OwnCell(ends),
            near=OwnCell(begins),
            dips=dips,
            more=0 if of else OwnCell(f"upstands_{way}"),
        )

    return (
        worked(strips_across, f"Strips {along}", f"strips_{way}",
               across=OwnCell(f"sheet_{other}")),
        worked(here, f"Laid {along}", f"here_{way}", strips_across=across),
        worked(covers_from, f"From, {along}", f"from_{way}", behind=behind, dips=over),
        worked(covers_to, f"To, {along}", f"to_{way}", behind=behind),
        *reaches("", "Strip", "here", "from"),
        worked(lapped, f"Lapped, {along}", f"lapped_{way}", strips_across=across),
        worked(lap_from, f"Lap from, {along}", f"lap_from_{way}", covers_to=to, dips=over),
        *reaches("lap_", "Lap", "lapped", "lap_from"),
    )  # fmt: skip


@rule
def way_laid(
    zone_row: Each,
    width_no: Each,
    sheet_row: Each,
    layout_way: Column,
    layout_at: Column,
    layout_book_row: Column,
    layout_width_no: Column,
) -> Each:
    """Which way the strips of this width run: 1 along A, 2 along B, 0 where none is bought."""
    return sum_of(
        layout_way,
        same(layout_at, zone_row),
        same(layout_book_row, sheet_row),
        same(layout_width_no, width_no),
    )


@rule
def cut_long(whole_strips: Flag, way_laid: Each, long_a: Metres, long_b: Metres) -> Metres:
    """Length in which it is cut from a roll. 0 where it is not, or where strips may be joined."""
    # Gnumeric's CHOOSE makes #VALUE! of a number that is not available, so it is asked twice.
    return whole_strips * where(same(way_laid, 1), long_a, where(same(way_laid, 2), long_b, 0))


@rule
def strip_no(
    sheet_bought: Flag,
    cut_long: Metres,
    position: Each,
    band_cut_long: Column,
    band_position: Column,
    zone_strips_here: Column,
    zone_strip_long: Column,
) -> Each:
    """Its place among the strips of all floors, the longest first. 0 where it is not cut, and
    where the sheet is not bought here."""
    return where(
        less(0, sheet_bought * cut_long),
        count_of(less(0, zone_strips_here), at_most(cut_long, zone_strip_long))
        + count_of(
            less(0, band_cut_long),
            either(
                less(cut_long, band_cut_long),
                both(same(band_cut_long, cut_long), less(band_position, position + 1)),
            ),
        ),
        0,
    )


def _of_zone(name: str, label: str) -> Worked:
    return read(name, label, METRES, f"zones.{name}", at="zone_row")


BANDS = Table(
    "bands",
    "band",
    "Strips of sheet on floors that are no rectangle",
    (
        worked(block, "Floor and width"),
        worked(strip, "Strip"),
        worked(zone_row, "Floor no."),
        worked(width_no, "Width no."),
        worked(mark, "Floor"),
        worked(roll_width),
        *(
            _of_zone(f"{name}_{way}", f"{label} {way.upper()}")
            for name, label in (
                ("sheet", "Sheet along"),
                ("dips", "Dips along"),
                ("behind", "Sheet past the back, along"),
                ("upstands", "Upstands at holes, strips along"),
            )
            for way in "ab"
        ),
        worked(begins),
        *_strips("a", "b"),
        *_strips("b", "a"),
        worked(way_laid, "Strips run"),
        worked(cut_long, "Cut to"),
        worked(strip_no, "By length of strip"),
    ),
    spare=(2 * STRIPS_HELD, 2 * STRIPS_HELD),
    since=7,
)


@rule
def sheet_widths(book_width_no: Column) -> Each:
    """Different widths of sheet in the price book, of the grade that is bought."""
    return largest_of(book_width_no)


CELLS = (worked(sheet_widths, "Widths of sheet"),)

# ---- the sheet that is bought, zone by zone -----------------------------------------------------


@rule
def of_sheet(
    position: Each,
    sheet_row: Each,
    whole_strips: Flag,
    figure: Column,
    layout_at: Column,
    layout_book_row: Column,
) -> Amount:
    """As laid here from the sheet that is bought, where its strips stay whole."""
    return whole_strips * sum_of(
        figure, same(layout_at, position), same(layout_book_row, sheet_row)
    )


@rule
def floor_no(
    sheet_bought: Flag,
    strips_here: Each,
    strip_long: Metres,
    position: Each,
    zone_strips_here: Column,
    zone_strip_long: Column,
    zone_position: Column,
    band_cut_long: Column,
) -> Each:
    """Its place among the strips of all floors, the longest first. 0 without whole strips, where
    each has its own length, and where the sheet is not bought here."""
    return where(
        less(0, sheet_bought * strips_here),
        count_of(
            less(0, zone_strips_here),
            either(
                less(strip_long, zone_strip_long),
                both(same(zone_strip_long, strip_long), less(zone_position, position + 1)),
            ),
        )
        + count_of(less(strip_long, band_cut_long)),
        0,
    )


STRIP_COLUMNS = (
    worked(of_sheet, "Whole strips", "strips_here", figure=WholeColumn("layouts", "strips_alike")),
    worked(of_sheet, "Length of each", "strip_long",
           figure=WholeColumn("layouts", "strip_length")),
    worked(floor_no, "By length of strip", "strip_no"),
)  # fmt: skip
