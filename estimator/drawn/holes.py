"""The holes in the floor drawn: round each and across it both ways, as a void is drawn on a plan."""

from ..language import *
from .chosen import in_row, there
from .frame import more_than
from .sides import found
from .strokes import numbered, stroke_table, strokes

HOLES_DRAWN = 6
# Each corner is met by three lines, so that one side is drawn twice.
CROSSED = ((0, 0), (1, 0), (1, 1), (0, 1), (0, 0), (1, 1), (1, 0), (0, 1))


@rule
def place(edge_row: Each, reaches_back: Metres, edge_at: Column) -> Metres:
    """Where it begins or ends one way, from the back of the floor."""
    return where(less(0, edge_row), reaches_back + beside(edge_at, edge_row), 0)


@rule
def hole_x(at: Metres, drawn_left: Amount, drawn_scale: Amount) -> Amount:
    """From the left. One that is not in its floor goes no farther than the frame."""
    return least(100, most(0, drawn_left + at * drawn_scale))


@rule
def hole_y(at: Metres, drawn_top: Amount, drawn_scale: Amount) -> Amount:
    """From below."""
    return least(100, most(0, drawn_top - at * drawn_scale))


@rule
def point(of: Each, far: Flag, one: Column, other: Column) -> Amount:
    """A corner of the hole, from the left or from below."""
    return where(same(far, 1), beside(other, of), beside(one, of))


@rule
def drawn_holes_say(drawn_holes_all: Each) -> Text:
    """How many holes there are, and what is not drawn of them."""
    return where(
        less(0, drawn_holes_all),
        one_text(
            "; holes: ",
            in_figures(drawn_holes_all),
            more_than(drawn_holes_all, HOLES_DRAWN, "holes"),
        ),
        "",
    )


HOLE_CELLS: tuple[Item, ...] = (
    worked(in_row, "Holes in the floor drawn", "drawn_holes_all",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "holes")),
    worked(drawn_holes_say, "Holes in the floor drawn, in words"),
)  # fmt: skip

DRAWN_HOLES = Table(
    "drawn_holes",
    "drawn_hole",
    "Plan: the holes in the floor drawn",
    (
        Fixed("name", "Hole drawn", TEXT),
        worked(found, of_hole=1),
        worked(there, "Row of the hole", "edge_row"),
        *(
            item
            for end, column in (("from", "begins"), ("to", "ends"))
            for way, axis, frame in (("a", "x", hole_x), ("b", "y", hole_y))
            for item in (
                worked(place, f"{end.capitalize()}, along {way.upper()}", f"{end}_{way}",
                       reaches_back=NamedCell(f"drawn_from_{way}"),
                       edge_at=WholeColumn("edges", f"hole_{column}_{way}")),
                worked(frame, f"{end.capitalize()}, {axis}", f"{end}_{axis}",
                       at=OwnCell(f"{end}_{way}")),
            )
        ),
    ),
    key="name",
    guarded=False,
    since=9,
)  # fmt: skip

HOLE_ROWS = tuple({"name": f"hole {n}"} for n in range(1, HOLES_DRAWN + 1))

DRAWN_CROSSES = stroke_table(
    "drawn_crosses",
    "drawn_cross",
    "Plan: round each hole, and across it",
    "Corner of a hole",
    Fixed("of", "Of hole", EACH),
    Fixed("far_x", "1 where it ends, across the drawing", FLAG),
    Fixed("far_y", "1 where it ends, down the drawing", FLAG),
    *(
        worked(point, label, axis, far=OwnCell(f"far_{axis}"),
               one=WholeColumn("drawn_holes", f"from_{axis}"),
               other=WholeColumn("drawn_holes", f"to_{axis}"))
        for axis, label in (("x", "From the left"), ("y", "From below"))
    ),
    since=9,
)  # fmt: skip

CROSS_ROWS = strokes(
    numbered(f"hole {n}", ({"of": n, "far_x": x, "far_y": y} for x, y in CROSSED))
    for n in range(1, HOLES_DRAWN + 1)
)
