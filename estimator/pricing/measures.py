"""Everything counted on the job, bought or not: what labour is wired to and site inspects.

To add a count that buys nothing: a rule over whole columns in its take-off module, and a row here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..buying.lines import COMPLETION, HARDCORE, LINES, ROOF_ABUTMENTS
from ..buying.materials import MATERIAL_ROWS
from ..buying.resting import rests_on
from ..language import *
from ..takeoff import base_trays, cut_in_counts, flashings, floors, methods


@dataclass(frozen=True)
class Count:
    """A figure of its own, that no product is bought for."""

    key: str
    label: str
    unit: str
    hold: int
    work: Callable[..., Any]
    sure_as: str  # the line of the quantities it is as sure as


COUNTS = (
    Count(
        "bricks_out",
        "Bricks cut out of existing walls",
        "nr",
        ROOF_ABUTMENTS,
        cut_in_counts.all_bricks_out,
        "cut_in_units",
    ),
    Count(
        "bays_odd",
        "Bays opened up, first pass (odd)",
        "nr",
        ROOF_ABUTMENTS,
        cut_in_counts.all_bays_odd,
        "cut_in_units",
    ),
    Count(
        "bays_even",
        "Bays opened up, second pass (even)",
        "nr",
        ROOF_ABUTMENTS,
        cut_in_counts.all_bays_even,
        "cut_in_units",
    ),
    Count(
        "made_good",
        "Existing brickwork made good",
        "m",
        ROOF_ABUTMENTS,
        cut_in_counts.all_made_good,
        "cut_in_units",
    ),
    Count(
        "cleared",
        "Filled cavity cleared above trays",
        "m",
        ROOF_ABUTMENTS,
        cut_in_counts.all_cleared,
        "cut_in_units",
    ),
    Count(
        "uncounted",
        "Trays in existing walls, designer's detail",
        "nr",
        ROOF_ABUTMENTS,
        cut_in_counts.all_uncounted,
        "cut_in_units",
    ),
    Count(
        "cover_flashing",
        "Cover flashing over trays, net",
        "m",
        ROOF_ABUTMENTS,
        flashings.cover_flashing,
        "lead",
    ),
    Count(
        "cover_flashing_laps",
        "Laps in cover flashing",
        "m",
        ROOF_ABUTMENTS,
        flashings.cover_flashing_laps,
        "lead",
    ),
    Count(
        "weeps_built",
        "Weeps over all trays, of any kind",
        "nr",
        COMPLETION,
        methods.weeps_built,
        "trays",
    ),
    Count(
        "open_perpends",
        "Open perpends left as weeps",
        "nr",
        COMPLETION,
        methods.perpends_left,
        "trays",
    ),
    Count(
        "compaction_layers",
        "Layers of hardcore to compact, over all zones",
        "nr",
        HARDCORE,
        floors.compaction_layers,
        "hardcore",
    ),
    Count(
        "frame_perpends",
        "Open perpends at timber frames",
        "nr",
        COMPLETION,
        base_trays.frame_perpends_left,
        "inner_dpc",
    ),
)


@rule
def bought_for() -> Each:
    """Nothing of its own: the line of the quantities says how much."""
    return 0


@rule
def measured(line_no: Each, counted: Amount, line_net: Column) -> Amount:
    """How much of it there is: net, as measured."""
    return where(less(0, line_no), beside(line_net, line_no), counted)


@rule
def laid_as(line_no: Each, line_laid_as: TextColumn) -> Text:
    """Its width and its laps, where it comes from a lapped roll."""
    return where(less(0, line_no), beside(line_laid_as, line_no), "")


@rule
def provisional(sure_as: Each, rests_on: Each, line_provisional: Column) -> Flag:
    """1 where its line, or the one it goes with, is provisional: work that follows is no surer.

    So is a count of its own that reads an assumed figure.
    """
    return most(beside(line_provisional, sure_as), where(less(0, rests_on), 1, 0))


@rule
def hold_place(
    measured: Amount,
    hold_no: Each,
    position: Each,
    measure_measured: Column,
    measure_hold_no: Column,
    measure_position: Column,
) -> Each:
    """Its place among what is inspected at its hold point. 0 where there is none of it."""
    return where(
        less(0, measured),
        count_of(
            same(measure_hold_no, hold_no),
            less(0, measure_measured),
            less(measure_position, position + 1),
        ),
        0,
    )


MEASURES = Table(
    "measures",
    "measure",
    "Everything counted",
    (
        Fixed("key", "Key", TEXT),
        Fixed("label", "What is counted", TEXT),
        Fixed("unit", "Unit", TEXT),
        Fixed("hold_no", "Hold point", EACH),
        Fixed("line_no", "Line no.", EACH),
        Fixed("sure_as", "As sure as line", EACH),
        Varied("counted", "Counted by itself", AMOUNT, "A figure that no product is bought for.",
               rules=(*(rule_of(bought_for) for _ in LINES), *(rule_of(c.work) for c in COUNTS))),
        worked(measured),
        worked(rests_on, "Assumed figures"),
        worked(provisional),
        worked(hold_place, "Place at its hold point"),
        worked(laid_as, "Laid as"),
    ),
    key="key",
    guarded=False,
)  # fmt: skip

_AT = {line.key: n for n, line in enumerate(LINES, 1)}
_UNITS = {m["key"]: m["unit"] for m in MATERIAL_ROWS}
MEASURE_ROWS: tuple[dict[str, Any], ...] = (
    *(
        {
            "key": line.key,
            "label": line.label,
            "unit": _UNITS[line.material],
            "hold_no": line.hold_no,
            "line_no": n,
            "sure_as": n,
        }
        for n, line in enumerate(LINES, 1)
    ),
    *(
        {
            "key": c.key,
            "label": c.label,
            "unit": c.unit,
            "hold_no": c.hold,
            "line_no": 0,
            "sure_as": _AT[c.sure_as],
        }
        for c in COUNTS
    ),
)
