"""What is written on the drawing of a tray cut into an existing wall: bays, passes, stop ends, weeps."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from .cut_in_bays import BAYS_DRAWN, LEFT, LENGTH_Y, WEEPS_DRAWN
from .frame import (
    BAR_X,
    Words,
    bar_words_y,
    fixed,
    more_than,
    over_all,
    scale_says,
    stop_ends_say,
    words_table,
)


@rule
def bays_title(bays_row: Each, drawn_cut_in: Text, cut_in_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, bays_row),
        one_text("Tray cut in: ", beside(cut_in_mark, bays_row)),
        where(
            same(drawn_cut_in, ""), "Tray cut in: none yet", "Tray cut in: that one cannot be used"
        ),
    )


@rule
def taken_says(
    bays_row: Each,
    bays_all: Each,
    bays_bricks: Each,
    bays_courses: Each,
    cut_in_wall: TextColumn,
) -> Text:
    """In which wall, and how many bricks and courses come out."""
    return where(
        less(0, bays_all),
        one_text(
            "In wall ",
            beside(cut_in_wall, bays_row),
            ". Bricks along it: ",
            in_figures(bays_bricks),
            "; courses out: ",
            in_figures(bays_courses),
        ),
        where(less(0, bays_row), "No level tray that is counted: designer's detail", " "),
    )


@rule
def bays_say(bays_all: Each, bays_most: Metres) -> Text:
    """How many bays, and how long one may be."""
    return where(
        less(0, bays_all),
        one_text(
            "Bays: ",
            in_figures(bays_all),
            more_than(bays_all, BAYS_DRAWN, "bays"),
            ", none longer than ",
            in_metres(bays_most),
            " m",
        ),
        " ",
    )


@rule
def unit_say(bays_long: Metres, bays_tray_unit: Metres) -> Text:
    """That a tray unit is longer than a bay as drawn. Nothing where it is not."""
    return where(
        less(bays_long, bays_tray_unit),
        one_text(
            ". Tray units are longer, ",
            in_metres(bays_tray_unit),
            " m: settle both before opening up",
        ),
        "",
    )


@rule
def alike_say(bays_all: Each, bays_long: Metres, bays_number: Each, bays_unit_say: Text) -> Text:
    """How long each is drawn, how many such trays there are, and whether a tray unit is longer."""
    return where(
        less(0, bays_all),
        one_text(
            "Bays drawn alike, each ",
            in_metres(bays_long),
            " m",
            where(less(1, bays_number), one_text("; trays alike: ", in_figures(bays_number)), ""),
            bays_unit_say,
        ),
        " ",
    )


@rule
def passes_say(bays_all: Each) -> Text:
    """Which are opened first."""
    return where(
        less(0, bays_all),
        one_text(
            "First pass: ",
            in_figures(whole_up(bays_all / 2)),
            " odd bays, struck through. Second pass: ",
            in_figures(bays_all - whole_up(bays_all / 2)),
            " even bays, dashed, when the first carry again",
        ),
        " ",
    )


@rule
def ends_say(
    bays_all: Each, bays_weeps: Each, bays_weep_end: Millimetres, bays_weep_step: Millimetres
) -> Text:
    """Stop ends and weeps."""
    return where(
        less(0, bays_all),
        one_text(
            "Tray below the bays: ",
            stop_ends_say(bays_weeps, WEEPS_DRAWN, bays_weep_end, bays_weep_step),
        ),
        " ",
    )


@rule
def corners_say(bays_all: Each, bays_corners: Each) -> Text:
    """Whose the order is. That no bay goes round a corner."""
    return where(
        less(0, bays_all),
        one_text(
            "Bays and order: as set by the person who designs the support",
            where(
                less(0, bays_corners),
                one_text(
                    ". Drawn unrolled: no bay goes round a corner (",
                    in_figures(bays_corners),
                    ")",
                ),
                "",
            ),
        ),
        " ",
    )


@rule
def middle(bays_taken: Metres, bays_scale: Amount) -> Amount:
    """The middle of the tray, from the left."""
    return LEFT + bays_taken * bays_scale / 2


_BAR = NamedCell("bays_bar")
_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(bays_title)),
    ("bricks", fixed(2), fixed(93.7), rule_of(taken_says)),
    ("bays", fixed(2), fixed(90.9), rule_of(bays_say)),
    ("alike", fixed(2), fixed(88.1), rule_of(alike_say)),
    ("passes", fixed(2), fixed(85.3), rule_of(passes_say)),
    ("ends", fixed(2), fixed(82.5), rule_of(ends_say)),
    ("corners", fixed(2), fixed(79.7), rule_of(corners_say)),
    ("length", rule_of(middle), fixed(LENGTH_Y - 2.2),
     worked(over_all, drawn_row=NamedCell("bays_all"), extent=NamedCell("bays_taken"))),
    ("scale", fixed(BAR_X + 1),
     worked(bar_words_y, drawn_bar=_BAR, drawn_scale=NamedCell("bays_scale")),
     worked(scale_says, drawn_row=NamedCell("bays_all"), drawn_bar=_BAR)),
)  # fmt: skip
BAY_WORDS = words_table("bay_words", "bay_word", "Tray cut in: its title and words", _WORDS, 10)

WORD_CELLS = (worked(unit_say, "Tray cut in drawn: its units are longer", "bays_unit_say"),)
TABLES = (BAY_WORDS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "bay_words": tuple({"name": name} for name, *_ in _WORDS)
}
