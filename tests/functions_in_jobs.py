"""Which column of the workbook each function must agree with, and from which cells it is called."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from estimator.job import Job
from estimator.plan import bases
from estimator.rules.evaluate import Ledger

BASIS = "basis"


def basis_text(job: Job) -> str:
    """The job's basis with its own figures, as a cell would name it."""
    chosen = str(job.particulars["basis_choice"])
    values = next(b for b in bases() if b.name == chosen).values
    silent = {k: v for k, v in job.own.items() if values[k].number is None}
    return "; ".join([chosen, *(f"{k}={v:.12g}" for k, v in {**silent, **job.override}.items())])


@dataclass(frozen=True)
class Agrees:
    """A function, the column it agrees with, and its arguments.

    An argument is a column of the row; `list.column@row` one of the row of another list whose
    number stands in column `row`; `=name` a named cell; BASIS; a number stands for itself. One
    that ends in `?` may be blank, and then stands for 0; in `?1` for 1.
    """

    function: str
    column: str
    arguments: tuple[Any, ...]
    only: Callable[[dict[str, Any]], Any] = lambda row: True


def _is(**wanted: Any) -> Callable[[dict[str, Any]], bool]:
    return lambda row: all(row[k] == v for k, v in wanted.items())


def _bought(material: str) -> Callable[[dict[str, Any]], bool]:
    return lambda row: row["material"] == material and row["packs"] > 0 and row["in_whole"] == 0


LAYOUT = ("sheet_a", "sheet_b", "book.width@book_row", "roll_length", "=sheet_joints", BASIS)
RUN = ("run_length", "measured_on", "outer_leaf", "cavity", "inner_leaf", "external_corners",
       "internal_corners")  # fmt: skip
SLOPED = ("number", "slopes", "length", "pitch", "course_height")
CUT = ("number", "length", "brick_unit")


def _fits(row: dict[str, Any]) -> bool:
    return bool(row["mark"] != "" and row["fits"] == 1)


def _by_level(row: dict[str, Any]) -> bool:
    return bool(row["from_levels"] == 1 and row["wall_crossed"] == 0
                and row["kind"] == "new wall" and not isinstance(row["dress"], int | float))  # fmt: skip


def _on_ground(row: dict[str, Any]) -> bool:
    return bool(
        row["blinded"] and row["on_hardcore"] and not row["suspended"] and row["levels_agree"]
    )


def _wide(row: dict[str, Any]) -> bool:
    """An opening of the form whose width is still asked for has none."""
    return bool(row["width"] > 0)


def _spaced(row: dict[str, Any]) -> bool:
    """Where a brick is longer than weeps may be apart, the workbook's total refuses instead."""
    return bool(row["wall_unit"] <= row["weep_spacing"])


def _roomy(row: dict[str, Any]) -> bool:
    """Where a tray is too short for its weeps the function says so, and a check of the workbook."""
    return _spaced(row) and bool(row["weeps_each"] == row["weeps_asked"])


def _cut(row: dict[str, Any]) -> bool:
    return bool(row["counted"] and not row["over_opening"] and row["cut_in_agrees"])


_JOINED = ("net", "laps", "length", "wastage", BASIS)
AGREE = (
    Agrees("BLINDING_VOLUME", "zones.blinding_volume", ("net_area", BASIS), _is(blinded=1)),
    Agrees("BLINDING_TONNES", "zones.blinding_mass", ("net_area", BASIS), _is(blinded=1)),
    Agrees("HARDCORE_DEPTH", "zones.hardcore_depth", ("finished_level", "formation_level", "screed",
           "insulation", "slab", BASIS), _on_ground),
    Agrees("HARDCORE_VOLUME", "zones.hardcore_volume", ("net_area", "hardcore_depth"),
           lambda r: r["hardcore_depth"] >= 1),
    Agrees("HARDCORE_TONNES", "zones.hardcore_mass", ("net_area", "hardcore_depth", BASIS),
           lambda r: r["hardcore_depth"] >= 1),
    Agrees("HARDCORE_LAYERS", "zones.layers", ("hardcore_depth", BASIS),
           lambda r: r["hardcore_depth"] >= 1),
    Agrees("VENT_AREA", "zones.vent_area", ("vent_run", "net_area", BASIS),
           lambda r: r["ventilated"] and r["vent_run"] > 0),
    Agrees("AIR_BRICKS", "zones.air_bricks", ("vent_area", "free_area"),
           lambda r: r["vent_area"] and r["free_area"]),
    Agrees("DPM_TURN_UP", "edges.by_levels", ("dpc_level", "zones.dpm_level@zone_row", BASIS),
           _by_level),
    Agrees("DPM_SHEET_SIDE", "zones.sheet_a", ("side_a", "reach_b_one", "reach_b_two"),
           _is(sheet=1, dips_a=0)),
    Agrees("DPM_STRIPS", "layouts.strip_count", LAYOUT, _fits),
    Agrees("DPM_STRIP_LENGTH", "layouts.strip_length", LAYOUT, _fits),
    Agrees("DPM_DIRECTION", "layouts.direction", LAYOUT, _fits),
    Agrees("DPM_METRES", "layouts.roll_metres", LAYOUT, _fits),
    Agrees("DPM_LAPPED", "layouts.joint", LAYOUT, _fits),
    Agrees("DPM_LAP_AS_LAID", "layouts.actual_lap", LAYOUT, _fits),
    Agrees("DPM_AREA_LAID", "layouts.laid_area", LAYOUT, _fits),
    Agrees("DPM_ROLLS_JOINED", "book.sheet_rolls", ("sheet_metres", "length", "wastage", BASIS),
           lambda r: r["by_area"] and r["joined_across"] and r["sheet_metres"] > 0 and r["usable"]),
    Agrees("COLLAR_TAPE", "penetrations.collar_tape", ("number", "diameter"), _is(on_sheet=1)),
    Agrees("DPC_OUTER_LENGTH", "walls.outer_length", RUN),
    Agrees("DPC_INNER_LENGTH", "walls.inner_length", RUN),
    Agrees("DPC_ENDS_AND_STEPS", "walls.outer_added",
           ("ends_at_existing", "steps?", "step_rise?", BASIS),
           lambda r: r["step_by"] != "preformed"),
    Agrees("DPC_WIDEST", "walls.outer_limit", ("outer_leaf", BASIS)),
    Agrees("DPC_ROLLS", "book.packs_needed", _JOINED, _bought("dpc_roll")),
    Agrees("DPC_LAID", "book.laid", ("net", "laps", "length", BASIS), _bought("dpc_roll")),
    Agrees("TRAY_ROLLS", "book.packs_needed", _JOINED, _bought("tray_roll")),
    Agrees("LOADS", "book.packs", ("net", "weight", "wastage", "minimum_packs?1"),
           _bought("hardcore")),
    Agrees("PACKS", "book.packs", ("net", "content", "wastage", "minimum_packs?1"),
           _bought("stop_end")),
    Agrees("COST", "book.cost", ("packs", "price")),
    Agrees("PRICE", "book.quoted",
           ("cost", "=profit_rule", "=profit_percent", "=supplier_vat_percent", "=vat_status")),
    Agrees("JAMB_DPC", "openings.jambs", ("with_jambs", "height"), lambda r: r["with_jambs"]),
    Agrees("JAMB_DPC_LAPS", "openings.jamb_laps", ("with_jambs", BASIS), lambda r: r["with_jambs"]),
    Agrees("SILL_DPC", "openings.sills", ("with_sill", "width"),
           lambda r: r["with_sill"] and _wide(r)),
    Agrees("SILL_DPC_TURN_UPS", "openings.sill_ends", ("with_sill", BASIS),
           lambda r: r["with_sill"]),
    Agrees("SILL_DPC_WIDTH", "openings.sill_girth", ("outer_leaf", BASIS)),
    Agrees("TRAY_LENGTH", "openings.tray_length", ("width", "lintel?", "closer?", BASIS), _wide),
    Agrees("TRAY_WIDTH", "openings.tray_girth", ("outer_leaf", "cavity", BASIS),
           lambda r: r["cavity"]),
    Agrees("STOP_ENDS", "openings.stop_ends", ("with_tray",), lambda r: r["with_tray"]),
    Agrees("WEEP_COUNT", "openings.weeps_each", ("tray_length", "walls.unit_used@wall_row", BASIS),
           _roomy),
    Agrees("THRESHOLD_TRAY", "openings.threshold_each", ("width", BASIS), _wide),
    Agrees("THRESHOLD_TRAY_WIDTH", "openings.threshold_girth", ("outer_leaf", "cavity", BASIS)),
    Agrees("WEEP_STEP", "walls.weep_step", ("unit_used", BASIS), _spaced),
    Agrees("WEEP_FIRST", "walls.weep_first", ("unit_used", BASIS)),
    Agrees("WEEP_COUNT_ROUND", "walls.weeps_round", ("outer_length", "unit_used", BASIS),
           lambda r: r["run"] == "closed" and _spaced(r)),
    Agrees("FRAME_DRAINS", "walls.frame_drains", ("outer_length", BASIS),
           _is(inner_of="timber frame")),
    Agrees("STEPPED_UNITS", "abutments.units_each", ("length", "pitch", "course_height"),
           lambda r: r["slopes"]),
    Agrees("STEPPED_UNIT_STEP", "abutments.step", ("pitch", "course_height"), lambda r: r["slopes"]),
    Agrees("STEPPED_INTERMEDIATES", "abutments.intermediates", SLOPED, lambda r: r["slopes"]),
    Agrees("STEPPED_CATCHMENTS", "abutments.catchments", ("number", "slopes"),
           lambda r: r["slopes"]),
    Agrees("STEPPED_RIDGES", "abutments.ridges", ("number", "slopes"), lambda r: r["slopes"]),
    Agrees("STEPPED_STOP_ENDS", "abutments.stop_ends", ("number", "slopes"), lambda r: r["slopes"]),
    Agrees("LEAD_PIECES", "abutments.pieces_of_lead", ("flashing_length", BASIS)),
    Agrees("CUT_IN_UNITS", "cut_ins.units", (*CUT, "unit_length", "unit_lap"), _cut),
    Agrees("CUT_IN_BRICKS_OUT", "cut_ins.bricks_out", (*CUT, "courses"), _cut),
    Agrees("CUT_IN_BAYS", "cut_ins.bays", ("length", "brick_unit", "bay_most"), _cut),
    Agrees("BASIS", "allowances.in_use", ("key", BASIS)),
)  # fmt: skip
NAMED = (
    Agrees("VAT", "quote_vat", ("=quote_net", "=vat_percent", "=vat_status")),
    Agrees("PRICE_WITH_VAT", "quote_total", ("=quote_net", "=vat_percent", "=vat_status")),
)
# Compared by tests of their own, or by examples worked by hand alone.
ALONE = {
    *("DPM_ROLLS", "DPC_CORNER_LAPS", "CLOSER_LENGTHS", "TRAY_ROLLS_ONE_PIECE"),
    *("MICROMETRES", "RUN_MOVED", "TONNES_IN_PLACE", "BASIS_SOURCE"),
}


@dataclass(frozen=True)
class Called:
    """One call in a job: the values of its arguments, where they stand, and what must come out."""

    function: str
    values: tuple[Any, ...]
    cells: tuple[Any, ...]
    gives: Any
    at: tuple[str, str, int]  # list (or ""), column or name, row counted from 1


def calls(job: Job, ledger: Ledger) -> Iterator[Called]:
    """Every call that a job's rows can be put to."""
    text = basis_text(job)
    for agrees in AGREE:
        table, _, column = agrees.column.partition(".")
        rows = len(ledger.rows[table])
        for row in range(1, rows + 1):
            if ledger.plan.tables[table].guarded and _key(ledger, table, row) == "":
                continue
            if agrees.only(_Row(ledger, table, row)):
                found = [_argument(ledger, text, table, row, a) for a in agrees.arguments]
                yield Called(
                    agrees.function,
                    tuple(v for v, _ in found),
                    tuple(c for _, c in found),
                    ledger.figure(table, row, column),
                    (table, column, row),
                )
    for agrees in NAMED:
        found = [_argument(ledger, text, "", 0, a) for a in agrees.arguments]
        yield Called(
            agrees.function,
            tuple(v for v, _ in found),
            tuple(c for _, c in found),
            ledger.cell(agrees.column),
            ("", agrees.column, 0),
        )


def _key(ledger: Ledger, table: str, row: int) -> Any:
    return ledger.figure(table, row, ledger.plan.tables[table].key_in_use)


class _Row(dict[str, Any]):
    """A row's figures by column, as they are in use; two of the job are added."""

    def __init__(self, ledger: Ledger, table: str, row: int) -> None:
        super().__init__()
        self.of = (ledger, table, row)

    def __missing__(self, column: str) -> Any:
        ledger, table, row = self.of
        if column in ("cost_factor", "weep_spacing"):
            return ledger.cell(column)
        if column == "wall_unit":
            wall = row if table == "walls" else int(ledger.figure(table, row, "wall_row"))
            return ledger.figure("walls", wall, "unit_used")
        if column == "joined_across":
            return 1 - ledger.cell("whole_strips")
        if column == "in_whole":
            return ledger.figure(table, row, "pieces_metres")
        return ledger.figure(table, row, ledger.plan.tables[table].in_use(column))


def _argument(ledger: Ledger, text: str, table: str, row: int, argument: Any) -> tuple[Any, Any]:
    """Its value, and where it stands: (list, column, row), a name, or the value itself."""
    if argument == BASIS:
        return text, text
    if argument.startswith("="):
        return ledger.cell(argument[1:]), argument
    name, _, blank = argument.partition("?")
    if "@" in name:
        name, _, at = name.partition("@")
        other, _, name = name.partition(".")
        table, row = other, int(ledger.figure(table, row, at))
    name = ledger.plan.tables[table].in_use(name)
    value = ledger.figure(table, row, name)
    if "?" in argument and not isinstance(value, int | float):
        value = float(blank or 0)
    return value, (table, name, row, (blank or "0") if "?" in argument else "")
