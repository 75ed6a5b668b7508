"""What is written at a side of a floor drawn: its length, its mark, and that of the run it lies in.

A word that would meet another is left out, and counted.
"""

from ..language import *

LABEL_FROM = 9  # of the frame: a shorter side has no figure, or figures would overlap
FIGURE_WIDE, FIGURE_HIGH = 6, 2.4  # of the frame: how near two figures may be, across and down
OUT_A, OUT_B = 5.8, 3  # of the frame: the middle of its words from its side, beside and below
MARK_DOWN = 2.2  # of the frame: a mark below its figure
MARK_WIDE, MARK_MOST = 8, 8  # of the frame, and letters: its own with that of its run


@rule
def label_x(from_x: Amount, size: Amount, way_a: Amount, way_b: Amount, drawn_hand: Flag) -> Amount:
    """Where its figure is, from the left: inside the floor."""
    return from_x + size * way_a / 2 - OUT_A * way_b * drawn_hand


@rule
def label_y(from_y: Amount, size: Amount, way_a: Amount, way_b: Amount, drawn_hand: Flag) -> Amount:
    """Where its figure is, from below: its ref is below it, and has room over a side as well."""
    return (
        from_y
        - size * way_b / 2
        - OUT_B * way_a * drawn_hand
        + MARK_DOWN * most(0, 0 - way_a * drawn_hand)
    )


@rule
def long_enough(size: Amount) -> Flag:
    """1 where the side is long enough for its figure."""
    return where(at_most(LABEL_FROM, size), 1, 0)


@rule
def figured(
    long_enough: Flag,
    position: Each,
    label_x: Amount,
    label_y: Amount,
    drawn_side_long_enough: Column,
    drawn_side_position: Column,
    drawn_side_label_x: Column,
    drawn_side_label_y: Column,
) -> Flag:
    """1 where it has its figure: it is long enough, and no figure before it is in the way."""
    return where(
        same(long_enough, 1),
        where(
            less(
                0,
                count_of(
                    same(drawn_side_long_enough, 1),
                    less(drawn_side_position, position),
                    less(drawn_side_label_x, label_x + FIGURE_WIDE),
                    less(label_x - FIGURE_WIDE, drawn_side_label_x),
                    less(drawn_side_label_y, label_y + FIGURE_HIGH),
                    less(label_y - FIGURE_HIGH, drawn_side_label_y),
                ),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def label(figured: Flag, length: Metres) -> Text:
    """Its length in figures, where there is room. Else a blank."""
    return where(same(figured, 1), in_metres(length), " ")


@rule
def run_row(edge_row: Each, section_run: Each, edge_in_run: Column, edge_wall_row: Column) -> Each:
    """The run it lies in: the one that follows the floor, else the one it names. 0 for neither."""
    return where(
        less(0, edge_row),
        where(
            less(0, section_run * beside(edge_in_run, edge_row)),
            section_run,
            beside(edge_wall_row, edge_row),
        ),
        0,
    )


@rule
def own_mark(edge_row: Each, edge_mark: TextColumn) -> Text:
    """Its ref."""
    return where(less(0, edge_row), beside(edge_mark, edge_row), "")


@rule
def with_run(own_mark: Text, run_row: Each, wall_mark: TextColumn) -> Text:
    """Its ref and that of its run."""
    return where(less(0, run_row), one_text(own_mark, " ", beside(wall_mark, run_row)), own_mark)


@rule
def free_below(
    figured: Flag,
    label_x: Amount,
    label_y: Amount,
    drawn_side_figured: Column,
    drawn_side_label_x: Column,
    drawn_side_label_y: Column,
) -> Flag:
    """1 where no other figure, nor the ref below it, is in the way of a ref below its own."""
    return where(
        same(figured, 1),
        where(
            less(
                1,
                count_of(
                    same(drawn_side_figured, 1),
                    less(drawn_side_label_x, label_x + MARK_WIDE),
                    less(label_x - MARK_WIDE, drawn_side_label_x),
                    less(drawn_side_label_y, label_y + FIGURE_HIGH),
                    less(label_y - MARK_DOWN - FIGURE_HIGH, drawn_side_label_y),
                ),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def marked(free_below: Flag, own_mark: Text, with_run: Text) -> Text:
    """What is written of them: both, its own where both are too long, or nothing."""
    return where(
        same(free_below, 1),
        where(
            at_most(letters_in(with_run), MARK_MOST),
            with_run,
            where(at_most(letters_in(own_mark), MARK_MOST), own_mark, " "),
        ),
        " ",
    )


@rule
def mark_y(label_y: Amount) -> Amount:
    """Where that is, from below."""
    return label_y - MARK_DOWN
