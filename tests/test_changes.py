"""What differs between two states of a job, in sentences worked by hand."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.given import given_job
from estimator.cli.main import main
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.revisions.changes import (
    LINES,
    STAGES,
    Change,
    State,
    at_profit_of,
    changes,
    client_changes,
    dearer_by_profit,
)
from estimator.revisions.digest import digest

from .small_jobs import (
    STOCK,
    SUPPLIER,
    bare_job,
    edge,
    opening,
    product,
    row,
    turned_up,
    wall,
    zone,
)

OTHER = "Invented supplier B"
AT_DPC = "Walls at DPC level"


def found_between(old: Job, new: Job) -> list[Change]:
    return changes(State(old, estimate(old)), State(new, estimate(new)))


def sentences(old: Job, new: Job) -> list[str]:
    return [c.sentence for c in found_between(old, new)]


def for_client(old: Job, new: Job, **detail: str) -> list[str]:
    return client_changes(estimate(old), estimate(new), old, new, **detail)


def own(old: Job, new: Job) -> list[str]:
    """What only the estimator reads."""
    return [c.sentence for c in found_between(old, new) if not c.for_client]


def walled(*lengths: float, **more: Any) -> Job:
    return bare_job(walls=[wall(f"W{n}", length) for n, length in enumerate(lengths, 1)], **more)


def with_particulars(job: Job, **given: Any) -> Job:
    return replace(job, particulars={**job.particulars, **given})


def test_a_longer_wall() -> None:
    """A run of 20 m becomes 40 m: two leaves, 102.5 and 100, rolls of 30 m at £10, lap 0.1.

    Net: 2 × 20 = 40 m, then 2 × 40 = 80 m. Rolls of each width: (20 − 0.1) / (30 − 0.1) = 0.67,
    so 1; (40 − 0.1) / 29.9 = 1.33, so 2. Net £20 and £40; VAT at 20 % £4 and £8.
    """
    assert sentences(walled(20), walled(40)) == [
        "Wall run W1: length 40.00 m, was 20.00 m.",
        "DPC roll, as measured: 80.00 m, was 40.00 m.",
        "DPC roll 100 mm wide: 2 rolls, was 1.",
        "DPC roll 112.5 mm wide: 2 rolls, was 1.",
        f"{AT_DPC}, DPC100: £20.00 (2 rolls), was £10.00 (1 roll): £10.00 more.",
        f"{AT_DPC}, DPC112: £20.00 (2 rolls), was £10.00 (1 roll): £10.00 more.",
        f"{AT_DPC} in all: £40.00, was £20.00: £20.00 more.",
        "Sum without VAT: £40.00, was £20.00: £20.00 more.",
        "VAT: £8.00, was £4.00: £4.00 more.",
        "Total with VAT: £48.00, was £24.00: £24.00 more.",
        f"Order with {SUPPLIER}: £40.00, was £20.00: £20.00 more.",
        "Cost of orders, without VAT: £40.00, was £20.00: £20.00 more.",
    ]


def test_what_a_client_reads_of_it_follows_what_the_quote_shows() -> None:
    old, new = walled(40), walled(20)
    totals = [
        "Wall run W1: length 20.00 m, was 40.00 m.",
        "Sum without VAT: £20.00, was £40.00: £20.00 less.",
        "VAT: £4.00, was £8.00: £4.00 less.",
        "Total with VAT: £24.00, was £48.00: £24.00 less.",
    ]
    stage = f"{AT_DPC} in all: £20.00, was £40.00: £20.00 less."
    assert for_client(old, new, detail=STAGES) == [totals[0], stage, *totals[1:]]
    assert for_client(old, new, detail=LINES) == [totals[0], stage, *totals[1:]]
    whole = for_client(old, new)
    assert len(whole) == 10
    assert not [s for s in whole if "Order" in s or "Cost" in s or SUPPLIER in s]


def test_what_is_weighed_is_told_by_weight_and_not_in_loads() -> None:
    """Stone by the tonne, sand in bags of 25 kg: neither a tonne nor a bag is a load.

    A bag of 25 kg holds 0.025 t, which two decimals would make 0.03.
    """
    old, new = (
        bare_job(zones=[zone("Z1", 4, b)], edges=turned_up("Z1", 4, b, 0.1)) for b in (5, 9)
    )
    was, now = (dict(zip(*(estimate(j).column("book", c) for c in ("code", "packs")), strict=True))
                for j in (old, new))  # fmt: skip
    assert now["STONE"] > was["STONE"] > 1
    assert now["SAND"] > was["SAND"] > 1
    said = for_client(old, new)
    assert f"Hardcore: {now['STONE']:g} × 1 t, was {was['STONE']:g}." in said
    assert f"Blinding sand: {now['SAND']:g} × 25 kg, was {was['SAND']:g}." in said
    (line,) = [s for s in said if s.startswith("Ground floor, STONE:")]
    assert f"({now['STONE']:g} × 1 t), was £" in line
    bags = [product("SAND", "blinding_sand", weight=850) if r["code"] == "SAND" else r
            for r in STOCK]  # fmt: skip
    other = replace(new, rows={**new.rows, "book": bags})
    few = dict(zip(*(estimate(other).column("book", c) for c in ("code", "packs")), strict=True))
    assert f"Blinding sand: {few['SAND']:g} × 850 kg, was {now['SAND']:g} × 25 kg." in for_client(
        new, other
    )
    two = [product("STONE", "hardcore", weight=2000) if r["code"] == "STONE" else r for r in STOCK]
    by_two = replace(new, rows={**new.rows, "book": two})
    ledger = estimate(by_two)
    steps = dict(zip(*(ledger.column("book", c) for c in ("code", "packs")), strict=True))["STONE"]
    said = for_client(new, by_two)
    assert f"Hardcore: {steps:g} × 2 t, was {now['STONE']:g} × 1 t." in said
    assert any(f"({steps:g} × 2 t), was £" in s for s in said)
    assert "× 2 t" in ledger.column("quote_lines", "counted_in")  # on Quote in the same words


def test_nothing_changed() -> None:
    job = walled(20)
    assert found_between(job, job) == []
    issued = row("revisions", revision="A", date="then", basis="nhbc_2024", document="Quotation",
                 net=1, vat=0, total=1)  # fmt: skip
    assert found_between(job, replace(job, rows={**job.rows, "revisions": [issued]})) == []


def test_rows_added_and_removed_are_called_by_kind_and_mark() -> None:
    old = walled(20, openings=[opening("O1", "W1", description="To the garden")])
    new = walled(20, openings=[opening("O2", "W1", kind="meter box")])
    assert for_client(old, new, detail=STAGES)[:2] == [
        "Window O1 (To the garden) removed.",
        "Meter box O2 added.",
    ]


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        # As the brief of the client's sentence asks: label and unit, never a field's name.
        ({"side_a": 3}, {"side_a": 3.4}, "Zone F1: side A 3.40 m, was 3.00 m."),
        ({"side_a": 3}, {"side_a": 3.4567}, "Zone F1: side A 3.4567 m, was 3.00 m."),
        ({"screed": 65}, {"screed": 62.5}, "Zone F1: screed 62.5 mm, was 65 mm."),
        ({"plate": None}, {"plate": 0}, "Zone F1: wall plate 0 mm, was not given."),
        (
            {"formation_level": -0.55},
            {"formation_level": -1},
            "Zone F1: formation -1.00 m, was -0.55 m.",
        ),
        (
            {"separating_layer": None},
            {"separating_layer": "yes"},
            "Zone F1: separating layer yes, was not given.",
        ),
        (
            {"description": "Link"},
            {"description": "Hall"},
            "Zone F1 (Hall): description Hall, was Link.",
        ),
    ],
)
def test_a_field_is_told_by_its_label_and_unit(
    old: dict[str, Any], new: dict[str, Any], sentence: str
) -> None:
    def job(given: dict[str, Any]) -> Job:
        a = given.get("side_a", 3)
        sides = {"side_a": a} | given
        return bare_job(
            zones=[zone("F1", sides.pop("side_a"), 2) | sides], edges=turned_up("F1", a, 2, 150)
        )

    assert sentence in for_client(job(old), job(new), detail=STAGES)


def test_a_kind_that_changes_is_not_taken_for_the_name() -> None:
    old = walled(20, openings=[opening("O1", "W1")])
    new = walled(20, openings=[opening("O1", "W1", kind="raised door")])
    assert "Opening O1: kind of opening raised door, was window." in for_client(
        old, new, detail=STAGES
    )


def test_a_row_that_is_only_called_otherwise_is_one_sentence() -> None:
    """The zone F1 becomes K1; its edges and its pipe name K1 now, which is no difference."""

    def job(mark: str) -> Job:
        pipe = row("penetrations", mark="P1", zone=mark, number=1, diameter=110)
        edges = [e | {"mark": f"E{n}"} for n, e in enumerate(turned_up(mark, 3, 2, 150))]
        return bare_job(zones=[zone(mark, 3, 2)], edges=edges, penetrations=[pipe])

    assert sentences(job("F1"), job("K1")) == ["Zone F1 is now called K1."]


def test_a_row_that_names_another_one_than_before_is_told_by_the_new_names() -> None:
    """W1 is now called A; the opening that was in W1 is in W2."""
    marks = ("W1", "W2"), ("A", "W2")
    old, new = (
        bare_job(
            walls=[wall(one, 20), wall(other, 9)],
            openings=[opening("O1", one if n == 0 else other)],
        )
        for n, (one, other) in enumerate(marks)
    )
    assert for_client(old, new, detail=STAGES) == [
        "Wall run W1 is now called A.",
        "Window O1: in wall W2, was A.",
    ]


def test_a_supplier_that_is_only_called_otherwise_changes_nothing_else() -> None:
    def job(name: str) -> Job:
        stock = [product("DPC112", "dpc_roll", supplier=name, width=112.5, length=30)]
        made = walled(20, suppliers=[row("suppliers", name=name, delivery=0)], book=stock)
        return replace(made, wastage={name: {"dpc_roll": 5}}, line_suppliers={"outer_dpc": name})

    found = sentences(job("One"), job("Two"))
    assert found[0] == "Supplier One is now called Two."
    assert all("One" not in s or s.startswith("Order with One") for s in found[1:])
    assert for_client(job("One"), job("Two")) == []


def test_rows_in_another_order_are_no_difference() -> None:
    old, new = (walled(20, openings=[opening(m, "W1") for m in order]) for order in ("AB", "BA"))
    assert found_between(old, new) == []
    turned = {**old.rows, "book": list(reversed(old.rows["book"]))}
    assert found_between(old, replace(old, rows=turned)) == []


def test_rolls_of_another_length() -> None:
    """20 m a leaf from rolls of 12 m: (20 − 0.1) / (12 − 0.1) = 1.67, so 2 of each width."""
    short = [product(r["code"], "dpc_roll", width=r["width"], length=12) for r in STOCK
             if r["material"] == "dpc_roll"]  # fmt: skip
    found = for_client(walled(20), walled(20, book=short))
    assert found[:2] == [
        "DPC roll 100 mm wide: 2 rolls of 12.00 m, was 1 roll of 30.00 m.",
        "DPC roll 112.5 mm wide: 2 rolls of 12.00 m, was 1 roll of 30.00 m.",
    ]


def test_another_supplier_is_the_estimators_own_affair() -> None:
    """The same rolls at £12 from another: two rolls, £24 + £4.80 = £28.80, where it was £24."""
    both = [row("suppliers", name=n, delivery=0) for n in (SUPPLIER, OTHER)]
    stock = [*STOCK, *(product(f"X{r['code']}", "dpc_roll", 12, supplier=OTHER, width=r["width"],
             length=30) | {"description": r["description"]} for r in STOCK
             if r["material"] == "dpc_roll")]  # fmt: skip
    old = walled(20, suppliers=both, book=stock)
    new = with_particulars(old, supplier_choice=OTHER)
    assert for_client(old, new) == [
        f"{AT_DPC}, DPC100: £12.00 (1 roll), was £10.00 (1 roll): £2.00 more.",
        f"{AT_DPC}, DPC112: £12.00 (1 roll), was £10.00 (1 roll): £2.00 more.",
        f"{AT_DPC} in all: £24.00, was £20.00: £4.00 more.",
        "Sum without VAT: £24.00, was £20.00: £4.00 more.",
        "VAT: £4.80, was £4.00: £0.80 more.",
        "Total with VAT: £28.80, was £24.00: £4.80 more.",
    ]
    assert own(old, new) == [
        f"Buy from: {OTHER}, was {SUPPLIER}.",
        f"Order with {SUPPLIER}: £0.00, was £20.00: £20.00 less.",
        f"Order with {OTHER}: £24.00, was £0.00: £24.00 more.",
        "Cost of orders, without VAT: £24.00, was £20.00: £4.00 more.",
    ]


def test_a_line_that_became_provisional_makes_an_estimate_and_says_why() -> None:
    old = walled(20)
    new = replace(old, line_status={"outer_dpc": "provisional"})
    assert sentences(old, new) == [
        "DPC in outer leaf: provisional, was firm.",
        f"{AT_DPC}, DPC112: now provisional, was firm.",
        "This is now an Estimate; it was a Quotation. What may still change: DPC in outer leaf.",
    ]
    assert sentences(new, old) == [
        "DPC in outer leaf: firm, was provisional.",
        f"{AT_DPC}, DPC112: now firm, was provisional.",
        "This is now a Quotation; it was an Estimate. Every line is firm.",
    ]


def test_a_provisional_sum_is_set_aside() -> None:
    """£500 more without VAT, £100 more VAT."""
    aside = row("work_lines", mark="L1", description="Opening up the old wall", way="fixed",
                kind="provisional sum", figure=500)  # fmt: skip
    assert for_client(walled(20), walled(20, work_lines=[aside])) == [
        "Work on site, Opening up the old wall: new, £500.00.",
        "Work on site in all: £500.00, was £0.00: £500.00 more.",
        "Sum without VAT: £520.00, was £20.00: £500.00 more.",
        "VAT: £104.00, was £4.00: £100.00 more.",
        "Total with VAT: £624.00, was £24.00: £600.00 more.",
        "This is now an Estimate; it was a Quotation. "
        "What may still change: Opening up the old wall.",
    ]


def test_a_line_that_others_do_now_is_still_counted() -> None:
    """The outer leaf's 20 m go over to others: one roll, £10 and its VAT of £2, less."""
    old = walled(20)
    new = replace(old, line_status={"outer_dpc": "by others"})
    assert for_client(old, new) == [
        "DPC in outer leaf: by others, was firm.",
        "DPC roll, as measured: 20.00 m, was 40.00 m.",
        "DPC in outer leaf (by others), as measured: 20.00 m, was 0.00 m.",
        "DPC roll 112.5 mm wide: 0 rolls, was 1.",
        f"{AT_DPC}, DPC112: taken out, was £10.00 (1 roll).",
        f"{AT_DPC} in all: £10.00, was £20.00: £10.00 less.",
        "Sum without VAT: £10.00, was £20.00: £10.00 less.",
        "VAT: £2.00, was £4.00: £2.00 less.",
        "Total with VAT: £12.00, was £24.00: £12.00 less.",
    ]


def test_the_minimum_charge_shows_in_the_sum_and_is_not_told_itself() -> None:
    """£20 of lines brought up to £100: £80 added; VAT £20, total £120."""
    old = walled(20)
    new = with_particulars(old, minimum_charge=100)
    assert for_client(old, new) == [
        "To the minimum charge: £80.00, was £0.00: £80.00 more.",
        "Sum without VAT: £100.00, was £20.00: £80.00 more.",
        "VAT: £20.00, was £4.00: £16.00 more.",
        "Total with VAT: £120.00, was £24.00: £96.00 more.",
    ]
    assert own(old, new) == ["Minimum charge: £100.00, was £0.00."]


def test_no_figure_on_one_side() -> None:
    old, new = walled(20), bare_job()
    found = for_client(old, new)
    assert found[0] == "Wall run W1 removed."
    assert found[-3:] == [
        "Sum without VAT: no figure yet, was £20.00.",
        "VAT: no figure yet, was £4.00.",
        "Total with VAT: no figure yet, was £24.00.",
    ]
    assert "Why there is no total: Nothing to quote for: 1." in own(old, new)
    assert for_client(new, old)[-1] == "Total with VAT: £24.00, was no figure yet."


def test_a_product_used_in_an_earlier_stage_moves_there() -> None:
    """A jamb DPC of 150 is bought under Openings; a leaf of 140 takes the same roll before it.

    150 covers 140 and is within 140 + 10 of projection.
    """
    jambs = [opening("O1", "W1", jamb_dpc=150)]
    old = bare_job(walls=[wall("W1", 20)], openings=jambs)
    new = bare_job(walls=[wall("W1", 20, outer_leaf=140)], openings=jambs)
    assert f"DPC150: now under {AT_DPC}, was under Openings." in for_client(old, new)
    assert not [s for s in for_client(old, new) if "DPC150" in s and ("new" in s or "out" in s)]


def test_another_basis_is_one_sentence_to_the_client() -> None:
    old = walled(20)
    new = with_particulars(old, basis_choice="england_adc_2013")
    found = for_client(old, new, detail=STAGES)
    assert found[0].startswith("Guidance followed: Approved Document C")
    assert "NHBC Standards 2024" in found[0]
    assert not any("england_adc" in s or "nhbc_2024" in s for s in found)
    assert not any(s.startswith("Weeps no further apart") for s in found)
    assert "Weeps no further apart: 450 mm, was 900 mm." in own(new, old)


def test_an_allowance_of_the_jobs_own() -> None:
    """The basis of a bare job states a lap of 300 in DPM sheet (tests/test_bases.py)."""
    old = walled(20)
    new = replace(old, override={**old.override, "dpm_lap": 250})
    assert for_client(old, new) == ["Lap in DPM sheet: 250 mm, was 300 mm."]
    assert own(old, new) == ["Override of lap in DPM sheet: 250 mm, was not given."]


def test_choices_kept_to_oneself() -> None:
    old = walled(20)
    new = with_particulars(
        replace(
            old,
            wastage={SUPPLIER: {"dpc_roll": 5}},
            wastage_applies={"dpm_sheet": 1},
            own_notices={"completion": "ring the office"},
            line_suppliers={"outer_dpc": SUPPLIER},
        ),
        job_notes="he haggles",
        loose_rule="divide",
    )
    assert own(old, new) == [
        "Notes: he haggles, was not given.",
        "Consolidation: divide, was multiply.",
        f"DPC in outer leaf, bought from: {SUPPLIER}, was the job's supplier.",
        'Notice at "completion": ring the office, was none.',
        f"Wastage of DPC roll from {SUPPLIER}: 5 %, was none.",
        "Wastage of DPM sheet: counts, was does not count.",
    ]
    assert for_client(old, new) == []


def test_the_form_answers_and_what_it_assumes() -> None:
    old = with_particulars(bare_job(), extension_width=4, extension_projection=3)
    rows = {t: [*([{}] * n), *old.rows[t]] for t, n in (("zones", 1), ("edges", 5))}
    old = replace(old, rows={**old.rows, **rows})
    new = replace(with_particulars(old, extension_width=4.5), assumed={"assumed_bay": 1.2})
    typed = replace(new, rows={**new.rows, "zones": [{"slab": 175}]})
    assert for_client(old, new, detail=STAGES)[:2] == [
        "Extension, clear width: 4.50 m, was 4.00 m.",
        "Extension, longest bay opened at once: 1.20 m, was 0.90 m (assumed).",
    ]
    slab = "Zone X1: slab or structure 175 mm, was not given."
    assert for_client(new, typed, detail=STAGES)[0] == slab


SECRET = "Zq7"


def test_nothing_of_ours_reaches_the_client() -> None:
    """A marker in every field that is ours alone, on both sides, and each of them changed."""

    def job(n: int) -> Job:
        suppliers = [row("suppliers", name=f"{SECRET}S{n}", delivery=31.07 + n,
                         free_over=901 + n, minimum_order=77 + n)]  # fmt: skip
        stock = [
            r | {"code": f"{SECRET}C-{r['code']}", "supplier": f"{SECRET}S{n}",
                 "price": 7.31 + n, "minimum_packs": n + 1} for r in STOCK
        ]  # fmt: skip
        work = [row("work_lines", mark=f"{SECRET}L", description="Laying", kind="labour",
                    way="hours per unit", figure=0.137 + n, rate=41.13 + n,
                    wired_to="DPC in outer leaf")]  # fmt: skip
        issued = [row("revisions", revision="A", date="then", basis="nhbc_2024",
                      document="Quotation", net=1, vat=0, total=1, digest=f"{SECRET}D{n}",
                      note=f"{SECRET}N{n}")]  # fmt: skip
        walls = [wall("W1", 20 + 9 * n), wall(f"W{n + 2}", 5 + n)]
        made = bare_job(walls=walls, suppliers=suppliers, book=stock, work_lines=work,
                        revisions=issued)  # fmt: skip
        made = with_particulars(
            made, job_notes=f"{SECRET}J{n}", profit_percent=33.7 + n, profit_on_delivery="yes",
            minimum_charge=13.7 + n, supplier_vat_percent=19.7 + n, profit_on_work="yes",
        )  # fmt: skip
        return replace(
            made,
            wastage={f"{SECRET}S{n}": {"dpc_roll": 17.3 + n}},
            wastage_applies={"dpm_sheet": n},
            line_suppliers={"inner_dpc": f"{SECRET}S{n}"} if n else {},
            own_notices={"completion": f"{SECRET}H{n}"},
        )

    old, new = job(0), job(1)
    whole = " ".join(for_client(old, new))
    assert "Wall run W1: length 29.00 m, was 20.00 m." in whole
    assert "Total with VAT" in whole
    hidden = [SECRET, "7.31", "8.31", "31.07", "32.07", "41.13", "42.13", "0.137", "1.137", "33.7",
              "34.7", "17.3", "18.3", "13.7", "14.7", "19.7", "20.7", "901", "902"]  # fmt: skip
    for marker in hidden:
        assert marker not in whole, marker
    told = " ".join(own(old, new))
    for marker in (f"{SECRET}S1", f"{SECRET}J1", f"{SECRET}H1", "8.31", "42.13", "34.7", "18.3"):
        assert marker in told, f"{marker}: the estimator must read of it, or this test sees nothing"
    assert f"{SECRET}N1" not in told, "a record is no change"


def test_braces_and_quotes_in_what_people_type_stay_as_they_are() -> None:
    old = walled(20)
    new = with_particulars(old, client_name="{was} O'Hara {0} {x.y}")
    assert sentences(old, new) == ["Client: {was} O'Hara {0} {x.y}, was Invented."]


@pytest.fixture
def two_files(tmp_path: Path) -> Sequence[str]:
    """The demo job, and the same with one window to the garden instead of two."""
    for part in DEMO_JOB.parent.iterdir():
        (tmp_path / part.name).write_bytes(part.read_bytes())
    text = DEMO_JOB.read_text("utf-8")
    assert "number = 2" in text
    (tmp_path / "old.toml").write_text(text.replace("number = 2", "number = 1", 1), "utf-8")
    return str(tmp_path / "old.toml"), str(tmp_path / DEMO_JOB.name)


def test_the_command(two_files: Sequence[str]) -> None:
    """The totals are those that each job prints by itself."""
    shown = CliRunner().invoke(main, ["changes", *two_files])
    assert shown.exit_code == 0
    assert "       Window O1 (Window to garden): number 2, was 1.\n" in shown.output
    assert "  own  Order with Quayside Stores (invented)" in shown.output
    client = CliRunner().invoke(main, ["changes", *two_files, "--client", "--detail", "stages"])
    assert "Window O1" in client.output
    assert "Quayside" not in client.output
    assert "rolls" not in client.output
    data = json.loads(CliRunner().invoke(main, ["changes", *two_files, "--json"]).output)
    total = next(c for c in data if c["about"] == ["sum", "quote_total"])
    assert (total["was"], total["now"], total["for_client"]) == (3535.33, 3709.97, True)


def test_the_command_says_when_nothing_changed(two_files: Sequence[str]) -> None:
    shown = CliRunner().invoke(main, ["changes", two_files[1], two_files[1]])
    assert shown.output == "Nothing changed.\n"


def test_the_command_refuses_in_one_sentence(tmp_path: Path) -> None:
    shown = CliRunner().invoke(main, ["changes", str(tmp_path / "none.toml"), "x.toml"])
    assert shown.exit_code == 2
    assert shown.stderr.count("\n") == 1
    assert "accepted: a file that exists" in shown.stderr


def test_an_edge_is_named_by_its_mark() -> None:
    """Its kind is no name for it."""
    old, new = (
        bare_job(zones=[zone("F1", 3, 2)], edges=[
            *turned_up("F1", 3, 2, 150)[1:], edge("E1", "F1", "A1", 3, kind=kind)
        ]) for kind in ("free", "partition")
    )  # fmt: skip
    assert "Edge E1: kind of edge partition, was free." in for_client(old, new, detail=STAGES)


def test_the_page_shows_what_the_command_prints(two_files: Sequence[str]) -> None:
    page = (Path(__file__).parent.parent / "docs" / "changes.md").read_text("utf-8")
    shown = page.split("```text\n")[1].split("```")[0]
    client = CliRunner().invoke(main, ["changes", *two_files, "--client", "--detail", "stages"])
    assert client.output.strip() == shown.strip()


def test_a_workbook_and_its_job_file_are_the_same_job(
    two_files: Sequence[str], tmp_path: Path
) -> None:
    """Whichever kind of file the job stands in: no difference, and one digest."""
    book = str(tmp_path / "job.xlsx")
    assert CliRunner().invoke(main, ["workbook", two_files[1], "--out", book]).exit_code == 0
    shown = CliRunner().invoke(main, ["changes", two_files[1], book])
    assert shown.stdout == "Nothing changed.\n"
    assert digest(given_job(Path(book)).job) == digest(given_job(Path(two_files[1])).job)
    shown = CliRunner().invoke(main, ["changes", two_files[0], book])
    assert "Window O1 (Window to garden): number 2, was 1." in shown.stdout


def test_lines_that_only_profit_has_made_dearer() -> None:
    """Rolls at £10: a markup of 50 % asks £15 for one. A run of 20 m needs one of each width, of 40 m
    two: then there are more rolls to see, and the line is not profit's alone.
    """
    old = walled(20)
    assert at_profit_of(old, walled(40)) is None
    new = with_particulars(old, profit_percent=50)
    at_old = at_profit_of(old, new)
    assert at_old == old
    dearer = [*dearer_by_profit(estimate(old), estimate(new), estimate(old))]
    assert dearer == [
        f"{AT_DPC}, DPC100: £15.00 (1 roll), was £10.00 (1 roll): £5.00 more.",
        f"{AT_DPC}, DPC112: £15.00 (1 roll), was £10.00 (1 roll): £5.00 more.",
    ]
    longer = with_particulars(walled(40), profit_percent=50)
    at_old = at_profit_of(old, longer)
    assert at_old is not None
    assert not [*dearer_by_profit(estimate(old), estimate(longer), estimate(at_old))]
    # The wider costs £12 now: dearer without any profit. The narrower would be cut from the wider.
    book = [{**r, "price": 12} if r["code"] == "DPC112" else r for r in STOCK]
    paid = replace(new, rows={**new.rows, "book": book})
    at_old = at_profit_of(old, paid)
    assert at_old is not None
    (only,) = dearer_by_profit(estimate(old), estimate(paid), estimate(at_old))
    assert "DPC100" in only


def test_the_first_figure_typed_into_a_row_of_the_form_is_a_change_of_that_figure() -> None:
    """The lean-to's wall and door are the form's: neither is new to the client when one is typed."""
    lean_to = read_job(DEMO_FORM)
    wall = {**lean_to.rows["walls"][0], "cavity_below": None}
    old = replace(lean_to, rows={**lean_to.rows, "walls": [wall], "openings": [{}, {}]})
    walls, openings = [{**wall, "cavity_below": 225}], [{"width": 1.8}, {}]
    new = replace(old, rows={**old.rows, "walls": walls, "openings": openings})
    typed = {
        "Wall run XW: clear cavity below DPC 225 mm, was not given.",
        "Opening XD: width 1.80 m, was 2.40 m.",
    }
    assert typed < set(for_client(old, new))
    assert {
        "Wall run XW: clear cavity below DPC not given, was 225 mm.",
        "Opening XD: width 2.40 m, was 1.80 m.",
    } < set(for_client(new, old))
    for found in (for_client(old, new), for_client(new, old)):
        assert not [s for s in found if "added" in s or "removed" in s]
