"""What a supplier offers instead: other roll lengths and packs, as a row of the price book."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from ...buying.book import BOOK
from ...buying.materials import MATERIAL_ROWS, measures_of
from ...errors import JobError, PriceError
from ...language.tables import Input
from ...model.job import ROW_MODELS, Job, row_from
from ...model.job_checks import check_packs
from .fields import OTHER, OTHERS
from .returned import Row, figure_in, text_in_cell

_MEASURES = ("width", "length", "pieces", "weight")
_MATERIALS: dict[str, Mapping[str, Any]] = {str(r["key"]): r for r in MATERIAL_ROWS}
_BOOK: dict[str, Input] = {i.name: i for i in BOOK.inputs}


@dataclass
class Offered:
    """A new row, the beginning of its code, and which of its figures formulas gave."""

    row: dict[str, Any]
    stem: str
    from_formulas: dict[str, float] = field(default_factory=dict)


def offered_row(row: Row, asked: Mapping[str, Any], taken: Collection[str], job: Job) -> Offered:
    """The row of the price book for what is offered, with a code of its own.

    It must be of the same material, no narrower where width decides, no thinner than was asked,
    and state all that a pack of its material states. Raises PriceError naming the cell.
    """
    stem = f"{asked['code']}-S"
    given: dict[str, Any] = {}
    offer = Offered({}, stem)
    for item in OTHERS:
        name = item.name.removeprefix(OTHER)
        stored, cell = row.values[item.name], row.cells[item.name]
        if item.unit.text:
            given[name] = text_in_cell(stored, item, cell)
            continue
        given[name] = figure_in(stored, item, cell)
        if given[name] is not None and stored.formula is not None:
            offer.from_formulas[item.name] = given[name]
    given |= {"code": _free(stem, taken), "supplier": asked["supplier"]}
    given["material"] = asked["material"]
    offer.row = _checked(row, given)
    if offer.row["price"] is None:  # a row of the book may wait for its price, an offer may not
        accepted = f"{_BOOK['price'].accepted}, of what is offered"
        raise PriceError(row.cells[OTHER + "price"], None, accepted)
    _Place(row).check(replace(job, rows={**job.rows, "book": [offer.row]}))
    _serves(row, offer.row, asked)
    return offer


def _free(stem: str, taken: Collection[str]) -> str:
    n = 1
    while f"{stem}{n}".lower() in taken:
        n += 1
    return f"{stem}{n}"


def _checked(row: Row, given: Mapping[str, Any]) -> dict[str, Any]:
    """The row by the same model as every row of the book; the place is a cell."""
    entry = {_BOOK[name].key: value for name, value in given.items() if value is not None}
    try:
        place = _Place(row)
        return row_from(
            ROW_MODELS["book"], BOOK.inputs, entry, lambda key: place.field("book", 1, {}, key)
        )
    except JobError as error:
        accepted = f"{error.accepted}, of what is offered"
        raise PriceError(error.where, error.found, accepted) from None


@dataclass(frozen=True)
class _Place:
    """Says in which cell of the returned file a field of the offered row stands."""

    by_label: ClassVar[bool] = True
    row: Row

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        name = next((n for n, item in _BOOK.items() if item.key == key), "")
        return self.row.cells.get(OTHER + name, self.row.cells["code"])

    def entry(self, section: str, key: str) -> str:
        return self.row.cells["code"]

    def check(self, job: Job) -> None:
        try:
            check_packs(job, self)
        except JobError as error:
            raise PriceError(error.where, error.found, error.accepted) from None


def _serves(row: Row, offer: Mapping[str, Any], asked: Mapping[str, Any]) -> None:
    """Whether it can stand where what was asked for stands."""
    material = _MATERIALS[asked["material"]]
    label = material["label"]

    def refuse(name: str, accepted: str) -> None:
        found = offer[name]
        shown = int(found) if isinstance(found, float) and found.is_integer() else found
        raise PriceError(row.cells[OTHER + name], shown, accepted)

    of_use = {*measures_of(asked["material"]), "width"}
    for name in _MEASURES:
        if offer[name] is not None and asked[name] is None and name not in of_use:
            refuse(name, f"blank: {label} is not bought by it")
    laid_out = material["by_area"] or material["by_cover"]
    if asked["width"] is not None and not laid_out:
        if offer["width"] is None or offer["width"] < asked["width"]:
            refuse("width", f"{asked['width']:g} mm or more, as asked")
    elif offer["width"] is not None and asked["width"] is None and "width" not in measures_of(asked["material"]):  # fmt: skip
        refuse("width", f"blank: {label} is not bought by it")
    if material["by_piece"] and asked["length"] is not None and offer["length"] != asked["length"]:
        refuse("length", f"{asked['length']:g} m, as asked: the count follows from it")
    if asked["thickness"] is not None and (offer["thickness"] or 0) < asked["thickness"]:
        refuse("thickness", f"{asked['thickness']:g} µm or more, as asked")
    if asked["made_of"] is not None and offer["made_of"] != asked["made_of"]:
        refuse("made_of", f"{asked['made_of']}, as asked")
