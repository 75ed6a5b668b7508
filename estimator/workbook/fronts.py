"""The sheets on which lists are typed: which lists stand on which, and how each is laid out.

A block is a heading, the labels, the units, the rows and an end line. The unit row and the end line
are inside what the engine reads from, so that rows put in anywhere between them are read.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..buying.suppliers import SUPPLIER_CELLS
from ..drawn import ON, cut_in_bays, cuts, elevation, roof, sides
from ..guidance.hold_points import ITEMS
from ..language.tables import FAULT, POSITION, Input, Table
from ..pens.views import COSTS, CUT_IN, CUTTING, ELEVATION, PLAN, ROOF, SECTION, STRIPS, View
from ..takeoff import holes

TOP = 4  # the row in which the first block begins
# In the row above it, which stays in sight with the heading: how the job stands as a whole, each
# named cell from one column to another, with its number format.
STANDING, STANDING_ROW = (
    (
        ("quote_total", "A", "C", '"Total £"#,##0.00'),
        ("problem_count", "D", "E", '[=0]"ready";0" to fix"'),
        ("start_lists", "F", "F", "General"),
    ),
    TOP - 1,
)
ABOVE, BELOW = 3, 3  # rows of a block above its first row, and from its end line on
WORDS = 30.0  # how wide the last column of a sheet is, for what is to be fixed or known
ENGINE = "e_"  # before the name of a sheet that is hidden
BEHIND = 2  # rows that the engine has beyond those of its front, for rows that are put in


@dataclass(frozen=True)
class Front:
    """One sheet, and the lists that stand on it, one under another."""

    sheet: str
    heading: str
    intro: str
    lists: tuple[str, ...]
    rare: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    widths: Mapping[str, float] = field(default_factory=dict)  # of columns, where one list stands
    # Of lists that come with the program: their columns from the left; None leaves one free.
    orders: Mapping[str, tuple[str | None, ...]] = field(default_factory=dict)
    across: tuple[float, ...] = ()  # how wide the columns of the sheet are, from the left
    heights: Mapping[str, float] = field(default_factory=dict)  # of rows whose texts are wrapped
    plain: frozenset[str] = frozenset()  # lists whose figures are of another unit in each row
    counted: frozenset[str] = frozenset()  # lists of quantities: whole where they count things
    only_some: frozenset[str] = frozenset()  # columns whose 0 is not shown: most rows have none
    # Lists of which most rows are not needed, and the column that is 0 there: such a row is faint.
    faint: Mapping[str, str] = field(default_factory=dict)
    heads: Mapping[str, str] = field(default_factory=dict)  # columns headed by a named cell
    cells: tuple[str, ...] = ()  # named cells shown above the first list
    drawn: tuple[View, ...] = ()  # side by side below the last list
    chosen: tuple[str, ...] = ()  # named cells typed above them: which row is drawn


FRONTS = (
    # What the template has a place for, or else below what it holds.
    Front(
        "Start",
        "Still to answer",
        "",
        ("to_fix", "assumed", "open_questions"),
        orders={
            "to_fix": ("where", "says"),
            "assumed": (
                *("label", "figure_typed", "unit", "figure_in_use", "state", "says", POSITION),
                FAULT,
            ),
            "open_questions": ("label", "open", None, "find_out"),
        },
        plain=frozenset(("assumed",)),
    ),
    Front(
        "Floors",
        "Floors",
        "Type in the shaded cells. Above each end line you may add, delete, sort and paste rows. "
        "Everything else is worked out from them.",
        ("zones", "edges", "floor_features", "penetrations"),
        {
            "zones": ("separating_layer", "void", "plate", "free_area", "sleeper_length"),
            "edges": tuple(item.name for item in holes.TYPED),
        },
        drawn=(PLAN, SECTION, STRIPS),
        chosen=(sides.CHOSEN.name,),
    ),
    Front(
        "Walls",
        "Walls",
        "A DPC lies in each leaf, on its centre line. A tray lies over each opening.",
        ("walls", "openings", "parapets"),
        {
            "walls": (
                *("junctions", "ends_at_new", "met_thickness", "steps", "step_rise", "step_by"),
                *("first_step", "step_spacing", "step_way"),
                *("party_wall", "inner_of", "base_tray", "course", "unit"),
            ),
            "openings": ("first_jamb", "side", "sill_height"),
        },
        drawn=(ELEVATION,),
        chosen=(elevation.CHOSEN.name,),
    ),
    Front(
        "House",
        "Roofs against walls, and the existing house",
        "Level trays and stepped units on new walls. What is known of the old walls, and what is cut "
        "into them. Solid, stone or unknown walls are not counted: give a provisional sum on Labour.",
        ("abutments", "tray_units", "old_walls", "cut_ins", "tie_ins", "old_vents"),
        {"cut_ins": ("closer", "height", "jamb_dpc", "brick", "course", "unit_length", "unit_lap")},
        drawn=(ROOF, CUT_IN),
        chosen=(roof.CHOSEN.name, cut_in_bays.CHOSEN.name),
    ),
    Front(
        "Prices",
        "Suppliers and prices",
        "Up to five suppliers. Below them the wastage of each material in percent, by supplier. "
        "Then the products, one to a row. Columns you rarely need are in the closed group on "
        "the right: trade discounts by material, and which prices are net.",
        ("suppliers", "materials", "book", "planned_cuts"),
        # Right of all columns of the products, which stand below and are not to be closed with them.
        {"materials": tuple(f"discount_{n}" for n in range(1, 6)), "book": ("price_is",)},
        widths={
            "description": 32,
            "supplier": 21,
            "material": 18,
            "made_of": 13,
            "priced_on": 10,
            "net_price": 10.5,  # its label fills 9.5, and would touch the one before it
        },
        orders={
            "suppliers": (
                *(POSITION, "name", "order_note", "all_note", "delivery", "free_over"),
                *("minimum_order", "discount", "order_total", "all_total", "cheapest_goods"),
                *("cheapest_delivery", FAULT),
            ),
            "materials": (
                *(POSITION, "label", "wastage_seen", "cheapest_from", None, "wastage_applies"),
                *(f"wastage_{n}" for n in range(1, 6)),
                *("packs_with", "packs_without", "cost_with", "cost_without"),
                *(None, None, FAULT),
            ),
        },
        only_some=frozenset(("packs_with", "packs_without", "cost_with", "cost_without")),
        heads={
            f"{what}_{n}": name
            for what in ("wastage", "discount")
            for n, name in enumerate(SUPPLIER_CELLS, 1)
        },
        cells=("cheapest_each", "cheapest_note"),
        drawn=(COSTS,),
    ),
    Front(
        "Labour",
        "Labour, plant, preliminaries and fees",
        "Type your own hours, rates and sums. None come with the program. A line may follow any "
        "count.",
        ("work_lines",),
        widths={"description": 46, "kind": 16, "way": 15, "wired_to": 26},
    ),
    Front(
        "Guidance",
        "Guidance: figures, and the checks that hold them",
        "An override replaces the guidance's figure. Own is used only where the guidance states none. "
        "With neither, common practice is assumed and its lines are provisional. A check compares "
        "figures. It does not show that work meets regulations or a warranty.",
        ("allowances", "checks", "product_checks", "sources"),
        rare={"allowances": tuple(f"stated_{n}" for n in range(1, 8))},
        widths={f"stated_{n}": 20 for n in range(1, 8)},
        orders={
            "allowances": (
                *(POSITION, "label", "unit", "override", "own", "in_use", "from_where", "common"),
                *("regulatory", "beside_regulation", "clause", FAULT),
            ),
            **dict.fromkeys(
                ("checks", "product_checks"),
                (
                    *(POSITION, "label", "state", "found", "asked", "unit", "regulation_note"),
                    *("assumed", "regulatory", "reason", "asked_by", FAULT),
                ),
            ),
            "sources": (
                *(POSITION, "label", None, "value", None, None, "standing", None, None, "basis"),
                *("says", "source"),
            ),
        },
        across=(5, 36, 13, 10, 10, 10, 24, 10, 10, 26, 44, 30),
        heights={"allowances": 25, "checks": 26, "product_checks": 26, "sources": 26},
        plain=frozenset(("allowances", "checks", "product_checks", "sources")),
        cells=("document_title", "regulation_title"),
    ),
    Front(
        "Quantities",
        "Quantities",
        "Net is measured as fixed. Laid adds laps and turn-ups. Ordered adds wastage, up to whole "
        "packs. Blank: none on this job.",
        ("totals", "lines", "order_lines", "cuts"),
        {"order_lines": ("list_price", "discount")},
        orders={
            "totals": (POSITION, "label", "net", "laid", "ordered", "unit", "cost"),
            "lines": (
                *(POSITION, "label", "net", "laps", "uncovered", "unit", "supplier", "status"),
                *("standing", "line_note", FAULT),
            ),
            "order_lines": (
                *(POSITION, "description", "packs", "counted_how", "content", "unit", "heading"),
                *("code", "first_use", "note", "net", "laid", "ordered", "left", "price"),
                "cost",
            ),
            "cuts": (
                POSITION,
                "description",
                "pieces",
                "length",
                "from_new",
                "rolls",
                "mark",
                "rest",
                "cut_by",
            ),
        },
        across=(5, 39, 11, 12, 12, 7, 30, 12, 20, 34, 12, 11, 11, 11, 11, 11),
        counted=frozenset(("totals", "lines", "order_lines")),
        only_some=frozenset(("net", "laps", "uncovered", "laid", "ordered", "left", "cost")),
        faint={"totals": "net", "lines": "net"},
        drawn=(CUTTING,),
        chosen=(cuts.CHOSEN.name,),
    ),
    Front("Quote", "Revisions", "", ("revisions",)),
    Front(
        "Site",
        "Hold points",
        "",
        ("hold_points",),
        orders={"hold_points": ("name", "own_notice", POSITION, FAULT)},
        widths={"own_notice": 66},
    ),
)


# The sheets that are seen, in the order of the work; those behind them are hidden.
SEEN = (
    *("Start", "Floors", "Walls", "House", "Prices", "Labour", "Guidance", "Quantities"),
    *("Quote", "Site"),
)


# The lists that no sheet here shows, or one that the template lays out, by the sheet they serve.
_SERVES = {
    "Start": ("floor_builds", "wall_builds", "roof_builds", "questions"),
    "Floors": ("floor_kinds", "edge_kinds", "feature_kinds", "bands", "layouts", *ON["Floors"]),
    "Walls": ("measuring_lines", "opening_kinds", *ON["Walls"]),
    "House": (
        *("abutment_kinds", "old_wall_kinds", "cut_in_kinds", "tray_unit_kinds"),
        *ON["House"],
    ),
    "Labour": ("work_kinds", "stages"),
    "Guidance": ("bases", "nations", "figures_read"),
    "Prices": ("needs", "demands", *ON["Prices"]),
    "Quantities": ("measures", *ON["Quantities"]),
    "Quote": ("vat_statuses", "quote_lines", "scope_lines", "out_of_scope", "overrides"),
    "Site": tuple(table.name for table in ITEMS),
    "Workbook": ("watched", "places"),  # no sheet that is seen: the file itself
}
_BEHIND = {
    **{name: sheet for sheet, names in _SERVES.items() for name in names},
    **{name: front.sheet for front in FRONTS for name in front.lists},
}


def engine_sheet(name: str) -> str:
    """The hidden sheet on which a list is worked out: one for each sheet that is seen, and one for
    what serves the workbook itself. With a sheet for each list a file took twice as long to open."""
    return ENGINE + _BEHIND[name].lower()


def columns(front: Front, table: Table, past: int = 0) -> list[str | None]:
    """The columns of a list from the left; one that is None stays free.

    Those that are seen; and last, past so many columns, what few rows need, in a closed group.
    """
    seen = _seen(front, table)
    free: list[str | None] = [None] * (past - len(seen))
    rare = _rare(front, table)
    return [*seen, *free, *rare] if rare else seen


def most_seen(front: Front, tables: Mapping[str, Table]) -> int:
    """How many columns its widest list has: what is closed of one is to hide nothing of another."""
    return max((len(_seen(front, tables[name])) for name in front.lists), default=0)


def _rare(front: Front, table: Table) -> list[str]:
    return [name for name in front.rare.get(table.name, ()) if table.has(name)]


def _seen(front: Front, table: Table) -> list[str | None]:
    """Where its front does not say: the mark, what is typed, texts before figures; results and what
    to fix."""
    if table.name in front.orders:
        return [*front.orders[table.name]]
    rare = _rare(front, table)
    typed = [i for i in table.inputs if i.name not in rare]
    typed.sort(key=lambda i: (i.name != table.key, i.name != "description", not i.unit.text))
    return [*(i.name for i in typed), *table.shown, FAULT]


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


def first_row(front: Front) -> int:
    """The row in which its first list begins."""
    return TOP + (len(front.cells) + 1 if front.cells else 0)
