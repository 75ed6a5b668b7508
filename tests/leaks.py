"""A job whose every field bears a mark of its own, and a search that opens what it is given."""

import html
import itertools
import re
import subprocess
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from lxml import etree

from estimator.buying.lines import HOLD_POINTS
from estimator.checks import SITE_CHECKS
from estimator.files.resources import DEMO_JOB
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_job
from estimator.model.locations import InJobFile
from estimator.model.plan import FILLED, PARTICULARS

from .hosts import need

# Numbers that say what a job costs its builder. Lengths and counts of packs are no secret.
SECRET_NUMBERS = {
    "book": ("price",),
    "suppliers": ("delivery", "free_over", "minimum_order"),
    "work_lines": ("figure", "rate"),
}
SECRET_PARTICULARS = ("profit_percent", "minimum_charge", "supplier_vat_percent")


@dataclass
class Marked:
    """The job, and where each mark was planted: {mark: "list.row.field"}."""

    job: Job
    texts: dict[str, str] = field(default_factory=dict)
    numbers: dict[str, str] = field(default_factory=dict)
    _count: Iterator[int] = field(default_factory=lambda: itertools.count(1))

    def text(self, where: str) -> str:
        mark = f"Zq{next(self._count):04d}xw"
        self.texts[mark] = where
        return mark

    def number(self, value: float, where: str) -> float:
        """The number with five decimals of its own."""
        ending = (70003 + 130 * next(self._count)) % 99970 + 3
        marked = float(f"{int(value)}.{ending:05d}")
        self.numbers[f"{marked:.5f}"] = where
        return marked

    def of(self, start: str) -> set[str]:
        """The marks planted in fields whose place begins so."""
        return {m for m, where in self.texts.items() if where.startswith(start)}


def marked_job() -> Marked:
    """The demo job with a mark in every free text, every key, and every number that is secret."""
    job = read_job(DEMO_JOB)
    found = Marked(job)
    particulars = dict(job.particulars)
    for item in PARTICULARS:
        if item.unit.text and not item.choices and not item.choice_of:
            particulars[item.name] = found.text(f"job.{item.name}")
        elif item.name in SECRET_PARTICULARS:
            value = particulars[item.name]
            particulars[item.name] = found.number(value, f"job.{item.name}")
    particulars |= {"profit_on_delivery": "yes", "profit_on_work": "yes", "radon_area": "unknown"}
    rows: dict[str, list[dict[str, Any]]] = {t: [dict(r) for r in rs] for t, rs in job.rows.items()}
    renamed: dict[tuple[str, str], dict[str, str]] = {}
    for table in FILLED:
        keys = renamed.setdefault((table.name, table.key), {})
        for n, row in enumerate(rows[table.name], 1):
            for item in table.inputs:
                where = f"{table.name}.{n}.{item.name}"
                if item.name == table.key and not item.choice_of:
                    keys[row[item.name]] = row[item.name] = found.text(where)
                elif item.unit.text and not item.choices and not item.choice_of:
                    row[item.name] = found.text(where)
                elif item.name in SECRET_NUMBERS.get(table.name, ()) and row[item.name] is not None:
                    row[item.name] = found.number(row[item.name], where)
    particulars["supplier_choice"] = renamed["suppliers", "name"][
        job.particulars["supplier_choice"]
    ]
    for table in FILLED:
        for item in table.inputs:
            other, _, column = (item.choice_of or "").partition(".")
            names = renamed.get((other, column), {})
            for row in rows[table.name]:
                row[item.name] = names.get(row[item.name], row[item.name])
    suppliers = renamed["suppliers", "name"]
    wastage = {
        suppliers[name]: {
            m: found.number(percent, f"wastage.{n}.{m}") for m, percent in percents.items()
        }
        for n, (name, percents) in enumerate(job.wastage.items(), 1)
    }
    # One supplier gives a discount, on DPC another.
    first = rows["suppliers"][0]
    first["discount"] = found.number(12, "suppliers.1.discount")
    discounts = {str(first["name"]): {"dpc_roll": found.number(17, "discounts.1.dpc_roll")}}
    found.job = replace(
        job,
        particulars=particulars,
        rows=rows,
        wastage=wastage,
        discounts=discounts,
        line_suppliers={k: suppliers[v] for k, v in job.line_suppliers.items()},
        reasons={c.key: found.text(f"reasons.{c.key}") for c in SITE_CHECKS},
        own_notices={h: found.text(f"notices.{h}") for h in HOLD_POINTS},
    )
    check_job(found.job, InJobFile("marked"))
    return found


def marks_in(path: Path, marks: Iterable[str]) -> set[str]:
    """The marks found anywhere in a file, in whatever way its parts are packed or written."""
    wanted = {m.casefold(): m for m in marks}
    found: set[str] = set()
    for text in readings(path):
        low = text.casefold()
        found |= {mark for m, mark in wanted.items() if m in low}
    return found


def readings(path: Path) -> Iterator[str]:
    """Everything a file says: its bytes, and the bytes and texts of all that is packed in it."""
    data = path.read_bytes()
    yield from _decoded(data)
    if data.startswith(b"PK"):
        yield from _package(path)
    if data.startswith(b"%PDF"):
        yield from _pdf(path, data)


def parts_as_text(path: Path) -> str:
    """Every part of a workbook's file, unpacked."""
    with zipfile.ZipFile(path) as package:
        parts = (package.read(n) for n in package.namelist() if n.endswith((".xml", ".rels")))
        return "".join(part.decode("utf-8") for part in parts)


def _package(path: Path) -> Iterator[str]:
    with zipfile.ZipFile(path) as package:
        yield from _decoded(package.comment)
        for entry in package.infolist():
            yield entry.filename
            yield from _decoded(entry.comment)
            yield from _decoded(entry.extra)
            part = package.read(entry)
            yield from _decoded(part)
            if entry.filename.endswith((".xml", ".rels", ".vml")):
                root = etree.fromstring(part)
                # Across elements too: a text may be cut into runs.
                yield "".join(root.itertext())
                yield "\n".join(str(v) for e in root.iter() for v in e.attrib.values())


def _pdf(path: Path, data: bytes) -> Iterator[str]:
    for stream in re.findall(rb"stream\r?\n(.*?)endstream", data, re.S):
        try:
            yield from _decoded(zlib.decompressobj().decompress(stream))
        except zlib.error:
            continue
    yield text_of(path)
    for command in (
        ["pdftotext", "-raw", str(path), "-"],
        ["pdfinfo", str(path)],
        ["pdfinfo", "-meta", str(path)],
    ):
        yield subprocess.run(command, capture_output=True, check=True).stdout.decode()


def text_of(path: Path) -> str:
    """What a PDF shows."""
    command = [need("pdftotext"), "-layout", str(path), "-"]
    return subprocess.run(command, capture_output=True, check=True).stdout.decode()


def _decoded(data: bytes) -> Iterator[str]:
    text = data.decode("utf-8", "replace")
    yield text
    yield html.unescape(text)
    yield re.sub(r"_x([0-9A-Fa-f]{4})_", lambda m: chr(int(m.group(1), 16)), text)
    for start in (0, 1):
        yield data[start:].decode("utf-16-le", "replace")
        yield data[start:].decode("utf-16-be", "replace")
