"""What drawings share: the frame of 0 to 100 both ways, a scale each way, words at their places."""

from ..language import *
from .strokes import stroke_table

BAR_X, BAR_Y, BAR_MOST = 80, 3, 12  # of the frame: the corner of the scale, and its longest arm
# Of each: its name, how far from the left and from below it is, and what it says.
Words = tuple[tuple[str, Rule | Worked, Rule | Worked, Rule | Worked], ...]


@rule
def drawn_bar(drawn_scale: Amount) -> Metres:
    """Length of each arm of the scale: the longest round figure there is room for."""
    return where(
        at_most(10 * drawn_scale, BAR_MOST),
        10,
        where(
            at_most(5 * drawn_scale, BAR_MOST),
            5,
            where(
                at_most(2 * drawn_scale, BAR_MOST),
                2,
                where(
                    at_most(drawn_scale, BAR_MOST),
                    1,
                    where(
                        at_most(drawn_scale / 2, BAR_MOST),
                        0.5,
                        where(at_most(drawn_scale / 5, BAR_MOST), 0.2, 0.1),
                    ),
                ),
            ),
        ),
    )


@rule
def scale_point(share: Amount, more: Amount, bar: Amount, scale: Amount, corner: Amount) -> Amount:
    """A point of a scale, from the left or from below. All in its corner where nothing is drawn."""
    return where(less(0, scale), more + share * bar * scale, corner)


def scale_table(name: str, row: str, title: str, bar: str, scale: str, since: int) -> Table:
    """The list of points of a scale: its arms are as long as one named cell says, to the other's."""
    return stroke_table(
        name,
        row,
        title,
        "Point",
            *(Fixed(f"share_{a}", f"Of its length, {a}", AMOUNT) for a in ("x", "y")),
            *(Fixed(f"more_{a}", f"And more, {a}", AMOUNT) for a in ("x", "y")),
            *(
                worked(scale_point, label, a, share=OwnCell(f"share_{a}"), more=OwnCell(f"more_{a}"),
                       bar=NamedCell(bar), scale=NamedCell(scale), corner=corner)
                for a, label, corner in (("x", "From the left", BAR_X), ("y", "From below", BAR_Y))
            ),
        since=since,
    )  # fmt: skip


TICK = 0.9  # of the frame: half of what crosses the end of a line that is measured
# The scale: each point's share of its arms, across and up, and what is added.
SCALE = (
    *((0, 1, -TICK, 0), (0, 1, TICK, 0), (0, 1, 0, 0), (0, 0, 0, 0)),
    *((1, 0, 0, 0), (1, 0, 0, -TICK), (1, 0, 0, TICK)),
)
SCALE_ROWS = tuple(
    {"name": "scale", "share_x": x, "share_y": y, "more_x": BAR_X + dx, "more_y": BAR_Y + dy}
    for x, y, dx, dy in SCALE
)


@rule
def more_than(count: Each, room: Each, things: Text) -> Text:
    """What is said of things for which the drawing has no room."""
    return where(
        less(room, count), one_text(" (only ", in_figures(room), " ", things, " are drawn)"), ""
    )


@rule
def stop_ends_say(weeps: Each, drawn: Each, weep_end: Millimetres, weep_step: Millimetres) -> Text:
    """Stop ends and weeps of a level tray, and where the weeps are."""
    return one_text(
        "2 stop ends; weeps: ",
        in_figures(weeps),
        more_than(weeps, drawn, "weeps"),
        ", first ",
        in_figures(weep_end),
        " mm from each end, at most ",
        in_figures(weep_step),
        " mm apart",
    )


@rule
def over_all(drawn_row: Each, extent: Metres) -> Text:
    """A dimension over all."""
    return where(less(0, drawn_row), one_text(in_metres(extent), " m"), " ")


@rule
def scale_says(drawn_row: Each, drawn_bar: Metres) -> Text:
    """How long an arm of the scale is."""
    return where(less(0, drawn_row), one_text(in_metres(drawn_bar), " m each way"), " ")


@rule
def fixed_at(place: Amount) -> Amount:
    """A fixed place in the frame."""
    return place


def fixed(place: float) -> Worked:
    """A fixed place in the frame, as a column's rule."""
    return worked(fixed_at, place=place)


@rule
def bar_words_y(drawn_bar: Metres, drawn_scale: Amount) -> Amount:
    """Beside the upright arm of the scale."""
    return BAR_Y + drawn_bar * drawn_scale / 2


def words_table(name: str, row: str, title: str, words: Words, since: int = 7) -> Table:
    """The list of words in a drawing: of each its name, where it is, and what it says."""
    return Table(
        name,
        row,
        title,
        (
            Fixed("name", "Words", TEXT),
            Varied("x", "From the left", AMOUNT, rules=tuple(x for _, x, _, _ in words)),
            Varied("y", "From below", AMOUNT, rules=tuple(y for _, _, y, _ in words)),
            Varied("says", "What it says", TEXT, rules=tuple(says for *_, says in words)),
        ),
        key="name",
        guarded=False,
        since=since,
    )
