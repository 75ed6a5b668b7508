"""What a Python user needs of a job: read it, work it out, look a figure up by its name."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from .errors import JobError
from .guidance import house
from .guidance.basis import Basis
from .language.ledger import Ledger, is_available
from .model import plan
from .model.estimate import estimate
from .model.job import Job
from .model.job_file import read_job

Value = float | str | None
_WORKBOOKS = (".xlsx", ".xlsm")


def load(path: str | Path, bases: str | Path | None = None) -> Job:
    """The job in a job file (.toml), or in a workbook that the program wrote (.xlsx).

    `bases` is a folder of a firm's own basis files, which the job may then choose; it keeps them.
    Lengths are in metres, details in millimetres, as the names of a job file's fields say.
    Raises EstimateError, a ValueError: one sentence with the place, what was found and what is
    accepted.
    """
    path = Path(path)
    with house.from_folder(None if bases is None else Path(bases)):
        if path.suffix.lower() not in _WORKBOOKS:
            return read_job(path)
        from .workbook.reading.inputs import read_checked

        return read_checked(path).job


def figures(job: Job) -> "Figures":
    """Every figure of a job, each worked out when it is first asked for. Raises nothing."""
    return Figures(estimate(job))


def bases(folder: str | Path | None = None) -> Mapping[str, Basis]:
    """Whose guidance there is to choose from, by name; each value with its clause and standing.

    With a folder, the firm's own of its basis files stand after those of the program. Raises
    EstimateError for a file in it that cannot be used.

    >>> bases()["nhbc_2024"].citation("dpc_lap")
    'NHBC Standards 2020, 5.1.19'
    """
    own = () if folder is None else house.house_bases(Path(folder))
    return {b.name: b for b in (*plan.bases(), *own)}


class Figures(Mapping[str, Value]):
    """The figures of a job. By name, as docs/rules.md lists them: named cells, then lists.

    A figure is a number in the unit that docs/rules.md gives for it, or a text; None where it
    cannot be given, as a total while something stands against the quote.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._names = (*ledger.plan.cells, *ledger.plan.keyed)

    def __getitem__(self, name: str) -> Value:
        """The figure of a named cell. Raises KeyError for a name that there is not."""
        if name not in self._names:
            raise KeyError(name)
        return _value(self._ledger.cell(name))

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def unit(self, name: str) -> str:
        """The unit of a named cell, as it is printed; empty for a text. Raises KeyError."""
        if name not in self._names:
            raise KeyError(name)
        plan_of = self._ledger.plan
        return (plan_of.cells.get(name) or plan_of.keyed_items[name]).unit.sign

    def column(self, table: str, name: str) -> dict[str, Value]:
        """A column of a list, by the marks or keys of its rows, top to bottom; spare rows left out.

        Where a mark stands twice, as in lists that are printed, its last row counts. Raises
        EstimateError for a list or column that there is not.
        """
        tables = self._ledger.plan.tables
        if table not in tables:
            raise JobError("list", table, "one of " + ", ".join(tables))
        of = tables[table]
        if not of.has(name):
            raise JobError(f"column of {table}", name, "one of " + ", ".join(c.name for c in of))
        keys = self._ledger.column(table, of.key_in_use)
        values = self._ledger.column(table, of.in_use(name))
        return {str(k): _value(v) for k, v in zip(keys, values, strict=True) if k != ""}


def _value(value: object) -> Value:
    if not is_available(value) or value is None:
        return None
    return value if isinstance(value, float | str) else float(value)  # type: ignore[arg-type]
