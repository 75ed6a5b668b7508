"""Trade discount: what a pack costs, what follows from it, and who reads of it."""

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from estimator.buying.discount import net_price
from estimator.documents.client import client_ledger
from estimator.documents.document import document
from estimator.documents.issue import Issue, Templates
from estimator.documents.orders import ORDER_LIST, Ordering, ordered_from
from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.language.ledger import Ledger
from estimator.model.beginning import begun_from
from estimator.model.estimate import estimate
from estimator.model.job import Job, blank_job
from estimator.model.job_file import read_job
from estimator.revisions.changes import LEVELS
from estimator.revisions.changes import changes as changes_between
from estimator.revisions.changes.change import State
from estimator.revisions.digest import digest

from .made import worked_out
from .small_jobs import bare_job, product, row, wall

A, B = "Invented supplier A", "Invented supplier B"


def two_suppliers(**discount: Any) -> Job:
    """A solid leaf of 31.4 m, an open run with one new corner and no end at an old wall.

    A sells rolls of 30 m at 10.85, B at 10.20; both deliver for 5.
    """
    job = bare_job(
        walls=[wall("W1", 31.4, cavity=0, inner_leaf=0)],
        suppliers=[row("suppliers", name=n, delivery=5) for n in (A, B)],
        book=[
            product("A-DPC", "dpc_roll", 10.85, width=112.5, length=30, supplier=A),
            product("A-WIDE", "dpc_roll", 12.45, width=150, length=30, supplier=A),
            product("B-DPC", "dpc_roll", 10.20, width=112.5, length=30, supplier=B),
        ],
    )
    return replace(job, **discount)


def given_by(job: Job, **percent: float) -> Job:
    """The job in which these suppliers give a discount on everything."""
    named = {"a": A, "b": B}
    general = {named[k]: v for k, v in percent.items()}
    rows = [{**r, "discount": general.get(str(r["name"]))} for r in job.rows["suppliers"]]
    return replace(job, rows={**job.rows, "suppliers": rows})


def of(ledger: Ledger, code: str, column: str) -> Any:
    at = ledger.column("book", "code").index(code) + 1
    return ledger.figure("book", at, column)


def from_supplier(ledger: Ledger, name: str, column: str) -> Any:
    at = ledger.column("suppliers", "name").index(name) + 1
    return ledger.figure("suppliers", at, column)


def test_a_net_price_is_not_discounted_by_hand() -> None:
    """A gives 10 %. Of 10.85 that leaves 9.765, so 9.77, and two rolls are 19.54; as a net price 10.85
    is what is paid, and two are 21.70."""
    job = given_by(two_suppliers(), a=10)
    book = [{**r, "price_is": "net"} if r["code"] == "A-DPC" else r for r in job.rows["book"]]
    listed, net = estimate(job), estimate(replace(job, rows={**job.rows, "book": book}))
    assert [of(listed, "A-DPC", c) for c in ("discount", "net_price", "cost")] == [10, 9.77, 19.54]
    assert [of(net, "A-DPC", c) for c in ("discount", "net_price", "cost")] == [0, 10.85, 21.70]
    assert of(net, "A-WIDE", "net_price") == of(listed, "A-WIDE", "net_price") != 12.45
    list_price = [{**r, "price_is": "list"} for r in job.rows["book"]]
    same = estimate(replace(job, rows={**job.rows, "book": list_price}))
    assert of(same, "A-DPC", "cost") == 19.54


def test_one_material_of_one_supplier_by_hand() -> None:
    """31.4 m of DPC from rolls of 30 m is two rolls, with laps of 0.1 m: 30 + 29.9 = 59.9 m.

    Without a discount: A 2 x 10.85 = 21.70, delivered 26.70; B 2 x 10.20 = 20.40, delivered 25.40.
    A gives 15 % on DPC: 10.85 x 0.85 = 9.2225, a roll 9.22; 2 x 9.22 = 18.44, delivered 23.44.
    Rounded only at the end it would be 18.45: the price of a pack is what is rounded.
    The job buys from A: its goods fall from 21.70 to 18.44. No profit, VAT of 20 % on goods alone,
    as delivery is quoted without profit but with VAT: 23.44 x 1.20 = 28.128, that is 28.13.
    """
    plain = estimate(two_suppliers())
    assert of(plain, "A-DPC", "packs") == 2
    assert of(plain, "A-DPC", "cost") == 21.70
    assert [from_supplier(plain, n, "all_total") for n in (A, B)] == [26.70, 25.40]

    job = two_suppliers(discounts={A: {"dpc_roll": 15}})
    less = estimate(job)
    assert of(less, "A-DPC", "price") == 10.85
    assert of(less, "A-DPC", "discount") == 15
    assert of(less, "A-DPC", "net_price") == 9.22
    assert of(less, "A-DPC", "cost") == 18.44
    assert of(less, "B-DPC", "net_price") == 10.20
    assert [from_supplier(less, n, "all_total") for n in (A, B)] == [23.44, 25.40]
    assert less.cell("cost_total") == 23.44
    assert less.cell("quote_net") == 23.44
    assert less.cell("quote_total") == 28.13
    line = {
        c: less.figure("order_lines", 1, c) for c in ("list_price", "discount", "price", "cost")
    }
    assert line == {"list_price": 10.85, "discount": 15, "price": 9.22, "cost": 18.44}


def test_the_suppliers_own_discount_is_on_all_else() -> None:
    """A gives 10 % on all, and none on DPC: 10.85 stays. B gives 5 %: 10.20 x 0.95 = 9.69."""
    job = given_by(two_suppliers(discounts={A: {"dpc_roll": 0}}), a=10, b=5)
    ledger = estimate(job)
    assert of(ledger, "A-DPC", "net_price") == 10.85
    assert of(ledger, "B-DPC", "net_price") == 9.69


def test_a_discount_decides_which_of_two_is_chosen() -> None:
    """Rolls alike but for length: of 30 m two are needed, 2 x 10.85 = 21.70; of 40 m one, 22.00.

    30 m is chosen. One price list, one discount on both: 50 % leaves the order of the two as it
    was, 2 x 5.43 = 10.86 (5.425 half up) and 11.00.
    """
    job = two_suppliers()
    longer = product("A-LONG", "dpc_roll", 22, width=112.5, length=40, supplier=A)
    job = replace(job, rows={**job.rows, "book": [*job.rows["book"], longer]})
    assert of(estimate(job), "A-DPC", "packs") == 2
    half = estimate(replace(job, discounts={A: {"dpc_roll": 50}}))
    assert of(half, "A-DPC", "if_cost") == 10.86
    assert of(half, "A-LONG", "if_cost") == 11
    assert of(half, "A-DPC", "packs") == 2
    assert of(half, "A-DPC", "cost") == 10.86


def _texts(ledger: Ledger) -> str:
    """Every figure of what is priced, one after another."""
    cells = ("cost_total", "quote_net", "quote_total", "problem_count")
    columns = (("book", "cost"), ("book", "packs"), ("suppliers", "all_total"),
               ("order_lines", "price"))  # fmt: skip
    found = [str(ledger.cell(c)) for c in cells]
    return "|".join(found + [str(ledger.column(*c)) for c in columns])


def test_a_discount_of_nought_changes_no_figure_of_the_demo() -> None:
    job = read_job(DEMO_JOB)
    suppliers = [{**r, "discount": 0} for r in job.rows["suppliers"]]
    none = {str(r["name"]): {"dpc_roll": 0, "dpm_sheet": 0} for r in suppliers}
    nought = replace(job, rows={**job.rows, "suppliers": suppliers}, discounts=none)
    assert _texts(estimate(nought)) == _texts(worked_out("demo"))


@given(
    st.integers(1, 10_000_000).map(lambda pence: pence / 100),
    st.integers(0, 1000).map(lambda tenths: tenths / 10),
)
@settings(deadline=None)
def test_a_net_price_is_whole_pence_no_more_than_the_list_price(price: float, off: float) -> None:
    """In whole numbers: pence times tenths of a per cent that are left, of a thousand, half up."""
    pence, left = round(price * 100), 1000 - round(off * 10)
    assert net_price(price, off) == (2 * pence * left + 1000) // 2000 / 100


def test_files_hold_it_and_say_what_cannot_be_used(tmp_path: Path) -> None:
    text = DEMO_JOB.read_text("utf-8")
    (tmp_path / "garden_room_prices.csv").write_bytes(
        DEMO_JOB.with_name("garden_room_prices.csv").read_bytes()
    )
    path = tmp_path / "job.toml"
    first = text.index("[suppliers.wastage_percent]")
    general, own = "discount_percent = 10\n", "[suppliers.material_discount_percent]\n"

    def with_them(general: str, own: str) -> Path:
        path.write_text(f"{text[:first]}{general}\n{own}\n{text[first:]}", "utf-8")
        return path

    job = read_job(with_them(general, f"{own}dpc_roll = 12.5\n"))
    name = str(job.rows["suppliers"][0]["name"])
    assert job.rows["suppliers"][0]["discount"] == 10
    assert job.discounts == {name: {"dpc_roll": 12.5}}
    assert digest(job) != digest(read_job(DEMO_JOB))
    percent = re.escape("accepted: 0, or a percentage from 0.5 to 100 %")
    with pytest.raises(JobError, match=r"discount_percent: found 101; " + percent):
        read_job(with_them("discount_percent = 101\n", ""))
    where = r"suppliers\[1\].material_discount_percent.dpc_roll: found -5; "
    with pytest.raises(JobError, match=where + percent):
        read_job(with_them("", f"{own}dpc_roll = -5\n"))
    with pytest.raises(JobError, match=r"material_discount_percent: found 'dpc'; accepted: one of"):
        read_job(with_them("", f"{own}dpc = 5\n"))


def test_the_next_job_of_the_firm_has_its_discounts() -> None:
    earlier = given_by(two_suppliers(discounts={A: {"dpc_roll": 15}}), b=5)
    begun = begun_from(blank_job("nhbc_2024"), earlier)
    assert begun.discounts == earlier.discounts
    assert [r["discount"] for r in begun.rows["suppliers"]] == [None, 5]


# ---- who reads of it ----


def discounted() -> Job:
    """The demo with 10 % from its first supplier, and 17.5 % on DPC."""
    job = read_job(DEMO_JOB)
    first, *others = job.rows["suppliers"]
    rows = {**job.rows, "suppliers": [{**first, "discount": 10}, *others]}
    return replace(job, rows=rows, discounts={str(first["name"]): {"dpc_roll": 17.5}})


def test_the_estimator_reads_of_a_changed_discount_and_the_client_does_not() -> None:
    one, other = (State(j, estimate(j)) for j in (read_job(DEMO_JOB), discounted()))
    told = [c for c in changes_between(one, other) if "iscount" in c.sentence]
    assert [c.sentence for c in told] == [
        "Trade discount on DPC roll from Fernbank Supplies (invented): 17.5 %, was none.",
        "Supplier Fernbank Supplies (invented): trade discount 10 %, was not given.",
    ]
    assert not any(c.for_client for c in told)


def test_the_client_reads_nothing_of_it() -> None:
    ledger = estimate(discounted())
    for level in LEVELS:
        issue = Issue("A", "25 November 2026", level)
        client = client_ledger(ledger, issue)
        columns = {c.name for table in client.plan.tables.values() for c in table}
        assert not columns & {"discount", "list_price", "net_price", "price"}
        built = document(client, Templates().client, "quote")
        for sheet in built.workbook.worksheets:
            for cells in sheet.iter_rows(values_only=True):
                assert not any("discount" in str(v).lower() for v in cells if v is not None)


def test_an_order_shows_list_price_discount_and_price_on_a_sheet_of_their_own(
    tmp_path: Path,
) -> None:
    """DPC 112.5: 9.85 less 17.5 % is 8.12625, 8.13. Sand: 52.40 less 10 % is 47.16.

    A supplier without a discount gets the list alone, as before.
    """
    ledger = estimate(discounted())
    seen = {}
    for n, supplier in enumerate(ordered_from(ledger)):
        of_one = ORDER_LIST.ledger(Ordering(ledger, Issue("A", "1 May 2026", "stages"), supplier))
        path = tmp_path / f"{n}.xlsx"
        document(of_one, Templates().order, "order").save(path)
        seen[supplier] = load_workbook(path)
    first, second = seen.values()
    assert second.sheetnames == ["Order"]
    assert first.sheetnames == ["Order", "Prices"]
    rows = {r[1]: r[3:] for r in first["Prices"].iter_rows(min_row=5, values_only=True)}
    assert rows["F-05"] == (9.85, 17.5, 8.13)
    assert rows["F-02"] == (52.4, 10, 47.16)
    listed = {v for cells in first["Order"].iter_rows(values_only=True) for v in cells}
    assert not listed & {9.85, 8.13, 52.4, 47.16, 17.5}, "the list is for drivers and site too"


def test_an_order_template_of_an_earlier_version_gives_the_list_alone(tmp_path: Path) -> None:
    book = load_workbook(Templates().order)
    del book["Prices"], book.defined_names["discounted_line"]
    book.save(tmp_path / "mine.xlsx")
    ledger = estimate(discounted())
    first = ordered_from(ledger)[0]
    of_one = ORDER_LIST.ledger(Ordering(ledger, Issue("A", "1 May 2026", "stages"), first))
    built = document(of_one, tmp_path / "mine.xlsx", "order")
    assert built.workbook.sheetnames == ["Order"]
