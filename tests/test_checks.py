"""Detail checks: every state of every kind shown; a check changes no quantity and claims nothing."""

import json
import re
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.checks import CHECKS, DESIGNERS, MEETS, NOT_APPLICABLE, NOT_GIVEN, SHORT
from estimator.cli.main import main
from estimator.cli.manners import given_and_asked
from estimator.files.resources import DEMO_JOB
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job

from .small_jobs import STOCK, bare_job, edge, opening, product, row, wall, zone
from .test_floors import BEAMS, NEW, OLD, SCREED, TIMBER, floor

HERE = Path(__file__).parent
ROOT = HERE.parent


def job_of(
    *,
    walls: dict[str, Any] | None = None,
    zones: dict[str, Any] | None = None,
    kind: str = "window",
    stock: Any = STOCK,
    turn_up: float | None = None,
    dpc_level: float = -0.15,
    **particulars: Any,
) -> Job:
    """One zone, one wall, one opening, with what a test is about put in."""
    new = {"kind": "new wall", "dpc_level": dpc_level, "typed_turn_up": turn_up}
    edges = [edge(f"E{s}", "Z1", s, 3, **new) for s in ("A1", "A2", "B1", "B2")]
    given = {"dpc_height": 150, "cavity_below": 225, **(walls or {})}
    job = bare_job(
        zones=[zone("Z1", 3, 3, **(zones or {}))],
        edges=edges,
        walls=[wall("W1", 5, **given)],
        openings=[opening("O1", "W1", kind=kind)],
        book=stock,
    )
    return replace(job, particulars={**job.particulars, **particulars})


def of_tray(made_of: str | None) -> list[dict[str, Any]]:
    tray = product("T", "tray_roll", width=450, length=20, made_of=made_of)
    return [*(p for p in STOCK if p["material"] != "tray_roll"), tray]


def of_sheet(thickness: float | None) -> list[dict[str, Any]]:
    sheet = product("S", "dpm_sheet", width=4000, length=25, thickness=thickness)
    return [*(p for p in STOCK if p["material"] != "dpm_sheet"), sheet]


def overridden(job: Job, **figures: float) -> Job:
    return replace(job, override=figures)


def air_brick(**particulars: Any) -> Job:
    brick = opening("O1", "W1", kind="air brick", width=0.225, height=0.075, lintel=None)
    job = bare_job(walls=[wall("W1", 5)], openings=[brick])
    return replace(job, particulars={**job.particulars, **particulars})


def carried() -> Job:
    vent = row("old_vents", mark="V1", wall="W1", number=1, projection=3, old_leaf=102.5,
               size=110, stock=3)  # fmt: skip
    return bare_job(walls=[wall("W1", 5)], old_vents=[vent])


def test_weeps_that_cannot_be_built_are_no_count() -> None:
    """0.225 + 2 × 0.025 = 0.275 m of tray holds one weep of the two asked: it takes 0.225 each."""
    ledger = estimate(overridden(air_brick(), tray_past_opening=0))
    assert ledger.figure("openings", 1, "weeps_asked") == 2
    assert ledger.figure("openings", 1, "weeps") == 1
    assert ledger.cell("quote_total") > 0


def short_lintel() -> Job:
    opened = opening("O1", "W1", lintel=1.8)  # over 1.81 m
    return bare_job(walls=[wall("W1", 5)], openings=[opened])


SOLID = {"cavity": 0, "inner_leaf": 0, "cavity_below": None}
ONE_SIDE = {"A1": NEW, "A2": OLD, "B1": OLD, "B2": OLD}
SPEC = {"basis_choice": "project_specification_2014"}
ADC = {"basis_choice": "england_adc_2013"}

TRAY_EXCLUDED = replace(
    job_of(walls={"cavity_below": 150, "base_tray": "yes"}),
    line_status={"base_trays": "excluded"},
)

# check, state, job: each state a check can be in.
STATES: list[tuple[str, str, Job]] = [
    ("dpc_height", MEETS, job_of()),
    ("dpc_height", SHORT, job_of(walls={"dpc_height": 149})),
    ("dpc_height", NOT_GIVEN, job_of(walls={"dpc_height": None})),
    ("dpc_height", DESIGNERS, job_of(**SPEC)),
    ("dpc_height", NOT_APPLICABLE, bare_job(zones=[])),
    ("dpm_thickness", MEETS, job_of(stock=of_sheet(300))),
    ("dpm_thickness", SHORT, job_of(stock=of_sheet(250))),
    ("dpm_thickness", NOT_GIVEN, job_of(stock=of_sheet(None))),
    ("dpm_thickness", DESIGNERS, job_of(stock=of_sheet(300), **SPEC)),
    ("dpm_thickness", NOT_APPLICABLE, bare_job()),
    ("dpm_lap", MEETS, job_of()),
    ("dpm_lap", SHORT, overridden(job_of(), dpm_lap=299)),
    ("dpm_lap", DESIGNERS, job_of(**ADC)),
    ("dpm_lap", NOT_APPLICABLE, bare_job()),
    ("dpc_lap", MEETS, job_of()),
    ("dpc_lap", SHORT, overridden(job_of(), dpc_lap=90)),
    ("dpc_lap", DESIGNERS, job_of(**ADC)),
    ("connection", MEETS, job_of()),
    ("connection", SHORT, job_of(turn_up=0)),
    ("connection", NOT_APPLICABLE, bare_job()),
    ("levels", MEETS, job_of()),
    ("levels", SHORT, job_of(dpc_level=-0.5)),
    ("cavity_below", MEETS, job_of()),
    ("cavity_below", SHORT, job_of(walls={"cavity_below": 150})),
    ("cavity_below", NOT_GIVEN, job_of(walls={"cavity_below": None})),
    ("cavity_below", NOT_APPLICABLE, job_of(walls=SOLID)),
    # One or the other: 225 of clear cavity, or a tray at DPC level.
    ("cavity_below", MEETS, job_of(walls={"cavity_below": 150, "base_tray": "yes"})),
    ("cavity_below", MEETS, job_of(walls={"cavity_below": None, "base_tray": "yes"})),
    ("cavity_below", SHORT, TRAY_EXCLUDED),
    ("tray_rise", MEETS, job_of()),
    ("tray_rise", SHORT, overridden(job_of(), tray_rise=139)),
    ("tray_rise", DESIGNERS, job_of(**ADC)),
    ("tray_rise", NOT_APPLICABLE, job_of(walls=SOLID)),
    ("past_closer", MEETS, job_of()),
    ("past_closer", SHORT, overridden(job_of(), tray_past_closer=20)),
    ("past_lintel", MEETS, job_of(**SPEC)),
    ("past_lintel", SHORT, overridden(job_of(**SPEC), tray_past_lintel=100)),
    ("past_lintel", MEETS, overridden(job_of())),
    ("past_opening", NOT_APPLICABLE, job_of(**SPEC)),
    ("past_opening", MEETS, air_brick(**SPEC)),
    ("past_opening", SHORT, overridden(air_brick(**SPEC), tray_past_opening=100)),
    ("past_opening", DESIGNERS, air_brick()),
    # 0.225 + 2 x 0.150 = 0.525 holds two weeps, which take 0.450; 0.225 + 2 x 0.025 = 0.275 one.
    ("weep_room", MEETS, air_brick()),
    ("weep_room", SHORT, overridden(air_brick(), tray_past_opening=0)),
    ("weep_room", NOT_APPLICABLE, bare_job()),
    # The same carried through from the house: 0.215 + 0.300 = 0.515; 0.215 + 0.050 = 0.265.
    ("vent_weep_room", MEETS, carried()),
    ("vent_weep_room", SHORT, overridden(carried(), tray_past_opening=0)),
    ("vent_weep_room", NOT_APPLICABLE, job_of()),
    ("tray_over", MEETS, job_of()),
    ("tray_over", SHORT, job_of(walls=SOLID)),
    ("tray_over", NOT_APPLICABLE, bare_job()),
    ("tray_material", MEETS, job_of(stock=of_tray("polymer"))),
    ("tray_material", SHORT, job_of(stock=of_tray("polyethylene"))),
    ("tray_material", NOT_GIVEN, job_of(stock=of_tray(None))),
    ("tray_material", NOT_APPLICABLE, bare_job()),
    ("stop_ends", MEETS, job_of()),
    ("stop_ends", SHORT, replace(job_of(), line_status={"stop_ends": "excluded"})),
    ("weep_spacing", MEETS, job_of()),
    ("weep_spacing", SHORT, overridden(job_of(), weep_spacing=900)),
    ("weeps_min", MEETS, job_of()),
    ("weeps_min", SHORT, overridden(job_of(kind="air brick"), weeps_min=1, weep_from_end=1400)),
    ("blinding", MEETS, job_of()),
    ("blinding", SHORT, overridden(job_of(), blinding_thickness=0)),
    ("blinding", NOT_APPLICABLE, bare_job()),
    ("hardcore_depth", MEETS, job_of()),
    ("hardcore_depth", SHORT, job_of(zones={"formation_level": -1.2})),
    ("hardcore_depth", DESIGNERS, job_of(**SPEC)),
    ("connection", SHORT, job_of(turn_up=1)),
    ("tray_over", SHORT, replace(job_of(), line_status={"trays": "excluded"})),
    ("weeps_min", SHORT, replace(job_of(), line_status={"inserts": "excluded"})),
    # What this job has none of may be excluded: weeps are inserts, and no roof meets a wall.
    ("weeps_min", MEETS, replace(job_of(), line_status={"vents": "excluded"})),
    ("stop_ends", MEETS, replace(job_of(), line_status={"roof_stop_ends": "excluded"})),
    ("weeps_min", NOT_APPLICABLE, job_of(walls=SOLID)),
    ("dpm_thickness", NOT_APPLICABLE, replace(job_of(), line_status={"dpm": "excluded"})),
    ("hardcore_depth", NOT_APPLICABLE, bare_job()),
    ("hardcore_layers", MEETS, job_of()),
    ("hardcore_layers", SHORT, overridden(job_of(), hardcore_layer_max=250)),
    ("slab", MEETS, job_of(**ADC)),
    ("slab", SHORT, job_of(zones={"slab": 90}, **ADC)),
    ("slab", DESIGNERS, job_of()),
    ("lintels", MEETS, job_of()),
    ("lintels", SHORT, short_lintel()),
    ("lintels", NOT_APPLICABLE, bare_job()),
    ("blinding", NOT_APPLICABLE, floor(SCREED)),
    ("void", MEETS, floor(TIMBER, void=150)),
    ("void", SHORT, floor(TIMBER, void=149)),
    ("void", NOT_APPLICABLE, job_of()),
    ("void_to_plate", MEETS, floor(TIMBER, void=150, plate=75)),
    ("void_to_plate", SHORT, floor(TIMBER, void=150, plate=76)),
    ("void_to_plate", NOT_GIVEN, floor(TIMBER, void=150)),
    ("void_to_plate", NOT_APPLICABLE, floor(BEAMS)),
    ("cross_ventilation", MEETS, floor(BEAMS)),
    ("cross_ventilation", SHORT, floor(BEAMS, sides=ONE_SIDE)),
    ("cross_ventilation", NOT_APPLICABLE, job_of()),
    ("radon", MEETS, job_of(radon_area="no")),
    ("gas", NOT_APPLICABLE, job_of(radon_area="no")),
    ("gas", DESIGNERS, job_of(radon_area="yes")),
    ("radon", NOT_GIVEN, job_of(radon_area="unknown")),
]


@pytest.mark.parametrize(("check", "state", "job"), STATES, ids=[f"{c} {s}" for c, s, _ in STATES])
def test_state(check: str, state: str, job: Job) -> None:
    rows = {r["check"]: r for r in reports.checks(estimate(job))}
    assert rows[check]["state"] == state


def test_a_tray_at_dpc_level_is_said_to_meet_the_cavity_below() -> None:
    """Two runs with 150 of clear cavity, one with a tray: the other alone is short, and named."""
    runs = [wall("W1", 5, cavity_below=150, base_tray="yes"), wall("W2", 5, cavity_below=150)]
    rows = {r["check"]: r for r in reports.checks(estimate(bare_job(walls=runs)))}
    assert rows["cavity_below"]["state"] == SHORT
    assert rows["cavity_below"]["rows"] == ["W2"]
    runs[1]["base_tray"] = "yes"
    rows = {r["check"]: r for r in reports.checks(estimate(bare_job(walls=runs)))}
    assert rows["cavity_below"]["state"] == MEETS
    assert "a tray at DPC level instead" in rows["cavity_below"]["regulation"]


def test_every_check_is_shown_meeting_and_not() -> None:
    """Here and in the files test_checks_<subject>.py; a check without a figure never meets."""
    others = [import_module(f".{p.stem}", __package__) for p in HERE.glob("test_checks_*.py")]
    shown = {(c, s) for m in others for c, s, _ in m.STATES} | {(c, s) for c, s, _ in STATES}
    for check in CHECKS:
        states = {s for c, s in shown if c == check.key}
        if check.asks == "no figure":
            assert DESIGNERS in states, check.key
            assert states & {NOT_APPLICABLE, NOT_GIVEN}, check.key
        else:
            assert MEETS in states, check.key
            assert states & {SHORT, NOT_GIVEN}, check.key


def test_a_check_never_changes_a_quantity() -> None:
    """A stop changes what is promised, and nothing that is bought."""
    found = estimate(job_of(radon_area="no"))
    stopped = estimate(job_of(radon_area="unknown"))
    for column in ("net", "laid", "ordered", "cost"):
        assert found.column("totals", column) == stopped.column("totals", column)
    assert found.cell("quote_total") == stopped.cell("quote_total")


def test_a_stop_makes_its_lines_provisional_and_the_quote_an_estimate() -> None:
    clear = estimate(job_of(radon_area="no"))
    assert clear.cell("document_word") == "Quotation"
    stopped = estimate(job_of(radon_area="unknown"))
    assert stopped.cell("document_word") == "Estimate"
    standing = dict(
        zip(stopped.column("lines", "key"), stopped.column("lines", "standing"), strict=True)
    )
    assert standing["dpm"] == standing["hardcore"] == "provisional"
    assert standing["outer_dpc"] == standing["trays"] == "firm"
    assert 0 < stopped.cell("provisional_sum") < stopped.cell("quote_sum")


def test_a_membrane_above_its_dpc_stops_the_floor_and_is_still_measured() -> None:
    """DPM at -0.335; DPC at -0.500, 165 below it.

    165 down and 100 dressed on to the DPC are 265 of turn-up, as they are 165 up; but a sheet
    that hangs down to its DPC keeps nothing out, so the floor is not promised.
    """
    for job in (job_of(dpc_level=-0.5), job_of(dpc_level=-0.5, turn_up=265)):
        ledger = estimate(job)
        assert ledger.column("edges", "turn_up") == pytest.approx([265] * 4)
        assert ledger.cell("document_word") == "Estimate"
        standing = dict(
            zip(ledger.column("lines", "key"), ledger.column("lines", "standing"), strict=True)
        )
        assert standing["dpm"] == "provisional"
        assert standing["outer_dpc"] == "firm"
    level = estimate(job_of(dpc_level=-0.335))
    assert level.cell("document_word") == "Quotation"
    agreed = replace(job_of(dpc_level=-0.5), reasons={"levels": "designer: tanked to the old DPC"})
    assert estimate(agreed).cell("document_word") == "Quotation"


def test_a_reason_takes_the_stop_away_and_prints() -> None:
    job = replace(job_of(radon_area="unknown"), reasons={"radon": "asked, answer due"})
    ledger = estimate(job)
    assert ledger.cell("document_word") == "Quotation"
    rows = {r["check"]: r for r in reports.checks(ledger)}
    assert rows["radon"]["state"] == NOT_GIVEN
    assert rows["radon"]["reason"] == "asked, answer due"


def test_a_silent_basis_stops_only_by_the_regulatory_figure() -> None:
    """165 mm of hardcore is within the 600 of AD C; 815 is not; the specification states none."""
    assert estimate(job_of(**SPEC)).cell("document_word") == "Quotation"
    deep = job_of(zones={"formation_level": -1.2}, **SPEC)
    assert estimate(deep).cell("document_word") == "Estimate"


def test_a_reason_of_blanks_is_none() -> None:
    job = replace(job_of(radon_area="unknown"), reasons={"radon": "  "})
    assert estimate(job).cell("document_word") == "Estimate"


def test_an_overridden_stop_prints_on_the_quote() -> None:
    job = replace(job_of(radon_area="unknown"), reasons={"radon": "specialist appointed"})
    ledger = estimate(job)
    assert ledger.figure("overrides", 1, "gone_on") == "Radon or gas not looked up"
    assert ledger.figure("overrides", 1, "reason") == "specialist appointed"


def test_a_laxer_basis_cannot_look_like_a_pass() -> None:
    """Weeps at 1000 meet the specification and are still said to fall short of the 900 in AD C."""
    job = overridden(job_of(**SPEC), weep_spacing=1400)
    rows = {r["check"]: r for r in reports.checks(estimate(job))}
    assert rows["weep_spacing"]["state"] == SHORT
    assert rows["weep_spacing"]["regulation"] == "short of Approved Document C (2004)"
    rows = {r["check"]: r for r in reports.checks(estimate(job_of(**SPEC)))}
    assert rows["weep_spacing"]["state"] == MEETS
    assert rows["weep_spacing"]["regulation"] == ""


def test_no_wording_claims_compliance() -> None:
    words = re.compile(
        r"\b(compl(y|ies|iant|iance)|approved by|guarantee[sd]?|certif(y|ies))\b", re.I
    )
    paths = [*ROOT.glob("estimator/**/*.py"), *ROOT.glob("docs/*.md"), ROOT / "README.md"]
    for path in paths:
        found = words.search(path.read_text("utf-8"))
        assert not found, (path.name, found)


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words))
    return result.exit_code, result.output


def test_what_the_checks_ask_is_said_beside_the_total() -> None:
    """A DPC at 150 meets; at 140 one check more is short; with no height one more lacks its figure.

    Counted here row by row, and in words.
    """
    names = ("checks_short", "checks_not_given", "checks_designers")
    found = {}
    for height in (150, 140, None):
        ledger = estimate(job_of(walls={"dpc_height": height}))
        states = [*ledger.column("checks", "state"), *ledger.column("product_checks", "state")]
        by_hand = [states.count(s) for s in ("short", "not given", "designer's detail")]
        found[height] = [ledger.cell(n) for n in names]
        assert found[height] == by_hand
        assert ledger.cell("checks_asking") == sum(by_hand)
    short, blank, designers = found[150]
    assert found[140] == [short + 1, blank, designers]
    assert found[None] == [short, blank + 1, designers]


def test_a_quote_with_a_short_check_is_ready_and_says_so() -> None:
    """The demo: nothing refuses its total, a parapet's tray is 140 mm up and 150 are asked."""
    ledger = estimate(read_job(DEMO_JOB))
    assert ledger.cell("problem_count") == 0
    assert ledger.cell("checks_short") == 1
    assert ledger.cell("quote_state").startswith("Ready to send. Some checks are short")
    assert ledger.cell("checks_say") == "Checks are short: listed below."
    shown = CliRunner().invoke(main, ["quantities", str(DEMO_JOB)]).output
    assert "  Checks: 1 short, 3 left to the designer. See `estimator check`." in shown


def test_a_blank_is_not_entered_and_nothing_short_is_given_nothing() -> None:
    row = {"state": "not given", "given": 0, "asked": 150, "unit": "mm", "by": "X"}
    assert given_and_asked(row) == "not entered, asked 150 mm by X"
    assert given_and_asked({**row, "state": "short", "given": 140}) == (
        "given 140 mm, asked 150 mm by X"
    )


def test_check_command() -> None:
    code, output = run("check", str(DEMO_JOB))
    assert code == 1, "the demo has findings"
    assert "given 140 mm, asked 150 mm by NHBC Standards 2020, 5.1.19" in output
    code, output = run("check", str(DEMO_JOB), "--json")
    assert code == 1
    found = json.loads(output)
    assert found["workbook"] == []
    assert {r["check"] for r in found["checks"]} == {c.key for c in CHECKS}


def test_what_is_not_applicable_is_counted_in_one_line(tmp_path: Path) -> None:
    """Nothing is measured in a blank job: of 42 checks one asks whether there is gas in the ground."""
    assert len(CHECKS) == 42
    blank = tmp_path / "blank.xlsx"
    assert run("new", str(blank), "--basis", "nhbc_2024")[0] == 0
    code, output = run("check", str(blank))
    assert code == 1
    states = [line for line in output.splitlines() if not line.startswith(" ")]
    assert states == [
        "not given         Radon or gas not looked up",
        "41 checks are not applicable to this job: --all prints them.",
        "",
        "A check compares figures. It does not show that anything meets regulations.",
    ]
    code, whole = run("check", str(blank), "--all")
    assert code == 1
    assert whole.count("not applicable") == 41
    assert "--all prints them" not in whole


def test_quantities_and_compare_as_json() -> None:
    code, output = run("quantities", str(DEMO_JOB), "--json")
    assert code == 0
    found = json.loads(output)
    assert found["price"]["quote_total"] == pytest.approx(
        found["price"]["quote_net"] + found["price"]["quote_vat"]
    )
    code, output = run("compare", str(DEMO_JOB), "--json")
    assert code == 0
    found = json.loads(output)
    assert len(found["suppliers"]) == 3
    assert len({b["basis"] for b in found["bases"]}) == 4


def test_compare_says_what_each_sum_holds_and_each_unit(tmp_path: Path) -> None:
    code, output = run("compare", str(DEMO_JOB))
    assert code == 0
    lines = output.splitlines()
    assert lines[0] == "Cost of what is ordered, delivered, without VAT:"
    heads = next(n for n, line in enumerate(lines) if line.split()[:2] == ["cost", "of"])
    assert lines[heads].split() == ["cost", "of", "orders", "price", "to", "client"]
    assert lines[heads + 1].split() == ["without", "VAT", "total", "with", "VAT"]
    chosen = next(line for line in lines if line.startswith("  3 NHBC Standards (2024)"))
    # The demo's basis: its cost is that of the order as chosen, its price that of the quote.
    # Double-sided tape: laps 10.34 + joint 3.57, to DPC and threshold 27.60, collars 0.547: 42.06 m,
    # 10 % more 46.26: 4 rolls of 15. Closers: two jambs of 0.75 from one length, its sill of 0.61
    # from another. 1,541.15 with 3 rolls and 1 length; 14.20 + 6.85 more; a second roll of tray, 61.15.
    assert lines[1].split()[-1] == chosen.split()[5] == "1,623.35"
    assert chosen.split()[7] == "3,709.97"
    below = lines[next(n for n, line in enumerate(lines) if line.startswith("ordered")) + 1 :]
    assert len(below) == 18
    assert {line.split()[-1] for line in below} == {"t", "m²", "m", "nr"}
    assert next(line for line in below if line.startswith("Stop ends")).split()[-2:] == ["30", "nr"]

    text = DEMO_JOB.read_text("utf-8")
    unregistered = text.replace('vat_status = "standard"', 'vat_status = "not registered"')
    assert unregistered != text
    (tmp_path / "job.toml").write_text(unregistered, "utf-8")
    prices = DEMO_JOB.with_name("garden_room_prices.csv")
    (tmp_path / prices.name).write_bytes(prices.read_bytes())
    assert "without VAT  total, no VAT charged" in run("compare", str(tmp_path / "job.toml"))[1]


def test_compare_says_which_totals_are_not_known(tmp_path: Path) -> None:
    """The demo stocks five rolls of sheet; sixteen more are one beyond the 20 laid out."""
    (tmp_path / "job.toml").write_bytes(DEMO_JOB.read_bytes())
    prices = DEMO_JOB.with_name("garden_room_prices.csv")
    more = "".join(
        f"X-{n},Harrow Lane Depot (invented),dpm_sheet,Another sheet,4000,25,,,300,,90,\n"
        for n in range(16)
    )
    (tmp_path / prices.name).write_text(prices.read_text("utf-8") + more, "utf-8")
    code, output = run("compare", str(tmp_path / "job.toml"))
    assert code == 0
    lines = output.splitlines()
    chosen = "Rolls of sheet stocked beyond the 20 that can be laid out: 1"
    assert lines[1].split("not known, ")[1] == chosen
    (harrow,) = (line for line in lines if line.startswith("  Harrow"))
    assert harrow.endswith(
        "not known, more rolls of sheet than are laid out (1; 20 fit, of all suppliers together)"
    )
    (quayside,) = (line for line in lines if line.startswith("  Quayside"))
    assert "not known, does not stock all of it: lacks 5" in quayside
    (fernbank,) = (line for line in lines if line.startswith("  Fernbank"))
    assert "£" in fernbank


def test_whole_list_from_the_jobs_supplier_is_its_order() -> None:
    """The comparison and the order must be the same sum when all is bought from one supplier."""
    job = bare_job(
        zones=[zone("Z1", 7, 4)],
        edges=[edge(f"E{s}", "Z1", s, 7 if s[0] == "A" else 4) for s in ("A1", "A2", "B1", "B2")],
        walls=[wall("W1", 40, external_corners=2, ends_at_existing=2)],
        openings=[opening("O1", "W1", number=7, jamb_dpc=150)],
        abutments=[row("abutments", mark="R", wall="W1", kind="level", number=3, length=2.9)],
    )
    for trays in ("joined", "one piece"):
        ledger = estimate(replace(job, particulars={**job.particulars, "tray_joints": trays}))
        assert ledger.figure("suppliers", 1, "all_total") == ledger.cell("cost_total") > 0


def test_new_writes_a_blank_workbook(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    assert run("new", "--basis", "common_practice", "--out", str(path))[0] == 0
    assert path.is_file()
    code, output = run("new", "--basis", "common_practice", "--out", str(path))
    assert code == 2
    assert "--replace" in output
    code, output = run("new", "--basis", "mine", "--out", str(tmp_path / "other.xlsx"))
    assert code == 2
    assert "--basis: found 'mine'; accepted: one of 'Approved Document C" in output
    assert not (tmp_path / "other.xlsx").exists()
