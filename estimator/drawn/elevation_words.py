"""What is written on the elevation of a wall run: its title, what is not drawn, lengths, the scale."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from .elevation import LEFT, LIST_STEP, LIST_TOP, OPENINGS_SEEN, STEPS_SEEN
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
STEPS_Y = LIST_TOP + LIST_STEP


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
            "Sill height not given: ",
            in_figures(count_of(less(0, seen_opening_row), same(seen_given_height, 0))),
            " of them. Windows have their heads in line, others are drawn on the DPC.",
        ),
        " ",
    )


@rule
def dpc_label(elevation_steps: Each, elevation_steps_placed: Each, elevation_row: Each) -> Text:
    """What lies at the DPC."""
    return where(
        less(0, elevation_row),
        where(
            less(0, elevation_steps - elevation_steps_placed),
            one_text("DPC, drawn level; steps: ", in_figures(elevation_steps)),
            "DPC",
        ),
        " ",
    )


@rule
def step_high(elevation_step_up: Metres) -> Millimetres:
    """How high a step is, up or down."""
    return most(elevation_step_up, 0 - elevation_step_up) * 1000


@rule
def first_step_says(elevation_step_high: Millimetres, elevation_step_from: Metres) -> Text:
    """How high a step is, and where the first one is."""
    return one_text(
        in_figures(elevation_step_high),
        " mm, at ",
        in_metres(elevation_step_from),
        " m from the start",
    )


@rule
def other_steps_say(
    elevation_steps_placed: Each, elevation_step_gap: Metres, elevation_last_step: Metres
) -> Text:
    """Where the steps after it are."""
    return where(
        less(1, elevation_steps_placed),
        one_text(
            ", then every ",
            in_metres(elevation_step_gap),
            " m, the last at ",
            in_metres(elevation_last_step),
            " m",
        ),
        "",
    )


@rule
def steps_say(
    elevation_steps_placed: Each,
    elevation_step_up: Metres,
    elevation_first_step_says: Text,
    elevation_other_steps_say: Text,
) -> Text:
    """How many steps the DPC has, how high, which way, and where, from the start of the run."""
    return where(
        less(0, elevation_steps_placed),
        one_text(
            "Steps in the DPC: ",
            in_figures(elevation_steps_placed),
            more_than(elevation_steps_placed, STEPS_SEEN, "steps"),
            where(less(0, elevation_step_up), ", up ", ", down "),
            elevation_first_step_says,
            elevation_other_steps_say,
        ),
        " ",
    )


@rule
def datum_says(elevation_steps_seen: Each) -> Text:
    """Above which part of the DPC heights are typed, where it has several."""
    return where(less(0, elevation_steps_seen), "Sills typed: above the DPC at the start.", " ")


@rule
def ground_says(
    elevation_row: Each,
    elevation_ground: Millimetres,
    elevation_steps_seen: Each,
    elevation_datum_says: Text,
) -> Text:
    """How far the ground lies below the DPC, and above which part of that heights are typed."""
    return where(
        less(0, elevation_row * elevation_ground),
        one_text(
            "Ground at its highest: ",
            in_figures(elevation_ground),
            where(
                less(0, elevation_steps_seen),
                one_text(" mm below each part of the DPC. ", elevation_datum_says),
                " mm below the DPC.",
            ),
        ),
        elevation_datum_says,
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
            "In metres from the start: jamb to jamb, tray without laps. Weeps on perpends, in mm",
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
def dpc_left(
    elevation_dpc: Amount,
    elevation_turned: Flag,
    elevation_dpc_end: Metres,
    elevation_scale: Amount,
) -> Amount:
    """The DPC at the left end of the wall, from below."""
    return elevation_dpc + elevation_turned * elevation_dpc_end * elevation_scale


@rule
def over_dpc(elevation_dpc_left: Amount) -> Amount:
    """Just above the DPC, from below."""
    return elevation_dpc_left + WORDS_OFF


@rule
def under_ground(
    elevation_ground: Millimetres, elevation_dpc_left: Amount, elevation_scale: Amount
) -> Amount:
    """Just below the ground, from below."""
    return elevation_dpc_left - elevation_ground / 1000 * elevation_scale - WORDS_OFF


@rule
def under_foot(elevation_down: Metres, elevation_dpc: Amount, elevation_scale: Amount) -> Amount:
    """Under the line of its length, from below."""
    return elevation_dpc - elevation_down * elevation_scale - DIM_OFF - DIM_WORDS


WORD_CELLS: tuple[Item, ...] = (
    worked(drawn_bar, "Elevation: scale's arm", "elevation_bar",
           drawn_scale=NamedCell("elevation_scale")),
    worked(weeps_left, "Openings with more weeps than are drawn", "elevation_weeps_left"),
    worked(dpc_left, "Elevation: DPC at the left end", "elevation_dpc_left"),
    worked(step_high, "Elevation: how high a step is", "elevation_step_high"),
    worked(datum_says, "Elevation: what typed sills are above", "elevation_datum_says"),
    worked(first_step_says, "Elevation: where the first step is", "elevation_first_step_says"),
    worked(other_steps_say, "Elevation: where the others are", "elevation_other_steps_say"),
)  # fmt: skip

_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(elevation_title)),
    ("seen from", fixed(2), fixed(93.7), rule_of(seen_from)),
    ("openings", fixed(2), fixed(90.9), rule_of(placed_say)),
    ("heights", fixed(2), fixed(85.3), rule_of(heights_say)),
    ("length", rule_of(middle), rule_of(under_foot),
     worked(over_all, drawn_row=NamedCell("elevation_row"), extent=NamedCell("elevation_length"))),
    ("DPC", fixed(LEFT + 1), rule_of(over_dpc), rule_of(dpc_label)),
    ("ground", fixed(LEFT + 1), rule_of(under_ground), rule_of(ground_label)),
    ("ground's depth", fixed(2), fixed(88.1), rule_of(ground_says)),
    ("list", fixed(2), fixed(LIST_TOP), rule_of(list_says)),
    ("scale", fixed(BAR_X + 1),
     worked(bar_words_y, drawn_bar=NamedCell("elevation_bar"),
            drawn_scale=NamedCell("elevation_scale")),
     worked(scale_says, drawn_row=NamedCell("elevation_row"),
            drawn_bar=NamedCell("elevation_bar"))),
    ("steps", fixed(2), fixed(STEPS_Y), rule_of(steps_say)),
)  # fmt: skip

ELEVATION_WORDS = words_table(
    "elevation_words", "elevation_word", "Elevation: its title and words", _WORDS, 8
)
TABLES = (ELEVATION_WORDS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "elevation_words": tuple({"name": name} for name, *_ in _WORDS)
}
