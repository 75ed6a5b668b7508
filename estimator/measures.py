"""Everything counted on the job, bought or not: what labour is wired to and site inspects.

To add a count that buys nothing: a rule over whole columns in its take-off module, and a row here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .buying.lines import COMPLETION, LINES
from .buying.materials import MATERIAL_ROWS
from .rules import Fixed, Table, Varied, beside, less, rule, where, worked
from .rules.registry import rule_of
from .rules.units import AMOUNT, EACH, TEXT, Amount, Column, Each
from .takeoff import base_trays, methods


@dataclass(frozen=True)
class Count:
    """A figure of its own, that no product is bought for."""

    key: str
    label: str
    unit: str
    hold: int
    work: Callable[..., Any]


COUNTS = (
    Count("open_perpends", "Open perpends left as weeps", "nr", COMPLETION, methods.perpends_left),
    Count(
        "frame_perpends",
        "Open perpends at timber frames",
        "nr",
        COMPLETION,
        base_trays.frame_perpends_left,
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
        Varied("counted", "Counted by itself", AMOUNT, "A figure that no product is bought for.",
               rules=(*(rule_of(bought_for) for _ in LINES), *(rule_of(c.work) for c in COUNTS))),
        worked(measured),
    ),
    key="key",
    guarded=False,
)  # fmt: skip

_UNITS = {m["key"]: m["unit"] for m in MATERIAL_ROWS}
MEASURE_ROWS: tuple[dict[str, Any], ...] = (
    *(
        {
            "key": line.key,
            "label": line.label,
            "unit": _UNITS[line.material],
            "hold_no": line.hold_no,
            "line_no": n,
        }
        for n, line in enumerate(LINES, 1)
    ),
    *(
        {"key": c.key, "label": c.label, "unit": c.unit, "hold_no": c.hold, "line_no": 0}
        for c in COUNTS
    ),
)
