"""A job as it was given: checked field by field, then as a whole.

The fields are those of the plan's input columns, so that a column added to a list is at once a
field that is checked.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from ..errors import JobError
from ..guidance import allowances, house
from ..guidance.basis import Basis
from ..language.days import day_number
from ..language.tables import Input, Table
from ..language.units import DAY, EACH, FLAG, PERCENT, PERCENT_LEAST
from ..questionnaire.answers import INPUTS as FORM_INPUTS
from .plan import FILLED, PARTICULARS, bases
from .spelling import NOT_IN_NAMES, as_listed, look_alike, one_line

MAX_TEXT = 2000
MAX_NUMBER = 1e15  # beyond it a float no longer holds every whole number
_CONTROL = re.compile(r"[\x00-\x1f\x7f\u2028\u2029\ud800-\udfff\ufffe\uffff]")


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
    own_notices: Mapping[str, str] = field(default_factory=dict)
    wastage: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    discounts: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    wastage_applies: Mapping[str, int] = field(default_factory=dict)
    assumed: Mapping[str, float] = field(default_factory=dict)
    left_out: Sequence[str] = ()  # lines newer than the file it was read from, which are excluded
    house: tuple[Basis, ...] = field(
        default_factory=house.given
    )  # a firm's own, beside those shipped

    @property
    def bases(self) -> tuple[Basis, ...]:
        """Every basis it may choose."""
        return (*bases(), *self.house)

    @property
    def guidance(self) -> str:
        """The name of the document that its basis is taken from, as a person knows it."""
        chosen = self.particulars.get("basis_choice")
        return next((b.document.named for b in self.bases if b.name == chosen), str(chosen or ""))

    @property
    def house_basis(self) -> Basis | None:
        """The firm's own basis, where it has chosen one."""
        return next((b for b in self.house if b.name == self.particulars.get("basis_choice")), None)

    def seller(self, row: Mapping[str, Any]) -> Any:
        """Who sells a product of the price book: the supplier named, else the first in the list."""
        first = next((r.get("name") for r in self.rows["suppliers"]), None)
        return row["supplier"] or first

    @property
    def uses_form(self) -> bool:
        """Whether any question of the one-page form is answered."""
        return any(self.particulars.get(i.name) is not None for i in FORM_INPUTS)


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
    if name and (not value or any(c in value for c in NOT_IN_NAMES) or not _is_trim(value)):
        raise ValueError("a name without * ? ~ | < > =, blanks at its ends, or two blanks together")
    return value


def _is_trim(name: str) -> bool:
    return name == name.strip() and "  " not in name


def checked_number(value: Any, item: Input) -> float:
    """A number within its limits. Raises ValueError saying what is accepted."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(item.accepted)
    # A whole number from TOML may be longer than a float can hold; NaN is no number of any size.
    if not abs(value) <= MAX_NUMBER:
        raise ValueError(item.accepted)
    least, most = item.least or 0, item.most or 0
    if item.least is not None and not least <= value <= most:
        hint = ""
        if item.unit.sign == "m" and least <= value / 1000 <= most:
            hint = " (was that millimetres?)"
        raise ValueError(item.accepted + hint)
    if item.unit is PERCENT and 0 < value < PERCENT_LEAST:
        raise ValueError(item.accepted)
    if item.unit in (DAY, EACH, FLAG) and value != int(value):
        raise ValueError(item.accepted + ", whole")
    return value


def _checked(value: Any, item: Input, table: Table | None, partial: bool) -> Any:
    """The value of a field as it is kept. Raises ValueError saying what is accepted."""
    if value is None and (partial or not item.required):
        return None
    if not item.unit.text:
        return float(checked_number(value, item))
    exact = is_name(item, table) or bool(item.choices)
    if item.choices:
        value = as_listed(value, item.choices)
        if value not in item.choices:
            raise ValueError(alike_or(value, item.choices, item.accepted))
    if not exact and isinstance(value, str):
        value = one_line(value)  # a line break in a cell is a blank
    text = checked_text(value, exact)
    if item.required and not text:
        raise ValueError(item.accepted)
    return text


@dataclass(frozen=True)
class Fields:
    """The fields of a row, or of a section of a job file; `partial`: any may be left out."""

    inputs: tuple[Input, ...]
    table: Table | None = None
    partial: bool = False


ROW_MODELS = {t.name: Fields(t.inputs, t) for t in FILLED}
# A row that the form fills, or a job that is only begun: any field may be left out.
PART_MODELS = {t.name: Fields(t.inputs, t, partial=True) for t in FILLED}
PART_PARTICULARS_MODEL = Fields(PARTICULARS, partial=True)
PARTICULARS_MODEL = Fields(PARTICULARS)
FORM_MODEL = Fields(FORM_INPUTS)


def row_from(
    model: Fields,
    inputs: Iterable[Input],
    entry: Mapping[str, Any],
    where: Callable[[str], str],
) -> dict[str, Any]:
    """One row, its keys turned from the file's names into the plan's.

    `where` says where the field of a key stands. Raises JobError with that place, what was found
    and what is accepted.
    """
    by_key = {i.key: i for i in model.inputs}
    for key in entry:
        if key not in by_key:  # a misspelt field is both unknown and missing: say the first
            raise JobError(where(str(key)), key, "one of the fields " + ", ".join(by_key))
    found: dict[str, Any] = {}
    for key, item in by_key.items():
        if key not in entry:
            if item.required and not model.partial:
                raise _missing(by_key, key, entry, where)
            found[item.name] = None
            continue
        try:
            found[item.name] = _checked(entry[key], item, model.table, model.partial)
        except ValueError as error:
            raise JobError(where(key), entry[key], str(error)) from None
    return {i.name: found[i.name] for i in inputs}


def _missing(
    by_key: Mapping[str, Input], key: str, entry: Mapping[str, Any], where: Callable[[str], str]
) -> JobError:
    others = [k for k, i in by_key.items() if i.required and k not in entry and k != key]
    more = f" (missing too: {', '.join(others)})" if others else ""
    return JobError(where(key), None, by_key[key].accepted + more)


def as_renamed(entry: Mapping[str, Any], inputs: Iterable[Input], layout: int) -> Mapping[str, Any]:
    """A section or row of that layout with the fields' names of today."""
    names = {old: i.key for i in inputs for old in i.keys_before(layout) if i.key not in entry}
    return {names.get(key, key): value for key, value in entry.items()}


def as_now(entry: Mapping[str, Any], inputs: Sequence[Input], layout: int) -> Mapping[str, Any]:
    """The same, what was not asked then as it is by default, and days as numbers."""
    found = as_renamed(entry, inputs, layout)
    days = {i.key: _day(found[i.key]) for i in inputs if i.unit.dated and i.key in found}
    newer = {i.key: i.default for i in inputs if i.since > layout and i.default is not None}
    return {**newer, **found, **days}


def _day(given: Any) -> Any:
    """The number of a day, which a file writes as 2026-03-01; anything else as it is."""
    try:
        day = date.fromisoformat(given) if isinstance(given, str) else given
    except ValueError:
        return given
    if isinstance(given, int | float):  # no date: a number says no day in a file
        return str(given)
    return day_number(day) if isinstance(day, date) and not isinstance(day, datetime) else given


def among(
    value: Any, accepted: Sequence[Any], where: str, more: str = "", shown: Sequence[str] = ()
) -> None:
    """Refuse a value that is not one of those accepted. Raises JobError with its place.

    `shown` are the texts by which a person chooses, where those are not the values themselves.
    """
    if value not in accepted:
        every = "one of " + ", ".join(map(repr, shown) if shown else map(str, accepted)) + more
        raise JobError(where, value, alike_or(value, accepted, every))


def or_else(item: Input) -> str:
    """What else may be chosen, and how: a firm's own basis, whose folder was perhaps not named."""
    if item.choice_of != "bases.name":
        return ""
    return f", or a basis of your own, of the folder that {house.OPTION} names"


def alike_or(value: Any, listed: Sequence[Any], accepted: str) -> str:
    """What is accepted; of a text that only looks like one of the list, that one."""
    alike = look_alike(value, listed)
    if alike is None:
        return accepted
    return f"{alike}. What was found is written with other characters that look the same"


def bases_offered() -> dict[str, str]:
    """The key of every basis a new job may choose, by the name of its document."""
    return {r["label"]: r["name"] for r in allowances.basis_rows((*bases(), *house.given()))}


def basis_named(typed: str) -> str:
    """The key of a basis, given the name of its document or the key itself.

    Raises JobError when no basis is called that; the sentence lists the documents.

    >>> basis_named("nhbc standards (2024)")
    'nhbc_2024'
    """
    offered = bases_offered()
    found = as_listed(typed, [*offered, *offered.values()])
    key = offered.get(found, found)
    if key not in offered.values():
        every = "one of " + ", ".join(map(repr, offered)) + or_else(allowances.CHOICE)
        raise JobError("--basis", typed, alike_or(typed, [*offered], every))
    return key


def blank_job(basis: str) -> Job:
    """A job to start from: nothing measured, each particular as it is by default, no supplier.

    `basis` is the name of a document or its key. Raises JobError when no basis is called that.
    """
    particulars: dict[str, Any] = {i.name: i.default for i in PARTICULARS}
    particulars["basis_choice"] = basis_named(basis)
    return Job(particulars, {t.name: [] for t in FILLED})
