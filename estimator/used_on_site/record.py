"""An office's record of what its jobs used, a CSV file of its own, and the wastage it shows.

One line for each job, supplier and material. Wastage is what was used over what was to be laid;
over several jobs it is that of their sums, so a large job weighs more than a small one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import astuple, dataclass, fields
from datetime import date
from itertools import groupby
from pathlib import Path

from ..documents import safe_csv
from ..errors import FileError
from ..files.opening import MOST_TEXT, csv_lines, figure, file_bytes
from ..language.rounding import six_places
from .used_list import Used

A_RECORD = "a record of what was used, as `estimator used --keep` writes it"


@dataclass(frozen=True)
class Entry:
    """What one job used of one material from one supplier; amounts in its unit."""

    day: str  # when it was taken down, as 2026-11-28
    job: str
    supplier: str
    material: str
    unit: str
    laid: float
    delivered: float
    returned: float
    used: float


@dataclass(frozen=True)
class Wastage:
    """What wastage of a material from a supplier came to, in per cent of what was to be laid."""

    supplier: str
    material: str
    jobs: int
    percent: float
    least: float
    most: float


HEADINGS = [field.name for field in fields(Entry)]
_FIGURES = 4  # the last of them


def entries_of(used: Iterable[Used], job: str, day: date) -> list[Entry]:
    """One job's lines, added up by supplier and material."""

    def whose(each: Used) -> tuple[str, str, str]:
        return each.line.supplier, each.line.material, each.line.unit

    found = []
    for (supplier, material, unit), same in groupby(sorted(used, key=whose), key=whose):
        lines = list(same)
        amounts = [
            six_places(sum(amount))
            for amount in (
                (x.line.laid for x in lines),
                (x.delivered_amount for x in lines),
                (x.returned_amount for x in lines),
                (x.used_amount for x in lines),
            )
        ]
        found.append(Entry(day.isoformat(), job, supplier, material, unit, *amounts))
    return found


def kept_with(record: Sequence[Entry], new: Sequence[Entry]) -> list[Entry]:
    """The record with the new lines; each replaces the one of its job, supplier and material."""
    again = {_key(entry) for entry in new}
    return [*(entry for entry in record if _key(entry) not in again), *new]


def replaced(record: Sequence[Entry], new: Sequence[Entry]) -> int:
    """How many lines of the record those replace."""
    return len({_key(e) for e in record} & {_key(e) for e in new})


def wastages(record: Iterable[Entry]) -> list[Wastage]:
    """What wastage came to, by supplier and material, with the least and the most of one job."""

    def whose(entry: Entry) -> tuple[str, str, str]:
        return entry.supplier, entry.material, entry.unit

    found = []
    for (supplier, material, _), same in groupby(sorted(record, key=whose), key=whose):
        entries = list(same)
        each = [_percent(e.used, e.laid) for e in entries]
        both = _percent(sum(e.used for e in entries), sum(e.laid for e in entries))
        found.append(Wastage(supplier, material, len(entries), both, min(each), max(each)))
    return found


def written(record: Iterable[Entry]) -> bytes:
    """The record as its file."""
    return safe_csv.written([HEADINGS, *map(astuple, record)])


def read_record(path: Path) -> list[Entry]:
    """The lines of a record. Raises FileError, in one sentence, for one that cannot be read."""
    data = file_bytes(path, A_RECORD, MOST_TEXT)
    try:
        lines = list(csv_lines(data.decode("utf-8-sig")))
    except UnicodeDecodeError:
        raise FileError(str(path), "another encoding", "CSV saved in UTF-8") from None
    except ValueError as error:
        raise FileError(path.name, str(error), A_RECORD) from None
    if not lines or lines[0][1] != HEADINGS:
        raise FileError(f"{path.name}, line 1", lines[0][1][0] if lines else None,
                        f"the headings {', '.join(HEADINGS)}")  # fmt: skip
    return [_entry(path, number, cells) for number, cells in lines[1:]]


def _entry(path: Path, number: int, cells: Sequence[str]) -> Entry:
    at = f"{path.name}, line {number}"
    if len(cells) != len(HEADINGS):
        raise FileError(at, f"{len(cells)} cells", f"{len(HEADINGS)}, as its headings")
    texts = [cell.removeprefix("'") for cell in cells[:-_FIGURES]]
    for name, text in zip(HEADINGS, texts, strict=False):
        if not text.strip():
            raise FileError(f"{at}, {name}", None, f"a {name}")
    amounts = []
    for name, text in zip(HEADINGS[-_FIGURES:], cells[-_FIGURES:], strict=True):
        try:
            amount = figure(text)
        except ValueError:
            amount = -1.0
        if amount < 0 or (amount == 0 and name == "laid"):
            least = "more than 0" if name == "laid" else "from 0"
            raise FileError(f"{at}, {name}", text, f"an amount, {least}")
        amounts.append(amount)
    try:
        date.fromisoformat(texts[0])
    except ValueError:
        raise FileError(f"{at}, day", texts[0], "a day as 2026-11-28") from None
    return Entry(*texts, *amounts)  # type: ignore[arg-type]


def _key(entry: Entry) -> tuple[str, str, str]:
    return entry.job, entry.supplier, entry.material


def _percent(used: float, laid: float) -> float:
    return six_places((used / laid - 1) * 100)
