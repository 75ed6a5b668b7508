"""The openings on the plan of a floor: those that have a place in the run that follows it."""

from ..language import *
from .chosen import there
from .openings_there import found, of_row, openings_there
from .side_labels import MARK_MOST
from .strokes import numbered, stroke_table, strokes

OPENINGS_DRAWN = 12
HALF_BOX = 0.8  # of the frame: half of how deep an opening is drawn
MARK_A, MARK_B = 4.6, 3  # of the frame: the middle of its mark from the wall, beside and above
NEAR, NEXT_A, NEXT_B = 6, 5, 2.2  # of the frame: marks nearer than that stand one behind another


@rule
def middle(opening_row: Each, opening_begins: Column, opening_ends: Column) -> Metres:
    """Its middle, along the run."""
    return where(
        less(0, opening_row),
        (beside(opening_begins, opening_row) + beside(opening_ends, opening_row)) / 2,
        0,
    )


@rule
def on_edge(
    drawn_row: Each,
    opening_row: Each,
    middle: Metres,
    edge_position: Column,
    edge_zone_row: Column,
    edge_in_run: Column,
    edge_run_at: Column,
    edge_run_to: Column,
) -> Each:
    """The row of the side on which its middle lies. 0 past the end of the run."""
    return where(
        less(0, opening_row),
        sum_of(
            edge_position,
            same(edge_zone_row, drawn_row),
            same(edge_in_run, 1),
            at_most(edge_run_at, middle),
            less(middle, edge_run_to),
        ),
        0,
    )


@rule
def side_at(on_edge: Each, drawn_side_edge_row: Column, drawn_side_position: Column) -> Each:
    """Which of the sides drawn that is. 0 for none of them."""
    return where(
        less(0, on_edge), sum_of(drawn_side_position, same(drawn_side_edge_row, on_edge)), 0
    )


@rule
def of_side(side_at: Each, column: Column) -> Amount:
    """As its side leads. 0 where it is not drawn."""
    return where(less(0, side_at), beside(column, side_at), 0)


@rule
def size(
    side_at: Each,
    opening_row: Each,
    drawn_scale: Amount,
    opening_begins: Column,
    opening_ends: Column,
) -> Amount:
    """Its width in the frame."""
    return where(
        less(0, side_at),
        (beside(opening_ends, opening_row) - beside(opening_begins, opening_row)) * drawn_scale,
        0,
    )


@rule
def ahead(
    side_at: Each, on_edge: Each, middle: Metres, drawn_scale: Amount, edge_run_at: Column
) -> Amount:
    """Its middle from the beginning of its side, in the frame."""
    return where(less(0, side_at), (middle - beside(edge_run_at, on_edge)) * drawn_scale, 0)


@rule
def mid_x(
    side_at: Each, ahead: Amount, way_a: Amount, drawn_left: Amount, drawn_side_from_x: Column
) -> Amount:
    """Its middle, from the left."""
    return where(less(0, side_at), beside(drawn_side_from_x, side_at) + ahead * way_a, drawn_left)


@rule
def mid_y(
    side_at: Each, ahead: Amount, way_b: Amount, drawn_top: Amount, drawn_side_from_y: Column
) -> Amount:
    """Its middle, from below."""
    return where(less(0, side_at), beside(drawn_side_from_y, side_at) - ahead * way_b, drawn_top)


@rule
def behind(
    side_at: Each,
    position: Each,
    ahead: Amount,
    drawn_opening_side_at: Column,
    drawn_opening_position: Column,
    drawn_opening_ahead: Column,
) -> Each:
    """How many refs stand in the way of its own: an air brick below a window has one."""
    return where(
        less(0, side_at),
        count_of(
            same(drawn_opening_side_at, side_at),
            less(drawn_opening_position, position),
            less(drawn_opening_ahead, ahead + NEAR),
            less(ahead - NEAR, drawn_opening_ahead),
        ),
        0,
    )


@rule
def label_x(mid_x: Amount, way_b: Amount, behind: Each, drawn_hand: Flag) -> Amount:
    """Where its ref is, from the left: outside the floor."""
    return mid_x + (MARK_A + NEXT_A * behind) * way_b * drawn_hand


@rule
def label_y(mid_y: Amount, way_a: Amount, behind: Each, drawn_hand: Flag) -> Amount:
    """Where its ref is, from below."""
    return mid_y + (MARK_B + NEXT_B * behind) * way_a * drawn_hand


@rule
def own_mark(side_at: Each, opening_row: Each, opening_mark: TextColumn) -> Text:
    """Its ref, where it is drawn."""
    return where(less(0, side_at), beside(opening_mark, opening_row), "")


@rule
def long_mark(own_mark: Text) -> Flag:
    """1 where there is no room for its ref."""
    return where(at_most(letters_in(own_mark), MARK_MOST), 0, 1)


@rule
def label(own_mark: Text, long_mark: Flag) -> Text:
    """Its ref. A blank where none is drawn, or where it is too long."""
    return where(same(own_mark, ""), " ", where(same(long_mark, 1), " ", own_mark))


@rule
def drawn_unmarked(drawn_opening_long_mark: Column) -> Each:
    """How many openings are drawn without their ref, which is too long."""
    return total(drawn_opening_long_mark)


_PLACED = of_row("drawn_row", "floor_row", placed=True)
OPENING_CELLS: tuple[Item, ...] = (
    worked(
        openings_there, "Openings placed round the floor drawn", "drawn_openings_all", **_PLACED
    ),
    worked(drawn_unmarked, "Openings drawn without their ref"),
)

DRAWN_OPENINGS = Table(
    "drawn_openings",
    "drawn_opening",
    "Plan: the openings placed round the floor drawn",
    (
        Fixed("name", "Opening drawn", TEXT),
        worked(found, **_PLACED),
        worked(there, "Row of the opening", "opening_row"),
        worked(middle),
        worked(on_edge, "Row of its side"),
        worked(side_at, "Side drawn"),
        worked(of_side, "Along A", "way_a", column=WholeColumn("drawn_sides", "way_a")),
        worked(of_side, "Along B", "way_b", column=WholeColumn("drawn_sides", "way_b")),
        worked(size),
        worked(ahead),
        worked(mid_x, "Middle, from the left"),
        worked(mid_y, "Middle, from below"),
        worked(behind, "Refs in its way"),
        worked(label_x, "Ref, from the left"),
        worked(label_y, "Ref, from below"),
        worked(own_mark, "Ref of the opening"),
        worked(long_mark, "Ref too long"),
        worked(label, "Ref"),
    ),
    key="name",
    guarded=False,
    since=7,
)

OPENING_ROWS = tuple({"name": f"opening {n}"} for n in range(1, OPENINGS_DRAWN + 1))


@rule
def box_x(
    of: Each,
    along: Amount,
    across: Amount,
    drawn_hand: Flag,
    drawn_opening_mid_x: Column,
    drawn_opening_size: Column,
    drawn_opening_way_a: Column,
    drawn_opening_way_b: Column,
) -> Amount:
    """A corner of an opening, from the left."""
    return (
        beside(drawn_opening_mid_x, of)
        + along * beside(drawn_opening_size, of) * beside(drawn_opening_way_a, of)
        + across * drawn_hand * beside(drawn_opening_way_b, of)
    )


@rule
def box_y(
    of: Each,
    along: Amount,
    across: Amount,
    drawn_hand: Flag,
    drawn_opening_mid_y: Column,
    drawn_opening_size: Column,
    drawn_opening_way_a: Column,
    drawn_opening_way_b: Column,
) -> Amount:
    """A corner of an opening, from below."""
    return (
        beside(drawn_opening_mid_y, of)
        - along * beside(drawn_opening_size, of) * beside(drawn_opening_way_b, of)
        + across * drawn_hand * beside(drawn_opening_way_a, of)
    )


DRAWN_BOXES = stroke_table(
    "drawn_boxes",
    "drawn_box",
    "Plan: round each opening",
    "Corner of an opening",
    Fixed("of", "Of opening", EACH),
    Fixed("along", "Of its width", AMOUNT),
    Fixed("across", "From the wall's line", AMOUNT),
    worked(box_x, "From the left", "x"),
    worked(box_y, "From below", "y"),
    since=7,
)

_ROUND = ((-0.5, 1), (0.5, 1), (0.5, -1), (-0.5, -1), (-0.5, 1))

BOX_ROWS = strokes(
    numbered(
        f"opening {n}",
        ({"of": n, "along": along, "across": HALF_BOX * side} for along, side in _ROUND),
    )
    for n in range(1, OPENINGS_DRAWN + 1)
)
