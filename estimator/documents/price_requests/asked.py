"""What is asked of each supplier: its own products that the job takes, and nothing else."""

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ...buying.materials import MATERIAL_ROWS
from ...errors import JobError
from ...language.ledger import Ledger, is_available
from ...model.job import Job

_MATERIALS: dict[str, Mapping[str, Any]] = {str(r["key"]): r for r in MATERIAL_ROWS}
_DISTRICT = re.compile(r"\b([A-Z]{1,2}[0-9][A-Z0-9]?) ?[0-9][A-Z]{2}\b")


@dataclass(frozen=True)
class Line:
    """One product asked for, in the words and figures that the supplier reads."""

    code: str
    material: str
    description: str
    pack: str
    packs: int


@dataclass(frozen=True)
class Request:
    """What one supplier is asked."""

    supplier: str
    lines: tuple[Line, ...]

    @property
    def number(self) -> str:
        """A short digest of what the supplier reads anyway, so that it gives nothing away."""
        asked = [self.supplier, [list(vars(line).values()) for line in self.lines]]
        found = hashlib.sha256(json.dumps(asked, ensure_ascii=False).encode()).hexdigest()
        return f"{found[:5]}-{found[5:10]}".upper()


def requests(job: Job, ledger: Ledger, whole_list: bool = False) -> list[Request]:
    """A request to each supplier from whom anything is ordered, in the order of the job's list.

    With `whole_list` every supplier is asked for all that it stocks of the whole list. Raises
    JobError when the job cannot say how many packs are needed.
    """
    counts = ledger.column("book", "all_packs" if whole_list else "packs")
    needed = dict(zip(ledger.column("book", "code"), counts, strict=True))
    found = []
    for supplier in (r["name"] for r in job.rows["suppliers"]):
        lines = []
        for row in job.rows["book"]:
            if job.seller(row) != supplier:
                continue
            packs = needed[row["code"]]
            if not is_available(packs):
                raise JobError(
                    f"packs of {row['code']}",
                    None,
                    "a job whose quantities are known: see estimator quantities",
                )
            if packs > 0:
                lines.append(line_of(row, int(packs)))
        if lines:
            found.append(Request(supplier, tuple(lines)))
    return found


def line_of(row: Mapping[str, Any], packs: int) -> Line:
    """A row of the price book as a supplier is asked for it: without its price."""
    label = str(_MATERIALS[row["material"]]["label"])
    return Line(row["code"], label, row["description"], pack_in_words(row), packs)


def pack_in_words(row: Mapping[str, Any]) -> str:
    """What a pack is: as `roll: 4000 mm × 25 m, 300 µm`."""
    sizes = [f"{row[m]:g} {unit}" for m, unit in (("width", "mm"), ("length", "m")) if row[m]]
    parts = [" × ".join(sizes)] if sizes else []
    if row["pieces"]:
        parts.append(f"{row['pieces']:g} {'piece' if row['pieces'] == 1 else 'pieces'}")
    if row["weight"]:
        parts.append(f"{row['weight']:g} kg")
    if row["thickness"]:
        parts.append(f"{row['thickness']:g} µm")
    if row["made_of"]:
        parts.append(str(row["made_of"]))
    return f"{_MATERIALS[row['material']]['pack']}: {', '.join(parts)}"


def district(address: str | None) -> str:
    """The postcode district in an address (AB1 of AB1 2CD); "" where there is no postcode.

    Enough to price a delivery; the house and its people stay out of a request.
    """
    found = _DISTRICT.findall((address or "").upper())
    return str(found[-1]) if found else ""
