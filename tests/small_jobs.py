"""A bare job that a test fills with only what it is about."""

from dataclasses import replace
from typing import Any

from estimator.buying.materials import MATERIAL_ROWS, measures_of
from estimator.model.job import ROW_MODELS, Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.model.plan import plan

from .random_jobs import EVERY_OWN

SUPPLIER = "Invented supplier A"


def row(table: str, **given: Any) -> dict[str, Any]:
    """A row with blanks for what is not given."""
    return {i.name: given.get(i.name) for i in plan().tables[table].inputs}


def product(code: str, material: str, price: float = 10, **given: Any) -> dict[str, Any]:
    """A price-book row of the one supplier, unless another is named."""
    given.setdefault("supplier", SUPPLIER)
    return row("book", code=code, material=material, description=code, price=price, **given)


_NAMED = (
    product("SAND", "blinding_sand", weight=25),
    product("STONE", "hardcore", weight=1000),
    product("SHEET", "dpm_sheet", width=4000, length=25),
    product("GASSHEET", "gas_sheet", width=4000, length=25),
    product("GASTAPE2", "gas_tape_double", length=15),
    product("GASTAPE1", "gas_tape_single", length=25),
    product("GASCOLLAR", "gas_collar", width=110, pieces=1),
    product("DPC100", "dpc_roll", width=100, length=30),
    product("DPC112", "dpc_roll", width=112.5, length=30),
    product("DPC150", "dpc_roll", width=150, length=30),
    product("DPC225", "dpc_roll", width=225, length=30),
    product("TRAY450", "tray_roll", width=450, length=20),
    product("TAPE2", "tape_double", length=15),
    product("TAPE1", "tape_single", length=25),
    product("COLLAR", "collar", width=110, pieces=1),
    product("VENT", "weep_vent", pieces=1),
    product("UNIT", "cut_in_unit", pieces=1),
    product("DUCT", "duct", width=110, length=3),
    product("COUPLER", "coupler", pieces=1),
    product("SLEEVE", "sleeve", pieces=1),
    product("BRICK", "air_brick", pieces=1),
    product("CATCH", "catchment_unit", pieces=1),
    product("STEP", "step_unit", pieces=1),
    product("RIDGE", "ridge_unit", pieces=1),
    product("STOP", "stop_end", pieces=1),
    product("WEEP", "weep", pieces=1),
    product("SEPARATE", "separating_layer", width=2000, length=50),
    product("STRIP", "perimeter_strip", length=50),
    product("INSULATE", "floor_insulation", pieces=1),
    product("CONCRETE", "oversite_concrete", pieces=1),
    product("PATCH", "dpm_patch", pieces=1),
    product("CORNER", "corner_unit", pieces=1),
    product("TEE", "junction_unit", pieces=1),
    product("LEVELSTEP", "level_step_unit", pieces=1),
    product("PIERCED", "penetration_unit", pieces=1),
    product("DPCSTEP", "dpc_step_unit", pieces=1),
    product("CLOSER", "closer", width=100, length=2.4),
    product("LEAD", "lead_piece", pieces=1),
    product("SOAKER", "soaker", pieces=50),
    product("SEALANT", "sealant", length=8),
    product("SUPPORT", "cavity_support", length=3),
    product("CHANNEL", "channel", length=1),
)
USUAL_PACK = {"width": 1000, "length": 10, "pieces": 1, "weight": 1000}
# A material that is not named above is there too, in a pack of the usual measures.
STOCK = (
    *_NAMED,
    *(
        product(
            str(m["key"]).upper(),
            str(m["key"]),
            **{x: USUAL_PACK[x] for x in measures_of(str(m["key"]))},
        )
        for m in MATERIAL_ROWS
        if m["key"] not in {r["material"] for r in _NAMED}
    ),
)


def bare_job(**rows: Any) -> Job:
    """A job with the given rows and nothing else; the stock is one of each unless given."""
    filled = {name: list(rows.get(name, ())) for name in ROW_MODELS}
    filled["suppliers"] = list(rows.get("suppliers", [row("suppliers", name=SUPPLIER, delivery=0)]))
    filled["book"] = list(rows.get("book", STOCK))
    particulars = {
        "job_title": "Invented",
        "client_name": "Invented",
        "site_address": "Invented",
        "prepared_by": "A test",
        "quote_date": "today",
        "quote_valid": "30 days",
        "job_notes": None,
        "basis_choice": "nhbc_2024",
        "site_nation": "England",
        "supplier_choice": filled["suppliers"][0]["name"],
        "sheet_joints": "whole strips",
        "tray_joints": "joined",
        "weep_kind": "inserts",
        "loose_rule": "multiply",
        "radon_area": "no",
        "profit_rule": "markup on cost",
        "profit_percent": 0,
        "profit_on_delivery": "no",
        "profit_on_work": "no",
        "minimum_charge": 0,
        "vat_status": "standard",
        "vat_percent": 20,
        "supplier_vat_percent": 20,
        "vat_reason": None,
        "client_is_householder": "yes",
    }
    # 150 past the lintel, by an override: the figure that the lengths in these tests are worked with.
    job = Job(particulars, filled, own=EVERY_OWN, override={"tray_past_lintel": 150})
    check_job(job, InJobFile("test"))
    return job


def zone(mark: str, a: float | None, b: float | None, **given: Any) -> dict[str, Any]:
    """A zone whose DPM lies 335 below its finished floor and whose hardcore is 165 deep."""
    usual = {
        "build_up": "slab on DPM, insulation above",
        "finished_level": 0,
        "formation_level": -0.55,
        "screed": 65,
        "insulation": 120,
        "slab": 150,
    }
    return row("zones", mark=mark, side_a=a, side_b=b, **{**usual, **given})


def walked_zone(mark: str, **given: Any) -> dict[str, Any]:
    """The same, walked round its sides."""
    return zone(mark, None, None, **given)


def edge(
    mark: str, zone_mark: str, side: str | None, length: float | None, **given: Any
) -> dict[str, Any]:
    """An edge; a free one unless a kind is given. Of a walk it has no side."""
    given.setdefault("kind", "free")
    return row("edges", mark=mark, zone=zone_mark, side=side, length=length, **given)


def turned_up(mark: str, a: float, b: float, turn_up: float) -> list[dict[str, Any]]:
    """Four edges of one zone, each turned up alike."""
    return [
        edge(f"{mark}{side}", mark, side, length, kind="threshold", typed_turn_up=turn_up)
        for side, length in (("A1", a), ("A2", a), ("B1", b), ("B2", b))
    ]


def wall(mark: str, length: float | None, **given: Any) -> dict[str, Any]:
    """An open half-brick cavity run on its outside face, no corners, no ends."""
    usual = {
        "run": "open",
        "measured_on": "outside face",
        "external_corners": 0,
        "internal_corners": 0,
        "ends_at_existing": 0,
        "outer_leaf": 102.5,
        "cavity": 100,
        "inner_leaf": 100,
    }
    return row("walls", mark=mark, length=length, **{**usual, **given})


def opening(mark: str, wall_mark: str, **given: Any) -> dict[str, Any]:
    """A window of 1.81 × 1.2 m under a 2.1 m lintel."""
    usual = {"kind": "window", "number": 1, "width": 1.81, "height": 1.2, "lintel": 2.1}
    return row("openings", mark=mark, wall=wall_mark, **{**usual, **given})


def with_own(job: Job, **own: float) -> Job:
    """The same job with overrides."""
    return replace(job, override=own)
