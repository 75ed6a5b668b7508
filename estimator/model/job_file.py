"""Job files: read from TOML, with the price file (CSV) they name; a begun job written as one."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from ..buying.book import BOOK
from ..buying.lines import LINES, STATUSES
from ..buying.materials import BY_SUPPLIER, MATERIAL_ROWS
from ..buying.suppliers import SUPPLIERS
from ..errors import FileError, JobError
from ..files.opening import MOST_LINES, file_text, toml_in
from ..language import Input, Table
from ..language.days import day_of
from ..language.ledger import Ledger
from ..language.units import EACH
from ..questionnaire.answers import INPUTS as FORM_INPUTS
from ..questionnaire.assumed import ASSUMPTIONS
from ..questionnaire.offers import marks
from ..questionnaire.sources import asked
from .estimate import estimate, rows_in_use
from .job import (
    FORM_MODEL,
    PART_MODELS,
    PART_PARTICULARS_MODEL,
    PARTICULARS_MODEL,
    ROW_MODELS,
    Job,
    as_now,
    as_renamed,
    blank_job,
    checked_number,
    row_from,
)
from .job_checks import as_spelled, check_given, check_job
from .locations import InJobFile
from .places import SCHEMA
from .plan import FILLED, PARTICULARS, plan
from .price_file import read_prices
from .rectangles import with_rectangle
from .spelling import as_listed, keys_as_listed

LAYOUT = "layout"
EXCLUDED = STATUSES[2]
UNSAID = 4  # the layout of a job file that does not say it: the last before they did
_FROM_JOB_FILE = tuple(t for t in FILLED if t is not BOOK)
_SECTIONS = (
    LAYOUT,
    "job",
    "allowances",
    "lines",
    "line_status",
    "reasons",
    "hold_points",
    "wastage_applies",
    "prices",
    "form",
    "assumed",
    *(t.name for t in _FROM_JOB_FILE),
)
MAX_SUPPLIERS = len(BY_SUPPLIER["wastage"])
# What a supplier's row says of each material, by the field of the job that holds it.
_OF_MATERIALS = {"wastage": "wastage_percent", "discounts": "material_discount_percent"}


def read_job(path: Path) -> Job:
    """The job in a TOML file, its prices read from the CSV file it names.

    Raises JobError, PriceError or FileError: one sentence with the place, what was found and
    what is accepted.
    """
    return read_and_estimated(path)[0]


def read_and_estimated(path: Path) -> tuple[Job, Ledger]:
    """As read_job, and the job's figures, which were asked for to check it."""
    entries = _toml(path)
    place = path.name
    particulars = row_from(
        PARTICULARS_MODEL,
        PARTICULARS,
        as_now(_mapping(entries, "job", place), PARTICULARS, _layout(entries, place)),
        _fields(f"{place}: job"),
    )
    job = _job(entries, path, particulars)
    if not 1 <= len(job.rows["suppliers"]) <= MAX_SUPPLIERS:
        found = len(job.rows["suppliers"])
        raise JobError(f"{place}: suppliers", found, f"1 to {MAX_SUPPLIERS}")
    if "prices" not in entries:
        raise JobError(f"{place}: prices", None, "the name of a CSV file beside the job file")
    where = _whereabouts(job, entries, place)
    check_given(job, where)
    ledger = estimate(job)
    check_job(replace(job, rows=rows_in_use(job, where, ledger)), where)
    return job, ledger


@dataclass(frozen=True)
class _InThisJobFile(InJobFile):
    """Places in a job file that uses the form: its own rows stand after those the form fills."""

    listed: Mapping[tuple[str, str], tuple[int, frozenset[str]]]  # number in the file, its fields
    answers: Mapping[str, Any]  # the job's particulars, those of the form among them

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        """As `job.toml: walls[1].length_m`, or `job.toml: form.extension_width_m, ...`."""
        tables = plan().tables
        mark = str(row.get(tables[table].key))
        number, fields = self.listed.get((table, mark), (0, frozenset()))
        if mark in marks(table) and key not in fields:
            column = next((i.name for i in tables[table].inputs if i.key == key), tables[table].key)
            question = asked(plan(), table, mark, column, self.answers, lambda i: f"form.{i.key}")
            words = f"{key} of {mark} in {table}" if key else f"{mark} in {table}"
            if question is not None:
                return f"{self.name}: {question}, by which the form fills {words}"
            return f"{self.name}: {words}, a row of the form"
        return super().field(table, number or n, row, key)


def _whereabouts(job: Job, entries: Mapping[str, Any], place: str) -> InJobFile:
    if not job.uses_form:
        return InJobFile(place)
    listed = {
        (t.name, str(as_listed(entry.get(t.key), marks(t.name)))): (n, frozenset(entry))
        for t in _FROM_JOB_FILE
        for n, entry in enumerate(_listing(entries, t.name, place), 1)
    }
    return _InThisJobFile(place, listed, job.particulars)


def price_file_of(path: Path) -> tuple[Path, int]:
    """The price file that a job file names, and the layout both are of. Raises as read_job."""
    entries = _toml(path)
    return path.parent / str(entries["prices"]), _layout(entries, path.name)


def read_beginning(path: Path, basis: str) -> Job:
    """A job that is only begun: the answers of the form, and whatever else is known already.

    The file is laid out as a job file, and anything may be left out of it. Raises as read_job.
    """
    entries = _toml(path)
    started = blank_job(basis)
    known = _known(entries, path)
    key = str(started.particulars["basis_choice"])
    if known.get("basis_choice", key).lower() != key.lower():
        where = f"{path.name}: job.basis_choice"
        raise JobError(where, known["basis_choice"], f"{key}, as in --basis")
    job = _job(entries, path, {**started.particulars, **known, "basis_choice": key})
    check_given(job, InJobFile(path.name))
    return job


def basis_begun(path: Path) -> str | None:
    """Whose guidance a job that is only begun follows, where its file says so. Raises as read_job."""
    found = _known(_toml(path), path).get("basis_choice")
    return None if found is None else str(found)


def _known(entries: Mapping[str, Any], path: Path) -> dict[str, Any]:
    """The particulars that the file of a job that is only begun gives."""
    given = row_from(
        PART_PARTICULARS_MODEL,
        PARTICULARS,
        as_now(_mapping(entries, "job", path.name), PARTICULARS, _layout(entries, path.name)),
        _fields(f"{path.name}: job"),
    )
    return {k: v for k, v in given.items() if v is not None}


def _job(entries: Mapping[str, Any], path: Path, particulars: Mapping[str, Any]) -> Job:
    place = path.name
    for section in entries:
        if section not in _SECTIONS:
            raise JobError(f"{place}: {section}", section, "one of " + ", ".join(_SECTIONS))
    layout = _layout(entries, place)
    answers = row_from(
        FORM_MODEL,
        FORM_INPUTS,
        as_now(_mapping(entries, "form", place), FORM_INPUTS, layout),
        _fields(f"{place}: form"),
    )
    uses_form = any(v is not None for v in answers.values())
    percents: dict[str, dict[str, dict[str, float]]] = {name: {} for name in BY_SUPPLIER}
    rows: dict[str, list[dict[str, Any]]] = {}
    for table in _FROM_JOB_FILE:
        listed = [as_renamed(e, table.inputs, layout) for e in _listing(entries, table.name, place)]
        if table is SUPPLIERS:
            listed = [_without_percents(e, n, place, percents) for n, e in enumerate(listed, 1)]
        rows[table.name] = _rows(table, listed, place, uses_form, layout)
    rows["book"] = []
    if "prices" in entries:
        prices = entries["prices"]
        if not isinstance(prices, str):
            raise JobError(f"{place}: prices", prices, "the name of a CSV file beside the job file")
        rows["book"] = read_prices(path.parent / prices, layout)
    allowances = _mapping(entries, "allowances", place)
    for which in allowances:
        if which not in ("override", "own"):
            raise JobError(f"{place}: allowances.{which}", which, "one of override, own")
    job = Job(
        {**particulars, **answers},
        rows,
        override=_mapping(allowances, "override", f"{place}: allowances"),
        own=_mapping(allowances, "own", f"{place}: allowances"),
        line_suppliers=_mapping(entries, "lines", place),
        line_status=_mapping(entries, "line_status", place),
        reasons=_mapping(entries, "reasons", place),
        own_notices=_mapping(entries, "hold_points", place),
        wastage=percents["wastage"],
        discounts=percents["discounts"],
        wastage_applies=_mapping(entries, "wastage_applies", place),
        assumed=_assumed(_mapping(entries, "assumed", place), f"{place}: assumed"),
    )
    return _without_newer_lines(with_rectangle(as_spelled(job), layout)[0], layout)


def _layout(entries: Mapping[str, Any], place: str) -> int:
    """The layout a file says it is of. Raises JobError for one that is not known."""
    found = entries.get(LAYOUT, UNSAID)
    if isinstance(found, bool) or not isinstance(found, int) or not 1 <= found <= SCHEMA:
        accepted = f"a layout from 1 to {SCHEMA} (a later one needs a newer estimator)"
        raise JobError(f"{place}: {LAYOUT}", found, accepted)
    return found


def _without_newer_lines(job: Job, layout: int) -> Job:
    """Lines that are newer than the file are excluded, unless it names them."""
    named = {*job.line_status, *job.line_suppliers}
    newer = tuple(line.key for line in LINES if line.since > layout and line.key not in named)
    status = {**job.line_status, **dict.fromkeys(newer, EXCLUDED)}
    return replace(job, line_status=status, left_out=newer)


def _rows(
    table: Table,
    listed: Sequence[Mapping[str, Any]],
    place: str,
    uses_form: bool,
    layout: int,
) -> list[dict[str, Any]]:
    """The rows of a list. A row that bears a mark of the form is that row, typed over in part."""
    own_marks = marks(table.name) if uses_form else ()
    found: list[dict[str, Any]] = [{} for _ in own_marks]
    for n, entry in enumerate(listed, 1):
        where = f"{place}: {table.name}[{n}]"
        mark = as_listed(entry.get(table.key), own_marks)
        if mark in own_marks:
            at = own_marks.index(str(mark))
            if found[at]:
                raise JobError(f"{where}.{table.key}", mark, f"a {table.key} used once")
            row = row_from(PART_MODELS[table.name], table.inputs, entry, _fields(where))
            found[at] = {**row, table.key: None}
        else:
            whole = as_now(entry, table.inputs, layout)
            found.append(row_from(ROW_MODELS[table.name], table.inputs, whole, _fields(where)))
    return found


def _fields(place: str) -> Callable[[str], str]:
    return lambda key: f"{place}.{key}"


def _without_percents(
    entry: Mapping[str, Any], n: int, place: str, percents: dict[str, dict[str, dict[str, float]]]
) -> Mapping[str, Any]:
    """A supplier's row; its percentages of materials are kept apart, by its name."""
    where = f"{place}: suppliers[{n}]"
    for name, key in _OF_MATERIALS.items():
        given = _mapping(entry, key, where)
        found = _percents(given, BY_SUPPLIER[name][0], f"{where}.{key}")
        if found or name == "wastage":
            percents[name][str(entry.get("name"))] = found
    return {k: v for k, v in entry.items() if k not in _OF_MATERIALS.values()}


def _assumed(given: dict[str, Any], place: str) -> dict[str, float]:
    items = {a.key: Input(a.key, a.label, a.unit, least=a.least, most=a.most) for a in ASSUMPTIONS}
    given = keys_as_listed(given, items)
    for key, value in given.items():
        if key not in items:
            raise JobError(place, key, "one of " + ", ".join(items))
        try:
            checked_number(value, items[key])
        except ValueError as error:
            raise JobError(f"{place}.{key}", value, str(error)) from None
    return given


def _percents(percents: Mapping[str, Any], limits: Input, place: str) -> dict[str, float]:
    materials = [str(r["key"]) for r in MATERIAL_ROWS]
    percents = keys_as_listed(percents, materials)
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
    if len(value) > MOST_LINES:
        raise JobError(f"{place}: {key}", f"{len(value):,} rows", f"up to {MOST_LINES:,}")
    return value


def _toml(path: Path) -> dict[str, Any]:
    try:
        return toml_in(file_text(path))
    except ValueError as error:
        if isinstance(error, FileError):
            raise
        raise JobError(path.name, str(error), "TOML, as in the demo job") from None


TO_COME = "to be filled in"

_HEAD = """\
# Begun with the one-page form. Fill in what says "to be filled in". Under [job] choose site_nation
# and supplier_choice. Put the name of a price file here, and the suppliers at the end.
# docs/job-file.md shows every field.
# prices = "prices.csv"
"""
_LAYOUT = f"""
layout = {SCHEMA}  # what this file is written for: a later program reads it by that
"""


def begun_file(job: Job) -> str:
    """The text of the job file: particulars, answers, what was assumed otherwise, own figures."""
    parts = [_HEAD, _LAYOUT, "\n[job]\n", _section(PARTICULARS, job, TO_COME), "\n[form]\n"]
    parts.append(_section(FORM_INPUTS, job, None))
    for name, figures in (("assumed", job.assumed), ("allowances.own", job.own)):
        if figures:
            parts.append(f"\n[{name}]\n" + "".join(f"{k} = {v:g}\n" for k, v in figures.items()))
    return "".join(parts)


def _section(inputs: Iterable[Input], job: Job, to_come: str | None) -> str:
    lines = []
    for item in inputs:
        value: Any = job.particulars.get(item.name)
        if value is None and item.required and not (item.choice_of or item.choices):
            value = to_come
        if value is not None:
            if item.unit is EACH:
                value = int(value)
            # A TOML basic string is a JSON string; numbers are written as they are.
            shown = day_of(value) if item.unit.dated else json.dumps(value, ensure_ascii=False)
            lines.append(f"{item.key} = {shown}\n")
    return "".join(lines)
