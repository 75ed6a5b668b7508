"""What a random job is left without, one fault each: every way to lose a total that a file can hold.

Each is a change to a finished job; None where the job has not what it takes. What reading a job
refuses, such as edges that do not add up to their side, is not among them.
"""

import copy
import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from estimator.buying.lines import LINES
from estimator.language.ledger import is_available
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.takeoff.build_ups import FLOOR_KIND_ROWS

from .random_buying import planned_rows

Row = dict[str, Any]
Fault = Callable[[Job], Job | None]
_FLOORS: dict[Any, Mapping[str, Any]] = {k["name"]: k for k in FLOOR_KIND_ROWS}


def _given(job: Job, **particulars: Any) -> Job:
    return replace(job, particulars={**job.particulars, **particulars})


def _first(table: str, fits: Callable[[Row], Any], **given: Any) -> Fault:
    """The first row of that list that fits, otherwise filled in."""

    def fault(job: Job) -> Job | None:
        rows = copy.deepcopy(job.rows)
        found = next((row for row in rows[table] if fits(row)), None)
        if found is None:
            return None
        found |= given
        return replace(job, rows=rows)

    return fault


def _slot_of(job: Job, line: str) -> str:
    return str(job.line_suppliers.get(line, job.particulars["supplier_choice"]))


def _firm(job: Job, *lines: str) -> Job:
    return replace(job, line_status={**job.line_status, **dict.fromkeys(lines, "firm")})


def _no_dpc_stocked(job: Job) -> Job:
    book = [
        row
        for row in job.rows["book"]
        if row["material"] != "dpc_roll" or row["supplier"] != _slot_of(job, "outer_dpc")
    ]
    return _firm(replace(job, rows={**job.rows, "book": book}), "outer_dpc")


def _no_price_of_dpc(job: Job) -> Job:
    book = [
        {**row, "price": None} if row["material"] == "dpc_roll" else row for row in job.rows["book"]
    ]
    return _firm(replace(job, rows={**job.rows, "book": book}), "outer_dpc")


def _too_few_packs(job: Job) -> Job | None:
    """One pack of one's own, where the job takes more."""
    packs = estimate(job).column("book", "packs_worked")
    short = next((n for n, count in enumerate(packs) if is_available(count) and count > 1), None)
    if short is None:
        return None
    book = [{**row} for row in job.rows["book"]]
    book[short]["own_packs"] = 1
    return replace(job, rows={**job.rows, "book": book})


def _plan_out_of_date(job: Job) -> Job | None:
    """A cutting plan of which a roll gives no more than crumbs, more than it is long, and counts twice."""
    rows = planned_rows(random.Random("out of date"), job)
    if not rows:
        return None
    crumbs = {**rows[0], "length": 0.01, "pieces": 9999}
    again = {**rows[0], "mark": "again", "rolls": 2, "length": 0.02}
    plan = [crumbs, *rows[1:], again]
    return replace(job, rows={**job.rows, "planned_cuts": plan})


def _no_delivery_charge(job: Job) -> Job:
    suppliers = [{**row, "delivery": None} for row in job.rows["suppliers"]]
    return replace(job, rows={**job.rows, "suppliers": suppliers})


def _no_wastage_for_laps(job: Job) -> Job:
    zones = [{**zone, "separating_layer": "yes"} for zone in job.rows["zones"]]
    wastage = {name: {**found, "separating_layer": 0} for name, found in job.wastage.items()}
    job = replace(job, rows={**job.rows, "zones": zones}, wastage=wastage)
    return _firm(job, "separating_layer")


def _no_provisional_sum(job: Job) -> Job | None:
    stepped = any(str(c["kind"]).startswith("stepped") for c in job.rows["cut_ins"])
    lines = [line for line in job.rows["work_lines"] if line["kind"] != "provisional sum"]
    return replace(job, rows={**job.rows, "work_lines": lines}) if stepped else None


def _typed_over_in_vain(job: Job) -> Job:
    rows = copy.deepcopy(job.rows)
    rows["openings"][0] = {"jamb_dpc": 112.5}
    return _given(replace(job, rows=rows), extension_doors=0)


def _another_duct(job: Job) -> Job | None:
    """Ducts of 2.5 m, where their couplers are counted for another length."""
    if not job.rows["old_vents"]:
        return None
    book = [
        {**row, "length": 2.5} if row["material"] == "duct" else row for row in job.rows["book"]
    ]
    return _firm(replace(job, rows={**job.rows, "book": book}), "ducts")


def _another_unit(job: Job) -> Job | None:
    """Tray units of 2.5 m, where they are counted for another length."""
    counted = {r["mark"] for r in job.rows["old_walls"] if r["kind"].startswith("cavity")}
    if not any(r["wall"] in counted for r in job.rows["cut_ins"]):
        return None
    book = [
        {**row, "length": 2.5} if row["material"] == "cut_in_unit" else row
        for row in job.rows["book"]
    ]
    return _firm(replace(job, rows={**job.rows, "book": book}), "cut_in_units")


def _weeps_too_close(job: Job) -> Job:
    walls = [{**wall, "unit": 450} for wall in job.rows["walls"]]
    job = replace(job, rows={**job.rows, "walls": walls})
    return replace(job, override={**job.override, "weep_spacing": 300})


def _edge_without_wall(job: Job) -> Job | None:
    if not any(_sheet_to_dpc(zone) for zone in job.rows["zones"]):
        return None
    edges = [{**edge, "wall": None} for edge in job.rows["edges"]]
    if not any(edge["kind"] == "new wall" for edge in edges):
        return None
    return _given(replace(job, rows={**job.rows, "edges": edges}), radon_area="yes")


def _sheet_to_dpc(zone: Row) -> bool:
    floor = _FLOORS[zone["build_up"]]
    return bool(floor["sheet"]) and not floor["suspended"]


def _formation_too_high(job: Job) -> Job:
    zones = copy.deepcopy(job.rows["zones"])
    zones[0]["formation_level"] = zones[0]["finished_level"]
    return replace(job, rows={**job.rows, "zones": zones})


def _void_otherwise(job: Job) -> Job:
    zones = copy.deepcopy(job.rows["zones"])
    zones[0]["void"] = 150 if zones[0]["void"] is None else None
    return replace(job, rows={**job.rows, "zones": zones})


def _joint_on_two_levels(job: Job) -> Job | None:
    rows = copy.deepcopy(job.rows)
    joint = next((edge for edge in rows["edges"] if edge["joins"]), None)
    if joint is None:
        return None
    zone = next(zone for zone in rows["zones"] if zone["mark"] == joint["joins"])
    if not _sheet_to_dpc(zone):
        return None
    zone["finished_level"] = round(zone["finished_level"] + 0.1, 3)
    return replace(job, rows=rows)


def _tie_in_forgotten(job: Job) -> Job | None:
    ties = job.rows["tie_ins"]
    return replace(job, rows={**job.rows, "tie_ins": ties[1:]}) if ties else None


def _more_rolls_than_are_laid(job: Job) -> Job | None:
    """Twenty sheets more from every supplier, and a floor that has one."""
    if not any(_sheet_to_dpc(zone) for zone in job.rows["zones"]):
        return None
    sheets = [row for row in job.rows["book"] if row["material"] == "dpm_sheet"]
    more = [
        {**sheets[0], "code": f"S{n}", "supplier": supplier["name"], "price": 50 + n}
        for supplier in job.rows["suppliers"]
        for n in range(len(job.rows["book"]), len(job.rows["book"]) + 20)
    ]
    for n, row in enumerate(more, 1):
        row |= {"code": f"S{n}", "description": f"sheet {n}"}
    job = replace(job, rows={**job.rows, "book": [*job.rows["book"], *more]})
    return _given(job, radon_area="no")


def _nothing_in_it(job: Job) -> Job:
    job = replace(job, rows={**job.rows, "work_lines": []})
    return replace(job, line_status={line.key: "excluded" for line in LINES})


def _run_shorter_than_its_turns(job: Job) -> Job:
    walls = copy.deepcopy(job.rows["walls"])
    run = {"run": "open", "measured_on": "inside face", "ends_at_existing": 0, "ends_at_new": None}
    turns = {"external_corners": 0, "internal_corners": 6, "met_thickness": None}
    places = dict.fromkeys(("first_step", "step_spacing", "step_way"))
    walls[0] |= {**run, **turns, **places, "length": 0.3}
    ties = [tie for tie in job.rows["tie_ins"] if tie["wall"] != walls[0]["mark"]]
    return replace(job, rows={**job.rows, "walls": walls, "tie_ins": ties})


FAULTS: dict[str, Fault] = {
    "needs_uncovered": _no_dpc_stocked,
    "laps_uncovered": _no_wastage_for_laps,
    "sums_missing": _no_provisional_sum,
    "rows_unchecked": _typed_over_in_vain,
    "answers_missing": lambda job: _given(job, extension_floor=None),
    "turn_ups_missing": lambda job: _given(job, extension_ground=None, extension_new_dpc=None),
    "vat_to_householder": lambda job: _given(
        job, vat_status="reverse charge", vat_percent=20, client_is_householder="yes"
    ),
    "vat_unreasoned": lambda job: _given(
        job, vat_status="zero or reduced", vat_percent=5, vat_reason=None
    ),
    "vat_rate_differs": lambda job: _given(job, vat_status="standard", vat_percent=17.5),
    "margin_impossible": lambda job: _given(job, profit_rule="margin on price", profit_percent=100),
    "stocks_disagree": _another_duct,
    "weeps_unbuildable": _weeps_too_close,
    "edges_unwalled": _edge_without_wall,
    "edges_disagree": _joint_on_two_levels,
    "free_areas_missing": _first(
        "zones", lambda zone: _FLOORS[zone["build_up"]]["ventilated"], free_area=None
    ),
    "levels_disagree": _formation_too_high,
    "voids_disagree": _void_otherwise,
    "features_incomplete": _first(
        "floor_features", lambda row: row["kind"] == "thickening", along=None
    ),
    "walls_disagree": _run_shorter_than_its_turns,
    "old_walls_disagree": _first("old_walls", lambda row: row["cavity"], outer_leaf=None),
    "ties_disagree": _tie_in_forgotten,
    "rolls_beyond": _more_rolls_than_are_laid,
    "nothing_quoted": _nothing_in_it,
    "prices_missing": _no_price_of_dpc,
    "deliveries_missing": _no_delivery_charge,
    "own_packs_short": _too_few_packs,
    "plans_stale": _plan_out_of_date,
    "units_disagree": _another_unit,  # the last: the others keep their jobs
}
# These need a job that the form fills in part; the others one that it does not.
FORM_FAULTS = ("rows_unchecked", "answers_missing", "turn_ups_missing")
