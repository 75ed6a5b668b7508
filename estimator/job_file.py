"""Reading a job file (TOML) and the price file (CSV) it names."""

import csv
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from .buying.book import BOOK
from .buying.materials import MATERIAL_ROWS, wastage_columns
from .buying.suppliers import SUPPLIERS
from .errors import FileError, JobError, PriceError
from .job import (
    PARTICULARS_MODEL,
    ROW_MODELS,
    Job,
    check_job,
    checked_number,
    row_from,
)
from .plan import FILLED, PARTICULARS

_FROM_JOB_FILE = tuple(t for t in FILLED if t is not BOOK)
_SECTIONS = (
    "job",
    "allowances",
    "lines",
    "line_status",
    "reasons",
    "hold_points",
    "wastage_applies",
    "prices",
    *(t.name for t in _FROM_JOB_FILE),
)
MAX_SUPPLIERS = len(wastage_columns())


def read_job(path: Path) -> Job:
    """The job in a TOML file, its prices read from the CSV file it names.

    Raises JobError, PriceError or FileError: one sentence with the place, what was found and
    what is accepted.
    """
    entries = _toml(path)
    place = path.name
    for section in entries:
        if section not in _SECTIONS:
            raise JobError(f"{place}: {section}", section, "one of " + ", ".join(_SECTIONS))
    particulars = row_from(
        PARTICULARS_MODEL, PARTICULARS, _mapping(entries, "job", place), f"{place}: job"
    )
    wastage: dict[str, dict[str, float]] = {}
    rows: dict[str, list[dict[str, Any]]] = {}
    for table in _FROM_JOB_FILE:
        rows[table.name] = []
        for n, entry in enumerate(_listing(entries, table.name, place), 1):
            where = f"{place}: {table.name}[{n}]"
            if table is SUPPLIERS:
                entry = dict(entry)
                percents = _mapping(entry, "wastage_percent", where)
                entry.pop("wastage_percent", None)
                wastage[str(entry.get("name"))] = _wastage(percents, f"{where}.wastage_percent")
            row = row_from(ROW_MODELS[table.name], table.inputs, entry, where)
            rows[table.name].append(row)
    if not 1 <= len(rows["suppliers"]) <= MAX_SUPPLIERS:
        raise JobError(f"{place}: suppliers", len(rows["suppliers"]), f"1 to {MAX_SUPPLIERS}")
    prices = entries.get("prices")
    if not isinstance(prices, str):
        raise JobError(f"{place}: prices", prices, "the name of a CSV file beside the job file")
    rows["book"] = read_prices(path.parent / prices)
    allowances = _mapping(entries, "allowances", place)
    for which in allowances:
        if which not in ("override", "own"):
            raise JobError(f"{place}: allowances.{which}", which, "one of override, own")
    job = Job(
        particulars,
        rows,
        override=_mapping(allowances, "override", f"{place}: allowances"),
        own=_mapping(allowances, "own", f"{place}: allowances"),
        line_suppliers=_mapping(entries, "lines", place),
        line_status=_mapping(entries, "line_status", place),
        reasons=_mapping(entries, "reasons", place),
        own_notices=_mapping(entries, "hold_points", place),
        wastage=wastage,
        wastage_applies=_mapping(entries, "wastage_applies", place),
    )
    check_job(job, place)
    return job


def read_prices(path: Path) -> list[dict[str, Any]]:
    """The rows of a price file, each checked. Raises PriceError naming line and column."""
    keys = {i.key: i for i in BOOK.inputs}
    text = _text(path)
    try:
        header, *lines = csv.reader(text.splitlines(), strict=True)
    except (csv.Error, ValueError) as error:
        raise PriceError(path.name, str(error), "CSV whose quote marks are closed") from None
    for key in header:
        if key not in keys or header.count(key) > 1:
            raise PriceError(
                f"{path.name}, line 1", key, "each of these columns once: " + ", ".join(keys)
            )
    rows = []
    for n, cells in enumerate(lines, 2):
        where = f"{path.name}, line {n}"
        if len(cells) != len(header):
            raise PriceError(where, f"{len(cells)} cells", f"{len(header)}, as in line 1")
        entry: dict[str, Any] = {}
        for key, cell in zip(header, cells, strict=True):
            if cell != "":
                entry[key] = cell if keys[key].unit.text else _number(cell)
        try:
            rows.append(row_from(ROW_MODELS["book"], BOOK.inputs, entry, where))
        except JobError as error:
            raise PriceError(error.where, error.found, error.accepted) from None
    return rows


def _number(cell: str) -> Any:
    try:
        return float(cell)
    except ValueError:
        return cell  # refused with its place by the field's own check


def _wastage(percents: Mapping[str, Any], place: str) -> dict[str, float]:
    materials = [str(r["key"]) for r in MATERIAL_ROWS]
    limits = wastage_columns()[0]
    for material, value in percents.items():
        if material not in materials:
            raise JobError(place, material, "one of " + ", ".join(materials))
        try:
            checked_number(value, limits)
        except ValueError as error:
            raise JobError(f"{place}.{material}", value, str(error)) from None
    return dict(percents)


def _mapping(entries: Mapping[str, Any], key: str, place: str) -> dict[str, Any]:
    value = entries.get(key, {})
    if not isinstance(value, dict):
        raise JobError(f"{place}: {key}", value, f"a section [{key}]")
    return value


def _listing(entries: Mapping[str, Any], key: str, place: str) -> list[Mapping[str, Any]]:
    value = entries.get(key, [])
    if not isinstance(value, list) or not all(isinstance(v, dict) for v in value):
        raise JobError(f"{place}: {key}", value, f"rows, each under [[{key}]]")
    return value


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig")
    except FileNotFoundError:
        raise FileError(str(path), None, "a file that exists") from None
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(str(path), type(error).__name__, "a readable file in UTF-8") from None


def _toml(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(_text(path))
    except tomllib.TOMLDecodeError as error:
        raise JobError(path.name, str(error), "TOML, as in the demo job") from None
