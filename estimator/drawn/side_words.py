"""What is written on the plan of a floor: its title, its dimensions, and what each line is."""

from ..language import *
from .frame import (
    BAR_X,
    BAR_Y,
    SCALE,
    TICK,
    Words,
    bar_words_y,
    drawn_bar,
    fixed,
    more_than,
    over_all,
    scale_says,
    words_table,
)
from .holes import CROSSED
from .openings import HALF_BOX, OPENINGS_DRAWN
from .sides import SIDES_DRAWN
from .strokes import stroke_table, strokes

DIM_OFF = 8  # of the frame: a dimension line from the floor
DIM_WORDS_A, DIM_WORDS_B = 2.2, 5.8  # of the frame: its figure from it, below and to the left
KEY_X, KEY_LONG, KEY_WORDS = 3, 6, 7.5  # of the frame: the key, from the left


@rule
def measure_x(
    what: Each,
    share_x: Amount,
    more_x: Amount,
    drawn_left: Amount,
    drawn_extent_a: Metres,
    drawn_bar: Metres,
    drawn_scale: Amount,
) -> Amount:
    """A point of a dimension line, the scale or the key, from the left."""
    return (
        choose(what, drawn_left, drawn_left - DIM_OFF, BAR_X, KEY_X)
        + share_x * drawn_scale * choose(what, drawn_extent_a, 0, drawn_bar, 0)
        + more_x
    )


@rule
def measure_y(
    what: Each,
    share_y: Amount,
    more_y: Amount,
    drawn_bottom: Amount,
    drawn_extent_b: Metres,
    drawn_bar: Metres,
    drawn_scale: Amount,
) -> Amount:
    """The same, from below."""
    return (
        choose(what, drawn_bottom - DIM_OFF, drawn_bottom, BAR_Y, 0)
        + share_y * drawn_scale * choose(what, 0, drawn_extent_b, drawn_bar, 0)
        + more_y
    )


DRAWN_MEASURES = stroke_table(
    "drawn_measures",
    "drawn_measure",
    "Plan: dimension lines, the scale, and a piece of each line",
    "Point",
    Fixed("what", "1 along A, 2 along B, 3 the scale, 4 the key", EACH),
    *(Fixed(f"share_{a}", f"Of its length, {a}", AMOUNT) for a in ("x", "y")),
    *(Fixed(f"more_{a}", f"And more, {a}", AMOUNT) for a in ("x", "y")),
    worked(measure_x, "From the left", "x"),
    worked(measure_y, "From below", "y"),
    since=7,
)
_ALONG_A = ((0, -TICK), (0, TICK), (0, 0), (1, 0), (1, -TICK), (1, TICK))
KEY = (
    *("new wall", "existing wall", "threshold", "joint with another floor"),
    *("partition or free edge", "sheet turned up", "opening", "hole"),
)
AT_SIDES, SIDES_Y = "at each side: its length, its ref, and that of its wall run", 14.4
# On a client's plan instead of what is said of sides, runs and refs: each with its height.
FOR_CLIENT = (
    ("Inside faces. Lengths in metres.", 93.7),
    ("Set no opening or threshold out by this plan: not every place is known.", 90.9),
)
_KEY_AT = tuple((38 * (n // 4), 11.5 - 3 * (n % 4)) for n in range(len(KEY)))


def _point(name: str, what: int, *shares: float) -> dict[str, object]:
    return {
        "name": name,
        "what": what,
        **dict(zip(("share_x", "share_y", "more_x", "more_y"), shares, strict=True)),
    }


def _key_points(n: int) -> tuple[tuple[float, float], ...]:
    x, y = _KEY_AT[n]
    if n < len(KEY) - 2:
        return ((x, y), (x + KEY_LONG, y))
    low, high = y - HALF_BOX, y + HALF_BOX
    if n == len(KEY) - 1:
        return tuple((x + KEY_LONG * a, high + (low - high) * b) for a, b in CROSSED)
    return ((x, low), (x + KEY_LONG, low), (x + KEY_LONG, high), (x, high), (x, low))


_POINTS = (
    [_point("along A", 1, share, 0, 0, tick) for share, tick in _ALONG_A],
    [_point("along B", 2, 0, share, tick, 0) for share, tick in _ALONG_A],
    [_point("scale", 3, *shares) for shares in SCALE],
    *([_point(KEY[n], 4, 0, 0, x, y) for x, y in _key_points(n)] for n in range(len(KEY))),
)
MEASURE_ROWS = strokes(_POINTS)


@rule
def drawn_title(drawn_row: Each, drawn_floor: Text, zone_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, drawn_row),
        one_text("Plan of floor ", beside(zone_mark, drawn_row)),
        where(same(drawn_floor, ""), "Plan: no floor yet", "Plan: that floor cannot be used"),
    )


@rule
def without_say(drawn_without_figure: Each, drawn_without_mark: Each) -> Text:
    """How many sides have no room for their figure, or for the ref below it."""
    return one_text(
        where(
            less(0, drawn_without_figure),
            one_text("; without words: ", in_figures(drawn_without_figure)),
            "",
        ),
        where(
            less(0, drawn_without_mark),
            one_text("; without ref: ", in_figures(drawn_without_mark)),
            "",
        ),
    )


@rule
def sides_say(drawn_sides_all: Each, drawn_without_say: Text, drawn_holes_say: Text) -> Text:
    """How many sides it has, and holes if any, and what is not drawn of them."""
    return one_text(
        "Inside faces, m. Sides: ",
        in_figures(drawn_sides_all),
        more_than(drawn_sides_all, SIDES_DRAWN, "sides"),
        drawn_without_say,
        drawn_holes_say,
    )


@rule
def placed_say(drawn_openings_all: Each, drawn_unmarked: Each) -> Text:
    """How many openings have a place there, and for how many refs there is no room."""
    return one_text(
        "Openings placed in its run: ",
        in_figures(drawn_openings_all),
        more_than(drawn_openings_all, OPENINGS_DRAWN, "openings"),
        where(less(0, drawn_unmarked), one_text("; without ref: ", in_figures(drawn_unmarked)), ""),
    )


@rule
def openings_say(
    drawn_row: Each, section_run: Each, drawn_placed_say: Text, plan_not_drawn: Text
) -> Text:
    """How many openings have a place there, and which are not drawn."""
    return where(
        less(0, section_run),
        one_text(drawn_placed_say, plan_not_drawn),
        where(less(0, drawn_row), "Openings are not drawn: no wall run follows this floor", " "),
    )


@rule
def threshold_say(
    drawn_row: Each, plan_not_drawn: Text, edge_zone_row: Column, edge_kind: TextColumn
) -> Text:
    """That thresholds are drawn where the walk has them, while openings there have no place."""
    return where(
        same(plan_not_drawn, ""),
        " ",
        where(
            less(0, count_of(same(edge_zone_row, drawn_row), same(edge_kind, "threshold"))),
            "Set no threshold out by this plan: not every place is given",
            " ",
        ),
    )


@rule
def drawn_fault(drawn_row: Each, drawn_threshold_say: Text, zone_walk_note: TextColumn) -> Text:
    """What keeps the floor drawn from being a shape, or what not to set out by it."""
    return where(
        less(0, drawn_row),
        where(
            same(beside(zone_walk_note, drawn_row), ""),
            drawn_threshold_say,
            one_text("Not a shape yet: ", beside(zone_walk_note, drawn_row)),
        ),
        " ",
    )


@rule
def under_a(drawn_left: Amount, drawn_extent_a: Metres, drawn_scale: Amount) -> Amount:
    """The middle of the floor, from the left."""
    return drawn_left + drawn_extent_a * drawn_scale / 2


@rule
def below_line(drawn_bottom: Amount) -> Amount:
    """Under the dimension line along A."""
    return drawn_bottom - DIM_OFF - DIM_WORDS_A


@rule
def left_of_line(drawn_left: Amount) -> Amount:
    """To the left of the dimension line along B."""
    return drawn_left - DIM_OFF - DIM_WORDS_B


@rule
def beside_b(drawn_bottom: Amount, drawn_extent_b: Metres, drawn_scale: Amount) -> Amount:
    """The middle of the floor, from below."""
    return drawn_bottom + drawn_extent_b * drawn_scale / 2


WORD_CELLS: tuple[Item, ...] = (
    worked(drawn_bar, "Scale's arm"),
    worked(without_say, "Plan: sides without words", "drawn_without_say"),
    worked(placed_say, "Plan: openings placed", "drawn_placed_say"),
    worked(threshold_say, "Plan: thresholds not to set out by", "drawn_threshold_say"),
)
# Each word: its name, where it is in the frame, and what it says.
_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(drawn_title)),
    ("sides", fixed(2), fixed(93.7), rule_of(sides_say)),
    ("openings", fixed(2), fixed(90.9), rule_of(openings_say)),
    ("what is wrong", fixed(2), fixed(88.1), rule_of(drawn_fault)),
    ("along A", rule_of(under_a), rule_of(below_line),
     worked(over_all, extent=NamedCell("drawn_extent_a"))),
    ("along B", rule_of(left_of_line), rule_of(beside_b),
     worked(over_all, extent=NamedCell("drawn_extent_b"))),
    ("scale", fixed(BAR_X + 1), rule_of(bar_words_y), rule_of(scale_says)),
)  # fmt: skip
DRAWN_WORDS = words_table("drawn_words", "drawn_word", "Plan: its title and dimensions", _WORDS)
WORD_ROWS = tuple({"name": name} for name, *_ in _WORDS)
DRAWN_KEY = Table(
    "drawn_key",
    "drawn_entry",
    "Drawings: words that stay as they are",
    (
        Fixed("name", "Words", TEXT),
        Fixed("x", "From the left", AMOUNT),
        Fixed("y", "From below", AMOUNT),
    ),
    key="name",
    guarded=False,
    since=7,
)
KEY_ROWS = (
    *(
        {"name": words, "x": KEY_X + KEY_WORDS + x, "y": y}
        for words, (x, y) in zip(KEY, _KEY_AT, strict=True)
    ),
    {"name": AT_SIDES, "x": KEY_X, "y": SIDES_Y},
    *({"name": words, "x": 2, "y": y} for words, y in FOR_CLIENT),
)
