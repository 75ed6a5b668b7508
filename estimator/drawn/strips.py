"""The sheet laid on the floor drawn: its strips one by one, over the floor's own lines.

Each strip is as long as it is cut, and lies where it is laid from the back of the floor: past each
side by what turns up there. What thickenings of the slab take is in its length and not drawn.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..language import *
from .chosen import in_row

STRIPS_DRAWN = 10
LIST_X, LIST_TOP, LIST_WIDE, LIST_STEP = 2, 16, 25, 3  # of the frame: the list of lengths
LIST_HIGH = 5  # lines


# ---- how it is laid ---------------------------------------------------------------------------------


@rule
def strips_layout(
    drawn_row: Each,
    sheet_row: Each,
    layout_position: Column,
    layout_at: Column,
    layout_book_row: Column,
    layout_fits: Column,
) -> Each:
    """The row of its layout in the sheet that is bought. 0 for none."""
    return where(
        less(0, drawn_row * sheet_row),
        sum_of(
            layout_position,
            same(layout_at, drawn_row),
            same(layout_book_row, sheet_row),
            same(layout_fits, 1),
        ),
        0,
    )


@rule
def sheet_near(
    drawn_walked: Flag,
    drawn_row: Each,
    past: Millimetres,
    edge_first: Column,
    edge_zone_row: Column,
) -> Metres:
    """Where the sheet begins one way, from the back of the floor. Below 0 past it."""
    return where(
        same(drawn_walked, 1),
        smallest_of(edge_first, same(edge_zone_row, drawn_row)),
        0 - past / 1000,
    )


@rule
def sheet_far(
    drawn_walked: Flag,
    drawn_row: Each,
    extent: Metres,
    past: Millimetres,
    edge_last: Column,
    edge_zone_row: Column,
) -> Metres:
    """Where it ends."""
    return where(
        same(drawn_walked, 1),
        largest_of(edge_last, same(edge_zone_row, drawn_row)),
        extent + past / 1000,
    )


def _layout(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("strips_layout"), column=WholeColumn("layouts", column)
    )


def _zone(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("drawn_row"), column=WholeColumn("zones", column)
    )


# Side A1 lies at the back and A2 at the front, B2 on the left and B1 on the right.
_PAST = {
    "near_a": "past_b_two",
    "far_a": "past_b_one",
    "near_b": "past_a_one",
    "far_b": "past_a_two",
}

STRIP_CELLS: tuple[Item, ...] = (
    worked(strips_layout, "Sheet drawn: its layout"),
    _layout("strips_along_b", "Sheet drawn: along B", "along_b"),
    _layout("strips_width", "Sheet drawn: width of roll", "roll_width"),
    _layout("strips_width_no", "Sheet drawn: width no.", "width_no"),
    _layout("strips_count", "Sheet drawn: strips", "strip_count"),
    _layout("strips_long", "Sheet drawn: length of a strip", "strip_length"),
    _layout("strips_shaped", "Sheet drawn: on no rectangle", "shaped"),
    *(
        _zone(f"strips_past_{end}", f"Sheet drawn: past the floor, {end.replace('_', ' ')}", column)
        for end, column in _PAST.items()
    ),
    *(
        item
        for w in "ab"
        for item in (
            worked(sheet_near, f"Sheet drawn: begins along {w.upper()}", f"strips_near_{w}",
                   past=NamedCell(f"strips_past_near_{w}"),
                   edge_first=WholeColumn("edges", f"first_{w}")),
            worked(sheet_far, f"Sheet drawn: ends along {w.upper()}", f"strips_far_{w}",
                   past=NamedCell(f"strips_past_far_{w}"), extent=NamedCell(f"drawn_extent_{w}"),
                   edge_last=WholeColumn("edges", f"last_{w}")),
        )
    ),
)  # fmt: skip


# ---- strip by strip ---------------------------------------------------------------------------------


@rule
def laid(position: Each, strips_count: Each) -> Flag:
    """1 for a strip that is laid."""
    return where(at_most(position, strips_count), 1, 0)


@rule
def band_row(
    laid: Flag,
    strips_shaped: Flag,
    position: Each,
    drawn_row: Each,
    strips_width_no: Each,
    band_position: Column,
    band_zone_row: Column,
    band_width_no: Column,
    band_strip: Column,
) -> Each:
    """Its row among the strips of floors that are no rectangle. 0 on any other."""
    return where(
        less(0, laid * strips_shaped),
        sum_of(
            band_position,
            same(band_zone_row, drawn_row),
            same(band_width_no, strips_width_no),
            same(band_strip, position),
        ),
        0,
    )


@rule
def strip_end(
    band_row: Each,
    strips_along_b: Flag,
    band_along_a: Column,
    band_along_b: Column,
    whole_a: Metres,
    whole_b: Metres,
) -> Metres:
    """An end of the strip: on a rectangle where the sheet ends."""
    return where(
        less(0, band_row),
        where(
            same(strips_along_b, 1), beside(band_along_b, band_row), beside(band_along_a, band_row)
        ),
        where(same(strips_along_b, 1), whole_b, whole_a),
    )


@rule
def strip_long(
    laid: Flag,
    band_row: Each,
    strips_along_b: Flag,
    strips_long: Metres,
    band_long_a: Column,
    band_long_b: Column,
) -> Metres:
    """The length it is cut to."""
    return where(
        less(0, band_row),
        where(
            same(strips_along_b, 1), beside(band_long_b, band_row), beside(band_long_a, band_row)
        ),
        laid * strips_long,
    )


@rule
def across_from(
    position: Each,
    strips_along_b: Flag,
    strips_near_a: Metres,
    strips_near_b: Metres,
    strips_width: Metres,
    dpm_lap: Millimetres,
) -> Metres:
    """Where it begins across, from the back of the floor: a lap before the one before it ends."""
    return where(same(strips_along_b, 1), strips_near_a, strips_near_b) + (position - 1) * (
        strips_width - dpm_lap / 1000
    )


@rule
def across_to(
    across_from: Metres,
    strips_along_b: Flag,
    strips_far_a: Metres,
    strips_far_b: Metres,
    strips_width: Metres,
) -> Metres:
    """Where it ends across: the last is trimmed to the sheet."""
    return least(
        across_from + strips_width, where(same(strips_along_b, 1), strips_far_a, strips_far_b)
    )


@rule
def on_a(strips_along_b: Flag, along: Metres, across: Metres) -> Metres:
    """How far along A."""
    return where(same(strips_along_b, 1), across, along)


@rule
def on_b(strips_along_b: Flag, along: Metres, across: Metres) -> Metres:
    """How far along B."""
    return where(same(strips_along_b, 1), along, across)


@rule
def frame_x(at: Metres, laid: Flag, drawn_left: Amount, drawn_scale: Amount) -> Amount:
    """From the left of the frame. The floor's own corner for a strip that is not laid."""
    return drawn_left + laid * at * drawn_scale


@rule
def frame_y(at: Metres, laid: Flag, drawn_top: Amount, drawn_scale: Amount) -> Amount:
    """From below."""
    return drawn_top - laid * at * drawn_scale


@rule
def middle(one: Amount, other: Amount) -> Amount:
    """Half-way between two places."""
    return (one + other) / 2


@rule
def strip_mark(laid: Flag, position: Each) -> Text:
    """Its number. A blank for none."""
    return where(same(laid, 1), in_figures(position), " ")


@rule
def strip_says(laid: Flag, position: Each, strip_long: Metres) -> Text:
    """Its number and its length, in the list. A blank for none."""
    return where(
        same(laid, 1),
        one_text("Strip ", in_figures(position), ": ", in_metres(strip_long), " m"),
        " ",
    )


def _corner(end: str) -> Iterator[Item]:
    """The same corner of the strip in the frame: where it begins (from) or ends (to)."""
    along, across = OwnCell(f"along_{end}"), OwnCell(f"across_{end}")
    for way, rule, frame, axis in (("a", on_a, frame_x, "x"), ("b", on_b, frame_y, "y")):
        label = f"{end.capitalize()}, along {way.upper()}"
        yield worked(rule, label, f"{end}_{way}", along=along, across=across)
        yield worked(
            frame, f"{end.capitalize()}, {axis}", f"{end}_{axis}", at=OwnCell(f"{end}_{way}")
        )


DRAWN_STRIPS = Table(
    "drawn_strips",
    "drawn_strip",
    "Sheet on the floor drawn: strip by strip",
    (
        Fixed("name", "Strip", TEXT),
        Fixed("list_x", "Its line, from the left", AMOUNT),
        Fixed("list_y", "Its line, from below", AMOUNT),
        worked(laid),
        worked(band_row, "Strip no."),
        *(
            worked(strip_end, f"Along, {label}", f"along_{label}",
                   band_along_a=WholeColumn("bands", f"{end}_a"),
                   band_along_b=WholeColumn("bands", f"{end}_b"),
                   whole_a=NamedCell(f"strips_{end}_a"), whole_b=NamedCell(f"strips_{end}_b"))
            for label, end in (("from", "near"), ("to", "far"))
        ),
        worked(strip_long, "Length"),
        worked(across_from, "Across, from"),
        worked(across_to, "Across, to"),
        *_corner("from"),
        *_corner("to"),
        worked(middle, "Middle, from the left", "middle_x", one=OwnCell("from_x"), other=OwnCell("to_x")),
        worked(middle, "Middle, from below", "middle_y", one=OwnCell("from_y"), other=OwnCell("to_y")),
        worked(strip_mark, "Number", "mark"),
        worked(strip_says, "What it says", "says"),
    ),
    key="name",
    guarded=False,
    since=8,
)  # fmt: skip

STRIP_ROWS = tuple(
    {
        "name": f"strip {n + 1}",
        "list_x": LIST_X + LIST_WIDE * (n // LIST_HIGH),
        "list_y": LIST_TOP - LIST_STEP * (n % LIST_HIGH),
    }
    for n in range(STRIPS_DRAWN)
)

TABLES = (DRAWN_STRIPS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {"drawn_strips": STRIP_ROWS}
