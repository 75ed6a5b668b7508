"""Whether the rows of a job agree with each other: one sentence at the first that does not."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..buying.book import BOOK
from ..buying.lines import HOLD_POINTS, LINES, STATUSES
from ..buying.materials import measures_of
from ..buying.packs_stated import too_wide
from ..checks import CHECKS
from ..errors import JobError
from ..guidance.allowances import basis_rows
from ..guidance.basis import KEYS
from ..language.tables import Input, Table
from ..language.units import PERCENT
from ..pricing.work import (
    FIGURE,
    HOURS,
    PER_UNIT,
    by_hours,
    by_quantity,
    quantity_misfits,
    rate_misfits,
)
from ..questionnaire.answers import INPUTS as FORM_INPUTS
from ..questionnaire.offers import marks
from ..takeoff.abutments import ABUTMENT_KIND_ROWS
from ..takeoff.openings import opening_agrees
from ..takeoff.tray_units import TRAY_UNIT_KIND_ROWS, abutment_agrees, legs_each, metres_each
from .floor_checks import check_floors
from .job import Job, among, blank_job, checked_number, checked_text, or_else
from .locations import Where
from .place_checks import check_places
from .plan import FILLED, PARTICULARS, SHIPPED_ROWS, bases
from .run_checks import check_runs
from .spelling import as_listed, folded, keys_as_listed

# What a job has from its first day: without it no rule can be worked out.
NEEDED = tuple(
    item
    for item in PARTICULARS
    if item.required and blank_job(bases()[0].name).particulars[item.name] is not None
)


def check_given(job: Job, where: Where) -> None:
    """Whether what stands alone can be used, and nothing is blank that every rule needs.

    To be asked before any rule reads the job. Raises JobError at the first that cannot.
    """
    for item in NEEDED:
        if job.particulars.get(item.name) is None:
            raise JobError(where.entry("job", item.key), None, item.accepted)
    check_choices(job, where)
    _check_entries(job, where)


def check_job(job: Job, where: Where) -> None:
    """Whether the rows agree with each other. Raises JobError at the first that does not."""
    check_given(job, where)
    for table in FILLED:
        _complete(job, table, where)
        _unique(job, table, where)
        for item in table.inputs:
            if item.choice_of:
                _listed(job, table, item, where)
    check_floors(job, where)
    check_runs(job, where)
    check_places(job, where)
    _check_lintels(job, where)
    _check_slopes(job, where)
    _check_tray_units(job, where)
    check_packs(job, where)
    _check_work(job, where)


def as_spelled(job: Job) -> Job:
    """The job with every name, choice and key as its list spells it, where capitals differ.

    To be asked before anything reads the job: rules and checks compare what is listed.
    """
    lines, checks = [x.key for x in LINES], [c.key for c in CHECKS]
    suppliers = [r.get("name") for r in job.rows["suppliers"]]
    materials = [str(r["key"]) for r in SHIPPED_ROWS["materials"]]
    keys = [k.name for k in KEYS]
    particulars = dict(job.particulars)
    for item in (*PARTICULARS, *FORM_INPUTS):
        if item.choice_of and item.name in particulars:
            particulars[item.name] = as_listed(particulars[item.name], _choices(job, item))
    return replace(
        job,
        particulars=particulars,
        rows={name: _rows_as_spelled(job, name) for name in job.rows},
        override=keys_as_listed(job.override, keys),
        own=keys_as_listed(job.own, keys),
        line_suppliers={
            line: as_listed(supplier, suppliers)
            for line, supplier in keys_as_listed(job.line_suppliers, lines).items()
        },
        line_status={
            line: as_listed(status, STATUSES)
            for line, status in keys_as_listed(job.line_status, lines).items()
        },
        reasons=keys_as_listed(job.reasons, checks),
        own_notices=keys_as_listed(job.own_notices, HOLD_POINTS),
        wastage={s: keys_as_listed(found, materials) for s, found in job.wastage.items()},
        discounts={s: keys_as_listed(found, materials) for s, found in job.discounts.items()},
        wastage_applies=keys_as_listed(job.wastage_applies, materials),
    )


def _rows_as_spelled(job: Job, name: str) -> list[dict[str, Any]]:
    table = next(t for t in FILLED if t.name == name)
    choices = {
        i.name: [*_marks_of_form(job, i), *_choices(job, i)] for i in table.inputs if i.choice_of
    }
    return [
        {k: as_listed(v, choices[k]) if k in choices else v for k, v in row.items()}
        for row in job.rows[name]
    ]


def _marks_of_form(job: Job, item: Input) -> tuple[str, ...]:
    return marks((item.choice_of or "").partition(".")[0]) if job.uses_form else ()


def _complete(job: Job, table: Table, where: Where) -> None:
    """Refuse a name or choice that is needed and blank: a row typed or filled by the form in part.

    A figure that the form cannot give yet is no blank: it is asked for, and the total waits.
    """
    for n, row in enumerate(job.rows[table.name], 1):
        for item in table.inputs:
            if item.required and item.unit.text and row.get(item.name) is None:
                raise JobError(
                    where.field(table.name, n, row, item.key), None, _accepted(job, item)
                )


def _accepted(job: Job, item: Input) -> str:
    return "one of " + ", ".join(_choices(job, item)) if item.choice_of else item.accepted


def _check_entries(job: Job, where: Where) -> None:
    suppliers = [r["name"] for r in job.rows["suppliers"]]
    for line, supplier in job.line_suppliers.items():
        among(line, [x.key for x in LINES], where.entry("lines", ""))
        among(supplier, suppliers, where.entry("lines", line))
    for line, status in job.line_status.items():
        among(line, [x.key for x in LINES], where.entry("line_status", ""))
        among(status, STATUSES, where.entry("line_status", line))
    _check_words(job.reasons, [c.key for c in CHECKS], where, "reasons")
    _check_words(job.own_notices, HOLD_POINTS, where, "hold_points")
    materials = {str(r["key"]) for r in SHIPPED_ROWS["materials"]}
    for material, applies in job.wastage_applies.items():
        among(material, sorted(materials), where.entry("wastage_applies", ""))
        if isinstance(applies, bool) or applies not in (0, 1):
            raise JobError(where.entry("wastage_applies", material), applies, "one of 0, 1")
    for which, given in (("override", job.override), ("own", job.own)):
        _check_allowances(given, where, f"allowances.{which}")


def check_choices(job: Job, where: Where) -> None:
    """Whether each choice made once for the job is on its list. Raises JobError."""
    for section, inputs in (("job", PARTICULARS), ("form", FORM_INPUTS)):
        for item in inputs:
            value = job.particulars.get(item.name)
            if item.choice_of and value is not None:
                place, shown = where.entry(section, item.key), _shown(job, item, where)
                among(value, _choices(job, item), place, or_else(item), shown)


def _check_words(given: Mapping[str, str], keys: Sequence[str], where: Where, section: str) -> None:
    """Refuse a value that is not one of those accepted. Raises JobError with its place."""
    for key, words in given.items():
        among(key, keys, where.entry(section, ""))
        try:
            if not checked_text(words, name=False).strip():
                raise ValueError("a text in words")
        except ValueError as error:
            raise JobError(where.entry(section, key), words, str(error)) from None


def _unique(job: Job, table: Table, where: Where) -> None:
    seen: dict[str, int] = {}
    for n, row in enumerate(job.rows[table.name], 1):
        key = str(row[table.key])
        if folded(key) in seen:
            raise JobError(
                where.field(table.name, n, row, table.key),
                key,
                f"a {table.key} used once (row {seen[folded(key)]} has it already)",
            )
        seen[folded(key)] = n


def _choices(job: Job, item: Input) -> list[str]:
    table, column = (item.choice_of or "").split(".")
    if table == "bases":
        return [b.name for b in job.bases]
    if table in SHIPPED_ROWS:
        return [str(r[column]) for r in SHIPPED_ROWS[table]]
    return [str(r[column]) for r in job.rows.get(table, ()) if r.get(column)]


def _shown(job: Job, item: Input, where: Where) -> list[str]:
    """The texts by which one of a list is chosen there; none where it is chosen by its key."""
    if not (item.shown_as and where.by_label):
        return []
    table = (item.choice_of or "").partition(".")[0]
    rows = basis_rows(job.bases) if table == "bases" else SHIPPED_ROWS[table]
    return [str(r[item.shown_as]) for r in rows]


def _listed(job: Job, table: Table, item: Input, where: Where) -> None:
    accepted, shown = _choices(job, item), _shown(job, item, where)
    for n, row in enumerate(job.rows[table.name], 1):
        value = row[item.name]
        if value is not None:
            among(value, accepted, where.field(table.name, n, row, item.key), shown=shown)


def _check_allowances(given: Mapping[str, float], where: Where, section: str) -> None:
    keys = {k.name: k for k in KEYS}
    for name, value in given.items():
        among(name, list(keys), where.entry(section, ""))
        key = keys[name]
        item = Input(key.name, key.label, key.unit, least=key.least, most=key.most)
        try:
            checked_number(value, item)
        except ValueError as error:
            raise JobError(where.entry(section, name), value, str(error)) from None


def _check_lintels(job: Job, where: Where) -> None:
    for n, opening in enumerate(job.rows["openings"], 1):
        if not opening_agrees(opening["lintel_tray"] or "", opening["lintel"], 0):
            raise JobError(
                where.field("openings", n, opening, "lintel_m"), opening["lintel"],
                "the length of the lintel that forms the tray",
            )  # fmt: skip


def _check_slopes(job: Job, where: Where) -> None:
    slopes = {r["name"]: r["slopes"] for r in ABUTMENT_KIND_ROWS}
    for n, roof in enumerate(job.rows["abutments"], 1):
        if slopes[roof["kind"]] and roof["pitch"] is None:
            raise JobError(
                where.field("abutments", n, roof, "pitch_degrees"), None, "the pitch of the roof"
            )


def _check_tray_units(job: Job, where: Where) -> None:
    """Units on level trays only, and no longer together than their tray."""
    level = {r["name"]: r["level"] for r in ABUTMENT_KIND_ROWS}
    kinds: Sequence[Mapping[str, Any]] = TRAY_UNIT_KIND_ROWS
    legs = {r["name"]: r["legs"] for r in kinds}
    roofs = {r["mark"]: r for r in job.rows["abutments"]}
    listed, metres = Counter[str](), Counter[str]()
    for n, unit in enumerate(job.rows["tray_units"], 1):
        mark = unit["abutment"]
        kind, length = level[roofs[mark]["kind"]], roofs[mark]["length"]
        own_legs = legs_each(unit["number"], legs[unit["kind"]])
        listed[mark] += own_legs
        metres[mark] += metres_each(own_legs, unit["leg"])
        if not abutment_agrees(kind, length, metres[mark], listed[mark]):
            if not kind:
                at = where.field("tray_units", n, unit, "abutment")
                raise JobError(at, mark, "a level abutment")
            raise JobError(
                where.field("tray_units", n, unit, "leg_mm"),
                unit["leg"],
                "legs no longer together than their tray",
            )


def check_packs(job: Job, where: Where) -> None:
    """Whether every pack states what its material is bought by. Raises JobError."""
    keys = {i.name: i.key for i in BOOK.inputs}
    for n, row in enumerate(job.rows["book"], 1):
        for measure in measures_of(row["material"]):
            if row[measure] is None:
                raise JobError(
                    where.field("book", n, row, keys[measure]),
                    None,
                    f"the {measure} of a pack of {row['material']}",
                )
        width, length = row["width"], row["length"]
        if too_wide(width, length):
            raise JobError(
                where.field("book", n, row, "width_mm"),
                f"{width:g} mm wide, {length:g} m long",
                "a roll longer than it is wide",
            )


def _check_percent(value: Any, where: str) -> None:
    try:
        checked_number(value, Input("figure", "Figure", PERCENT, least=0, most=100))
    except ValueError as error:
        raise JobError(where, value, str(error)) from None


def _check_work(job: Job, where: Where) -> None:
    """What work.misfit counts, said as a sentence."""
    for n, line in enumerate(job.rows["work_lines"], 1):
        way = line["way"]
        if rate_misfits(by_hours(way), line["rate"]):
            raise JobError(
                where.field("work_lines", n, line, "rate"),
                line["rate"],
                f"a rate for {HOURS}, and only there",
            )
        if quantity_misfits(by_quantity(way), line["wired_to"] or ""):
            raise JobError(
                where.field("work_lines", n, line, "wired_to"),
                line["wired_to"],
                f"the quantity that {PER_UNIT} and {HOURS} follow, and only there",
            )
        if FIGURE.is_percent(line):
            _check_percent(line["figure"], where.field("work_lines", n, line, "figure"))
