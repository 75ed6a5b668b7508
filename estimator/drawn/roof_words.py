"""What is written on the drawing of a roof against its wall: its shape, its units, stop ends and weeps."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from .frame import (
    BAR_X,
    Words,
    bar_words_y,
    fixed,
    more_than,
    scale_says,
    stop_ends_say,
    words_table,
)
from .roof import UNITS_DRAWN, WEEPS_DRAWN


@rule
def roof_title(roof_row: Each, drawn_abutment: Text, abutment_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, roof_row),
        one_text("Roof against the wall: ", beside(abutment_mark, roof_row)),
        where(same(drawn_abutment, ""), "Roof: none yet", "Roof: that one cannot be used"),
    )


@rule
def level_says(roof_length: Metres) -> Text:
    """How long a level tray is."""
    return one_text("One level tray, ", in_metres(roof_length), " m")


@rule
def slopes_say(roof_slopes: Each, roof_length: Metres, roof_pitch: Pitch) -> Text:
    """How long slopes are, and how steep."""
    return one_text(
        where(same(roof_slopes, 2), "Two slopes that meet, each ", "One slope, "),
        in_metres(roof_length),
        " m on plan at ",
        in_figures(roof_pitch),
        " degrees",
    )


@rule
def shape_says(
    roof_row: Each,
    roof_slopes: Each,
    roof_level: Flag,
    roof_level_says: Text,
    roof_slopes_say: Text,
) -> Text:
    """How it meets the wall."""
    return where(
        less(0, roof_row),
        where(
            same(roof_level, 1),
            roof_level_says,
            where(less(0, roof_slopes), roof_slopes_say, "Solid wall: designer's detail"),
        ),
        " ",
    )


@rule
def units_say(
    roof_slopes: Each, roof_units: Each, roof_course: Millimetres, roof_step: Millimetres
) -> Text:
    """How many units, and how far each steps."""
    return where(
        less(0, roof_slopes),
        one_text(
            "Up each slope ",
            in_figures(roof_units),
            more_than(roof_units, UNITS_DRAWN, "units"),
            " units, one a course of ",
            in_figures(roof_course),
            " mm, each ",
            in_figures(roof_step),
            " mm on",
        ),
        " ",
    )


@rule
def weeps_say(roof_weeps: Each, roof_weep_end: Millimetres, roof_weep_step: Millimetres) -> Text:
    """Stop ends and weeps of a level tray."""
    return stop_ends_say(roof_weeps, WEEPS_DRAWN, roof_weep_end, roof_weep_step)


@rule
def ends_say(roof_level: Flag, roof_slopes: Each, roof_weeps_say: Text) -> Text:
    """The same. Of slopes what is at the foot and at the ridge."""
    return where(
        same(roof_level, 1),
        roof_weeps_say,
        where(
            same(roof_slopes, 2),
            "At each foot a catchment unit with its weep and 2 stop ends, a ridge unit at the top",
            where(
                same(roof_slopes, 1),
                "At the foot a catchment unit with its weep and 2 stop ends",
                " ",
            ),
        ),
    )


WORD_CELLS: tuple[Item, ...] = (
    worked(level_says, "Roof drawn: level tray in words", "roof_level_says"),
    worked(slopes_say, "Roof drawn: slopes in words", "roof_slopes_say"),
    worked(weeps_say, "Roof drawn: weeps in words", "roof_weeps_say"),
)

_BAR = NamedCell("roof_bar")
_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(roof_title)),
    ("shape", fixed(2), fixed(93.7), rule_of(shape_says)),
    ("units", fixed(2), fixed(90.9), rule_of(units_say)),
    ("ends", fixed(2), fixed(88.1), rule_of(ends_say)),
    ("scale", fixed(BAR_X + 1),
     worked(bar_words_y, drawn_bar=_BAR, drawn_scale=NamedCell("roof_scale")),
     worked(scale_says, drawn_row=NamedCell("roof_row"), drawn_bar=_BAR)),
)  # fmt: skip
ROOF_WORDS = words_table("roof_words", "roof_word", "Roof drawn: its title and words", _WORDS, 8)

TABLES = (ROOF_WORDS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "roof_words": tuple({"name": name} for name, *_ in _WORDS)
}
