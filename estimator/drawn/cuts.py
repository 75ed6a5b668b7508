"""How the rolls of one product are cut, drawn to scale: each roll a bar, its pieces from the left.

What is drawn are the rows of the cutting list of that product, one after another: how much of each
roll is left after each row says where it is cut.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..language import *
from .chosen import in_row, there
from .frame import Words, fixed, more_than, words_table
from .strokes import BAR, numbered, stroke_table, strokes

ROLLS_DRAWN, LENGTHS_DRAWN = 8, 8
FROM_X, WIDE = 6, 78  # of the frame
TOP, STEP, HIGH = 80, 9.5, 5  # of the frame: the first bar, from one to the next, how high each is
LEFT_OFF = 1  # of the frame: what is said of the rest, from the bar

CHOSEN = text(
    "drawn_product",
    "Product drawn",
    "The code of a product that is cut in whole pieces. Blank: the first in the cutting list.",
    choice_of="book.code",
    required=False,
    since=8,
)


# ---- the product ------------------------------------------------------------------------------------


@rule
def bars_found(
    drawn_product: Text,
    cut_position: Column,
    cut_mark: TextColumn,
    cut_as_listed: Column,
) -> Amount:
    """The first row of the product drawn in the cutting list, else of the list. NOTHING for none.

    What is cut by a plan that was taken over is cut otherwise, and is not drawn.
    """
    return where(
        same(drawn_product, ""),
        smallest_of(cut_position, cut_as_listed),
        smallest_of(cut_position, cut_as_listed, same(cut_mark, drawn_product)),
    )


@rule
def bars_rows(bars_product: Each, cut_product: Column) -> Each:
    """How many rows of the cutting list are its own: different lengths."""
    return where(less(0, bars_product), count_of(same(cut_product, bars_product)), 0)


@rule
def bars_last(bars_product: Each, cut_position: Column, cut_product: Column) -> Each:
    """The last of them. 0 for none."""
    return where(
        less(0, bars_product), largest_of(cut_position, same(cut_product, bars_product)), 0
    )


@rule
def bars_rolls(bars_product: Each, cut_product: Column, cut_rolls: Column) -> Each:
    """How many of its rolls are cut."""
    return where(less(0, bars_product), largest_of(cut_rolls, same(cut_product, bars_product)), 0)


@rule
def bars_joined(bars_product: Each, book_joined: Column, book_by_area: Column) -> Metres:
    """What the job takes of the product besides, and may be joined. 0 for sheet.

    Up to whole millimetres, as it is said in words: programs round a half in a text differently.
    """
    return where(
        less(0, bars_product),
        whole_up(
            1000 * beside(book_joined, bars_product) * (1 - beside(book_by_area, bars_product))
        )
        / 1000,
        0,
    )


@rule
def joined_say(bars_joined: Metres) -> Text:
    """What comes from other rolls, because it may be joined."""
    return where(
        less(0, bars_joined), one_text(". Joined, from others: ", in_metres(bars_joined), " m"), ""
    )


@rule
def bars_scale(bars_length: Metres) -> Amount:
    """Hundredths of the frame to a metre of roll. 0 where nothing is cut."""
    return where(less(0, bars_length), divided(WIDE, bars_length), 0)


def _cut(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("bars_row"), column=WholeColumn("cuts", column)
    )


BAR_CELLS: tuple[Item, ...] = (
    worked(bars_found, "Cutting drawn: row looked for"),
    worked(there, "Cutting drawn: first row", "bars_row", found=NamedCell("bars_found")),
    _cut("bars_product", "Cutting drawn: row of the price book", "product"),
    _cut("bars_length", "Cutting drawn: length of a roll", "roll_length"),
    worked(bars_rows, "Cutting drawn: different lengths"),
    worked(bars_joined, "Cutting drawn: joined besides"),
    worked(joined_say, "Cutting drawn: joined besides, in words", "bars_joined_say"),
    worked(bars_last, "Cutting drawn: last row"),
    worked(bars_rolls, "Cutting drawn: rolls"),
    worked(bars_scale, "Scale of the cutting"),
)


# ---- the pieces: a row for each length, columns for each roll ------------------------------------------


@rule
def list_row(position: Each, bars_row: Each, bars_rows: Each) -> Each:
    """Its row of the cutting list. 0 where there are fewer."""
    return where(at_most(position, bars_rows), bars_row + position - 1, 0)


@rule
def left_after(
    list_row: Each, roll: Each, bars_length: Metres, left: Column, cut_rolls: Column
) -> Metres:
    """What is left of the roll after this length. All of it while it is not begun."""
    return where(
        less(0, list_row),
        where(at_most(roll, beside(cut_rolls, list_row)), beside(left, list_row), bars_length),
        bars_length,
    )


@rule
def left_before(
    position: Each, list_row: Each, roll: Each, bars_length: Metres, left: Column, cut_rolls: Column
) -> Metres:
    """What was left of it before."""
    return where(
        less(0, where(less(1, position), list_row, 0)),
        where(
            at_most(roll, beside(cut_rolls, list_row - 1)),
            beside(left, list_row - 1),
            bars_length,
        ),
        bars_length,
    )


@rule
def taken(list_row: Each, before: Metres, after: Metres, cut_length: Column) -> Each:
    """Pieces of this length from this roll."""
    return where(
        less(0, list_row),
        whole_down(divided(before - after, beside(cut_length, list_row))),
        0,
    )


@rule
def middle_x(bars_length: Metres, before: Metres, after: Metres, bars_scale: Amount) -> Amount:
    """The middle of these pieces, from the left."""
    return FROM_X + (bars_length - (before + after) / 2) * bars_scale


@rule
def cut_says(taken: Each, list_row: Each, cut_length: Column) -> Text:
    """How many, and how long. A blank where there are none."""
    return where(
        less(0, taken),
        one_text(
            where(less(1, taken), one_text(in_figures(taken), " × "), ""),
            in_metres(beside(cut_length, most(1, list_row))),
        ),
        " ",
    )


def _of_roll(roll: int) -> Iterator[Item]:
    left = WholeColumn("cuts", f"left_{roll}")
    before, after = OwnCell(f"before_{roll}"), OwnCell(f"after_{roll}")
    said = f"roll {roll}"
    yield worked(left_before, f"Before, {said}", f"before_{roll}", roll=roll, left=left)
    yield worked(left_after, f"After, {said}", f"after_{roll}", roll=roll, left=left)
    yield worked(taken, f"Pieces, {said}", f"taken_{roll}", before=before, after=after)
    yield worked(middle_x, f"Middle, {said}", f"x_{roll}", before=before, after=after)
    yield worked(cut_says, f"Words, {said}", f"says_{roll}", taken=OwnCell(f"taken_{roll}"))
    yield Fixed(f"y_{roll}", f"From below, {said}", AMOUNT)


ROLLS = range(1, ROLLS_DRAWN + 1)
DRAWN_CUTS = Table(
    "drawn_cuts",
    "drawn_cut",
    "Cutting drawn: pieces of each length from each roll",
    (
        Fixed("name", "Pieces", TEXT),
        worked(list_row, "Row of the cutting list"),
        *(item for roll in ROLLS for item in _of_roll(roll)),
    ),
    key="name",
    guarded=False,
    since=8,
)


def _middle(roll: int) -> float:
    return TOP - STEP * (roll - 1)


CUT_ROWS = tuple(
    {"name": f"length {no}", **{f"y_{roll}": _middle(roll) for roll in ROLLS}}
    for no in range(1, LENGTHS_DRAWN + 1)
)


# ---- the bars, and where they are cut -------------------------------------------------------------------


@rule
def bar_x(roll: Each, share: Amount, bars_rolls: Each) -> Amount:
    """A corner of a bar, from the left. Its beginning where there is no such roll."""
    return FROM_X + where(at_most(roll, bars_rolls), share, 0) * WIDE


@rule
def bar_y(roll: Each, up: Amount, bars_rolls: Each) -> Amount:
    """The same, from below."""
    return TOP - STEP * (roll - 1) + where(at_most(roll, bars_rolls), up, 0)


BARS = stroke_table(
    "bars",
    "bar",
    "Cutting drawn: the rolls",
    "Corner of a roll",
    Fixed("roll", "Roll", EACH),
    Fixed("share", "Of its length", AMOUNT),
    Fixed("up", "From its middle", AMOUNT),
    worked(bar_x, "From the left", "x"),
    worked(bar_y, "From below", "y"),
)
BAR_ROWS = strokes(
    numbered(str(roll), ({"roll": roll, "share": s, "up": up * HIGH / 2} for s, up in BAR))
    for roll in ROLLS
)


@rule
def knife_x(no: Each, bars_length: Metres, bars_scale: Amount, after: Column) -> Amount:
    """Where these pieces end, from the left."""
    return FROM_X + (bars_length - beside(after, no)) * bars_scale


@rule
def knife_y(no: Each, middle: Amount, up: Amount, taken: Column) -> Amount:
    """An end of the line there, from below. One without pieces has no length."""
    return middle + where(less(0, beside(taken, no)), up, 0)


# Of each line: the roll, the length, and half of how high it is; None between two.
_ENDS = tuple(
    (roll, no, up)
    for roll in ROLLS
    for no in range(1, LENGTHS_DRAWN + 1)
    for up in (HIGH / 2, -HIGH / 2)
)


def _knife_x(roll: int, no: int) -> Worked:
    return worked(knife_x, no=no, after=WholeColumn("drawn_cuts", f"after_{roll}"))


def _knife_y(roll: int, no: int, up: float) -> Worked:
    taken = WholeColumn("drawn_cuts", f"taken_{roll}")
    return worked(knife_y, no=no, middle=_middle(roll), up=up, taken=taken)


def _with_gaps(ends: Sequence[Worked]) -> tuple[Worked, ...]:
    """Both ends of each line, and the empty row behind them."""
    return tuple(ends[n] for two in range(0, len(ends), 2) for n in (two, two + 1, two + 1))


KNIVES = stroke_table(
    "knives",
    "knife",
    "Cutting drawn: where each roll is cut",
    "End of a cut",
    Varied("x", "From the left", AMOUNT, rules=_with_gaps([_knife_x(*end[:2]) for end in _ENDS])),
    Varied("y", "From below", AMOUNT, rules=_with_gaps([_knife_y(*end) for end in _ENDS])),
)
KNIFE_ROWS = strokes(
    ({"name": "{}, {}, {}".format(*end)} for end in _ENDS[n : n + 2])
    for n in range(0, len(_ENDS), 2)
)


# ---- words ------------------------------------------------------------------------------------------------


@rule
def cutting_title(
    bars_product: Each, book_code: TextColumn, drawn_product: Text, cuts_by_plan: Flag
) -> Text:
    """What is drawn."""
    return where(
        less(0, bars_product),
        one_text("Cutting of ", beside(book_code, most(1, bars_product))),
        where(
            same(cuts_by_plan, 1),
            "Cutting: see the cutting plan on Prices",
            where(
                same(drawn_product, ""),
                "Cutting: nothing is cut in whole pieces",
                "Cutting: that product is not cut in whole pieces",
            ),
        ),
    )


@rule
def product_says(bars_product: Each, book_description: TextColumn) -> Text:
    """What it is."""
    return where(less(0, bars_product), beside(book_description, most(1, bars_product)), " ")


@rule
def rolls_say(
    bars_product: Each, bars_rolls: Each, bars_length: Metres, bars_joined_say: Text
) -> Text:
    """How many rolls, how long each is, what has no room, and what comes from others."""
    return where(
        less(0, bars_product),
        one_text(
            "Cut from ",
            in_figures(bars_rolls),
            more_than(bars_rolls, ROLLS_DRAWN, "of them"),
            ", each ",
            in_metres(bars_length),
            " m",
            bars_joined_say,
        ),
        " ",
    )


@rule
def lengths_say(bars_product: Each, bars_rows: Each) -> Text:
    """How lengths are written. How many different ones have no room."""
    return where(
        less(0, bars_product),
        one_text(
            "Lengths in m, cut from the left, without wastage",
            more_than(bars_rows, LENGTHS_DRAWN, "lengths"),
        ),
        " ",
    )


@rule
def roll_says(roll: Each, bars_rolls: Each, bars_last: Each, left: Column) -> Text:
    """What is left of a roll after the last row. A blank where there is none."""
    return where(
        at_most(roll, bars_rolls),
        one_text("left ", in_metres(beside(left, most(1, bars_last)))),
        " ",
    )


_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(cutting_title)),
    ("product", fixed(2), fixed(93.7), rule_of(product_says)),
    ("rolls", fixed(2), fixed(90.9), rule_of(rolls_say)),
    ("lengths", fixed(2), fixed(88.1), rule_of(lengths_say)),
    *(
        (f"left of roll {roll}", fixed(FROM_X + WIDE + LEFT_OFF), fixed(_middle(roll)),
         worked(roll_says, roll=roll, left=WholeColumn("cuts", f"left_{roll}")))
        for roll in ROLLS
    ),
)  # fmt: skip
CUT_WORDS = words_table("cut_words", "cut_word", "Cutting drawn: its title and words", _WORDS, 8)

TABLES = (DRAWN_CUTS, BARS, KNIVES, CUT_WORDS)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "drawn_cuts": CUT_ROWS,
    "bars": BAR_ROWS,
    "knives": KNIFE_ROWS,
    "cut_words": tuple({"name": name} for name, *_ in _WORDS),
}
