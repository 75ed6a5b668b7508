"""A cutting plan taken over: bought while it gives every piece, out of date when a length moves."""

import csv
import io
import random
import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger, is_available
from estimator.model.beginning import begun_from
from estimator.model.estimate import estimate
from estimator.model.job import Job, blank_job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_and_estimated
from estimator.model.locations import InJobFile
from estimator.model.reports import against
from estimator.revisions.changes import changes as changes_between
from estimator.revisions.changes.change import State
from estimator.sourcing.cutting_stock import Roll
from estimator.sourcing.plan_taken import plan_taken, with_plan
from estimator.workbook.reading.inputs import read_back

from .conftest import LONG
from .made import SMALL_ROOM, laid_out
from .random_buying import planned_rows
from .random_jobs import random_job
from .small_jobs import STOCK, bare_job, product, row
from .test_cut import cheapest_by_hand, trays

DAY = 46_082.0  # 1 March 2026
STALE = "Cutting plans that give too few pieces now"


def five_trays(*plan: dict[str, Any], lintel: float = 2.1, **of_t5: Any) -> Job:
    """Five trays of 2.4 m, one piece each, from rolls of 5 m at £8 or of 10 m at £15."""
    wall = row("walls", mark="W1", run="open", length=20, measured_on="outside face",
               external_corners=0, internal_corners=0, ends_at_existing=0,
               outer_leaf=100, cavity=100, inner_leaf=100)  # fmt: skip
    book = [r for r in STOCK if r["material"] != "tray_roll"] + [
        product("T5", "tray_roll", 8, width=450, length=5, **of_t5),
        product("T10", "tray_roll", 15, width=450, length=10),
    ]
    job = bare_job(
        walls=[wall], openings=trays(lintel, *[2.1] * 4), book=book, planned_cuts=list(plan)
    )
    return replace(job, particulars={**job.particulars, "tray_joints": "one piece"})


def cut_of(
    n: int, code: str, length: float, pieces: int, rolls: int = 1, roll: int = 0
) -> dict[str, Any]:
    return row("planned_cuts", mark=f"P{n}", roll_no=roll or n, code=code, rolls=rolls,
               length=length, pieces=pieces, dated=DAY)  # fmt: skip


MIXED = (cut_of(1, "T10", 2.4, 4), cut_of(2, "T5", 2.4, 1))


def of(ledger: Ledger, column: str) -> list[Any]:
    """A column of the two rolls of tray: 5 m, 10 m."""
    codes = ledger.column("book", "code")
    return [ledger.figure("book", codes.index(c) + 1, column) for c in ("T5", "T10")]


def test_a_plan_that_holds_is_bought() -> None:
    """Two of 2.4 m from 5 m: three rolls of 5 m, £24. Four from 10 m and one from 5 m: 15 + 8 = £23, and
    with VAT 1.20 less. Laid are 5 × 2.4 = 12 m: 9.6 m of them from the long roll, 2.4 m from the short."""
    without, planned = estimate(five_trays()), estimate(five_trays(*MIXED))
    assert (of(without, "packs"), of(without, "cost")) == ([3, 0], [24, 0])
    assert (of(planned, "packs"), of(planned, "cost")) == ([1, 1], [8, 15])
    assert without.cell("quote_total") - planned.cell("quote_total") == pytest.approx(1.20)
    assert of(planned, "laid") == pytest.approx([2.4, 9.6])
    assert of(planned, "left") == pytest.approx([2.6, 0.4])
    assert of(planned, "packs_needed") == [3, 0]  # as the sheet counts still
    assert planned.column("planned_cuts", "plan_note") == ["in use", "in use"]
    lines = range(1, len(planned.column("order_lines", "code")) + 1)
    said = {planned.figure("order_lines", n, "code"): planned.figure("order_lines", n, "counted_how")
            for n in lines}  # fmt: skip
    assert said["T5"] == said["T10"] == "by the cutting plan"
    stages = of(planned, "stage_no")
    assert stages[0] == stages[1] == of(without, "stage_no")[0]
    assert planned.figure("cuts", 1, "cut_by") == "cut by the plan on Prices"
    assert planned.cell("bars_product") == 0  # what is cut otherwise is not drawn
    assert without.cell("bars_product") > 0


def test_the_optimum_is_taken() -> None:
    job = five_trays()
    found = plan_taken(job, estimate(job), DAY)
    assert [{**cut_of(1, "", 0, 0), **r} for r in found.rows] == list(MIXED)
    assert estimate(with_plan(job, found.rows)).cell("cost_total") == estimate(
        five_trays(*MIXED)
    ).cell("cost_total")


@pytest.mark.parametrize(
    ("plan", "note"),
    [
        ((cut_of(1, "T10", 2.4, 4),), "out of date: it gives too few pieces"),
        ((cut_of(1, "T10", 2.4, 4), cut_of(2, "T5", 2.3, 1)), "out of date: it gives too few pieces"),
        ((cut_of(1, "T5", 2.4, 3), cut_of(2, "T5", 2.4, 2)), "more than the roll is long"),
        ((cut_of(1, "T10", 2.4, 4), cut_of(2, "T5", 2.4, 1, 2, 1)),
         "one roll names two products or numbers of rolls"),
    ],
)  # fmt: skip
def test_a_plan_too_small_is_refused_and_the_sheet_counts_again(
    plan: tuple[dict[str, Any], ...], note: str
) -> None:
    ledger = estimate(five_trays(*plan), SMALL_ROOM)
    assert of(ledger, "packs") == [3, 0]
    assert ledger.column("planned_cuts", "plan_note")[0] == note
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert against(ledger) == [{"what": STALE, "count": 1}]
    built, _ = laid_out(ledger, SMALL_ROOM)
    assert note in built.results["Prices"].values()
    assert f"{STALE}: 1 to fix" in built.results["Start"].values()


def test_a_length_that_moves() -> None:
    """A tray of 2.41 m is longer than each of the plan: out of date. One of 2.3 m is given by 2.4 m, and
    more is bought than is needed."""
    longer, shorter = (estimate(five_trays(*MIXED, lintel=n)) for n in (2.11, 2.0))
    assert longer.cell("plans_stale") == 1
    assert longer.cell("quote_total") is NOT_AVAILABLE
    assert of(longer, "packs") == [3, 0]
    assert shorter.cell("plans_stale") == 0
    assert of(shorter, "packs") == [1, 1]
    assert set(shorter.column("planned_cuts", "plan_note")) == {"in use: more than is needed now"}


def test_a_plan_for_what_the_job_does_not_cut_is_not_bought() -> None:
    job = five_trays(*MIXED)
    job = replace(job, particulars={**job.particulars, "tray_joints": "joined"})
    ledger = estimate(job)
    assert (
        ledger.column("planned_cuts", "plan_note")
        == ["not used: the job cuts nothing of this kind"] * 2
    )
    assert ledger.cell("plans_stale") == 0
    assert ledger.cell("quote_total") is not NOT_AVAILABLE


def test_own_packs_are_held_against_the_plan() -> None:
    """Of 5 m rolls two are too few for the sheet, which needs three; by the plan one is enough."""
    assert estimate(five_trays(own_packs=2)).cell("own_packs_short") == 1
    planned = estimate(five_trays(*MIXED, own_packs=2))
    assert planned.cell("own_packs_short") == 0
    assert of(planned, "packs") == [2, 1]


def test_fewest_packs_that_eat_the_saving_are_not_taken() -> None:
    """Sold by three: 3 × 8 + 15 is more than the 24 of the sheet."""
    job = five_trays(minimum_packs=3)
    found = plan_taken(job, estimate(job), DAY)
    assert (found.rows, found.taken, len(found.idle)) == ([], [], 1)


def test_the_client_does_not_read_of_it_and_the_next_job_begins_without() -> None:
    one, other = (State(j, estimate(j)) for j in (five_trays(), five_trays(*MIXED)))
    told = [c for c in changes_between(one, other) if "plan" in c.sentence]
    assert len(told) == 2
    assert not any(c.for_client for c in told)
    assert not begun_from(blank_job("nhbc_2024"), five_trays(*MIXED)).rows["planned_cuts"]


# ---- any job: laid out by hand, and by every way of cutting ----------------------------------------------


def small_job(rng: random.Random) -> Job:
    """One-piece trays of up to three lengths, from two or three sizes of roll."""
    job = five_trays()
    lintels = [rng.choice((1.2, 1.8, 2.45)) for _ in range(rng.randint(1, 5))]
    sizes = rng.sample((5.0, 6.0, 8.0, 10.0), rng.randint(2, 3))
    book = [r for r in STOCK if r["material"] != "tray_roll"] + [
        product(f"T{n}", "tray_roll", rng.randint(600, 2000) / 100, width=450, length=length)
        for n, length in enumerate(sizes)
    ]
    return replace(job, rows={**job.rows, "openings": trays(*lintels), "book": book})


@pytest.mark.parametrize("seed", range(200 if LONG else 12))
def test_with_the_plan_taken_whole_pieces_cost_the_least_and_none_is_short(seed: int) -> None:
    """The least by trying every way of cutting; the pieces by the openings, lintel and 150 mm each end;
    each row of the plan measured on its roll."""
    job = small_job(random.Random(f"plan {seed}"))
    found = plan_taken(job, estimate(job), DAY)
    done = with_plan(job, found.rows)
    check_job(done, InJobFile("a job"))
    ledger = estimate(done)
    pieces = Counter(round(o["lintel"] * 1000) + 300 for o in job.rows["openings"])
    sizes = {p["code"]: p for p in job.rows["book"] if p["material"] == "tray_roll"}
    rolls = [Roll(c, round(p["length"] * 1000), round(p["price"] * 100)) for c, p in sizes.items()]
    codes = ledger.column("book", "code")
    bought = {c: ledger.figure("book", codes.index(c) + 1, "packs") for c in sizes}
    paid = sum(n * round(sizes[c]["price"] * 100) for c, n in bought.items())
    assert paid == cheapest_by_hand(dict(pieces), rolls)
    assert ledger.cell("quote_total") is not NOT_AVAILABLE
    if not found.rows:
        return
    by_roll: dict[int, list[dict[str, Any]]] = {}
    for cut in found.rows:
        by_roll.setdefault(cut["roll_no"], []).append(cut)
    given: Counter[int] = Counter()
    ordered: Counter[str] = Counter()
    for cuts in by_roll.values():
        (code, times) = {(c["code"], c["rolls"]) for c in cuts}.pop()
        ordered[code] += times
        assert sum(c["length"] * c["pieces"] for c in cuts) <= sizes[code]["length"] + 1e-6
        for c in cuts:
            given[round(c["length"] * 1000)] += c["pieces"] * times
    assert given == pieces
    assert ordered == Counter({c: n for c, n in bought.items() if n})


@pytest.mark.parametrize("seed", range(60 if LONG else 6))
def test_one_piece_taken_away_or_one_length_less_and_it_holds_no_longer(seed: int) -> None:
    rng = random.Random(f"less {seed}")
    job = small_job(rng)
    rows = planned_rows(rng, job)
    assert estimate(with_plan(job, rows)).cell("plans_stale") == 0
    n = rng.randrange(len(rows))
    less = {"pieces": rows[n]["pieces"] - 1} if rows[n]["pieces"] > 1 else {
        "length": rows[n]["length"] - 0.01}  # fmt: skip
    fewer = [{**r, **less} if r is rows[n] else r for r in rows]
    assert estimate(with_plan(job, fewer)).cell("plans_stale") == 1


# ---- the command ------------------------------------------------------------------------------------------


def run(*given: str | Path) -> Result:
    done = CliRunner().invoke(main, ["cut", *map(str, given)])
    assert done.exit_code == 0, done.output
    return done


def demo_with_short_rolls(folder: Path) -> Path:
    """The demo, and sheet 4 m wide in rolls of 10.5 m at £45 and 8 m at £34 too.

    Its strips: three of 5.17 m, one of 2.565 m. Two of 5.17 from 10.5 m, 5.17 + 2.565 from 8 m: £79. The
    sheet takes one roll of 25 m, £94.95.
    """
    folder.mkdir()
    for name in DEMO_JOB.parent.glob("*"):
        if name.suffix in (".toml", ".csv"):
            shutil.copy(name, folder)
    prices = folder / "garden_room_prices.csv"
    lines = list(csv.DictReader(io.StringIO(prices.read_text("utf-8"))))
    sheet = next(x for x in lines if x["code"] == "F-03")
    lines += [{**sheet, "code": f"F-03{n}", "length_m": n, "price": p}
              for n, p in (("10.5", "45"), ("8", "34"))]  # fmt: skip
    with prices.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(sheet))
        writer.writeheader()
        writer.writerows(lines)
    return folder / DEMO_JOB.name


def test_a_job_file_takes_the_plan_and_is_as_it_was_after_undo(tmp_path: Path) -> None:
    job = demo_with_short_rolls(tmp_path / "demo")
    before = job.read_bytes()
    run(job)
    assert job.read_bytes() == before  # without either option nothing is changed
    total = read_and_estimated(job)[1].cell("cost_total")
    assert "the plan is taken over" in run(job, "--take").output
    read, ledger = read_and_estimated(job)
    assert [(r["code"], r["length"], r["pieces"]) for r in read.rows["planned_cuts"]] == [
        ("F-0310.5", 5.17, 2), ("F-038", 5.17, 1), ("F-038", 2.565, 1)]  # fmt: skip
    assert total - ledger.cell("cost_total") == pytest.approx(15.95)
    assert "2 rolls by its cutting plan, £79.00" in run(job).output
    taken = job.read_bytes()
    assert "nothing was written" in run(job, "--take").output
    assert job.read_bytes() == taken
    run(job, "--undo")
    assert job.read_bytes() == before
    assert "nothing was written" in run(job, "--undo").output


def test_a_workbook_takes_the_plan_and_gives_it_back(tmp_path: Path) -> None:
    job = demo_with_short_rolls(tmp_path / "demo")
    book = tmp_path / "demo.xlsx"
    assert CliRunner().invoke(main, ["workbook", str(job), "--out", str(book)]).exit_code == 0
    total = read_back(book).figures().cell("quote_total")
    run(book, "--take")
    taken = read_back(book)
    assert len(taken.job.rows["planned_cuts"]) == 3
    assert taken.figures().cell("quote_total") < total
    run(book, "--undo")
    back = read_back(book)
    assert not back.job.rows["planned_cuts"]
    assert back.figures().cell("quote_total") == total


def test_sheet_that_others_lay_is_not_bought_by_a_plan_taken_before(tmp_path: Path) -> None:
    """Its strips are then cut from no roll of ours: not by the plan, and not by the list of cuts."""
    job = demo_with_short_rolls(tmp_path / "demo")
    run(job, "--take")
    read, _ = read_and_estimated(job)
    for status in ("by others", "excluded"):
        not_ours = replace(read, line_status={**read.line_status, "dpm": status})
        ledger = estimate(not_ours)
        sheet = [n for n, m in enumerate(ledger.column("book", "material")) if m == "dpm_sheet"]
        assert {ledger.column("book", "packs")[n] for n in sheet} == {0}
        notes = ledger.column("planned_cuts", "plan_note")
        assert set(notes) == {"not used: the job cuts nothing of this kind"}
        without = estimate(with_plan(not_ours, []))
        assert ledger.cell("quote_total") == without.cell("quote_total")
        assert not {"F-03", "F-0310.5", "F-038"} & set(ledger.column("cuts", "mark"))


def test_nothing_is_ordered_that_no_line_buys() -> None:
    """In random jobs, some of them with plans and with lines that others do."""
    ordered = 0
    for seed in range(200 if LONG else 40):
        ledger = estimate(random_job(seed))
        bought: Counter[float] = Counter()
        for demand in range(1, len(ledger.rows["demands"]) + 1):
            pick, wanted = (ledger.figure("demands", demand, c) for c in ("pick", "wanted"))
            if is_available(pick) and is_available(wanted) and pick:
                bought[ledger.figure("book", int(pick), "kind_row")] += wanted
        for at in range(1, len(ledger.rows["book"]) + 1):
            packs = ledger.figure("book", at, "packs")
            if is_available(packs) and packs:
                ordered += 1
                assert bought[ledger.figure("book", at, "kind_row")] > 0, (seed, at)
    assert ordered > 300


def test_take_and_undo_together_are_refused() -> None:
    done = CliRunner().invoke(main, ["cut", str(DEMO_JOB), "--take", "--undo"])
    assert done.exit_code == 2
    assert "one of the two" in done.output
