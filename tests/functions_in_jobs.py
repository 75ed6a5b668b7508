"""Which column of the workbook each function must agree with, and from which cells it is called."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from estimator.functions import FUNCTIONS, Function
from estimator.language.ledger import Ledger
from estimator.model.job import Job
from estimator.model.plan import bases

BASIS = "basis"


def basis_text(job: Job) -> str:
    """The job's basis with its own figures, and those assumed for it, as a cell would name it."""
    chosen = str(job.particulars["basis_choice"])
    values = next(b for b in bases() if b.name == chosen).values
    common = next(b for b in bases() if b.document.assumed).values
    assumed = {k: v.number for k, v in common.items() if v.number is not None}
    silent = {k: v for k, v in {**assumed, **job.own}.items() if values[k].number is None}
    return "; ".join([chosen, *(f"{k}={v:.12g}" for k, v in {**silent, **job.override}.items())])


@dataclass(frozen=True)
class Agrees:
    """In which rows a function must agree with the column it gives, and what its row does not say.

    `at` are arguments that stand elsewhere in a job than where the function's row puts them, each a
    column of the row; `list.column@row` one of the row of another list whose number stands in
    column `row`; `=name` a named cell. One that ends in `?` may be blank, and then stands for 0; in
    `?1` for 1.
    """

    only: Callable[[dict[str, Any]], Any] = lambda row: True
    at: Mapping[str, str] = field(default_factory=dict)
    column: str = ""  # where the function's row names none


def column_of(function: Function) -> str:
    """The column or cell that the function must agree with."""
    return AGREE.get(function.method, ANY_ROW).column or str(function.figure)


def cells_of(function: Function) -> list[str]:
    """Where its arguments stand in a job: as its row says, or as it is said here."""
    table = column_of(function).partition(".")[0]
    found = dict.fromkeys([a.name for a in function.arguments], BASIS)
    for name, places in function.places.items():
        own = [p for p in places if p.startswith(table + ".")]
        found[name] = own[0].partition(".")[2] if own else "=" + places[0]
    return list((found | dict(AGREE.get(function.method, ANY_ROW).at)).values())


def _is(**wanted: Any) -> Callable[[dict[str, Any]], bool]:
    return lambda row: all(row[k] == v for k, v in wanted.items())


def _bought(material: str) -> Callable[[dict[str, Any]], bool]:
    """Where some is bought; a column holds per cent, and a function reads 0.5 of a cell as 50 %."""
    return lambda row: (
        row["material"] == material
        and row["packs"] > 0
        and row["in_whole"] == 0
        and not 0 < row["wastage"] <= 1
    )


def _fits(row: dict[str, Any]) -> bool:
    return bool(row["mark"] != "" and row["fits"] == 1 and row["shaped"] == 0)


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
    return (
        bool(row["counted"] and not row["over_opening"] and row["cut_in_agrees"])
        and row["turned"] == 0
    )


ANY_ROW = Agrees()
_BLINDED = Agrees(_is(blinded=1))
_FILLED = Agrees(lambda r: r["hardcore_depth"] >= 1)
_LAYOUT = Agrees(_fits, {"roll_width": "book.width@book_row", "roll_length": "roll_length"})
_JAMBS = Agrees(lambda r: r["with_jambs"])
_SLOPED = Agrees(lambda r: r["slopes"])
_CUT = Agrees(_cut)
_FEWEST = {"fewest_packs": "minimum_packs?1"}
# Every function not named here or below agrees with its column in every row.
AGREE = {
    "BLINDING_VOLUME": _BLINDED,
    "BLINDING_MASS": _BLINDED,
    "HARDCORE_DEPTH": Agrees(_on_ground),
    "HARDCORE_VOLUME": _FILLED,
    "HARDCORE_MASS": _FILLED,
    "HARDCORE_LAYER_COUNT": _FILLED,
    "VOID_VENT_AREA": Agrees(lambda r: r["ventilated"] and r["vent_run"] > 0),
    "AIR_BRICK_COUNT": Agrees(lambda r: r["vent_area"] and r["free_area"]),
    "DPM_TURN_UP": Agrees(_by_level, {"dpm_level": "zones.dpm_level@zone_row"}),
    "DPM_SHEET_LENGTH": Agrees(_is(sheet=1, dips_a=0, shaped=0)),
    "DPM_STRIP_COUNT": _LAYOUT,
    "DPM_STRIP_LENGTH": _LAYOUT,
    "DPM_STRIP_DIRECTION": _LAYOUT,
    "DPM_LAID_LENGTH": _LAYOUT,
    "DPM_LAP_LENGTH": _LAYOUT,
    "DPM_LAP_WIDTH": _LAYOUT,
    "DPM_LAID_AREA": _LAYOUT,
    "DPM_ROLLS_JOINED": Agrees(
        lambda r: (
            r["by_area"]
            and r["joined_across"]
            and r["sheet_metres"] > 0
            and r["usable"]
            and not 0 < r["wastage"] <= 1  # in a cell a fraction: 0.5 is 50 %
        )
    ),
    "COLLAR_TAPE_LENGTH": Agrees(_is(on_sheet=1)),
    # A run given by its corners has right angles; one that follows a floor may be splayed.
    "DPC_OUTER_LENGTH": Agrees(_is(splays=0)),
    "DPC_INNER_LENGTH": Agrees(_is(splays=0)),
    "DPC_END_AND_STEP_LENGTH": Agrees(
        lambda r: r["step_by"] != "preformed", {"steps": "steps?", "step_rise": "step_rise?"}
    ),
    "DPC_ROLLS": Agrees(_bought("dpc_roll")),
    "DPC_LAID_LENGTH": Agrees(_bought("dpc_roll")),
    "TRAY_ROLLS": Agrees(_bought("tray_roll")),
    "FILL_LOAD_COUNT": Agrees(_bought("hardcore"), _FEWEST),
    "PACK_COUNT": Agrees(_bought("stop_end"), _FEWEST),
    "DPC_JAMB_LENGTH": _JAMBS,
    "DPC_JAMB_LAP_LENGTH": _JAMBS,
    "DPC_SILL_LENGTH": Agrees(lambda r: r["with_sill"] and _wide(r)),
    "DPC_SILL_TURN_UP_LENGTH": Agrees(lambda r: r["with_sill"]),
    "TRAY_LENGTH": Agrees(_wide, {"lintel": "lintel?", "closer": "closer?"}),
    "TRAY_WIDTH": Agrees(lambda r: r["cavity"]),
    "TRAY_STOP_END_COUNT": Agrees(lambda r: r["with_tray"]),
    "WEEP_COUNT": Agrees(_roomy),
    "THRESHOLD_TRAY_LENGTH": Agrees(_wide),
    "WEEP_SPACING": Agrees(_spaced),
    "WEEP_COUNT_CLOSED_RUN": Agrees(lambda r: r["run_in_use"] == "closed" and _spaced(r)),
    "FRAME_DRAIN_COUNT": Agrees(_is(inner_of="timber frame")),
    "STEPPED_UNIT_COUNT": _SLOPED,
    "STEPPED_UNIT_SPACING": _SLOPED,
    "STEPPED_INTERMEDIATE_COUNT": _SLOPED,
    "STEPPED_CATCHMENT_COUNT": _SLOPED,
    "STEPPED_RIDGE_COUNT": _SLOPED,
    "STEPPED_STOP_END_COUNT": _SLOPED,
    "CUT_IN_UNIT_COUNT": _CUT,
    "CUT_IN_BRICK_COUNT": _CUT,
    "CUT_IN_BAY_COUNT": _CUT,
    "BASIS_FIGURE": Agrees(at={"key": "key"}, column="allowances.in_use"),
}
# Compared by tests of their own, or by examples worked by hand alone.
ALONE = {
    *(
        "DPM_ROLLS",
        "DPM_ROLLS_FLOOR",
        "DPC_CORNER_LAP_LENGTH",
        "CLOSER_COUNT",
        "TRAY_ROLLS_ONE_PIECE",
    ),
    *("DPM_THICKNESS", "RUN_LENGTH_MOVED", "LAYER_MASS", "BASIS_SOURCE"),
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
    for function in FUNCTIONS.values():
        if function.method in ALONE:
            continue
        table, dot, column = column_of(function).rpartition(".")
        only = AGREE.get(function.method, ANY_ROW).only
        for row in range(1, len(ledger.rows[table]) + 1) if dot else [0]:
            if dot and ledger.plan.tables[table].guarded and _key(ledger, table, row) == "":
                continue
            if only(_Row(ledger, table, row)):
                found = [_argument(ledger, text, table, row, a) for a in cells_of(function)]
                yield Called(
                    function.method,
                    tuple(v for v, _ in found),
                    tuple(c for _, c in found),
                    ledger.figure(table, row, column) if dot else ledger.cell(column),
                    (table, column, row),
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
