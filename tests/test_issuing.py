"""What leaves the desk: figures, levels, wording, files whole or not at all."""

import csv
import re
import zipfile
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import load_workbook

from estimator.documents import names, pdf
from estimator.documents.client import client_ledger
from estimator.documents.document import document, write
from estimator.documents.heads import ORDER, replaced
from estimator.documents.issue import Earlier, Issue, Issued, Templates
from estimator.documents.writing import issue_documents
from estimator.errors import FileError, IssueError, TemplateError
from estimator.files.resources import CLIENT_TEMPLATE, DEMO_JOB, LETTERS, shipped
from estimator.guidance.basis import shipped_bases
from estimator.guidance.notices import NATIONS
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.mail.letters import fill
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_job
from estimator.model.locations import InJobFile
from estimator.revisions.changes import LEVELS, LINES, QUANTITIES, STAGES
from estimator.workbook.build import Built

from .conftest import LONG, in_turn
from .hosts import by_gnumeric, by_libreoffice, figures
from .leaks import text_of
from .made import worked_out
from .test_injection import HOSTILE, with_texts
from .test_parity import differences

DATE = "25 November 2026"
NOTICES = ("Building control:", "Building control,")  # as the nation's file begins them


def job_with(**particulars: Any) -> Job:
    job = read_job(DEMO_JOB)
    changed = replace(job, particulars={**job.particulars, **particulars})
    check_job(changed, InJobFile("test"))
    return changed


def issued(job: Job, folder: Path, level: str = LINES, **more: Any) -> tuple[Issued, list[str]]:
    """An issue without its PDF, which is made for the few tests that are about it."""
    said: list[str] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        done = issue_documents(estimate(job), Issue("A", DATE, level, **more), folder, said.append)
    return done, said


def texts(path: Path) -> list[str]:
    """Every text of its sheets, row by row."""
    return [v for s in figures(path).values() for v in s.values() if isinstance(v, str) and v]


def named(path: Path, name: str) -> Any:
    """What a named cell shows."""
    with zipfile.ZipFile(path) as package:
        book = etree.fromstring(package.read("xl/workbook.xml"))
    (where,) = (n.text for n in book.iter("{*}definedName") if n.get("name") == name)
    sheet, address = where.replace("$", "").split("!")
    return figures(path)[sheet].get(address, "")


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Issued]:
    """The demo issued at a level, with other particulars if any are given: files to be looked at."""

    @cache
    def issued_once(level: str = LINES, **particulars: Any) -> Issued:
        return issued(job_with(**particulars), tmp_path_factory.mktemp("once"), level)[0]

    return issued_once


# ---- figures ----


def built_for(ledger: Ledger, level: str) -> Built:
    return document(client_ledger(ledger, Issue("A", DATE, level)), CLIENT_TEMPLATE, "test")


def _meets_half_penny(ledger: Ledger) -> bool:
    """Where Gnumeric rounds VAT down and the others up (tests/test_parity.py states it)."""
    exact = Decimal(f"{ledger.cell('quote_net') * ledger.cell('vat_percent') / 100:.15g}") * 100
    return exact % 1 == Decimal("0.5")


# The first random jobs that have a total, so that the others are not worked out to look for them.
PRICED = (6, 15, 18, 22, 24, 27, 26, 28, 29, 30, 31, 32, 39, 40, 44, 45)


@pytest.fixture(scope="module")
def priced(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[Ledger, Built, Path]]:
    """The demo at each level, a job brought up to the minimum charge, and random jobs."""
    folder = tmp_path_factory.mktemp("priced")
    ledgers = [estimate(read_job(DEMO_JOB))] * 3 + [estimate(job_with(minimum_charge=4000.5))]
    ledgers += [worked_out(f"job{seed}") for seed in PRICED]
    for ledger in ledgers:
        assert ledger.cell("quote_total") is not NOT_AVAILABLE
        assert ledger.cell("quote_sum") > 0
    found = []
    for n, ledger in enumerate(ledgers):
        built = built_for(ledger, LEVELS[n % 3])
        path = folder / f"client{n}.xlsx"
        write(built, path)
        found.append((ledger, built, path))
    return found


SUMS = ("quote_sum", "quote_net", "quote_vat", "quote_total")


def test_sums_are_the_jobs_to_the_penny(priced: list[tuple[Ledger, Built, Path]]) -> None:
    kinds = set()
    for ledger, built, path in priced:
        for name in SUMS:
            assert named(path, name) == ledger.cell(name), (path.name, name)
        table = next(t for t in ("stage_lines", "priced_lines", "counted_lines")
                     if t in built.layout.spans)  # fmt: skip
        span = built.layout.spans[table]
        shown = figures(path)["Quote"]
        amounts = [Decimal(repr(shown[f"{span.letters['amount']}{r}"]))
                   for r in range(span.first, span.last + 1)]  # fmt: skip
        assert sum(amounts) == Decimal(repr(ledger.cell("quote_sum")))
        if "stage_sum" in span.letters:
            stages = [Decimal(repr(shown[f"{span.letters['stage_sum']}{r}"]))
                      for r in range(span.first, span.last + 1)]  # fmt: skip
            assert sum(stages) == sum(amounts)
        kinds.add((table, ledger.cell("document_word"), ledger.cell("vat_status")))
    assert len(kinds) > 8, "the jobs are too much alike"


def test_results_in_the_file_are_those_of_python(priced: list[tuple[Ledger, Built, Path]]) -> None:
    assert {p.name: list(differences(b, figures(p))) for _, b, p in priced} == {
        p.name: [] for _, _, p in priced
    }


@pytest.mark.host
def test_hosts_recalculate_the_same(
    priced: list[tuple[Ledger, Built, Path]], tmp_path: Path
) -> None:
    by_first = by_libreoffice([p for _, _, p in priced], tmp_path)
    by_second = by_gnumeric([p for _, _, p in priced], tmp_path)
    for ledger, built, path in priced:
        assert list(differences(built, figures(by_first[path.stem]))) == [], path.name
        money = not _meets_half_penny(ledger)
        assert list(differences(built, figures(by_second[path.stem]), money)) == [], path.name


@pytest.mark.host
def test_the_clients_copy_goes_on_adding_up(tmp_path: Path) -> None:
    """£100 more on one line: £100 more net, £120 more with VAT at 20 % (worked by hand)."""
    ledger = estimate(read_job(DEMO_JOB))
    built = built_for(ledger, LINES)
    path = tmp_path / "client.xlsx"
    write(built, path)
    book = load_workbook(path)
    span = built.layout.spans["priced_lines"]
    cell = book["Quote"][f"{span.letters['amount']}{span.first}"]
    cell.value += 100
    changed = tmp_path / "changed.xlsx"
    book.save(changed)
    for host in (by_libreoffice, by_gnumeric):
        (saved,) = host([changed], tmp_path).values()
        assert named(saved, "quote_net") == pytest.approx(ledger.cell("quote_net") + 100, abs=0.001)
        assert named(saved, "quote_total") == pytest.approx(
            ledger.cell("quote_total") + 120, abs=0.001
        )


def test_the_minimum_charge_is_shown_where_it_bites(tmp_path: Path) -> None:
    """Lines of 3,091.64 and a minimum of 4,000.50: 908.86 is added, VAT is 800.10."""
    low, _ = issued(job_with(minimum_charge=4000.5), tmp_path)
    assert named(low.quote, "minimum_charge") == 4000.5
    assert named(low.quote, "minimum_added") == 908.86
    assert named(low.quote, "quote_net") == 4000.5
    assert named(low.quote, "quote_total") == 4800.6
    (tmp_path / "usual").mkdir()
    usual, _ = issued(job_with(minimum_charge=250), tmp_path / "usual")
    assert "minimum_charge" not in load_workbook(usual.quote).defined_names
    assert not any("minimum" in t.lower() for t in texts(usual.quote))


# ---- wording ----


VAT = {
    "standard": ({}, 618.33, 3709.97, "the usual rate for extending a house"),
    "zero or reduced": (
        {"vat_percent": 5, "vat_reason": "Empty for three years"}, 154.58, 3246.22,
        "HMRC Notice 708"),
    "reverse charge": ({"client_is_householder": "no"}, 0, 3091.64, "accounts to HMRC"),
    "not registered": ({}, 0, None, "none is charged"),
}  # fmt: skip


@pytest.mark.parametrize("status", VAT)
def test_each_vat_status(once: Callable[..., Issued], status: str) -> None:
    """Net 3,091.64: 20 % is 618.328, 5 % is 154.582 (by hand); goods cost more without reclaim."""
    particulars, vat, total, sentence = VAT[status]
    done = once(vat_status=status, **particulars)
    shown = texts(done.quote)
    assert named(done.quote, "quote_vat") == vat
    if total is not None:
        assert named(done.quote, "quote_total") == total
    assert sum(sentence in t for t in shown) == 1
    label = "Total with VAT" if vat else "Total, no VAT charged"
    assert label in shown
    reverse = status == "reverse charge"
    assert ("vat_accounted" in load_workbook(done.quote).defined_names) == reverse
    if reverse:
        assert named(done.quote, "vat_accounted") == 618.33
    assert ("Empty for three years" in shown) == (status == "zero or reduced")
    assert named(done.quote, "vat_percent") == {"not registered": 0, "zero or reduced": 5}.get(
        status, 20
    )


@pytest.mark.parametrize(("householder", "first"), [("yes", "quote_total"), ("no", "quote_net")])
def test_a_householder_sees_the_total_with_vat_first(
    tmp_path: Path, householder: str, first: str
) -> None:
    done, _ = issued(job_with(client_is_householder=householder), tmp_path)
    book = load_workbook(done.quote)
    rows = {
        n: int(book.defined_names[n].attr_text.split("$")[-1]) for n in ("quote_total", "quote_net")
    }
    assert min(rows, key=lambda n: rows[n]) == first
    about_cancelling = sum("SI 2013/3134" in t for t in texts(done.quote))
    assert about_cancelling == (householder == "yes")


def test_a_quotation_and_an_estimate(once: Callable[..., Issued], tmp_path: Path) -> None:
    done = once()
    shown = texts(done.quote)  # the firm's name and address come first
    at = shown.index("Quotation")
    assert shown[at + 1] == "A quote is a price that holds once it is accepted."
    assert not any("Provisional" in t for t in texts(done.quote))
    job = read_job(DEMO_JOB)
    unsure = replace(job, line_status={**job.line_status, "hardcore": "provisional"})
    (tmp_path / "unsure").mkdir()
    done, _ = issued(unsure, tmp_path / "unsure")
    assert done.quote.name.startswith("Estimate - ")
    shown = texts(done.quote)
    at = shown.index("Estimate")
    assert shown[at + 1].startswith("An estimate is a considered guess")
    # Hardcore 529.20; its delivery, 45.00, and preliminaries, a percentage of it too, 189.94.
    assert named(done.quote, "provisional_sum") == 764.14
    assert named(done.quote, "firm_sum") == 2327.5  # 3,091.64 less that
    assert shown[shown.index("In the price, provisional") + 1] == "Hardcore under floors"


def test_the_client_sees_the_sums_of_stages_unless_more_is_asked_for() -> None:
    assert Issue("A", DATE).level == "stages"
    assert LEVELS == ("stages", "lines", "quantities")


def test_levels(once: Callable[..., Issued]) -> None:
    shown = {level: texts(once(level).quote) for level in LEVELS}
    item, counted = "Butyl tape, double-sided, 15 m", "m²"
    assert [item in shown[level] for level in (STAGES, LINES, QUANTITIES)] == [False, True, True]
    assert [counted in shown[level] for level in (STAGES, LINES, QUANTITIES)] == [
        False,
        False,
        True,
    ]
    for level in LEVELS:
        assert "Walls at DPC level" in shown[level]
        assert any("DPM to floors" in t for t in shown[level]), "what is included, in words"
        assert any("Lead flashing over trays" in t for t in shown[level]), "what others do"
        assert "Weep vents over openings" not in shown[level], "none on this job"
        assert "Tanking" in shown[level]
        assert any(t.startswith("NHBC Standards 2024") for t in shown[level])
        assert any(t.startswith("A warranty standard") for t in shown[level]), "whom it binds"
        assert any("Do not send it" in t for t in shown[level]) is False
        assert any("not a design" in t for t in shown[level]), "cautions"
        assert sum(t.startswith(NOTICES) for t in shown[level]) == 8, "hold points"


def test_packs_read_right_on_the_clients_quote(once: Callable[..., Issued]) -> None:
    """How many as worked in tests/test_price_requests.py and the demo: 14 t, 6 bags, 4 rolls."""
    done = once(QUANTITIES)
    cells = figures(done.quote)["Quote"]
    read = {cells.get(f"C{r}"): (cells.get(f"D{r}"), cells.get(f"E{r}")) for r in range(1, 80)}
    assert read["Crushed hardcore, loose, by the tonne"] == (14, "× 1 t")
    assert read["Soft sand, bag of about 800 kg"] == (6, "× 800 kg")
    assert read["Butyl tape, double-sided, 15 m"] == (4, "rolls")
    assert read["Lap tape, single-sided, 50 m"] == (1, "roll")
    assert read["Collar for pipes up to 50 mm"] == (2, "nr")
    assert read["Floor duct, 110 mm, 3 m"] == (2, "lengths")
    assert read["Building control fee"] == (1, "item")


@pytest.mark.parametrize(
    ("nation", "basis"),
    [*(("England", b.name) for b in shipped_bases()), *((n, "nhbc_2024") for n in NATIONS[1:])],
)
def test_nobody_outside_reads_how_a_source_was_read(
    tmp_path: Path, nation: str, basis: str
) -> None:
    """Working notes stay in docs/bases.md and on the estimator's own sheets."""
    job = job_with(site_nation=nation, basis_choice=basis)
    done, _ = issued(job, tmp_path, QUANTITIES)
    notes = re.compile(r"\b(reported|reports? it|memory|not noted|not seen|was read|\(read)\b")
    paths = [*tmp_path.rglob("*.xlsx")]
    assert done.site in paths
    assert len(paths) >= 3
    assert {p.name: [t for t in texts(p) if notes.search(t)] for p in paths} == {
        p.name: [] for p in paths
    }


@pytest.mark.parametrize("level", [LINES, QUANTITIES])
def test_deliveries_are_told_apart_without_a_suppliers_name(
    once: Callable[..., Issued], tmp_path: Path, level: str
) -> None:
    """The demo is delivered by two suppliers; with all of it free from one, by the other alone."""
    done = once(level)
    shown = texts(done.quote)
    assert [t for t in shown if t.startswith("Delivery of")] == [
        "Delivery of materials, one drop (1 of 2)",
        "Delivery of materials, one drop (2 of 2)",
    ]
    job = read_job(DEMO_JOB)
    assert not any(s["name"] in t for s in job.rows["suppliers"] for t in shown)
    free = [{**s, "delivery": 0} if s["name"].startswith("Quayside") else s
            for s in job.rows["suppliers"]]  # fmt: skip
    (tmp_path / "one").mkdir()
    one, _ = issued(replace(job, rows={**job.rows, "suppliers": free}), tmp_path / "one", level)
    assert [t for t in texts(one.quote) if t.startswith("Delivery of")] == [
        "Delivery of materials, one drop"
    ]


def test_what_is_excluded_is_said(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    done, _ = issued(replace(job, line_status={"dpm": "excluded", "seal_tape": "excluded",
                                               "lap_tape": "excluded", "over_tape": "excluded",
                                               "bond_tape": "excluded"}), tmp_path)  # fmt: skip
    shown = texts(done.quote)
    at = shown.index("Excluded: not done under this document")
    assert shown[at + 1] == "DPM to floors"


def test_an_override_prints_with_its_reason(tmp_path: Path) -> None:
    job = replace(job_with(radon_area="unknown"), reasons={"radon": "The map was read by phone"})
    done, _ = issued(job, tmp_path)
    shown = texts(done.quote)
    at = shown.index("Radon or gas not looked up")
    assert shown[at + 1] == "The map was read by phone"
    assert "Quotation" in shown


def test_assumed_figures_and_gas_are_said(tmp_path: Path) -> None:
    form = read_job(shipped("demo", "lean_to.toml"))
    done, _ = issued(form, tmp_path)
    assert any("assumed where they were not measured" in t for t in texts(done.quote))
    ledger = estimate(read_job(DEMO_JOB))
    gas = {**ledger._cells, "gas_note": "Radon or gas: a specialist's."}
    ledger._cells.update(gas)
    built = built_for(ledger, LINES)
    assert any(
        c.value == "Radon or gas: a specialist's."
        for row in built.workbook["Quote"].iter_rows()
        for c in row
    )


def test_changes_are_listed(once: Callable[..., Issued], tmp_path: Path) -> None:
    changes = ("One more window: £42.10 more.", "=1+1")
    done, _ = issued(read_job(DEMO_JOB), tmp_path, changes=changes, changed_since="P1")
    shown = texts(done.quote)
    at = shown.index("What has changed")
    assert shown[at + 1 : at + 5] == ["Since revision", "P1", *changes]
    first = once()
    assert not {"What has changed", "Since revision"} & set(texts(first.quote))


@pytest.mark.parametrize("level", LEVELS)
def test_the_price_comes_before_what_has_changed(tmp_path: Path, level: str) -> None:
    changes = tuple(f"Change {n}." for n in range(30))
    done, _ = issued(read_job(DEMO_JOB), tmp_path, level, changes=changes, changed_since="P1")
    shown = texts(done.quote)
    order = [
        "Price",
        "Building control fee",
        "Total with VAT",
        "VAT",
        "What has changed",
        "Guidance",
    ]
    if level == STAGES:
        order[1] = "Preliminaries and fees"
    places = [len(shown) - 1 - shown[::-1].index(words) for words in order[:-2]]
    places += [shown.index(words) for words in order[-2:]]
    assert places == sorted(places)
    assert shown[places[-2] + 3] == "Change 0."


@pytest.mark.parametrize("level", LEVELS)
def test_no_label_touches_its_neighbour(once: Callable[..., Issued], level: str) -> None:
    """A text at the left of its cell keeps off a figure or label at the right of the cell before."""
    done = once(level)
    sheet = load_workbook(done.quote)["Quote"]
    looked_at = 0
    for row in sheet.iter_rows():
        for left, right in pairwise(row):
            if left.value is None or right.value is None or left.alignment.horizontal != "right":
                continue
            looked_at += 1
            own = right.alignment
            assert own.horizontal == "right" or own.indent, (
                left.coordinate,
                left.value,
                right.value,
            )
    assert looked_at


def test_a_quote_without_a_firms_name_begins_with_what_it_is(tmp_path: Path) -> None:
    """The rows of the firm's head are left out, the first of the printed page with them."""
    done, _ = issued(job_with(firm_name=None), tmp_path)
    sheet = load_workbook(done.quote)["Quote"]
    assert sheet["A1"].value == "Quotation"
    assert sheet.print_area.split("!")[1].startswith("$A$1:$H$")


@pytest.mark.parametrize("status", VAT)
def test_the_vat_flags_stand_under_headings(once: Callable[..., Issued], status: str) -> None:
    """Charged or not, and whose it is to account for: words alone beside a sentence say neither."""
    done = once(vat_status=status, **VAT[status][0])
    sheet = load_workbook(done.quote)["Quote"]
    head = next(c.row for c in sheet["A"] if c.value == "Status")
    assert [sheet[f"{c}{head}"].value for c in "CGH"] == [
        "What that means",
        "Charged",
        "By customer",
    ]
    flags = next(r for r in range(head + 1, head + 4) if sheet[f"A{r}"].value == status)
    # HMRC: the reverse charge alone is accounted for by the customer; then nothing is charged.
    expected = {"standard": [1, 0], "zero or reduced": [1, 0], "reverse charge": [0, 1]}
    assert [sheet[f"{c}{flags}"].value for c in "GH"] == expected.get(status, [0, 0])
    assert {sheet[f"{c}{flags}"].number_format for c in "GH"} == {'"yes";;"no"'}


# ---- safe to send ----


def test_every_sheet_is_locked_without_a_password_and_shows_its_formulas(
    once: Callable[..., Issued],
) -> None:
    done = once()
    for path in (p for p in done.files if p.suffix == ".xlsx"):
        for sheet in load_workbook(path):
            assert sheet.protection.sheet
            assert sheet.protection.password is None
            assert sheet.protection.hashValue is None
            cells = [c for row in sheet.iter_rows() for c in row]
            assert not any(c.protection.hidden for c in cells)
            open_cells = sum(not c.protection.locked for c in cells)
            is_written_in = path != done.quote and sheet.title != "Drawings"
            assert (open_cells > 0) == is_written_in, "only what is written in by hand"
            assert not sheet.data_validations.dataValidation


@pytest.mark.host
@pytest.mark.parametrize("level", [LINES, QUANTITIES])
def test_hostile_texts_stay_texts(tmp_path: Path, level: str) -> None:
    paths, shown = {}, Counter[str]()
    # In the long run each text by itself, everywhere; else all of them, by turns that begin
    # elsewhere in each issue and for each version.
    turns = [(*HOSTILE[n:], *HOSTILE[:n]) for n in in_turn(range(20), 10)]
    for n, lot in enumerate([(t,) for t in HOSTILE] if LONG else turns):
        folder = tmp_path / str(n)
        folder.mkdir()
        done, _ = issued(with_texts(*lot), folder, level, changes=lot, changed_since="A")
        paths[n] = done
        for path in (p for p in done.files if p.suffix == ".xlsx"):
            book = load_workbook(path)
            for sheet in book:
                assert not sheet._hyperlinks
                for row in sheet.iter_rows():
                    for cell in row:
                        if cell.data_type == "f":
                            assert not any(text in cell.value for text in lot)
        shown.update(texts(done.quote))
    # Among the changes once in each issue, and in the job's own texts too.
    assert min(shown[text] for text in HOSTILE) >= (10 if LONG else len(turns) + 1), shown
    # Both hosts read the files back; a formula among the texts would change the total.
    named_apart = []
    for n, done in paths.items():
        copy = tmp_path / f"client{n}.xlsx"
        copy.write_bytes(done.quote.read_bytes())
        named_apart.append(copy)
    for host in (by_libreoffice, by_gnumeric):
        for saved in host(named_apart, tmp_path).values():
            assert named(saved, "quote_total") == 3709.97


def test_a_suppliers_name_in_the_clients_copy_is_told(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    lines = [dict(r) for r in job.rows["work_lines"]]
    lines[0]["description"] = "Collect from harrow lane depot (Invented)"
    done, said = issued(replace(job, rows={**job.rows, "work_lines": lines}), tmp_path)
    assert len(done.warnings) == 1
    assert done.warnings[0] in said
    assert "'Harrow Lane Depot (invented)'" in done.warnings[0]
    (tmp_path / "none").mkdir()
    assert issued(job, tmp_path / "none")[0].warnings == ()
    # As people say it: by its first word, but not inside another word.
    lines[0]["description"] = "Price agreed with Harrow"
    (tmp_path / "short").mkdir()
    short, _ = issued(replace(job, rows={**job.rows, "work_lines": lines}), tmp_path / "short")
    assert short.warnings == (
        "The client will read a supplier's name: 'Harrow' in 'Price agreed with Harrow'.",
    )
    lines[0]["description"] = "Harrowing the ground"
    (tmp_path / "other").mkdir()
    other, _ = issued(replace(job, rows={**job.rows, "work_lines": lines}), tmp_path / "other")
    assert other.warnings == ()


# ---- the merchant's and the site's ----


def test_order_lists_say_what_each_item_is_for(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    ledger = estimate(job)
    done, _ = issued(job, tmp_path)
    assert [o.supplier for o in done.orders] == [
        "Fernbank Supplies (invented)",
        "Quayside Stores (invented)",
    ]
    for order in done.orders:
        assert order.supplier in order.workbook.name
        assert order.supplier in order.csv.name
        wanted = {
            c: p
            for c, p, s in zip(
                *(ledger.column("order_lines", n) for n in ("code", "packs", "supplier")),
                strict=True,
            )
            if s == order.supplier
        }
        rows = list(csv.reader(order.csv.read_text("utf-8-sig").splitlines()))
        assert {r[0] for r in rows[1:]} == set(wanted)
        (cells,) = figures(order.workbook).values()
        shown = {cells[f"B{r}"]: cells[f"D{r}"] for r in range(1, 80)
                 if cells.get(f"B{r}") in wanted}  # fmt: skip
        assert shown == wanted
        assert "1 Example Lane, Exampleton (invented)" in cells.values()
    (fernbank,) = (figures(done.orders[0].workbook)).values()
    row = next(r for r in range(1, 80) if fernbank.get(f"B{r}") == "F-05")
    # 102.5 leaf: the outer leaf, and the vertical DPC at the two tie-ins.
    assert fernbank[f"G{row}"] == "DPC in outer leaf; Vertical DPC at tie-ins"
    assert fernbank[f"D{row}"] == 2


@pytest.mark.host
def test_a_small_bag_is_not_rounded_on_an_order_list(tmp_path: Path) -> None:
    """Bags of 25 kg hold 0.025 t each; two decimals would print 0.03."""
    job = read_job(DEMO_JOB)
    choice = {**job.line_suppliers, "blinding": "Quayside Stores (invented)"}
    done, _ = issued(replace(job, line_suppliers=choice), tmp_path)
    (order,) = [o for o in done.orders if o.supplier.startswith("Quayside")]
    (printed,) = by_libreoffice([order.workbook], tmp_path, "pdf").values()
    words = text_of(printed).split()
    assert "0.025" in words
    assert "0.03" not in words


def test_the_sheet_for_site_shows_everything_counted_once(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    ledger = estimate(job)
    done, _ = issued(job, tmp_path)
    shown = texts(done.site)
    counted = [
        label
        for label, measured in zip(
            ledger.column("measures", "label"), ledger.column("measures", "measured"), strict=True
        )
        if measured > 0
    ]
    assert len(counted) > 20
    bare = [re.sub(r", [\d.]+ mm wide, laps 100 mm$", "", text) for text in shown]
    assert [bare.count(c) for c in counted] == [1] * len(counted)
    assert "DPC in outer leaf, 112.5 mm wide, laps 100 mm" in shown
    assert sum(t.startswith(NOTICES) for t in shown) == 8
    parts = [t for t in ("Roof abutments before covering", "Before start") if t in shown]
    assert len(parts) == 2


def test_the_sheet_for_site_counts_for_each_opening_placed_or_not(tmp_path: Path) -> None:
    """By hand: a tray as long as its lintel, or 150 mm past an opening without one; its weeps first
    225 mm from each end and at most 450 apart. O1 and O6 have no place, and are on no elevation."""
    job = read_job(DEMO_JOB)
    lintels = [{**row, "lintel_tray": "yes" if row["mark"] == "M1" else None}
               for row in job.rows["openings"]]  # fmt: skip
    done, _ = issued(replace(job, rows={**job.rows, "openings": lintels}), tmp_path)
    cells = figures(done.site)["Site"]
    rows = {v: a[1:] for a, v in cells.items() if re.match("(O[1-6]|M1), ", str(v))}
    assert {text: (cells[f"D{r}"], cells[f"E{r}"]) for text, r in rows.items()} == {
        "O1, window in W2, each: tray 2.100 m, 2 stop ends, 5 weeps": (2, "nr"),
        "O2, window in W2: tray 1.200 m, 2 stop ends, 3 weeps": (1, "nr"),
        "O3, level-access door in W1: tray 2.700 m, 2 stop ends, 6 weeps": (1, "nr"),
        "O4, window in W3: tray 1.500 m, 2 stop ends, 4 weeps": (1, "nr"),
        "O5, window in W4: tray 0.900 m, 2 stop ends, 2 weeps": (1, "nr"),
        "O6, air brick in W5, each: tray 0.525 m, 2 stop ends, 2 weeps": (2, "nr"),
        "M1, meter box in W5: its lintel is the tray, 2 stop ends, 2 weeps": (1, "nr"),
    }


EARLIER = (Earlier("A", "3 August 2026"), Earlier("P1", "1 October 2026"))


@pytest.mark.parametrize(
    ("earlier", "said"),
    [
        ((), None),
        (EARLIER[:1], "Revision B of 25 November 2026. It replaces revision A of 3 August 2026. "
                      "Do not {} from that one."),
        (EARLIER, "Revision B of 25 November 2026. It replaces revision P1 of 1 October 2026 and "
                  "every one before it. Do not {} from them."),
    ],
)  # fmt: skip
def test_a_later_issue_says_what_it_replaces(
    tmp_path: Path, earlier: tuple[Earlier, ...], said: str | None
) -> None:
    """In the head of every order list and of the sheet for site; the first issue says nothing."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        issue = Issue("B", DATE, earlier=earlier)
        done = issue_documents(estimate(read_job(DEMO_JOB)), issue, tmp_path, lambda _: None)
    assert len(done.orders) == 2
    sheets = {done.site: "work", **{o.workbook: "order or deliver" for o in done.orders}}
    for path, do in sheets.items():
        shown = texts(path)
        if said is None:
            assert not any("replaces" in t for t in shown)
            assert "replaces_note" not in load_workbook(path).defined_names
        else:
            assert shown[1] == said.format(do), "under the heading"
    assert not any("replaces" in t for t in texts(done.quote))


def test_the_letter_with_an_order_says_what_it_replaces() -> None:
    issue = Issue("B", DATE, earlier=EARLIER[:1])
    values = {"supplier": "S", "prepared_by": "P", "replaces": replaced(issue, ORDER)}
    words = fill("order", LETTERS, values)
    for text in (words.text, words.html):
        assert "It replaces revision A of 3 August 2026. Do not order or deliver from" in text
    first = fill("order", LETTERS, {**values, "replaces": replaced(Issue("A", DATE), ORDER)})
    assert "replaces" not in first.text + first.html


def standing_of(path: Path) -> dict[str, str]:
    """What the sheet for site says beside each thing counted."""
    cells = figures(path)["Site"]
    rows = {int(a[1:]) for a in cells if a[0] == "D" and isinstance(cells[a], float)}
    return {cells[f"B{r}"]: cells.get(f"F{r}", "") for r in rows}


def test_the_sheet_for_site_says_what_is_not_ours_or_not_settled(tmp_path: Path) -> None:
    """Insulation, leadwork, channels and movement joints are nobody's who lays a DPC."""
    job = read_job(DEMO_JOB)
    done, _ = issued(job, tmp_path)
    shown = standing_of(done.site)
    assert {s: kind for s, kind in shown.items() if kind} == dict.fromkeys(
        (
            *("Perimeter strip to slab edge", "Insulation in floors", "Movement joints at tie-ins"),
            *("Drainage channels at thresholds", "Lead flashing on existing walls"),
            *("Sealant to flashing on existing walls", "Lead flashing over trays"),
            *("Soakers up slopes", "Sealant to flashings"),
        ),
        "by others",
    )
    assert shown["Hardcore under floors"] == ""
    (tmp_path / "unsure").mkdir()
    status = {**job.line_status, "hardcore": "provisional", "blinding": "excluded",
              "trays": "provisional"}  # fmt: skip
    unsure, _ = issued(replace(job, line_status=status), tmp_path / "unsure")
    shown = standing_of(unsure.site)
    assert shown["Hardcore under floors"] == "provisional"
    assert shown["Layers of hardcore to compact, over all zones"] == "provisional"
    assert shown["Weeps over all trays, of any kind"] == "provisional"
    assert shown["Blinding on hardcore"] == "excluded"
    assert shown["DPM to floors"] == ""


def test_a_hold_point_of_nothing_is_left_out(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    rows = {**job.rows, "abutments": [], "cut_ins": []}
    done, _ = issued(replace(job, rows=rows), tmp_path)
    for path in (done.site, done.quote):
        assert "Roof abutments before covering" not in texts(path)
        assert "Foundations" in texts(path)
        assert "DPC before building on" in texts(path)


# ---- whole or not at all ----


def left_in(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


def test_no_total_no_document(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    rows = {**job.rows, "book": [r for r in job.rows["book"] if r["material"] != "dpm_sheet"]}
    with pytest.raises(IssueError, match=r"no total.*Needs.*\(DPM to floors\): 2"):
        issue_documents(estimate(replace(job, rows=rows)), Issue("A", DATE), tmp_path, print)
    assert left_in(tmp_path) == []


def test_a_file_that_is_there_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    done, _ = issued(read_job(DEMO_JOB), tmp_path)
    kept = {p: p.read_bytes() for p in done.files}
    for path in done.files:
        for other in set(done.files) - {path}:
            other.unlink(missing_ok=True)
        path.write_bytes(kept[path])
        with pytest.raises(FileError, match="a file of that name'; accepted: another revision"):
            issued(read_job(DEMO_JOB), tmp_path)
        assert left_in(tmp_path) == [path.name]
        assert path.read_bytes() == kept[path]
        path.unlink()


def test_a_file_that_comes_to_stand_there_meanwhile_is_kept(tmp_path: Path) -> None:
    site = tmp_path / "Site sheet - Garden room extension (invented example) - revision A.xlsx"

    def say(sentence: str) -> None:
        if sentence == "Making the PDFs.":
            site.write_text("a stranger's")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        with pytest.raises(FileError, match="a file of that name"):
            issue_documents(estimate(read_job(DEMO_JOB)), Issue("A", DATE), tmp_path, say)
    assert left_in(tmp_path) == [site.name]
    assert site.read_text() == "a stranger's"


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="a folder that exists"):
        issued(read_job(DEMO_JOB), tmp_path / "missing")


def test_a_failure_on_the_way_leaves_nothing(tmp_path: Path) -> None:
    def fail(sentence: str) -> None:
        if sentence.startswith("Writing the sheet"):
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        issue_documents(estimate(read_job(DEMO_JOB)), Issue("A", DATE), tmp_path, fail)
    assert left_in(tmp_path) == []


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"revision": ""}, "revision: found ''; accepted: a text of 1 to 12"),
        ({"revision": "A\nB"}, "revision: found .*one line"),
        ({"date": " "}, "date: found ' '"),
        ({"level": "all"}, "level: found 'all'; accepted: one of stages, lines, quantities"),
        ({"changes": ("More.",)}, "changed_since"),
        ({"changed_since": "A"}, "changed_since: found 'A'"),
        ({"changes": ("",), "changed_since": "A"}, r"changes\[1\]"),
    ],
)
def test_an_issue_that_cannot_be(wrong: dict[str, Any], said: str) -> None:
    with pytest.raises(IssueError, match=said):
        Issue(**{"revision": "A", "date": DATE, **wrong})


# ---- the PDF ----


@pytest.mark.host
@pytest.mark.own_office
def test_the_pdf_is_made_in_a_profile_that_is_thrown_away(tmp_path: Path) -> None:
    (tmp_path / "temporary").mkdir()
    (tmp_path / "out").mkdir()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
        done = issue_documents(
            estimate(read_job(DEMO_JOB)), Issue("A", DATE), tmp_path / "out", lambda _: None
        )
    assert done.pdf is not None
    assert done.pdf.stem == done.quote.stem
    assert done.site_pdf is not None
    assert done.site_pdf.stem == done.site.stem
    assert done.site_pdf not in done.for_client
    assert "Hold points" in text_of(done.site_pdf)
    assert left_in(tmp_path / "temporary") == []
    assert left_in(tmp_path / "out") == sorted(p.name for p in done.files)


def program(folder: Path, script: str) -> str:
    path = folder / "printer"
    path.write_text("#!/bin/sh\n" + script)
    path.chmod(0o755)
    return str(path)


@pytest.mark.parametrize(
    ("script", "said"),
    [
        ("exit 3", "ended with code 3"),
        ("exit 0", "wrote no whole PDF"),
        ('for a; do :; done; printf "%%PDF-1.6 cut short" > "${a%.xlsx}.pdf"', "no whole PDF"),
        ('printf "%%PDF-1.6 %%%%EOF" > "${0%/*}/quote.pdf"', "no whole PDF"),  # one of the two
        ("sleep 30", "had not finished after 0.5 seconds"),
    ],
)
def test_a_pdf_that_fails_is_said_and_leaves_nothing(
    tmp_path: Path, script: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pdf, "PROGRAMS", (program(tmp_path, script),))
    books = (tmp_path / "quote.xlsx", tmp_path / "site.xlsx")
    for book in books:
        book.write_bytes(b"")
    sentences: list[str] = []
    assert pdf.to_pdf(books, sentences.append, 0.5) == ()
    assert len(sentences) == 1
    assert said in sentences[0]
    assert "Everything else is issued" in sentences[0]
    assert left_in(tmp_path) == ["printer", "quote.xlsx", "site.xlsx"]


@pytest.mark.parametrize(
    ("system", "platform", "place"),
    [
        ("nt", "win32", r"C:\Program Files\LibreOffice\program\soffice.exe"),
        ("posix", "darwin", "/Applications/LibreOffice.app/Contents/MacOS/soffice"),
    ],
)
def test_libreoffice_is_looked_for_where_installers_put_it(
    system: str, platform: str, place: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The places are from memory: neither Windows nor macOS was there to run."""
    for name in ("ProgramW6432", "ProgramFiles", "ProgramFiles(x86)"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("ProgramFiles", r"C:\Program Files")
    monkeypatch.setattr("os.name", system)
    monkeypatch.setattr("sys.platform", platform)
    places = pdf.where_installed()
    monkeypatch.undo()
    assert places[0] == place


def test_a_libreoffice_that_is_not_on_path_is_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = (
        'for a; do case "$a" in *.xlsx) printf "%%PDF-1.6 %%%%EOF" > "${a%.xlsx}.pdf";; esac; done'
    )
    monkeypatch.setattr(pdf, "PROGRAMS", ("no such program", program(tmp_path, whole)))
    book = tmp_path / "quote.xlsx"
    book.write_bytes(b"")
    assert pdf.to_pdf((book,), print) == (tmp_path / "quote.pdf",)
    assert pdf.by_hand((book,)).startswith(str(tmp_path / "printer"))


def test_without_libreoffice_all_else_is_issued(tmp_path: Path) -> None:
    done, said = issued(read_job(DEMO_JOB), tmp_path)
    assert done.pdf is None
    assert "No PDF: LibreOffice is not installed. Everything else is issued." in said
    assert left_in(tmp_path) == sorted(p.name for p in done.files)
    assert done.for_client == (done.quote,)


# ---- names ----


@pytest.mark.parametrize(
    ("job", "name"),
    [
        ("Garden room", "Quotation - Garden room - revision A"),
        ("a/b\\c:d*e?f\"g<h>i|j", "Quotation - a b c d e f g h i j - revision A"),
        ("../../etc", "Quotation - etc - revision A"),
        ("\u202egnp.exe", "Quotation - gnp.exe - revision A"),
        ("  ", "Quotation - unnamed - revision A"),
        ("x" * 500, "Quotation - " + "x" * 60 + " - revision A"),
    ],
)  # fmt: skip
def test_names_are_safe(job: str, name: str) -> None:
    assert names.stem("Quotation", job, "A") == name


def test_long_names_fit_a_file_system(tmp_path: Path) -> None:
    """255 bytes is the most most file systems take for one name."""
    stem = names.stem("Quotation", "漢" * 60, "A", "漢" * 60)
    assert len((stem + ".xlsx").encode()) <= 255
    (tmp_path / f"{stem}.xlsx").write_text("")


def test_suppliers_whose_names_read_the_same_are_told_apart() -> None:
    assert names.told_apart(["a", "A", "b", "a"]) == ["a", "A (2)", "b", "a (3)"]


# ---- templates ----


def restyled(tmp_path: Path, change: Callable[[Any], Any]) -> Path:
    book = load_workbook(CLIENT_TEMPLATE)
    change(book)
    path = tmp_path / "mine.xlsx"
    book.save(path)
    return path


def with_template(path: Path, folder: Path) -> Issued:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        return issue_documents(
            estimate(read_job(DEMO_JOB)), Issue("A", DATE), folder, print, Templates(client=path)
        )


def test_a_restyled_template_keeps_its_words(tmp_path: Path) -> None:
    def change(book: Any) -> None:
        sheet = book["Quote"]
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value == "Included in the price":
                    cell.value = "What you get"

    folder = tmp_path / "out"
    folder.mkdir()
    done = with_template(restyled(tmp_path, change), folder)
    assert "What you get" in texts(done.quote)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda b: setattr(b.create_sheet("Mine"), "sheet_state", "hidden"), "a hidden sheet"),
        (lambda b: setattr(b["Quote"].column_dimensions["E"], "hidden", True), "a hidden column"),
        (lambda b: setattr(b["Quote"].oddFooter.left, "text", "&Z&F"), "without the file's name"),
        (lambda b: setattr(b["Quote"]["A1"], "value", "{cost_total}"), "the name of a cell"),
        (lambda b: b.defined_names.pop("changes_line"), "a block named changes_line"),
    ],
)
def test_an_unfit_template_is_refused_and_nothing_written(
    tmp_path: Path, change: Callable[[Any], Any], said: str
) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    with pytest.raises(TemplateError, match=said):
        with_template(restyled(tmp_path, change), folder)
    assert left_in(folder) == []
