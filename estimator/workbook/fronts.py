"""The sheets on which lists are typed: which lists stand on which, and how each is laid out.

A block is a heading, the labels, the units, the rows and an end line. The unit row and the end line
are inside what the engine reads from, so that rows put in anywhere between them are read.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from openpyxl.utils import get_column_letter

from ..language.plan import Plan
from ..language.tables import FAULT, Input, Table
from .layout import Span

TOP = 4  # the row in which the first block begins
ABOVE, _BELOW = 3, 3  # rows of a block above its first row, and from its end line on
WORDS = 30.0  # how wide the last column of a sheet is, for what is to be fixed or known
BEHIND = 2  # rows that the engine has beyond those of its front, for rows that are put in


@dataclass(frozen=True)
class Front:
    """One sheet, and the lists typed on it, one under another."""

    sheet: str
    heading: str
    intro: str
    lists: tuple[str, ...]
    rare: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    widths: Mapping[str, float] = field(default_factory=dict)  # of columns, where one list stands


FRONTS = (
    Front(
        "Floors",
        "Floors",
        "Shaded cells are typed. Rows may be put in, taken out, sorted and pasted above each end "
        "line; what is worked out follows by itself.",
        ("zones", "edges", "floor_features", "penetrations"),
        {"zones": ("separating_layer", "void", "plate", "free_area", "sleeper_length")},
    ),
    Front(
        "Walls",
        "Walls",
        "A DPC lies in each leaf, on its centre line; a tray lies over each opening.",
        ("walls", "openings", "parapets"),
        {
            "walls": (
                *("junctions", "ends_at_new", "met_thickness", "steps", "step_rise", "step_by"),
                *("party_wall", "inner_of", "base_tray", "course", "unit"),
            )
        },
    ),
    Front(
        "House",
        "Roofs against walls, and the house that stands",
        "Level trays and stepped units on new walls; what is known of the old walls, and what is "
        "opened up in them. Solid, stone or unknown: no count, a provisional sum.",
        ("abutments", "tray_units", "old_walls", "cut_ins", "tie_ins", "old_vents"),
        {"cut_ins": ("closer", "height", "jamb_dpc", "brick", "course", "unit_length", "unit_lap")},
    ),
    Front(
        "Prices",
        "Price book",
        "One row for each supplier and product; beside it what this job takes.",
        ("book",),
        widths={"description": 38, "supplier": 24, "material": 16, "made_of": 13},
    ),
    Front(
        "Labour",
        "Labour, plant, preliminaries and fees",
        "Your own hours, rates and sums: none is shipped. A line may follow anything counted.",
        ("work_lines",),
        widths={"description": 46, "kind": 16, "way": 15, "wired_to": 26},
    ),
    Front(
        "Revisions",
        "Revisions",
        "One row for each issue of the quote, the latest last. Written when a quote is issued; put "
        "right by hand where a quote went out another way. Nothing is priced from it.",
        ("revisions",),
    ),
)


# The sheets that are seen, in the order of the work; those behind them are hidden.
SEEN = (
    *("Job", "Form", "Floors", "Walls", "House", "Prices", "Suppliers", "Labour", "Allowances"),
    *("Checks", "Quantities", "Orders", "Quote", "Site", "Revisions", "Notes"),
)
ENGINE = "e_"  # before the name of a list: the hidden sheet on which it is worked out


def columns(table: Table, rare: Sequence[str] = ()) -> list[str]:
    """The columns of a front, from the left: the mark, what is typed, texts before figures; results
    and what to fix; and last what few rows need, in a closed group."""
    typed = [i for i in table.inputs if i.name not in rare]
    typed.sort(key=lambda i: (i.name != table.key, i.name != "description", not i.unit.text))
    return [*(i.name for i in typed), *table.shown, FAULT, *rare]


def width(front: Front, table: Table, name: str) -> float:
    """How wide a column is, as far as its own list needs."""
    if name in front.widths:
        return front.widths[name]
    if name == FAULT:
        return 12  # its words run on over what is free beside it
    if name == table.key:
        return 9 if name in ("mark", "code", "revision") else 20
    item = table.column(name)
    if not item.unit.text:
        return 9.5
    if isinstance(item, Input) and item.choices:
        return min(24.0, max(9.0, max(map(len, item.choices)) + 1.0))
    return {"description": 30.0, "kind": 20.0, "build_up": 24.0}.get(name, 11.0)


def spans(plan: Plan, rows: Mapping[str, int]) -> Iterator[tuple[str, Span]]:
    """Where each list of so many rows stands on its front."""
    for front in FRONTS:
        row = TOP
        for name in front.lists:
            names = columns(plan.tables[name], front.rare.get(name, ()))
            letters = {n: get_column_letter(at) for at, n in enumerate(names, 1)}
            first = row + ABOVE
            last = first + rows[name] - 1
            yield name, Span(front.sheet, letters, first, last, True)
            row = last + _BELOW + 1
