"""Every single input of a job changed by itself, whatever else that breaks."""

import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from estimator.buying.lines import HOLD_POINTS, LINES, STATUSES
from estimator.buying.materials import MATERIAL_ROWS
from estimator.checks import CHECKS
from estimator.language import Input
from estimator.model.issued import REVISIONS
from estimator.model.job import Job
from estimator.model.plan import FILLED, TYPED_CELLS, bases
from estimator.questionnaire.assumed import ASSUMPTIONS


def mutations(job: Job, r: random.Random) -> Iterator[tuple[str, Job]]:
    """(where|how, the job with one field changed), for every field there is."""
    for item in TYPED_CELLS:
        for how, value in _others(item, job.particulars.get(item.name), r):
            changed = {**job.particulars, item.name: value}
            yield f"particulars.{item.name}|{how}", replace(job, particulars=changed)
    for table in FILLED:
        if table is REVISIONS:
            continue
        rows = list(job.rows[table.name])
        for n, row in enumerate(rows):
            if not row:
                continue
            for item in table.inputs:
                for how, value in _others(item, row.get(item.name), r):
                    if item.name == table.key and row.get(table.key) is None:
                        continue  # a row of the form bears the form's mark
                    changed_rows = [*rows[:n], {**row, item.name: value}, *rows[n + 1 :]]
                    yield (
                        f"{table.name}.{item.name}|{how} in row {n + 1}",
                        replace(job, rows={**job.rows, table.name: changed_rows}),
                    )
    yield from _entries(job, "override", job.override, dict.fromkeys(job.own, 123.5))
    yield from _entries(job, "own", job.own, {})
    yield from _entries(
        job, "line_suppliers", job.line_suppliers,
        {line.key: job.rows["suppliers"][0]["name"] for line in LINES},
    )  # fmt: skip
    usual = {line.key: line.status for line in LINES}
    yield from _entries(
        job, "line_status", {k: v for k, v in job.line_status.items() if v != usual[k]},
        {k: next(s for s in STATUSES if s != v) for k, v in usual.items()},
    )  # fmt: skip
    yield from _entries(job, "reasons", job.reasons, {c.key: "another reason" for c in CHECKS})
    yield from _entries(job, "own_notices", job.own_notices, dict.fromkeys(HOLD_POINTS, "ring us"))
    yield from _entries(job, "assumed", job.assumed, {a.key: a.figure + 1 for a in ASSUMPTIONS})
    applies = {str(m["key"]): m["wastage_applies"] for m in MATERIAL_ROWS}
    yield from _entries(
        job, "wastage_applies",
        {k: v for k, v in job.wastage_applies.items() if v != applies[k]},
        {k: 1 - v for k, v in applies.items()},  # type: ignore[operator]
        with_others=False,
    )  # fmt: skip
    for supplier in job.wastage:
        for name in ("wastage", "discounts"):
            given = getattr(job, name)
            percents = given.get(supplier, {})
            for material in applies:
                value = percents.get(material)
                changed = {**percents, material: 3.25 if value != 3.25 else 4}
                yield (
                    f"{name}.{material}|of {supplier}",
                    replace(job, **{name: {**given, supplier: changed}}),
                )


def _entries(
    job: Job, name: str, given: Mapping[str, Any], more: Mapping[str, Any], with_others: bool = True
) -> Iterator[tuple[str, Job]]:
    """Each entry taken out, each changed, and each that is not there put in."""
    whole = getattr(job, name)
    for key, value in given.items():
        rest = {k: v for k, v in whole.items() if k != key}
        yield f"{name}.{key}|taken out", replace(job, **{name: rest})
        if with_others:
            other = more.get(key)
            if name == "line_status":
                usual = next(x.status for x in LINES if x.key == key)
                other = next(s for s in STATUSES if s not in (value, usual))
            elif name == "line_suppliers":
                names = [s["name"] for s in job.rows["suppliers"]]
                other = next((n for n in names if n != value), None)
            elif isinstance(value, int | float):
                other = value + 1
            elif isinstance(value, str):
                other = value + " too"
            if other is not None:
                yield f"{name}.{key}|changed", replace(job, **{name: {**whole, key: other}})
    for key, value in more.items():
        if key not in whole:
            yield f"{name}.{key}|put in", replace(job, **{name: {**whole, key: value}})


def _others(item: Input, value: Any, r: random.Random) -> Iterator[tuple[str, Any]]:
    """Another value, and a blank where there was none or a value where there was a blank."""
    if item.unit.text:
        offered = item.choices or [b.name for b in bases() if item.choice_of == "bases.name"]
        choices = [c for c in offered if c != value]
        yield "changed", r.choice(choices) if choices else f"{value or ''}, changed"
    else:
        yield "changed", (value or 0) + r.choice([1, 0.25, 1e-3, -1])
        if value is None:
            yield "0 for a blank", 0
    if value is not None:
        yield "left blank", None
