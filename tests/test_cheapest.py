"""The cheapest mix: as cheap as every mix tried one by one, ordered by the terms, taken, undone."""

import itertools
import json
import random
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from estimator.buying.lines import LINES
from estimator.cli.main import main
from estimator.errors import JobError
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.model.job_lines import with_line_suppliers
from estimator.model.reports import cost_of_all
from estimator.sourcing.mix import cheapest_mix
from estimator.sourcing.program import Option, Terms, cheapest
from estimator.workbook.reading.inputs import read_back

from .conftest import in_turn
from .made import made

SHARING = (("outer_dpc", "inner_dpc", "tie_dpc"), ("dpm", "lap_tape", "bond_tape"),
           ("trays", "roof_trays", "hardcore"), ("closers", "sill_closers", "stop_ends"),
           ("dpm", "over_tape", "seal_tape"))  # fmt: skip


def with_prices(seed: int) -> Job:
    """The demo with three of its lines, prices and terms drawn anew."""
    r = random.Random(seed)
    job = read_job(DEMO_JOB)
    kept = SHARING[(seed + seed // 15) % len(SHARING)]
    book = [{**b, "price": round(b["price"] * r.uniform(0.4, 1.8), 2)} for b in job.rows["book"]]
    terms = [
        {**s, "delivery": r.choice([0, 18, 45.5]), "free_over": r.choice([None, 60, 150, 300]),
         "minimum_order": r.choice([None, 30, 90])}
        for s in job.rows["suppliers"]
    ]  # fmt: skip
    status = {line.key: "firm" if line.key in kept else "excluded" for line in LINES}
    return replace(
        job, rows={**job.rows, "book": book, "suppliers": terms}, line_status=status,
        line_suppliers={},
    )  # fmt: skip


def every_mix(job: Job) -> Iterator[tuple[float, int]]:
    """What each assignment of the lines costs that can be ordered, and how many suppliers it has."""
    kept = [line for line, status in job.line_status.items() if status == "firm"]
    names = [s["name"] for s in job.rows["suppliers"]]
    for chosen in itertools.product(names, repeat=len(kept)):
        ledger = estimate(replace(job, line_suppliers=dict(zip(kept, chosen, strict=True))))
        cost = cost_of_all(ledger)
        if cost is not None and ledger.cell("orders_below") == 0:
            ordered = sum(g > 0 for g in ledger.column("suppliers", "goods"))
            yield cost, ordered


@pytest.mark.parametrize("seed", in_turn(range(30), 15))
def test_as_cheap_as_every_mix_tried(seed: int) -> None:
    job = with_prices(seed)
    tried = list(every_mix(job))
    for most in (1, 2, 3):
        least = min((cost for cost, ordered in tried if ordered <= most), default=None)
        mix = cheapest_mix(job, most)
        if least is None:
            assert mix is None
            continue
        assert mix is not None
        assert mix.proven
        assert mix.total == least
        again = estimate(replace(job, line_suppliers=mix.suppliers))
        assert again.cell("cost_total") == mix.total


def test_one_supplier_is_its_own_mix_and_what_nobody_stocks_has_none() -> None:
    job = with_prices(0)
    first = job.rows["suppliers"][0]["name"]
    terms = [{**job.rows["suppliers"][0], "minimum_order": None}]
    book = [b for b in job.rows["book"] if b["supplier"] == first]
    alone = replace(job, rows={**job.rows, "suppliers": terms, "book": book})
    mix = cheapest_mix(alone)
    assert mix is not None
    assert (mix.total, mix.proven, mix.moves) == (mix.stands, True, {})
    without = [b for b in book if b["material"] != "dpc_roll"]
    assert cheapest_mix(replace(alone, rows={**alone.rows, "book": without})) is None


def option(group: int, supplier: str, pence: int) -> Option:
    return Option(group, supplier, frozenset({f"line {group}"}), pence)


@pytest.mark.parametrize(
    ("a", "b", "most", "total"),
    [
        # A: 60 + 50, B: 58 + 55. No terms: 58 + 50.
        (Terms(0), Terms(0), 2, 10800),
        # A delivers for 5, B for 5: two drops 118, A alone 115, B alone 118.
        (Terms(500), Terms(500), 2, 11500),
        # B free from 113 up: B alone 113, which its goods just reach.
        (Terms(500), Terms(500, 11300), 2, 11300),
        # a penny higher, it is 118 again, and A alone 115 is least.
        (Terms(500), Terms(500, 11301), 2, 11500),
        # B takes no order below 58.01: not 58 + 50 = 108; A alone 110; 60 + 55 is below it too.
        (Terms(0), Terms(0, None, 5801), 2, 11000),
        # just met.
        (Terms(0), Terms(0, None, 5800), 2, 10800),
        # one supplier at the most: A 110, B 113.
        (Terms(0), Terms(0), 1, 11000),
        # nobody's minimum is met.
        (Terms(0, None, 11001), Terms(0, None, 11301), 2, None),
    ],
)  # fmt: skip
def test_terms_worked_by_hand(a: Terms, b: Terms, most: int, total: int | None) -> None:
    options = [option(1, "A", 6000), option(1, "B", 5800),
               option(2, "A", 5000), option(2, "B", 5500)]  # fmt: skip
    found = cheapest(options, {"A": a, "B": b}, most)
    assert (found and found.pence) == total
    assert found is None or found.proven


def test_among_equals_the_fewest_lines_move() -> None:
    options = [replace(option(1, "A", 500), moves=1), option(1, "B", 500)]
    found = cheapest(options, {"A": Terms(0), "B": Terms(0)}, 2)
    assert found is not None
    assert [o.supplier for o in found.options] == ["B"]


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(w) for w in words])


def test_taken_over_and_undone_in_a_job_file(tmp_path: Path) -> None:
    shutil.copytree(DEMO_FORM.parent, tmp_path, dirs_exist_ok=True)
    path = tmp_path / DEMO_FORM.name
    was = path.read_bytes()
    done = run("cheapest", path, "--take", "--json")
    assert done.exit_code == 0, done.output
    found = json.loads(done.stdout)
    assert found["proven"]
    job = read_job(path)
    assert estimate(job).cell("cost_total") == found["mix"] < found["stands"]
    assert job.line_suppliers == {m["line"]: m["to"] for m in found["moves"]}
    note = tmp_path / f"{path.name} bought before.json"
    assert note.exists()
    assert run("cheapest", path, "--undo").exit_code == 0
    assert path.read_bytes() == was
    assert not note.exists()
    again = run("cheapest", path, "--undo")
    assert again.exit_code == 2
    assert "there is nothing to undo" in again.output


def test_a_line_changed_since_is_left(tmp_path: Path) -> None:
    shutil.copytree(DEMO_FORM.parent, tmp_path, dirs_exist_ok=True)
    path = tmp_path / DEMO_FORM.name
    assert run("cheapest", path, "--take").exit_code == 0
    own = "Fernbank Supplies (invented)"
    text = with_line_suppliers(path.read_text("utf-8"), path.name, {"hardcore": own})
    path.write_text(text, "utf-8")
    done = run("cheapest", path, "--undo")
    assert "Hardcore under floors: changed since, and left as it is." in done.output
    assert read_job(path).line_suppliers == {"hardcore": own}


def test_taken_over_and_undone_in_a_workbook(tmp_path: Path) -> None:
    path = made("form").written(tmp_path)
    before = read_back(path).job.line_suppliers
    done = run("cheapest", path, "--take", "--json")
    assert done.exit_code == 0, done.output
    found = json.loads(done.stdout)
    returned = read_back(path)
    assert estimate(returned.job).cell("cost_total") == found["mix"] < found["stands"]
    assert returned.named("cost_total").value == found["mix"]  # the result stored in the sheet
    assert run("cheapest", path, "--undo").exit_code == 0
    assert read_back(path).job.line_suppliers == before


@pytest.mark.parametrize(
    ("text", "suppliers", "wanted"),
    [
        ('a = 1\n', {"dpm": "B"}, 'a = 1\n\n[lines]\ndpm = "B"\n'),
        ('[lines]\ndpm = "A" # ours\n\n[x]\n', {"dpm": "B"}, '[lines]\ndpm = "B" # ours\n\n[x]\n'),
        ('[lines]\ndpm = "A"\n\n[x]\n', {"trays": "B"},
         '[lines]\ndpm = "A"\ntrays = "B"\n\n[x]\n'),
        ('[lines]\n# ours\ndpm = "A"\ntrays = "B"\n', {"dpm": None},
         '[lines]\n# ours\ntrays = "B"\n'),
        ("[lines]\r\nDPM = 'A'\r\n", {"dpm": 'say "B"'}, '[lines]\r\nDPM = "say \\"B\\""\r\n'),
    ],
)  # fmt: skip
def test_lines_are_changed_where_they_stand(
    text: str, suppliers: dict[str, str | None], wanted: str
) -> None:
    assert with_line_suppliers(text, "job.toml", suppliers) == wanted


@pytest.mark.parametrize("text", ['lines = { dpm = "A" }\n', 'lines.dpm = "A"\n'])
def test_lines_written_in_another_way_are_refused(text: str) -> None:
    with pytest.raises(JobError, match="one entry to a line"):
        with_line_suppliers(text, "job.toml", {"dpm": "B"})
