"""What is written on the elevation of a wall run: its title, what is not drawn, lengths, the scale."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from .elevation import LEFT, LIST_TOP, OPENINGS_SEEN
from .elevation_lines import DIM_OFF, WEEPS_SEEN
from .frame import (
    BAR_X,
    Words,
    bar_words_y,
    drawn_bar,
    fixed,
    more_than,
    over_all,
    scale_says,
    words_table,
)

DIM_WORDS, WORDS_OFF = 2, 1.8  # of the frame: words from the line they are about


@rule
def elevation_title(elevation_row: Each, drawn_run: Text, wall_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, elevation_row),
        one_text("Elevation of wall ", beside(wall_mark, elevation_row)),
        where(same(drawn_run, ""), "Elevation: no wall yet", "Elevation: that wall cannot be used"),
    )


@rule
def seen_from(elevation_row: Each, elevation_floor: Each, elevation_turned: Flag) -> Text:
    """From where it is seen, and where the run begins."""
    return where(
        less(0, elevation_row),
        one_text(
            "In metres, along the measured line. The run begins on the ",
            where(same(elevation_turned, 1), "right", "left"),
            where(
                less(0, elevation_floor),
                ", seen from outside. Corners dotted.",
                ". See the drawing set for which way it runs.",
            ),
        ),
        " ",
    )


@rule
def placed_say(elevation_all: Each, elevation_not_drawn: Text) -> Text:
    """How many openings have a place, and which are not drawn."""
    return one_text(
        "Openings with a place: ",
        in_figures(elevation_all),
        more_than(elevation_all, OPENINGS_SEEN, "openings"),
        elevation_not_drawn,
    )


@rule
def heights_say(seen_opening_row: Column, seen_given_height: Column) -> Text:
    """Of how many the height is not typed, and how they are drawn."""
    return where(
        less(0, count_of(less(0, seen_opening_row), same(seen_given_height, 0))),
        one_text(
            "Height not given of ",
            in_figures(count_of(less(0, seen_opening_row), same(seen_given_height, 0))),
            ": windows have their heads in line, others are drawn on the DPC.",
        ),
        " ",
    )


@rule
def steps_say(elevation_steps: Each, elevation_row: Each) -> Text:
    """What lies at the DPC."""
    return where(
        less(0, elevation_row),
        where(
            less(0, elevation_steps),
            one_text("DPC, drawn level; steps: ", in_figures(elevation_steps)),
            "DPC",
        ),
        " ",
    )


@rule
def ground_says(elevation_row: Each, elevation_ground: Millimetres) -> Text:
    """How far the ground lies below the DPC."""
    return where(
        less(0, elevation_row * elevation_ground),
        one_text("Ground at its highest: ", in_figures(elevation_ground), " mm below the DPC."),
        " ",
    )


@rule
def ground_label(elevation_row: Each, elevation_ground: Millimetres) -> Text:
    """What the line of the ground is."""
    return where(less(0, elevation_row * elevation_ground), "Ground", " ")


@rule
def weeps_left(seen_weeps_seen: Column) -> Each:
    """Openings with more weeps than are drawn."""
    return count_of(less(WEEPS_SEEN, seen_weeps_seen))


@rule
def list_says(elevation_weeps_left: Each, elevation_all: Each) -> Text:
    """What heads the list of trays."""
    return where(
        less(0, elevation_all),
        one_text(
            "In metres from the start: jamb to jamb, tray without laps. Weeps on perpends",
            where(
                less(0, elevation_weeps_left),
                one_text(", of each opening the first ", in_figures(WEEPS_SEEN), " drawn"),
                "",
            ),
        ),
        " ",
    )


@rule
def middle(elevation_wide: Amount) -> Amount:
    """The middle of the wall, from the left."""
    return LEFT + elevation_wide / 2


@rule
def over_dpc(elevation_dpc: Amount) -> Amount:
    """Just above the DPC, from below."""
    return elevation_dpc + WORDS_OFF


@rule
def under_ground(
    elevation_ground: Millimetres, elevation_dpc: Amount, elevation_scale: Amount
) -> Amount:
    """Just below the ground, from below."""
    return elevation_dpc - elevation_ground / 1000 * elevation_scale - WORDS_OFF


@rule
def under_foot(elevation_down: Metres, elevation_dpc: Amount, elevation_scale: Amount) -> Amount:
    """Under the line of its length, from below."""
    return elevation_dpc - elevation_down * elevation_scale - DIM_OFF - DIM_WORDS


WORD_CELLS: tuple[Item, ...] = (
    worked(drawn_bar, "Elevation: scale's arm", "elevation_bar",
           drawn_scale=NamedCell("elevation_scale")),
    worked(weeps_left, "Openings with more weeps than are drawn", "elevation_weeps_left"),
)  # fmt: skip

_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(elevation_title)),
    ("seen from", fixed(2), fixed(93.7), rule_of(seen_from)),
    ("openings", fixed(2), fixed(90.9), rule_of(placed_say)),
    ("heights", fixed(2), fixed(85.3), rule_of(heights_say)),
    ("length", rule_of(middle), rule_of(under_foot),
     worked(over_all, drawn_row=NamedCell("elevation_row"), extent=NamedCell("elevation_length"))),
    ("DPC", fixed(LEFT + 1), rule_of(over_dpc), rule_of(steps_say)),
    ("ground", fixed(LEFT + 1), rule_of(under_ground), rule_of(ground_label)),
    ("ground's depth", fixed(2), fixed(88.1), rule_of(ground_says)),
    ("list", fixed(2), fixed(LIST_TOP), rule_of(list_says)),
    ("scale", fixed(BAR_X + 1),
     worked(bar_words_y, drawn_bar=NamedCell("elevation_bar"),
            drawn_scale=NamedCell("elevation_scale")),
     worked(scale_says, drawn_row=NamedCell("elevation_row"),
            drawn_bar=NamedCell("elevation_bar"))),
)  # fmt: skip

ELEVATION_WORDS = words_table(
    "elevation_words", "elevation_word", "Elevation: its title and words", _WORDS, 8
)
TABLES = (ELEVATION_WORDS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "elevation_words": tuple({"name": name} for name, *_ in _WORDS)
}
