"""What every argument means, in which unit, within which limits: one meaning for each name.

Where an argument is also typed in the workbook its limits are those of its column there.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..buying.book import BOOK
from ..language.tables import Input, Table
from ..language.units import (
    AMOUNT,
    DENSITY,
    EACH,
    METRES,
    MILLIMETRES,
    PERCENT,
    PERCENT_LEAST,
    PITCH,
    POUNDS,
    SQUARE_METRES,
    SQUARE_MILLIMETRES,
    TEXT,
    TONNES,
    Unit,
)
from ..pricing.quote import INPUTS as QUOTE_INPUTS
from ..pricing.quote import PROFIT_RULES
from ..pricing.vat import INPUTS as VAT_INPUTS
from ..pricing.vat import VAT_STATUS_ROWS
from ..takeoff.build_ups import LAYERS, OF_SUSPENDED
from ..takeoff.cut_ins import CUT_INS
from ..takeoff.methods import CROSS_JOINTS, WHOLE_STRIPS
from ..takeoff.openings import OPENINGS
from ..takeoff.penetrations import PENETRATIONS
from ..takeoff.walls import MEASURING_LINE_ROWS, WALLS
from . import guidance


@dataclass(frozen=True)
class Argument:
    """One argument: a number within limits, or one of some texts (or a basis)."""

    name: str
    unit: Unit
    help: str
    least: float = 0
    most: float = 0
    choices: Callable[[], tuple[str, ...]] | None = None

    @property
    def shown(self) -> str:
        """Its name as people read it, with its unit."""
        words = self.name.replace("_", " ")
        return words if self.unit.sign in ("", "nr") else f"{words}, {self.unit.sign}"

    @property
    def described(self) -> str:
        """What a function wizard says of it."""
        return f"{self.help} Accepted: {self.accepted}."

    @property
    def accepted(self) -> str:
        """What it accepts, as one phrase."""
        if self.choices:
            return "one of " + ", ".join(self.choices())
        if self.name == "basis":
            return guidance.accepted()
        if self.unit is PERCENT:
            return f"0, or {PERCENT_LEAST:g} to {self.most:g} per cent, as 20 or 20%, not 1"
        kind = "a whole number" if self.unit is EACH else "a number"
        sign = "" if self.unit is EACH else self.unit.sign
        return f"{kind} from {self.least:.12g} to {self.most:.12g} {sign}".rstrip()


ARGUMENTS: dict[str, Argument] = {}


def _number(name: str, unit: Unit, least: float, most: float, help: str) -> None:
    ARGUMENTS[name] = Argument(name, unit, help, least, most)


def _choice(name: str, choices: Callable[[], tuple[str, ...]], help: str) -> None:
    ARGUMENTS[name] = Argument(name, TEXT, help, choices=choices)


def _as_typed(name: str, item: Any, help: str) -> None:
    """An argument that is also a typed column or cell of the workbook."""
    assert isinstance(item, Input), name
    assert item.least is not None, name
    assert item.most is not None, name
    ARGUMENTS[name] = Argument(name, item.unit, help, item.least, item.most)


def _in(table: Table | tuple[Input, ...], column: str) -> Any:
    return next(c for c in table if c.name == column)


# ---- floors ----
_number("area", SQUARE_METRES, 0.01, 3600, "Floor area between walls.")
_number("dpc_level", METRES, -50, 500, "Level of the DPC that receives the sheet.")
_number("dpm_level", METRES, -50, 500, "Level of the membrane, on the same datum.")
_number("finished_level", METRES, -50, 500, "Level of the finished floor.")
_number("formation_level", METRES, -50, 500, "Level the hardcore stands on, on the same datum.")
_as_typed("screed", _in(LAYERS, "screed"), "Thickness of screed. 0 for none.")
_as_typed("insulation", _in(LAYERS, "insulation"), "Thickness of insulation. 0 for none.")
_as_typed("slab", _in(LAYERS, "slab"), "Thickness of the concrete slab. 0 for none.")
_number("depth", MILLIMETRES, 1, 5000, "Depth of hardcore, compacted.")
_number("floor_length", METRES, 0.1, 60, "Length of the floor, between walls.")
_number("floor_width", METRES, 0.1, 60, "Width of the floor, between walls.")
_number("turn_up", MILLIMETRES, 0, 2000, "Turn-up at all four sides. 0 for none.")
_number("side", METRES, 0.1, 60, "One side of the floor, between walls.")
_number("turn_up_one", MILLIMETRES, 0, 2000, "Turn-up at one end of that side. 0 for none.")
_number("turn_up_two", MILLIMETRES, 0, 2000, "Turn-up at its other end. 0 for none.")
_number("sheet_a", METRES, 0.1, 80, "Sheet along A, turn-ups in: DAMP_DPM_SHEET_LENGTH.")
_number("sheet_b", METRES, 0.1, 80, "Sheet along B, turn-ups in: DAMP_DPM_SHEET_LENGTH.")
_as_typed("roll_width", _in(BOOK, "width"), "Width of the roll, unfolded.")
_as_typed("roll_length", _in(BOOK, "length"), "Length of the roll.")
_number("roll_metres", METRES, 0.1, 20000, "Metres of roll laid, of one product.")
_choice("sheet_joints", lambda: (WHOLE_STRIPS, CROSS_JOINTS),
        "whole strips, or cross joints: strips joined across, a lap at each change of roll.")  # fmt: skip
_number("gauge", AMOUNT, 100, 8000, "Gauge of the sheet, as sold.")
_as_typed("pipes", _in(PENETRATIONS, "number"), "Pipes alike through the floor.")
_as_typed("diameter", _in(PENETRATIONS, "diameter"), "Outside diameter of the pipe.")
_number("external_run", METRES, 0.1, 400, "Two opposite external sides, taken together.")
_number("vent_area", SQUARE_MILLIMETRES, 1, 4000000, "Free area asked for: DAMP_VOID_VENT_AREA.")
_as_typed("free_area", _in(OF_SUSPENDED, "free_area"), "Free area of one air brick.")

# ---- walls ----
_number("length", METRES, 0.05, 1000, "Length, as measured.")
_as_typed(
    "external_corners", _in(WALLS, "external_corners"), "External corners of the run. 0 for none."
)
_as_typed(
    "internal_corners", _in(WALLS, "internal_corners"), "Internal corners of the run. 0 for none."
)
_number(
    "inwards",
    MILLIMETRES,
    -1000,
    1000,
    "How far it is moved inwards. Below 0 is outwards. 0 for not at all.",
)
_choice("measured_on", lambda: tuple(str(r["name"]) for r in MEASURING_LINE_ROWS),
        "The line the run was measured on.")  # fmt: skip
_as_typed("outer_leaf", _in(WALLS, "outer_leaf"), "Thickness of the outer leaf.")
_as_typed("cavity", _in(WALLS, "cavity"), "Width of the cavity. 0 for a solid wall.")
_as_typed(
    "inner_leaf", _in(WALLS, "inner_leaf"), "Thickness of the inner leaf. 0 for a solid wall."
)
_number("leaf", MILLIMETRES, 50, 600, "Thickness of the leaf.")
_as_typed(
    "ends_at_existing", _in(WALLS, "ends_at_existing"), "Ends at an existing wall. 0 for none."
)
_as_typed("steps", _in(WALLS, "steps"), "Steps in the DPC. 0 for none.")
_number("step_rise", MILLIMETRES, 0, 1000, "Rise of a step. 0 where there are none.")
_number(
    "corners", EACH, 0, 1000, "Corners and T-junctions, each a lap of the full width. 0 for none."
)
_number("dpc_width", MILLIMETRES, 10, 1000, "Width of the roll that is laid.")
_number("net", METRES, 0, 20000, "Metres as measured: no laps. 0 for none.")
_number("laps", METRES, 0, 2000, "Laps at ends and corners, steps and turn-ups. 0 for none.")

# ---- openings and trays ----
_as_typed("openings", _in(OPENINGS, "number"), "Openings alike.")
_as_typed("width", _in(OPENINGS, "width"), "Clear structural width of the opening.")
_as_typed("height", _in(OPENINGS, "height"), "Clear structural height of the opening.")
_number("lintel", METRES, 0, 13, "Overall length of the lintel. 0 for none.")
_as_typed(
    "closer",
    _in(OPENINGS, "closer"),
    "How far the cavity closer reaches along the wall beside the jamb. 0 for none.",
)
_number("stock_length", METRES, 0.3, 12, "Length of the stock piece.")
_number("trays", EACH, 1, 1000, "Trays alike.")
_number("tray_length", METRES, 0.05, 200, "Length of one tray.")
_as_typed("brick", _in(WALLS, "unit"), "Brick or block of the outer leaf, with its joint: 225.")
_number("slopes", EACH, 1, 2, "1 for one slope, 2 for two slopes that meet.")
_number("roofs", EACH, 1, 50, "Roofs alike.")
_number("slope_run", METRES, 0.2, 40, "Run of one slope, on plan.")
_number("pitch", PITCH, 5, 75, "Pitch of the roof.")
_as_typed("course", _in(WALLS, "course"), "Height of a course, with its joint: 75.")
_as_typed("cut_ins", _in(CUT_INS, "number"), "Trays cut in alike.")
_as_typed("roof_width", _in(CUT_INS, "length"), "Full outside width of the new roof.")
_as_typed("courses", _in(CUT_INS, "courses"), "Courses of the outer leaf taken out.")
_as_typed("tray_unit", _in(CUT_INS, "unit_length"), "Length of the tray unit that is stocked.")
_as_typed("unit_lap", _in(CUT_INS, "unit_lap"), "Lap of two units. 0 where they butt.")
_as_typed("longest_bay", _in(CUT_INS, "bay_most"), "Most that may be open at once.")

# ---- buying ----
_number("tonnes", TONNES, 0, 100000, "Tonnes in place. 0 for none.")
_number("density", DENSITY, 0.8, 2.6, "Tonnes of one cubic metre, measured in place.")
_number(
    "needed", AMOUNT, 0, 1000000, "What is needed, in the unit that the pack holds. 0 for none."
)
_number("pack_holds", AMOUNT, 0.001, 100000, "What one pack holds.")
_as_typed("load", _in(BOOK, "weight"), "Weight of a bag, or the step of a loose load.")
_number("wastage", PERCENT, 0, 100, "Allowance for damage and loss. 0 for none.")
_as_typed("fewest_packs", _in(BOOK, "minimum_packs"), "Fewest packs sold at once.")
_number("packs", EACH, 0, 1000000, "Packs bought. 0 for none.")
_as_typed("price", _in(BOOK, "price"), "Price of one pack, without VAT.")
_number("cost", POUNDS, 0, 10000000, "Cost without VAT. 0 for none.")
_choice("profit_rule", lambda: PROFIT_RULES, "Whether the percentage is of the cost or the price.")
_as_typed("profit_percent", _in(QUOTE_INPUTS, "profit_percent"), "Markup or margin. 0 for none.")
_as_typed("supplier_vat_percent", _in(VAT_INPUTS, "supplier_vat_percent"),
          "Rate that the suppliers charge. 0 for none.")  # fmt: skip
_number("sum_without_vat", POUNDS, 0, 10000000, "Sum without VAT. 0 for none.")
_as_typed("vat_percent", _in(VAT_INPUTS, "vat_percent"), "Rate of the VAT status. 0 for none.")
_choice("vat_status", lambda: tuple(str(r["name"]) for r in VAT_STATUS_ROWS), "The VAT status.")

# ---- guidance ----
_choice("key", guidance.keys, "What the figure is for, as docs/bases.md lists it.")
ARGUMENTS["basis"] = Argument(
    "basis", TEXT, "Whose guidance. Own figures may follow: NHBC Standards (2024); dpm_lap=150."
)
