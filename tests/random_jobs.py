"""Random jobs that a person could have typed, drawn from a seed so that a failure can be redone.

All were drawn anew in 0.3.0: a person's job is finished, so nearly all have a total. What is bought
is stocked by the supplier it is bought from, levels leave room for the layers, reasons are given.
One in nine is left unfinished on purpose, each in its own way (tests/random_faults.py).
"""

import itertools
import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from estimator.buying.lines import HOLD_POINTS, LINES, STATUSES
from estimator.buying.materials import MATERIAL_ROWS
from estimator.checks import CHECKS
from estimator.guidance.basis import KEYS
from estimator.guidance.notices import NATIONS
from estimator.language.ledger import is_available
from estimator.model.estimate import estimate
from estimator.model.issued import DOCUMENTS
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.model.plan import bases, plan
from estimator.pricing.measures import MEASURE_ROWS
from estimator.pricing.work import FIXED, HOURS, PER_UNIT, PERCENTAGE, WAYS, WORK_KIND_ROWS
from estimator.questionnaire.builds import FLOOR_BUILD_ROWS, ROOF_BUILD_ROWS, WALL_BUILD_ROWS
from estimator.takeoff.build_ups import FLOOR_KIND_ROWS
from estimator.takeoff.cut_ins import CUT_IN_KIND_ROWS
from estimator.takeoff.existing import OLD_WALL_KIND_ROWS
from estimator.takeoff.floor_features import FEATURE_KIND_ROWS

from .random_buying import with_cutting_plan, with_discounts, with_own_packs
from .random_faults import FAULTS, FORM_FAULTS
from .random_trays import more_stock, more_trays

# Figures of a job's own, unlike common practice where that shows more.
_OWN = {
    "dpm_lap": 150,
    "dpm_dpc_lap": 100,
    "dpm_thickness": 300,
    "blinding_thickness": 50,
    "blinding_density": 1.9,
    "hardcore_density": 1.94,
    "hardcore_depth_max": 600,
    "hardcore_layer_max": 150,
    "blinding_loose_density": 1.6,
    "blinding_consolidation": 15,
    "hardcore_loose_density": 1.6,
    "hardcore_consolidation": 20,
    "slab_thickness_min": 100,
    "dpc_height_min": 150,
    "cavity_clear_min": 225,
    "dpc_lap": 100,
    "dpc_projection": 10,
    "sill_turn_up": 75,
    "tray_rise": 150,
    "tray_build_in": 100,
    "tray_past_lintel": 150,
    "tray_past_closer": 25,
    "tray_lap": 100,
    "weep_spacing": 450,
    "weep_from_end": 225,
    "weeps_min": 2,
    "vent_per_metre": 1500,
    "vent_per_area": 500,
    "threshold_past": 150,
    "frame_drain_area": 500,
    "frame_drain_spacing": 1350,
    "lead_piece_max": 1500,
    "lead_lap": 100,
    "tray_past_opening": 150,
}
# A line that walked floors alone need is no random job's: each draws as it did before there was one.
NOT_DRAWN = "corner_patches"
DRAWN = tuple(line for line in LINES if line.key != NOT_DRAWN)
# Nor are the checks of placed openings: none is placed.
OF_PLACES = ("overlaps", "door_thresholds", "threshold_doors")
DRAWN_CHECKS = tuple(c.key for c in CHECKS if c.key not in OF_PLACES)
WIRED_TO = tuple(row["label"] for row in MEASURE_ROWS if row["key"] != NOT_DRAWN)
# A newer allowance is that of common practice, or lies half way between its limits.
_ASSUMED = next(b for b in bases() if b.document.assumed).values
EVERY_OWN = {
    k.name: _OWN.get(k.name, _ASSUMED[k.name].number or (k.least + k.most) / 2) for k in KEYS
}


# Which seeds are left unfinished, and how: at least one of every twenty that follow each other in
# steps of twenty, which is what the short run takes.
UNFINISHED = {17 * n % 200: name for n, name in enumerate(FAULTS)}


def random_job(seed: int) -> Job:
    """A job of up to four zones, five runs, eight openings and five suppliers.

    Drawn again until it has what its fault needs, where it has one.
    """
    fault = UNFINISHED.get(seed)
    for again in itertools.count():
        drawn = _drawn(f"again {seed}.{again}", seed, fault)
        job = FAULTS[fault](drawn) if fault else drawn
        if job is not None:
            if fault not in FORM_FAULTS and not job.uses_form:
                check_job(job, InJobFile(f"seed {seed}"))
            return job
    raise AssertionError


def _drawn(drawn_by: str, seed: int, fault: str | None) -> Job:
    r = random.Random(drawn_by)
    suppliers = _suppliers(r)
    names = [s["name"] for s in suppliers]
    supplier = r.choice(names)
    named = r.sample(names, r.randint(1, len(names)))
    line_suppliers = {line.key: r.choice(named) for line in DRAWN if r.random() < 0.25}
    used = {supplier, *line_suppliers.values()}
    radon = r.choice(["no", "no", "yes", "unknown"])
    zones = [_zone(r, n) for n in range(1, r.randint(1, 4) + 1)]
    walls = [_wall(r, n) for n in range(1, r.randint(1, 5) + 1)]
    duct = r.choice([3, 3, 2])
    rows = {
        "zones": zones,
        "edges": _edges(r, zones),
        "walls": walls,
        "openings": [_opening(r, n, walls) for n in range(1, r.randint(0, 8) + 1)],
        "penetrations": [_pipe(r, n, zones) for n in range(1, r.randint(0, 3) + 1)],
        "abutments": [_abutment(r, n, walls) for n in range(1, r.randint(0, 3) + 1)],
        "suppliers": suppliers,
        "book": _book(r, names, used, duct),
        "planned_cuts": [],
    }
    old_walls = [_old_wall(r, n) for n in range(1, r.randint(0, 2) + 1)]
    rows |= {
        "old_walls": old_walls,
        "cut_ins": [_cut_in(r, n, old_walls) for n in range(1, 3) if old_walls],
        "tie_ins": [_tie_in(r, w) for w in walls if w["ends_at_existing"]],
        "old_vents": [_old_vent(r, n, walls, duct) for n in range(1, r.randint(0, 2) + 1)],
    }
    for edge in rows["edges"]:  # in a gas area the wall that the sheet crosses is named
        named = radon == "yes" or r.random() < 0.97
        edge["wall"] = r.choice(walls)["mark"] if named else None
    _build_up(r, zones, rows["edges"])
    rows["floor_features"] = [_feature(r, n, zones) for n in range(1, r.randint(0, 4) + 1)]
    more_trays(drawn_by, rows)
    more_stock(drawn_by, names, used, rows["book"])
    status = r.choice(["standard"] * 4 + ["zero or reduced", "reverse charge", "not registered"])
    reasons = ["an invented reason"] if status == "zero or reduced" else [None, "a reason"]
    homes = ["no"] if status == "reverse charge" else ["yes", "no"]
    job = Job(
        particulars={
            "job_title": f"Invented job {seed}",
            "client_name": "Invented",
            "site_address": "Nowhere",
            "prepared_by": "A test",
            "quote_date": "today",
            "quote_valid": "30 days",
            "job_notes": r.choice([None, "an invented note"]),
            "basis_choice": r.choice(bases()).name,
            "site_nation": None,
            "supplier_choice": supplier,
            "sheet_joints": r.choice(["whole strips", "whole strips", "cross joints"]),
            "tray_joints": r.choice(["joined", "one piece"]),
            "weep_kind": r.choice(["inserts", "vents", "open perpends"]),
            "loose_rule": r.choice(["multiply", "divide"]),
            "radon_area": radon,
            "profit_rule": r.choice(["markup on cost", "margin on price"]),
            "profit_percent": r.choice([0, 10, 12.5, 15, 20, 33.3, max(5, r.randint(0, 900)) / 10]),
            "profit_on_delivery": r.choice(["yes", "no"]),
            "profit_on_work": None,
            "minimum_charge": r.choice([0, 0, 250, 1500.5, 9000]),
            "vat_status": status,
            "vat_percent": 20 if status in ("standard", "reverse charge") else r.choice([0, 5]),
            "supplier_vat_percent": 20,
            "vat_reason": r.choice(reasons),
            "client_is_householder": r.choice(homes),
        },
        rows=rows,
        own=_own(r),
        override=_overrides(r, rows),
        line_suppliers=line_suppliers,
        line_status={line.key: r.choice(STATUSES) for line in DRAWN if r.random() < 0.15},
        reasons={c: "an invented reason" for c in DRAWN_CHECKS if r.random() < 0.1},
        wastage={
            name: {
                str(m["key"]): r.choice([0, 5, 7.5, 10, 12.5, max(5, r.randint(0, 300)) / 10])
                if not m["by_cover"]
                else r.choice([5, 7.5, 10, 12.5])  # its laps are in it
                for m in MATERIAL_ROWS
                if r.random() < 0.8 or (m["by_cover"] and name in used)
            }
            for name in names
        },
        wastage_applies={
            str(m["key"]): r.randint(0, 1)
            for m in MATERIAL_ROWS
            if r.random() < 0.2 and not m["by_cover"]
        },
    )
    job = with_discounts(drawn_by, _as_typed(_with_work(job, r)))
    check_job(job, InJobFile(f"seed {seed}"))
    with_form = r.random() < 0.35
    job = _with_form(r, job, duct) if (fault in FORM_FAULTS if fault else with_form) else job
    job = _with_corners(random.Random(f"corners {drawn_by}"), _with_sums(job))
    job = _with_places(random.Random(f"places {drawn_by}"), job)
    job = _with_step_places(random.Random(f"steps {drawn_by}"), job)
    job = _with_revisions(
        r, job if fault else with_own_packs(drawn_by, with_cutting_plan(drawn_by, job))
    )
    return _with_days(random.Random(f"days {drawn_by}"), job)


def _with_corners(r: random.Random, job: Job) -> Job:
    """Level trays that go round corners of the old house; no other draw moves by it."""
    levels = {k["name"] for k in CUT_IN_KIND_ROWS if k["counted"]}
    kinds = {k["name"] for k in OLD_WALL_KIND_ROWS if k["counted"]}
    known = {w["mark"] for w in job.rows["old_walls"] if w.get("kind") in kinds}
    cuts = [
        {**c, "corners": r.choice([None, None, 1, 2])}
        if c.get("kind") in levels and c.get("wall") in known
        else c
        for c in job.rows["cut_ins"]
    ]
    return replace(job, rows={**job.rows, "cut_ins": cuts})


def _with_places(r: random.Random, job: Job) -> Job:
    """Windows that have a place in a run measured by hand, some a height; no other draw moves by it."""
    long = {w["mark"]: w["length"] for w in job.rows["walls"] if w.get("length")}
    rows = []
    for opening in job.rows["openings"]:
        free = long.get(opening.get("wall"), 0) - (opening.get("width") or 0)
        if opening.get("kind") == "window" and opening.get("number") == 1 and free > 0:
            at = round(r.uniform(0, free), 2) if r.random() < 0.7 else None
            opening = {**opening, "first_jamb": min(at, free) if at is not None else None}
            opening["sill_height"] = r.choice([None, 0.9]) if at is not None else None
        rows.append(opening)
    return replace(job, rows={**job.rows, "openings": rows})


def _with_step_places(r: random.Random, job: Job) -> Job:
    """Steps in the DPC that have a place in a run measured by hand; no other draw moves by it."""
    rows = []
    for wall in job.rows["walls"]:
        count, length = wall.get("steps"), wall.get("length")
        if count and length and r.random() < 0.8:
            gap = round(length / (count + 1), 2)
            places = {"first_step": gap, "step_way": r.choice(["up", "down"])}
            wall = {**wall, **places, "step_spacing": gap if count > 1 else None}
        rows.append(wall)
    return replace(job, rows={**job.rows, "walls": rows})


def _with_days(r: random.Random, job: Job) -> Job:
    """The days of some prices, and for how long they are good; no other draw moves by it."""
    book = [
        {**p, "priced_on": r.choice([None, r.randint(45_700, 46_100)])} for p in job.rows["book"]
    ]
    said = {
        "price_limit": r.choice([None, 30, 90, 180]),
        "price_day": r.choice([None, None, r.randint(45_900, 46_200)]),
    }
    return replace(job, particulars={**job.particulars, **said}, rows={**job.rows, "book": book})


def _own(r: random.Random) -> dict[str, float]:
    """What the job says where its basis is silent; now and then it leaves that to the assumed."""
    if r.random() < 0.7:
        return EVERY_OWN
    return {name: figure for name, figure in EVERY_OWN.items() if r.random() < 0.8}


def _with_sums(job: Job) -> Job:
    """A provisional sum where a tray is left to the designer."""
    counted = {str(k["name"]): k["counted"] for k in OLD_WALL_KIND_ROWS}
    level = {str(k["name"]): k["counted"] for k in CUT_IN_KIND_ROWS}
    kinds = {w["mark"]: w["kind"] for w in job.rows["old_walls"] if w}
    left = any(not counted[kinds[c["wall"]]] or not level[c["kind"]]
               for c in job.rows["cut_ins"] if c.get("kind"))  # fmt: skip
    answers = job.particulars
    roofs = {r["name"]: r for r in ROOF_BUILD_ROWS}
    roof = roofs.get(answers.get("extension_roof"), {"tray_over": 0, "cut_in": ""})
    if roof["tray_over"]:
        left |= not counted.get(str(answers.get("extension_old_wall")), 0)
        left |= not level[str(roof["cut_in"])]
    lines = job.rows["work_lines"]
    if not left or any(x["kind"] == "provisional sum" and x["way"] == FIXED and x["figure"]
                       for x in lines):  # fmt: skip
        return job
    line = {"mark": "L10", "description": "trays left to the designer", "kind": "provisional sum"}
    line |= {"way": FIXED, "figure": 250, "rate": None, "wired_to": None}
    return replace(job, rows={**job.rows, "work_lines": [*lines, line]})


def _with_revisions(r: random.Random, job: Job) -> Job:
    """Up to three issues before this one; some bear the total of today."""
    rows = []
    for n in range(r.randint(0, 3)):
        net = round(r.uniform(100, 9000), 2)
        vat = r.choice([0, round(net * 0.2, 2)])
        rows.append(
            {
                "revision": "ABC"[n] if r.random() < 0.8 else f"P{n + 1}",
                "date": f"{n + 1} March 2026",
                "basis": r.choice(bases()).name,
                "document": r.choice(DOCUMENTS),
                "net": net,
                "vat": vat,
                "total": round(net + vat, 2),
                "digest": r.choice([None, f"{r.getrandbits(64):016x}"]),
                "note": r.choice([None, "sent by post"]),
            }
        )
    if rows and r.random() < 0.15:
        now = estimate(job).cell("quote_total")
        rows[-1]["total"] = now if is_available(now) else 0
    return replace(job, rows={**job.rows, "revisions": rows})


def _as_typed(job: Job) -> Job:
    """Differences of lengths as a person would type them: a cell holds 15 digits."""
    rows = {
        name: [
            {k: float(f"{v:.15g}") if isinstance(v, float) else v for k, v in row.items()}
            for row in listed
        ]
        for name, listed in job.rows.items()
    }
    return replace(job, rows=rows)


# What may be typed over the form's row of a list, and whether the answers ask for that row.
_OVER: dict[str, tuple[dict[str, float], Callable[[dict[str, Any]], Any]]] = {
    "zones": ({"slab": 150}, lambda a: True),
    "openings": ({"jamb_dpc": 112.5}, lambda a: a["extension_doors"]),
    "cut_ins": ({"courses": 3}, lambda a: a["extension_roof"] != "clear of the house wall"),
}


# Those among which the first draw chooses; the second, of its own, is among all there are.
_FLOORS = (
    "screed 65, insulation 100, slab 100, on DPM",
    "screed 65, insulation 120, slab 150, on DPM",
    "screed 65, insulation 150, slab 150, on DPM",
    "slab 100 on DPM, insulation 150 below",
    "slab 150 on DPM, insulation 150 below",
    "screed 75 and insulation 120 on DPM, slab 150",
)


def _with_form(r: random.Random, job: Job, duct: float) -> Job:
    """The same job with an extension from the form before it, some rows typed over."""
    answers = {
        "extension_width": _length(r, 2, 8),
        "extension_projection": _length(r, 1, 5),
        "extension_wall": r.choice(WALL_BUILD_ROWS)["name"],
        "extension_floor": r.choice(_FLOORS),
        "extension_finished": r.choice([0, 0.15]),
        "extension_ground": -0.15,
        "extension_formation": -0.7,
        "extension_new_dpc": r.choice([None, None, -0.05, 0, 0.05]),
        "extension_old_wall": r.choice([None, *(k["name"] for k in OLD_WALL_KIND_ROWS)]),
        "extension_old_dpc": r.choice([-0.1, 0, None]),
        "extension_roof": r.choice(ROOF_BUILD_ROWS)["name"],
        "extension_pitch": r.choice([15, 22.5]),
        "extension_eaves": 2.3,
        "extension_doors": r.choice([0, 1]),
        "extension_door_width": 1.8,
        "extension_windows": r.randint(0, 3),
        "extension_window_width": r.choice([0.6, 1.2]),
        "extension_window_height": 1.05,
        "extension_old_vents": r.randint(0, 2),
    }
    corner = random.Random(str(answers["extension_width"]))  # its own: no other draw moves
    if corner.random() < 0.4:
        answers["extension_return"] = _length(corner, 1, 4)
        answers["extension_return_width"] = _length(corner, 1, 2.5)
    floor = random.Random(f"floor {answers['extension_width']}")  # so has this
    if floor.random() < 0.5:
        answers["extension_floor"] = floor.choice(FLOOR_BUILD_ROWS)["name"]
    if floor.random() < 0.4:
        answers["extension_formation"] = None
    rows = {**job.rows}
    for table in plan().tables.values():
        if table.rows_offered:
            own: list[dict[str, Any]] = [{} for _ in range(table.rows_offered)]
            typed, asked = _OVER.get(table.name, ({}, bool))
            if asked(answers) and r.random() < 0.4:
                own[0] = dict(typed)
            rows[table.name] = [*own, *job.rows[table.name]]
    assumed = {"assumed_bay": 1.2, "assumed_dpc_height": 225, "assumed_duct_length": duct}
    kept = {k: v for k, v in assumed.items() if r.random() < 0.3 or (v == duct and duct != 3)}
    return replace(job, rows=rows, particulars={**job.particulars, **answers}, assumed=kept)


def _with_work(job: Job, r: random.Random) -> Job:
    particulars = {"site_nation": r.choice(NATIONS), "profit_on_work": r.choice(["yes", "no"])}
    lines = [_work_line(r, n) for n in range(1, r.randint(0, 7) + 1)]
    if r.random() < 0.6:  # for trays in walls that cannot be counted
        lines.append({**_work_line(r, 9), "kind": "provisional sum", "way": FIXED, "figure": 250,
                      "rate": None, "wired_to": None})  # fmt: skip
    return replace(
        job,
        particulars={**job.particulars, **particulars},
        rows={**job.rows, "work_lines": lines, "revisions": []},
        own_notices={h: "told by telephone" for h in HOLD_POINTS if r.random() < 0.1},
    )


def _work_line(r: random.Random, n: int) -> dict[str, Any]:
    way = r.choice(WAYS)
    figures: dict[str, list[float]] = {
        FIXED: [0, 68, 250.5, r.randint(1, 90000) / 100],
        PER_UNIT: [0.35, 4.2, 12, 35.25],
        HOURS: [0.05, 0.2, 0.75, 1.5],
        PERCENTAGE: [0, 5, 7.5, 10, 12.5],
    }
    wired = way in (PER_UNIT, HOURS)
    return {
        "mark": f"L{n}",
        "description": f"work {n}",
        "kind": r.choice(WORK_KIND_ROWS)["name"],
        "way": way,
        "figure": r.choice(figures[way]),
        "rate": r.choice([28, 34.5, 42]) if way == HOURS else None,
        "wired_to": r.choice(WIRED_TO) if wired else None,
    }


def _overrides(r: random.Random, rows: dict[str, list[dict[str, Any]]]) -> dict[str, float]:
    """Weeps no closer than the longest unit of the walls: they stand on perpends."""
    units = [w["unit"] for w in rows["walls"]] + [c["brick"] for c in rows["cut_ins"]]
    unit = max([225, *(u for u in units if u)])
    choices = {
        "dpm_lap": r.choice([100, 150, 200, 300]),
        "weep_spacing": max(unit, r.choice([225, 450, 900, 1000, r.randint(225, 1400)])),
        "tray_rise": r.choice([140, 150, r.randint(100, 300)]),
        "dpc_lap": r.choice([100, 150]),
        "blinding_thickness": r.choice([0, 25, 50]),
        "tray_past_lintel": r.choice([0, 150]),
        "weeps_min": r.choice([2, 3]),
    }
    return {k: v for k, v in choices.items() if r.random() < 0.4}


def _length(r: random.Random, least: float, most: float) -> float:
    """Mostly whole centimetres, as on drawings; sometimes an exact multiple; sometimes odd."""
    value = r.uniform(least, most)
    return round(value, r.choice([1, 2, 2, 3])) or least


def _zone(r: random.Random, n: int) -> dict[str, Any]:
    side_a = _length(r, 0.8, 9)
    return {
        "mark": f"Z{n}",
        "description": r.choice([None, "a zone"]),
        "side_a": side_a,
        "side_b": side_a if r.random() < 0.15 else _length(r, 0.8, 6),
        "finished_level": _length(r, -0.5, 0.5) if r.random() < 0.7 else 0,
        "formation_level": -_length(r, 0.9, 1.7),
        "screed": r.choice([0, 65, 75]),
        "insulation": r.choice([0, 100, 150]),
        "slab": r.choice([100, 125, 150]),
    }


def _build_up(r: random.Random, zones: list[dict[str, Any]], edges: list[dict[str, Any]]) -> None:
    """A build-up for each zone; zones that share a joint are built alike, on one level."""
    joined = {(e["zone"], e["joins"]) for e in edges if e["joins"]}
    for n, zone in enumerate(zones):
        before = zones[n - 1] if n and (zone["mark"], zones[n - 1]["mark"]) in joined else None
        kind = r.choice([str(k["name"]) for k in FLOOR_KIND_ROWS])
        zone |= {
            "build_up": before["build_up"] if before else kind,
            "separating_layer": r.choice([None, "no", "yes"]),
            "plate": r.choice([None, 0, 50, 75]),
            "free_area": r.choice([1600, 3000, 7740]),
            "sleeper_length": r.choice([None, None, _length(r, 1, 12)]),
        }
        typed = zone["build_up"] == "suspended timber, concrete oversite"
        zone["void"] = r.choice([150, 200, 225]) if typed else None
        if before:
            zone |= {k: before[k] for k in ("formation_level", "void")}
        # Room for the floor, an oversite of 100, blinding of 50, the void, and hardcore of 150.
        depth = sum(zone[k] for k in ("screed", "insulation", "slab")) + 300 + (zone["void"] or 0)
        deepest = round(zone["finished_level"] - depth / 1000, 3)
        zone["formation_level"] = min(zone["formation_level"], deepest)
        if "suspended" in zone["build_up"] and r.random() < 0.3:
            for edge in edges:
                if edge["zone"] == zone["mark"]:
                    edge |= dict.fromkeys(("dpc_level", "dress", "typed_turn_up"))


def _feature(r: random.Random, n: int, zones: list[dict[str, Any]]) -> dict[str, Any]:
    kind = r.choice([str(k["name"]) for k in FEATURE_KIND_ROWS])
    return {
        "mark": f"F{n}",
        "zone": r.choice(zones)["mark"],
        "kind": kind,
        "along": r.choice("AB") if kind == "thickening" else None,
        "number": r.randint(1, 3),
        "length": _length(r, 0.5, 5) if "partition" in kind or r.random() < 0.2 else None,
        "width": r.choice([100, 140]) if "partition" in kind else None,
        "depth": r.choice([150, 300]) if kind == "thickening" else None,
    }


def _edges(r: random.Random, zones: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Every side in one or two pieces; neighbours in the list may share a joint."""
    pieces: list[tuple[dict[str, Any], str, float, str | None]] = []
    joints = _joints(r, zones)
    for zone in zones:
        for side in ("A1", "A2", "B1", "B2"):
            rest = zone["side_a"] if side[0] == "A" else zone["side_b"]
            for other, length in joints.get((zone["mark"], side), ()):
                pieces.append((zone, side, length, other))
                rest = round(rest - length, 6)
            if r.random() < 0.3 and rest > 0.4:
                first = round(rest * r.uniform(0.2, 0.8), 2)
                pieces.append((zone, side, first, None))
                rest = rest - first
            if rest > 0.05:
                pieces.append((zone, side, rest, None))
    return [_edge(r, f"E{n}", *piece) for n, piece in enumerate(pieces, 1)]


def _joints(
    r: random.Random, zones: list[dict[str, Any]]
) -> dict[tuple[str, str], list[tuple[str, float]]]:
    """Zone n's side A2 against zone n+1's side A1, on one level, the same length from both."""
    found: dict[tuple[str, str], list[tuple[str, float]]] = {}
    for one, other in itertools.pairwise(zones):
        if r.random() < 0.5:
            continue
        for name in ("finished_level", "screed", "insulation", "slab"):
            other[name] = one[name]
        shorter, longer = sorted((one["side_a"], other["side_a"]))
        whole = r.random() < 0.3 and not 0 < longer - shorter < 0.06  # no sliver beside it
        length = shorter if whole else max(0.1, round(shorter * 0.6, 2))
        found[one["mark"], "A2"] = [(other["mark"], length)]
        found[other["mark"], "A1"] = [(one["mark"], length)]
    return found


def _edge(
    r: random.Random,
    mark: str,
    zone: dict[str, Any],
    side: str,
    length: float,
    joins: str | None,
) -> dict[str, Any]:
    kind = "joint" if joins else r.choice(
        ["new wall"] * 4
        + ["existing wall with DPC", "existing wall, DPC unknown", "threshold", "partition", "free"]
    )  # fmt: skip
    level = kind in ("new wall", "existing wall with DPC")
    by_hand = kind in ("existing wall, DPC unknown", "threshold")
    return {
        "mark": mark,
        "zone": zone["mark"],
        "side": side,
        "number": None,
        "turn": None,
        "length": length,
        "kind": kind,
        "dpc_level": _length(r, -0.4, 0.4) if level else None,
        "dress": r.choice([25, 30]) if kind == "existing wall with DPC" else None,
        "typed_turn_up": r.choice([150, 300]) if by_hand or (level and r.random() < 0.1) else None,
        "joins": joins,
    }


def _wall(r: random.Random, n: int) -> dict[str, Any]:
    closed = r.random() < 0.2
    internal = r.randint(0, 2)
    solid = r.random() < 0.1
    return {
        "mark": f"W{n}",
        "description": r.choice([None, "as drawn"]),
        "floor": None,
        "run": "closed" if closed else "open",
        "length": _length(r, 12, 30) if closed else _length(r, 5, 15),
        "measured_on": r.choice(["outside face", "centre", "inside face"]),
        "external_corners": internal + 4 if closed else r.randint(0, 3),
        "internal_corners": internal,
        "ends_at_existing": 0 if closed else r.randint(0, 2),
        "outer_leaf": 215 if solid else r.choice([102.5, 102.5, 100, 140]),
        "cavity": 0 if solid else r.choice([50, 75, 100, 150]),
        "inner_leaf": 0 if solid else r.choice([100, 140]),
        "dpc_height": r.choice([None, 150, 150, 120, 200]),
        "cavity_below": r.choice([None, 225, 225, 150]),
        **dict.fromkeys(("first_step", "step_spacing", "step_way")),
    }


def _opening(r: random.Random, n: int, walls: list[dict[str, Any]]) -> dict[str, Any]:
    width = r.choice([0.61, 0.91, 1.21, 1.81, 2.41, _length(r, 0.2, 3)])
    return {
        "mark": f"O{n}",
        "description": r.choice([None, "as drawn"]),
        "wall": r.choice(walls)["mark"],
        "kind": r.choice(["window", "window", "raised door", "level-access door", "air brick"]),
        "number": r.randint(1, 4),
        "width": width,
        "height": r.choice([0.15, 1.05, 1.2, 2.1, _length(r, 0.3, 2.4)]),
        "lintel": round(width + 0.3, 3) if r.random() < 0.8 else None,
        "closer": r.choice([None, 50, 65]),
        "jamb_dpc": r.choice([None, 112.5, 150, 225]),
        "first_jamb": None,
        "side": None,
    }


def _pipe(r: random.Random, n: int, zones: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "mark": f"P{n}",
        "description": r.choice([None, "as drawn"]),
        "zone": r.choice(zones)["mark"],
        "number": r.randint(1, 3),
        "diameter": r.choice([32, 50, 110, 110]),
    }


def _abutment(r: random.Random, n: int, walls: list[dict[str, Any]]) -> dict[str, Any]:
    kind = r.choice(["level", "one slope", "two slopes meeting"])
    return {
        "mark": f"R{n}",
        "description": r.choice([None, "as drawn"]),
        "wall": r.choice(walls)["mark"],
        "kind": kind,
        "number": r.randint(1, 2),
        "length": _length(r, 0.5, 6),
        "pitch": None if kind == "level" else r.choice([12.5, 15, 30, 45, r.randint(10, 60)]),
        "course": r.choice([None, 75, 225]),
    }


def _old_wall(r: random.Random, n: int) -> dict[str, Any]:
    kind = r.choice(["cavity, clear", "cavity, clear", "cavity, filled", "solid", "unknown"])
    cavity = kind.startswith("cavity")
    return {
        "mark": f"H{n}",
        "description": r.choice([None, "as drawn"]),
        "kind": kind,
        "outer_leaf": r.choice([102.5, 110]) if cavity else None,
        "cavity": r.choice([50, 75]) if cavity else None,
    }


def _cut_in(r: random.Random, n: int, old_walls: list[dict[str, Any]]) -> dict[str, Any]:
    kind = r.choice(["above a new roof", "over a new opening"])
    opening = kind == "over a new opening"
    length = _length(r, 0.8, 7)
    return {
        "mark": f"C{n}",
        "description": r.choice([None, "as drawn"]),
        "wall": r.choice(old_walls)["mark"],
        "kind": kind,
        "number": r.randint(1, 2),
        "length": length,
        "lintel": round(length + 0.3, 3) if opening else None,
        "closer": r.choice([None, 50]),
        "height": 2.1 if opening else None,
        "jamb_dpc": r.choice([None, 112.5]) if opening else None,
        "brick": r.choice([None, 225, 240]),
        "corners": None,
        "courses": r.randint(1, 3),
        "unit_length": r.choice([0.45, 0.9, 1.2]),
        "unit_lap": r.choice([0, 100]),
        "bay_most": r.choice([0.6, 0.9, 1.35]),
    }


def _tie_in(r: random.Random, wall: dict[str, Any]) -> dict[str, Any]:
    return {
        "mark": f"T{wall['mark']}",
        "wall": wall["mark"],
        "number": wall["ends_at_existing"],
        "height": _length(r, 2, 5),
        "dpc_width": r.choice([None, 150]),
    }


def _old_vent(r: random.Random, n: int, walls: list[dict[str, Any]], duct: float) -> dict[str, Any]:
    return {
        "mark": f"V{n}",
        "description": r.choice([None, "as drawn"]),
        "wall": r.choice(walls)["mark"],
        "number": r.randint(1, 3),
        "projection": _length(r, 1, 5),
        "old_leaf": 102.5,
        "size": r.choice([100, 110]),
        "stock": duct,
        "air_brick": r.choice([None, 215]),
    }


def _suppliers(r: random.Random) -> list[dict[str, Any]]:
    return [
        {
            "name": f"Invented supplier {chr(65 + n)}",
            "delivery": r.choice([0, 25, 45.5, 62.37]),
            "free_over": r.choice([None, 100, 400, 1500]),
            "minimum_order": r.choice([None, 50, 250, 1200]),
        }
        for n in range(r.randint(1, 5))
    ]


def _book(
    r: random.Random, suppliers: list[str], used: set[str], duct: float
) -> list[dict[str, Any]]:
    """Who is bought from stocks all that is needed; others miss something now and then."""
    rows: list[dict[str, Any]] = []

    def add(supplier: str, material: str, price: float, **sizes: Any) -> None:
        blank: dict[str, Any] = dict.fromkeys(("width", "length", "pieces", "weight"))
        rows.append(
            {
                "code": f"P{len(rows) + 1}",
                "supplier": supplier,
                "material": material,
                "description": f"{material} {len(rows) + 1}",
                "price": price,
                "thickness": None,
                "made_of": None,
                "minimum_packs": r.choice([None, None, None, 2, 5]),
                **blank,
                **sizes,
            }
        )

    for name in suppliers:
        for material in ("hardcore", "blinding_sand"):
            for _ in range(r.randint(1, 2)):
                add(name, material, _price(r, 5, 60), weight=r.choice([25, 500, 800, 1000]))
        for _ in range(r.randint(1, 2)):
            add(name, "dpm_sheet", _price(r, 30, 120), thickness=r.choice([None, 250, 300]), width=r.choice([2000, 3000, 4000]),
                length=r.choice([12.5, 15, 20, 25, 33]))  # fmt: skip
        full = name in used
        widths = [w for w in (100, 112.5, 150, 225) if full or r.random() < 0.9]
        wider = r.sample([165, 300, 450], r.randint(0, 2))
        if full and not {300, 450} & {*wider}:
            wider.append(r.choice([300, 450]))
        for width in [*widths, *wider]:
            add(name, "dpc_roll", _price(r, 4, 30), width=width, length=r.choice([8, 20, 30]))
        for width in r.sample([375, 400, 450, 500, 600], r.randint(1, 3)) + [900] * full:
            add(name, "tray_roll", _price(r, 20, 90), width=width, length=r.choice([8, 10, 20]),
                made_of=r.choice([None, "polymer", "polyethylene"]))  # fmt: skip
        add(name, "separating_layer", _price(r, 20, 60), width=r.choice([1000, 2000]),
            length=r.choice([25, 50]))  # fmt: skip
        add(name, "perimeter_strip", _price(r, 5, 30), length=r.choice([25, 50]))
        add(name, "oversite_concrete", _price(r, 90, 160), pieces=1)
        for material in ("tape_double", "tape_single"):
            add(name, material, _price(r, 5, 30), width=r.choice([None, 50]),
                length=r.choice([10, 15, 30]))  # fmt: skip
        for width in (50, 110):
            add(name, "collar", _price(r, 5, 20), width=width, pieces=1)
        units = ("catchment_unit", "step_unit", "ridge_unit", "cut_in_unit")
        units += ("coupler", "sleeve")
        add(name, "gas_sheet", _price(r, 90, 300), thickness=400, width=r.choice([2000, 4000]),
            length=r.choice([12.5, 25]))  # fmt: skip
        for material in ("gas_tape_double", "gas_tape_single"):
            add(name, material, _price(r, 9, 40), length=r.choice([10, 15]))
        add(name, "gas_collar", _price(r, 9, 40), width=110, pieces=1)
        add(name, "joint_filler", _price(r, 5, 20), length=r.choice([10, 20]))
        add(name, "duct", _price(r, 5, 20), width=110, length=duct if full else 3)
        for material in ("air_brick", "dpm_patch", "floor_insulation"):
            add(name, material, _price(r, 5, 20), pieces=r.choice([1, 2, 5]))
        for material in ("stop_end", "weep", "weep_vent", *units):
            if full or r.random() < 0.95:
                add(name, material, _price(r, 1, 20), pieces=r.choice([1, 2, 10, 20, 50]))
    r.shuffle(rows)
    return rows


def _price(r: random.Random, least: float, most: float) -> float:
    return round(r.uniform(least, most), r.choice([0, 1, 2, 2]))
