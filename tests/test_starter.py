"""A first price: the starter price book, and a new workbook begun from one's own."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.buying.materials import MATERIAL_ROWS, measures_of
from estimator.cli.main import main
from estimator.cli.questions import ask_basis
from estimator.errors import JobError
from estimator.files.resources import DEMO_FORM, STARTER_PRICES
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.beginning import FIRST_SUPPLIER, OF_THE_FIRM, begun_from, with_starter
from estimator.model.estimate import estimate
from estimator.model.job import Job, blank_job
from estimator.model.job_file import read_job
from estimator.model.plan import FILLED, PARTICULARS, TYPED_CELLS
from estimator.model.price_file import read_prices
from estimator.workbook.reading.inputs import Returned, read_back

from .hosts import drive
from .made import made

MOST_TYPED, MOST_SHEETS = 55, 4
MOST_IN_LISTS = 110
PRICE, DELIVERY, NAME = 10.0, 45.0, "Fernbank Supplies (invented)"


def new(*arguments: str, typed: str = "") -> tuple[int, str]:
    result = CliRunner().invoke(main, ["new", *arguments], input=typed)
    return result.exit_code, result.output


def lean_to() -> Job:
    """The answers of the invented lean-to, and nothing else of it."""
    given = {**read_job(DEMO_FORM).particulars, "supplier_choice": None}
    job = blank_job("nhbc_2024")
    return with_starter(replace(job, particulars={**job.particulars, **given}))


def priced(job: Job, price: float | None = PRICE, delivery: float | None = DELIVERY) -> Job:
    """The job with all of its products at one price."""
    book = [{**r, "price": price} for r in job.rows["book"]]
    suppliers = [{**r, "delivery": delivery} for r in job.rows["suppliers"]]
    return replace(job, rows={**job.rows, "book": book, "suppliers": suppliers})


def lacking(ledger: Ledger) -> list[str]:
    """The products that are said to lack a price."""
    said = zip(ledger.column("book", "code"), ledger.column("book", "book_note"), strict=True)
    return [code for code, note in said if note == "price missing"]


def test_there_is_a_product_of_every_material() -> None:
    rows = read_prices(STARTER_PRICES)
    assert {r["material"] for r in rows} == {r["key"] for r in MATERIAL_ROWS}
    for row in rows:
        assert all(row[measure] is not None for measure in measures_of(row["material"])), row
        assert row["price"] is row["supplier"] is None
    assert len({r["code"] for r in rows}) == len(rows)


def test_a_price_is_missing_only_where_the_job_takes_the_product() -> None:
    """DPC: 100 beside an old wall, 112.5 in a leaf of 102.5, 225 below sills; no wider one.

    Two sizes of DPM cover the floor: of those without a price the one that takes fewer rolls.
    """
    ledger = estimate(lean_to())
    found = lacking(ledger)
    assert [c for c in found if c.startswith("D")] == ["D-01", "D-02", "D-04"]
    assert "G-05" in found
    assert "G-06" not in found
    assert "T-02" in found  # 102.5 + 180.3 + 100 = 383 mm of tray: 450, and no wider one
    assert len(found) == ledger.cell("prices_missing") == 17
    assert ledger.cell("deliveries_missing") == 1
    assert ledger.cell("problem_count") == 17 + 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_a_product_with_a_price_goes_before_one_without() -> None:
    """A roll of 12.5 m that has a price is bought, and the roll of 25 m needs none."""
    job = lean_to()
    book = [
        {**r, "price": None if r["code"] in ("G-05", "D-02") else PRICE} for r in job.rows["book"]
    ]
    ledger = estimate(priced(replace(job, rows={**job.rows, "book": book}), None))
    assert "G-05" in lacking(ledger)
    job = replace(job, rows={**job.rows, "book": book})
    ledger = estimate(job)
    assert lacking(ledger) == ["D-02"], "width counts first: a wider roll with a price is no reason"


def test_all_prices_typed_give_a_total() -> None:
    """Each pack at 10: the cost is ten times the packs, and delivery."""
    ledger = estimate(priced(lean_to()))
    assert ledger.cell("problem_count") == 0
    packs = sum(ledger.column("book", "packs"))
    assert ledger.cell("cost_total") == pytest.approx(packs * PRICE + DELIVERY)


def test_products_follow_the_first_supplier_when_it_is_renamed() -> None:
    job = priced(lean_to())
    renamed = [{**r, "name": NAME} for r in job.rows["suppliers"]]
    wastage = {NAME: job.wastage[FIRST_SUPPLIER]}
    other = replace(job, rows={**job.rows, "suppliers": renamed}, wastage=wastage)
    before, after = estimate(job), estimate(other)
    assert before.cell("quote_total") == after.cell("quote_total") is not NOT_AVAILABLE
    assert set(after.column("order_lines", "supplier")) - {""} == {NAME}


def test_a_blank_delivery_charge_is_not_free_delivery() -> None:
    ledger = estimate(priced(lean_to(), delivery=None))
    assert ledger.column("suppliers", "order_note")[0] == "delivery charge missing"
    assert ledger.column("suppliers", "all_note")[0] == "a price or the delivery charge is missing"
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert estimate(priced(lean_to(), delivery=0)).cell("quote_total") is not NOT_AVAILABLE


# ---- as a person types it ------------------------------------------------------------------------


class Typing:
    """A blank workbook, and every cell that a person types in it."""

    def __init__(self, path: Path) -> None:
        self.path, self.returned = path, read_back(path)
        self.cells: dict[str, Any] = {}

    def named(self, name: str, value: Any) -> None:
        self.cells["!".join(self.returned.layout.cell(name)).replace("$", "")] = value

    def at(self, table: str, column: str, n: int) -> str:
        span = self.returned.layout.fronts[table]
        return f"{span.sheet}!{span.letters[column]}{span.first + n}"

    def shows(self, *looks: str) -> list[Any]:
        typed = [["set", at, value] for at, value in self.cells.items()]
        return drive(self.path, [*typed, *(["get", look] for look in looks)])[len(typed) :]

    def saved(self, path: Path) -> Returned:
        typed = [["set", at, value] for at, value in self.cells.items()]
        drive(self.path, [*typed, ["get", "quote_total"], ["save", str(path)]])
        return read_back(path)


def told_to_price(typing: Typing) -> Iterator[int]:
    """The rows of products beside which the sheet says that a price is missing."""
    rows = range(len(typing.returned.job.rows["book"]))
    said = typing.shows(*(typing.at("book", "fault", n) for n in rows))
    yield from (n for n in rows if said[n] == "price missing")


@pytest.mark.host
def test_the_lean_to_is_priced_with_few_cells_typed(tmp_path: Path) -> None:
    """From the starter price book to the first total: 48 cells on two sheets.

    The firm's details and the quote's terms, which came with layout 7, are not needed for a price.
    """
    path = tmp_path / "first.xlsx"
    code, said = new(str(path), typed="3\n")
    assert code == 0
    assert "55 products in common sizes, without prices" in said
    typing = Typing(path)
    job = lean_to()
    blank = typing.returned.job.particulars
    assert blank["basis_choice"] == "nhbc_2024"
    for item in TYPED_CELLS:
        value = job.particulars.get(item.name)
        if value not in (None, blank.get(item.name)) and item.since < 7:
            typing.named(item.name, value)
    typing.cells[typing.at("suppliers", "name", 0)] = NAME
    typing.cells[typing.at("suppliers", "delivery", 0)] = DELIVERY
    while rows := [*told_to_price(typing)]:
        typing.cells |= {typing.at("book", "price", n): PRICE for n in rows}
    [total] = typing.shows("quote_total")
    assert total == estimate(priced(job)).cell("quote_total")
    sheets = {at.partition("!")[0] for at in typing.cells}
    assert (len(typing.cells), sheets) == (48, {"Start", "Prices"})
    assert len(typing.cells) <= MOST_TYPED
    assert len(sheets) <= MOST_SHEETS
    returned = typing.saved(tmp_path / "saved.xlsx")
    assert returned.figures().cell("quote_total") == total
    assert {returned.job.seller(r) for r in returned.job.rows["book"]} == {NAME}


# An invented garden room by lists, 4.8 × 3.6 m along the house: a door, two windows, a pipe, and a
# tray cut into the old wall above its roof. Four sides walked, the last left to be worked out.
NEW = {"kind": "new wall", "dpc_level": 0}
IN_LISTS: dict[str, list[dict[str, Any]]] = {
    "zones": [
        {
            "mark": "Z1",
            "build_up": "slab on DPM, insulation above",
            "finished_level": 0.15,
            "formation_level": -0.4,
            "screed": 65,
            "insulation": 100,
            "slab": 150,
        }
    ],
    "edges": [
        {
            "mark": "E1",
            "zone": "Z1",
            "length": 4.8,
            "kind": "existing wall with DPC",
            "dpc_level": 0,
            "dress": 25,
        },
        {"mark": "E2", "zone": "Z1", "length": 3.6, **NEW},
        {"mark": "E3", "zone": "Z1", "length": 4.8, **NEW},
        {"mark": "E4", "zone": "Z1", **NEW},
    ],
    "walls": [
        {
            "mark": "W1",
            "floor": "Z1",
            "outer_leaf": 102.5,
            "cavity": 100,
            "inner_leaf": 100,
            "dpc_height": 150,
            "cavity_below": 225,
        }
    ],
    "openings": [
        {
            "mark": "O1",
            "wall": "W1",
            "kind": "level-access door",
            "number": 1,
            "width": 2.4,
            "height": 2.1,
            "lintel": 2.7,
            "closer": 50,
        },
        {
            "mark": "O2",
            "wall": "W1",
            "kind": "window",
            "number": 2,
            "width": 1.2,
            "height": 1.05,
            "lintel": 1.5,
            "closer": 50,
        },
    ],
    "penetrations": [{"mark": "P1", "zone": "Z1", "number": 1, "diameter": 110}],
    "old_walls": [{"mark": "H1", "kind": "cavity, filled", "outer_leaf": 102.5, "cavity": 50}],
    "cut_ins": [
        {
            "mark": "C1",
            "wall": "H1",
            "kind": "above a new roof",
            "number": 1,
            "length": 5.405,
            "courses": 2,
            "unit_length": 0.9,
            "unit_lap": 100,
            "bay_most": 0.9,
        }
    ],
    "tie_ins": [{"mark": "T1", "wall": "W1", "number": 2, "height": 2.4}],
}
ON_START = {
    "job_title": "A garden room (invented)",
    "client_name": "A. Example (invented)",
    "site_address": "1 Example Lane, Exampleton (invented)",
    "prepared_by": "The estimator (invented)",
    "quote_date": "2 March 2026",
    "quote_valid": "30 days from the date above",
    "site_nation": "England",
    "radon_area": "no",
    "profit_percent": 20,
}


@pytest.mark.host
def test_a_garden_room_by_lists_is_priced_with_few_cells_typed(tmp_path: Path) -> None:
    """Drawn by lists instead of the questions of Start: 97 cells on five sheets, 15 of them prices."""
    path = tmp_path / "first.xlsx"
    assert new(str(path), typed="3\n")[0] == 0
    typing = Typing(path)
    for name, value in ON_START.items():
        typing.named(name, value)
    for table, rows in IN_LISTS.items():
        for n, given in enumerate(rows):
            typing.cells |= {typing.at(table, column, n): v for column, v in given.items()}
    typing.cells[typing.at("suppliers", "name", 0)] = NAME
    typing.cells[typing.at("suppliers", "delivery", 0)] = DELIVERY
    while told := [*told_to_price(typing)]:
        typing.cells |= {typing.at("book", "price", n): PRICE for n in told}
    sheets = {at.partition("!")[0] for at in typing.cells}
    assert sheets == {"Start", "Floors", "Walls", "House", "Prices"}
    assert len(typing.cells) == 97
    assert len(typing.cells) <= MOST_IN_LISTS
    [total] = typing.shows("quote_total")
    returned = typing.saved(tmp_path / "saved.xlsx")
    figures = returned.figures()
    assert figures.cell("quote_total") == total
    # By hand: 4.8 × 3.6; three new sides.
    assert figures.figure("zones", 1, "net_area") == pytest.approx(17.28)
    assert figures.figure("walls", 1, "length_in_use") == pytest.approx(12)
    # Goods are packs at £10 each, delivered once for £45; a fifth is added to the goods,
    # and VAT to both.
    packs = sum(figures.column("book", "packs"))
    assert total == pytest.approx((packs * PRICE * 1.2 + DELIVERY) * 1.2, abs=0.005)


# ---- from one's own ------------------------------------------------------------------------------


def test_a_new_job_has_what_is_the_firms_and_nothing_of_the_earlier_job() -> None:
    earlier = made("demo").job
    job = begun_from(blank_job("common_practice"), earlier)
    blank = blank_job("common_practice")
    for name in ("suppliers", "book"):
        assert job.rows[name] == earlier.rows[name]
    assert [r["mark"] for r in job.rows["work_lines"]] == [
        r["mark"] for r in earlier.rows["work_lines"] if r["kind"] != "provisional sum"
    ]
    others = {t.name for t in FILLED} - {"suppliers", "book", "work_lines"}
    assert all(job.rows[name] == [] for name in others)
    assert (job.own, job.override, job.wastage) == (earlier.own, earlier.override, earlier.wastage)
    for left in (job.line_suppliers, job.line_status, job.reasons, job.own_notices, job.assumed):
        assert left == {}
    for item in PARTICULARS:
        of = earlier if item.name in OF_THE_FIRM else blank
        assert job.particulars[item.name] == of.particulars[item.name], item.name


def test_new_from_an_earlier_workbook(tmp_path: Path) -> None:
    earlier = made("demo").written(tmp_path)
    out = tmp_path / "next.xlsx"
    code, said = new("--from", str(earlier), str(out))
    assert code == 0, said
    assert "From demo.xlsx: 3 suppliers, 69 products (69 with a price), 5 lines of work" in said
    job = read_back(out).job
    assert job.particulars["basis_choice"] == made("demo").job.particulars["basis_choice"]
    assert job.particulars["job_title"] is None
    assert len(job.rows["book"]) == 69
    assert job.rows["zones"] == job.rows["revisions"] == []


@pytest.mark.parametrize(
    "typed", ["3", "NHBC Standards (2024)", "nhbc standards (2024)", "nhbc_2024", "NHBC_2024"]
)
def test_a_basis_is_chosen_by_number_document_or_key(typed: str) -> None:
    chosen = ask_basis(lambda _: typed, lambda _: None)
    assert blank_job(chosen).particulars["basis_choice"] == "nhbc_2024"


@pytest.mark.parametrize("typed", ["0", "5", "NHBC", "2024"])
def test_no_other_basis_is_taken(typed: str) -> None:
    with pytest.raises(JobError, match=f"--basis: found '{typed}'; accepted: one of 'Approved Doc"):
        ask_basis(lambda _: typed, lambda _: None)


def test_what_new_cannot_do_is_one_sentence(tmp_path: Path) -> None:
    out = str(tmp_path / "a.xlsx")
    code, said = new(out)
    assert code == 2
    assert "--basis: found nothing; accepted: a number from 1 to 4" in said
    code, said = new(out, "--basis", "nhbc")
    assert code == 2
    assert said.startswith("--basis: found 'nhbc'; accepted: one of 'Approved Document C (2004)', ")
    assert "nhbc_2024" not in said
    code, said = new(out, "--basis", "nhbc_2024", "--out", str(tmp_path / "b.xlsx"))
    assert code == 2
    assert "one name for the workbook" in said
    code, said = new(str(tmp_path / "a.toml"), "--basis", "nhbc_2024")
    assert code == 2
    assert "accepted: a name ending in .xlsx" in said
    assert new("--from", str(tmp_path / "gone.xlsx"), out)[0] == 2
    assert [*tmp_path.iterdir()] == []
