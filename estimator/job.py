"""A job as it was given: checked field by field, then as a whole.

The fields are those of the plan's input columns; the models are made from them, so that a
column added to a list is at once a field that is checked.
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError, create_model, field_validator

from .basis import KEYS
from .buying.book import BOOK
from .buying.lines import LINES, STATUSES
from .buying.materials import measures_of
from .checks import CHECKS
from .errors import JobError
from .plan import FILLED, PARTICULARS, SHIPPED_ROWS, bases
from .rules import whole
from .rules.tables import Input, Table
from .rules.units import EACH
from .takeoff.abutments import ABUTMENT_KIND_ROWS
from .takeoff.edges import EDGE_KIND_ROWS, SIDES
from .takeoff.floors import edges_agree
from .takeoff.openings import opening_agrees
from .takeoff.tray_units import TRAY_UNIT_KIND_ROWS
from .takeoff.wall_details import cavity_agrees, steps_agree
from .takeoff.walls import run_agrees, turns
from .vat import STANDARD, STANDARD_RATE

MAX_TEXT = 2000
_CONTROL = re.compile(r"[\x00-\x1f\x7f\u2028\u2029\ud800-\udfff\ufffe\uffff]")
# In a name these are patterns or operators in one host or another.
_NOT_IN_NAMES = re.compile(r"[*?~|<>=]")


@dataclass(frozen=True)
class Job:
    """Everything a person gave: particulars, the rows of every list, allowances, choices."""

    particulars: Mapping[str, Any]
    rows: Mapping[str, Sequence[Mapping[str, Any]]]
    override: Mapping[str, float] = field(default_factory=dict)
    own: Mapping[str, float] = field(default_factory=dict)
    line_suppliers: Mapping[str, str] = field(default_factory=dict)
    line_status: Mapping[str, str] = field(default_factory=dict)
    reasons: Mapping[str, str] = field(default_factory=dict)
    wastage: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    wastage_applies: Mapping[str, int] = field(default_factory=dict)


def is_name(item: Input, table: Table | None = None) -> bool:
    """Whether a text is a key by which other rows find this one, or names such a key."""
    return bool(item.choice_of) or (table is not None and item.name == table.key)


def checked_text(value: Any, name: bool) -> str:
    """A text that may stand in a cell. Raises ValueError saying what is accepted."""
    if not isinstance(value, str):
        raise ValueError("a text")
    if len(value) > MAX_TEXT:
        raise ValueError(f"a text of up to {MAX_TEXT} characters")
    if _CONTROL.search(value):
        raise ValueError("a text of one line, without control characters")
    if name and (value != value.strip() or not value or _NOT_IN_NAMES.search(value)):
        raise ValueError("a name without * ? ~ | < > = and without blanks at its ends")
    return value


def checked_number(value: Any, item: Input) -> float:
    """A number within its limits. Raises ValueError saying what is accepted."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(item.accepted)
    least, most = item.least or 0, item.most or 0
    if item.least is not None and not least <= value <= most:
        hint = ""
        if item.unit.sign == "m" and least <= value / 1000 <= most:
            hint = " (was that millimetres?)"
        raise ValueError(item.accepted + hint)
    if item.unit is EACH and value != int(value):
        raise ValueError(item.accepted + ", whole")
    return value


def _check(item: Input, table: Table | None) -> Any:
    def check(value: Any) -> Any:
        if value is None and not item.required:
            return None
        if item.unit.text:
            text = checked_text(value, is_name(item, table))
            if item.choices and text not in item.choices:
                raise ValueError(item.accepted)
            if item.required and not text:
                raise ValueError(item.accepted)
            return text
        return checked_number(value, item)

    return field_validator(item.key, mode="before")(check)


def _model(name: str, inputs: Iterable[Input], table: Table | None = None) -> type[BaseModel]:
    fields: dict[str, Any] = {}
    checks: dict[str, Any] = {}
    for item in inputs:
        kind: Any = str if item.unit.text else float
        fields[item.key] = (kind, ...) if item.required else (kind | None, None)
        checks[f"check_{item.key}"] = _check(item, table)
    config = ConfigDict(extra="forbid", frozen=True)
    return create_model(name, __config__=config, __validators__=checks, **fields)


ROW_MODELS = {t.name: _model(t.one, t.inputs, t) for t in FILLED}
PARTICULARS_MODEL = _model("particulars", PARTICULARS)


def row_from(
    model: type[BaseModel], inputs: Iterable[Input], entry: Mapping[str, Any], place: str
) -> dict[str, Any]:
    """One row, its keys turned from the file's names into the plan's.

    Raises JobError with the field's place, what was found and what is accepted.
    """
    by_key = {i.key: i for i in inputs}
    try:
        found = model.model_validate(dict(entry))
    except ValidationError as error:
        raise JobError(*_sentence(error, by_key, place)) from None
    return {i.name: getattr(found, k) for k, i in by_key.items()}


def _sentence(
    error: ValidationError, by_key: Mapping[str, Input], place: str
) -> tuple[str, Any, str]:
    # A misspelt field is both unknown and missing: say the first.
    first = min(error.errors(), key=lambda e: e["type"] != "extra_forbidden")
    key = str(first["loc"][0])
    if first["type"] == "extra_forbidden":
        return f"{place}.{key}", key, "one of the fields " + ", ".join(by_key)
    if first["type"] == "missing":
        return f"{place}.{key}", None, by_key[key].accepted
    accepted = str(first.get("ctx", {}).get("error", by_key[key].accepted))
    return f"{place}.{key}", first["input"], accepted


def blank_job(basis: str) -> Job:
    """A job to start from: nothing measured, the first of each choice of method, no supplier.

    Raises JobError when no basis is called that.
    """
    _among(basis, [b.name for b in bases()], "--basis")
    particulars: dict[str, Any] = {i.name: i.choices[0] for i in PARTICULARS if i.choices}
    particulars |= {"basis_choice": basis, "radon_area": "unknown"}
    particulars |= {"vat_status": STANDARD, "vat_percent": STANDARD_RATE}
    particulars["supplier_vat_percent"] = STANDARD_RATE
    for item in PARTICULARS:
        particulars.setdefault(item.name, None if item.unit.text else 0)
    return Job(particulars, {t.name: [] for t in FILLED})


# ---- the job as a whole --------------------------------------------------------------------


def check_job(job: Job, place: str) -> None:
    """Whether the rows agree with each other. Raises JobError at the first that does not."""
    names = [b.name for b in bases()]
    _among(job.particulars["basis_choice"], names, f"{place}: job.basis_choice")
    for table in FILLED:
        _unique(job, table, place)
        for item in table.inputs:
            if item.choice_of:
                _listed(job, table, item, place)
    suppliers = [r["name"] for r in job.rows["suppliers"]]
    _among(job.particulars["supplier_choice"], suppliers, f"{place}: job.supplier_choice")
    for line, supplier in job.line_suppliers.items():
        _among(line, [x.key for x in LINES], f"{place}: lines")
        _among(supplier, suppliers, f"{place}: lines.{line}")
    for line, status in job.line_status.items():
        _among(line, [x.key for x in LINES], f"{place}: line_status")
        _among(status, STATUSES, f"{place}: line_status.{line}")
    for check, reason in job.reasons.items():
        _among(check, [c.key for c in CHECKS], f"{place}: reasons")
        try:
            if not checked_text(reason, name=False).strip():
                raise ValueError("a reason in words")
        except ValueError as error:
            raise JobError(f"{place}: reasons.{check}", reason, str(error)) from None
    materials = {str(r["key"]) for r in SHIPPED_ROWS["materials"]}
    for material, applies in job.wastage_applies.items():
        _among(material, sorted(materials), f"{place}: wastage_applies")
        _among(applies, (0, 1), f"{place}: wastage_applies.{material}")
    for which, given in (("override", job.override), ("own", job.own)):
        _check_allowances(given, f"{place}: allowances.{which}")
    _check_edges(job, place)
    _check_runs(job, place)
    _check_lintels(job, place)
    _check_slopes(job, place)
    _check_tray_units(job, place)
    _check_packs(job, place)


def _among(value: Any, accepted: Sequence[Any], where: str) -> None:
    if value not in accepted:
        raise JobError(where, value, "one of " + ", ".join(str(a) for a in accepted))


def _unique(job: Job, table: Table, place: str) -> None:
    seen: dict[str, int] = {}
    for n, row in enumerate(job.rows[table.name], 1):
        key = str(row[table.key])
        if key.lower() in seen:
            raise JobError(
                f"{_row_place(place, table, n, row)}.{table.key}",
                key,
                f"a {table.key} used once (row {seen[key.lower()]} has it already)",
            )
        seen[key.lower()] = n


def _row_place(place: str, table: Table, n: int, row: Mapping[str, Any]) -> str:
    if table is BOOK:
        return f"{place}: price row {n} ({row['code']})"
    return f"{place}: {table.name}[{n}]"


def _choices(job: Job, item: Input) -> list[str]:
    table, column = (item.choice_of or "").split(".")
    return [str(r[column]) for r in SHIPPED_ROWS.get(table, job.rows.get(table, ()))]


def _listed(job: Job, table: Table, item: Input, place: str) -> None:
    accepted = _choices(job, item)
    for n, row in enumerate(job.rows[table.name], 1):
        value = row[item.name]
        if value is not None:
            _among(value, accepted, f"{_row_place(place, table, n, row)}.{item.key}")


def _check_allowances(given: Mapping[str, float], place: str) -> None:
    keys = {k.name: k for k in KEYS}
    for name, value in given.items():
        _among(name, list(keys), place)
        key = keys[name]
        item = Input(key.name, key.label, key.unit, least=key.least, most=key.most)
        try:
            checked_number(value, item)
        except ValueError as error:
            raise JobError(f"{place}.{name}", value, str(error)) from None


def _check_edges(job: Job, place: str) -> None:
    kinds: dict[Any, Mapping[str, Any]] = {r["name"]: r for r in EDGE_KIND_ROWS}
    for n, edge in enumerate(job.rows["edges"], 1):
        kind = kinds[edge["kind"]]
        where = f"{place}: edges[{n}]"
        typed = edge["typed_turn_up"] is not None
        if kind["by_levels"] and not typed and edge["dpc_level"] is None:
            raise JobError(f"{where}.dpc_level_m", None, "the level of the DPC, or a typed turn-up")
        if kind["by_chase"] and not typed and edge["dress"] is None:
            raise JobError(f"{where}.dress_mm", None, "the depth of the chase, or a typed turn-up")
        if kind["by_hand"] and not typed:
            raise JobError(
                f"{where}.typed_turn_up_mm", None, f"a turn-up typed for: {edge['kind']}"
            )
        if not (kind["by_levels"] or kind["by_hand"]) and typed:
            raise JobError(
                f"{where}.typed_turn_up_mm", edge["typed_turn_up"], f"none at: {edge['kind']}"
            )
        if bool(kind["joins"]) != (edge["joins"] is not None):
            raise JobError(
                f"{where}.joins", edge["joins"], "the zone lapped at a joint, and only there"
            )
        if edge["joins"] == edge["zone"]:
            raise JobError(f"{where}.joins", edge["joins"], "another zone than the edge's own")
    _check_sides(job, place)


def _check_sides(job: Job, place: str) -> None:
    for n, zone in enumerate(job.rows["zones"], 1):
        for side in SIDES:
            wanted = zone["side_a"] if side[0] == "A" else zone["side_b"]
            found = math.fsum(
                e["length"]
                for e in job.rows["edges"]
                if e["zone"] == zone["mark"] and e["side"] == side
            )
            if not edges_agree(abs(found - wanted), 0):
                raise JobError(
                    f"{place}: zones[{n}] ({zone['mark']}), edges on side {side}",
                    f"{found:g} m",
                    f"edges that add up to the side, {wanted:g} m",
                )


def _check_runs(job: Job, place: str) -> None:
    for n, run in enumerate(job.rows["walls"], 1):
        net = turns(run["external_corners"], run["internal_corners"])
        if not run_agrees(run["run"], net, run["ends_at_existing"]):
            raise JobError(
                f"{place}: walls[{n}].external_corners",
                f"{run['external_corners']:g} external, {run['internal_corners']:g} internal",
                "for a closed run 4 more external corners than internal ones, and no ends",
            )
        if bool(run["inner_leaf"]) != bool(run["cavity"]):
            raise JobError(
                f"{place}: walls[{n}].inner_leaf_mm",
                f"cavity {run['cavity']:g} mm, inner leaf {run['inner_leaf']:g} mm",
                "both for a cavity wall, or 0 for both for a solid wall",
            )

        if not steps_agree(run["steps"], run["step_rise"]):
            raise JobError(
                f"{place}: walls[{n}].step_rise_mm", run["step_rise"],
                "a rise where there are steps, and only there",
            )  # fmt: skip
        base_tray, inner_of = run["base_tray"] or "", run["inner_of"] or ""
        if not cavity_agrees(run["cavity"], base_tray, inner_of):
            raise JobError(
                f"{place}: walls[{n}].cavity_mm", run["cavity"],
                "a cavity, where there is a tray at DPC level or a timber frame",
            )  # fmt: skip


def _check_lintels(job: Job, place: str) -> None:
    for n, opening in enumerate(job.rows["openings"], 1):
        if not opening_agrees(opening["lintel_tray"] or "", opening["lintel"]):
            raise JobError(
                f"{place}: openings[{n}].lintel_m", opening["lintel"],
                "the length of the lintel that forms the tray",
            )  # fmt: skip


def _check_slopes(job: Job, place: str) -> None:
    slopes = {r["name"]: r["slopes"] for r in ABUTMENT_KIND_ROWS}
    for n, roof in enumerate(job.rows["abutments"], 1):
        if slopes[roof["kind"]] and roof["pitch"] is None:
            raise JobError(f"{place}: abutments[{n}].pitch_degrees", None, "the pitch of the roof")


def _check_tray_units(job: Job, place: str) -> None:
    """Units on level trays only, and no longer together than their tray."""
    level = {r["name"]: r["level"] for r in ABUTMENT_KIND_ROWS}
    kinds: Sequence[Mapping[str, Any]] = TRAY_UNIT_KIND_ROWS
    legs = {r["name"]: r["legs"] for r in kinds}
    rest = {r["mark"]: r["length"] for r in job.rows["abutments"] if level[r["kind"]]}
    for n, unit in enumerate(job.rows["tray_units"], 1):
        at = f"{place}: tray_units[{n}]"
        if unit["abutment"] not in rest:
            raise JobError(f"{at}.abutment", unit["abutment"], "a level abutment")
        rest[unit["abutment"]] -= unit["number"] * legs[unit["kind"]] * unit["leg"] / 1000
        if whole.six_places(rest[unit["abutment"]]) < 0:
            raise JobError(f"{at}.leg_mm", unit["leg"], "legs no longer together than their tray")


def _check_packs(job: Job, place: str) -> None:
    for n, row in enumerate(job.rows["book"], 1):
        for measure in measures_of(row["material"]):
            if row[measure] is None:
                raise JobError(
                    f"{_row_place(place, BOOK, n, row)}.{measure}",
                    None,
                    f"the {measure} of a pack of {row['material']}",
                )
        width, length = row["width"], row["length"]
        if width is not None and length is not None and width > length * 1000:
            raise JobError(
                f"{_row_place(place, BOOK, n, row)}.width_mm",
                f"{width:g} mm wide, {length:g} m long",
                "a roll longer than it is wide",
            )
