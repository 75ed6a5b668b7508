"""What can be bought, how each is counted, and each supplier's wastage and discount for it.

To add a material: a row here, a line in lines.py that needs it, rows in the price books.
"""

from ..language import Fixed, Table, number
from ..language.percent import column_in_use
from ..language.registry import rule_of
from ..language.units import FLAG, PERCENT, TEXT
from .cheapest_each import MATERIAL_COLUMNS
from .if_chosen import MATERIAL_COLUMNS as DEMANDED_COLUMNS
from .packs_stated import length_missing, pieces_missing, weight_missing, width_missing
from .suppliers import SUPPLIER_CELLS
from .wastage import MATERIAL_COLUMNS as WASTAGE_COLUMNS

SUPPLIER_SLOTS = len(SUPPLIER_CELLS)

WASTAGES = tuple(
    number(f"wastage_{n}", f"Wastage, supplier {n}", PERCENT, 0, 100,
           "Allowance for damage and loss, added to what is laid. 0: none. Blank: none given.",
           required=False, under=(name, "for a supplier that is named"))
    for n, name in enumerate(SUPPLIER_CELLS, 1)
)  # fmt: skip

DISCOUNTS = tuple(
    number(f"discount_{n}", f"Discount, supplier {n}", PERCENT, 0, 100,
           "Trade discount on this material. 0: none. Blank: this supplier's own, above.",
           required=False, under=(name, "for a supplier that is named"), since=8)
    for n, name in enumerate(SUPPLIER_CELLS, 1)
)  # fmt: skip

# Percentages of each material by supplier, by the field of a job that holds them.
BY_SUPPLIER = {"wastage": WASTAGES, "discounts": DISCOUNTS}

MATERIALS = Table(
    "materials",
    "material",
    "Materials: wastage and trade discount by supplier",
    (
        Fixed("key", "Name in products", TEXT),
        Fixed("label", "Material", TEXT),
        Fixed("unit", "Counted in", TEXT),
        Fixed("pack", "Bought as", TEXT),
        Fixed("by_length", "Bought by length", FLAG),
        Fixed("by_area", "Laid in whole strips", FLAG),
        Fixed("by_cover", "Bought by cover", FLAG),
        Fixed("by_piece", "Bought by the piece", FLAG),
        Fixed("by_weight", "Bought by weight", FLAG),
        Fixed("sized", "Chosen by width", FLAG),
        Fixed("laps_as_dpc", "Laps as DPC", FLAG),
        Fixed("laps_as_tray", "Laps as tray", FLAG),
        number("wastage_applies", "Wastage applies", FLAG, 0, 1,
               "1: the percentages are added. 0: they are not, as with whole strips and pieces."),
        *WASTAGES,
        *(column_in_use(i) for i in WASTAGES),
        *DISCOUNTS,
        *(column_in_use(i) for i in DISCOUNTS),
        *WASTAGE_COLUMNS,
        *DEMANDED_COLUMNS,
        *MATERIAL_COLUMNS,
    ),
    key="key",
    guarded=False,
)  # fmt: skip


SIZED = (
    "collar",
    "gas_collar",
    "duct",
    "closer",
)  # beside what is lapped: products that must be wide enough for their need


def _material(
    key: str, label: str, unit: str, pack: str, bought: str, laps: str = ""
) -> dict[str, object]:
    ways = {f"by_{w}": int(bought == w) for w in ("length", "area", "cover", "piece", "weight")}
    laps_as = {f"laps_as_{w}": int(laps == w) for w in ("dpc", "tray")}
    applies = int(bought in ("length", "cover", "weight"))
    laps_as["sized"] = int(bool(laps) or key in SIZED)
    words = {"key": key, "label": label, "unit": unit, "pack": pack}
    return {**words, "wastage_applies": applies, **ways, **laps_as}


MATERIAL_ROWS = (
    _material("hardcore", "Hardcore", "t", "load", "weight"),
    _material("blinding_sand", "Blinding sand", "t", "load", "weight"),
    _material("dpm_sheet", "DPM sheet", "m²", "roll", "area"),
    _material("gas_sheet", "Gas sheet", "m²", "roll", "area"),
    _material("gas_tape_double", "Gas tape, double-sided", "m", "roll", "length"),
    _material("gas_tape_single", "Gas tape, single-sided", "m", "roll", "length"),
    _material("gas_collar", "Gas collars", "nr", "pack", "piece"),
    _material("tape_double", "Double-sided tape", "m", "roll", "length"),
    _material("tape_single", "Single-sided tape", "m", "roll", "length"),
    _material("collar", "Collars", "nr", "pack", "piece"),
    _material("dpc_roll", "DPC roll", "m", "roll", "length", laps="dpc"),
    _material("tray_roll", "Cavity tray roll", "m", "roll", "length", laps="tray"),
    _material("stop_end", "Stop ends", "nr", "pack", "piece"),
    _material("weep", "Weep inserts", "nr", "pack", "piece"),
    _material("weep_vent", "Weep vents", "nr", "pack", "piece"),
    _material("catchment_unit", "Catchment units", "nr", "unit", "piece"),
    _material("step_unit", "Stepped units", "nr", "unit", "piece"),
    _material("cut_in_unit", "Tray units for existing walls", "nr", "unit", "piece"),
    _material("duct", "Duct", "m", "length", "length"),
    _material("coupler", "Couplers", "nr", "pack", "piece"),
    _material("sleeve", "Wall sleeves", "nr", "pack", "piece"),
    _material("air_brick", "Air bricks", "nr", "pack", "piece"),
    _material("joint_filler", "Movement joint, filled and sealed", "m", "roll", "length"),
    _material("ridge_unit", "Ridge units", "nr", "unit", "piece"),
    # Bought by cover: its laps are in its wastage.
    _material("separating_layer", "Separating layer", "m²", "roll", "cover"),
    _material("perimeter_strip", "Perimeter strip", "m", "roll", "length"),
    _material("floor_insulation", "Floor insulation", "m²", "pack", "piece"),
    _material("oversite_concrete", "Oversite concrete", "m³", "m³", "piece"),
    _material("dpm_patch", "Preformed corners and patches", "nr", "pack", "piece"),
    _material("corner_unit", "Corner units", "nr", "unit", "piece"),
    _material("junction_unit", "Junction units", "nr", "unit", "piece"),
    _material("level_step_unit", "Level step units", "nr", "unit", "piece"),
    _material("penetration_unit", "Penetration units", "nr", "unit", "piece"),
    _material("dpc_step_unit", "Step units in DPC", "nr", "unit", "piece"),
    _material("closer", "Cavity closers", "m", "length", "length"),
    _material("lead_piece", "Lead flashing, pieces", "nr", "piece", "piece"),
    _material("soaker", "Soakers", "nr", "pack", "piece"),
    _material("sealant", "Sealant to flashings", "m", "length", "length"),
    _material("cavity_support", "Supports over cavities", "m", "length", "length"),
    _material("channel", "Drainage channels", "m", "length", "length"),
)

# What a pack may have to state, and the rule that says which material's pack does.
MEASURES = {
    "width": width_missing,
    "length": length_missing,
    "pieces": pieces_missing,
    "weight": weight_missing,
}


def measures_of(material: str) -> tuple[str, ...]:
    """The measures of a pack that a price row of this material must state."""
    row = next(r for r in MATERIAL_ROWS if r["key"] == material)
    return tuple(
        name
        for name, missing in MEASURES.items()
        if missing(*(row.get(a) for a in rule_of(missing).arguments))
    )


# What takes the place of a material in a radon or gas area.
GAS_GRADE = {
    "dpm_sheet": "gas_sheet",
    "tape_double": "gas_tape_double",
    "tape_single": "gas_tape_single",
    "collar": "gas_collar",
}
