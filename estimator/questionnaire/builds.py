"""Build-ups and roofs the form can be answered with. Any measure of them may be typed over."""

from ..language import Fixed, Table
from ..language.units import FLAG, MILLIMETRES, TEXT

WALL_BUILDS = Table(
    "wall_builds",
    "wall_build",
    "Wall build-ups the form knows",
    (
        Fixed("name", "Wall build-up", TEXT),
        Fixed("outer_leaf", "Outer leaf", MILLIMETRES),
        Fixed("cavity", "Cavity", MILLIMETRES),
        Fixed("inner_leaf", "Inner leaf", MILLIMETRES),
    ),
    key="name",
    guarded=False,
)


def _wall(name: str, outer: float, cavity: float, inner: float) -> dict[str, object]:
    return {"name": name, "outer_leaf": outer, "cavity": cavity, "inner_leaf": inner}


WALL_BUILD_ROWS = (
    _wall("brick 102.5, cavity 100, block 100", 102.5, 100, 100),
    _wall("brick 102.5, cavity 125, block 100", 102.5, 125, 100),
    _wall("brick 102.5, cavity 150, block 100", 102.5, 150, 100),
    _wall("brick 102.5, cavity 150, block 140", 102.5, 150, 140),
    _wall("block 100, cavity 100, block 100", 100, 100, 100),
    _wall("block 100, cavity 150, block 100", 100, 150, 100),
)

FLOOR_BUILDS = Table(
    "floor_builds",
    "floor_build",
    "Floor build-ups the form knows",
    (
        Fixed("name", "Floor build-up", TEXT),
        Fixed("kind", "Build-up", TEXT),
        Fixed("screed", "Screed", MILLIMETRES),
        Fixed("insulation", "Insulation", MILLIMETRES),
        Fixed("slab", "Slab", MILLIMETRES),
    ),
    key="name",
    guarded=False,
)


def _floor(
    name: str, kind: str, screed: float, insulation: float, slab: float
) -> dict[str, object]:
    return {"name": name, "kind": kind, "screed": screed, "insulation": insulation, "slab": slab}


FLOOR_BUILD_ROWS = (
    _floor("screed 65, insulation 100, slab 100, on DPM", "slab on DPM, insulation above", 65, 100, 100),
    _floor("screed 65, insulation 120, slab 100, on DPM", "slab on DPM, insulation above", 65, 120, 100),
    _floor("screed 65, insulation 150, slab 100, on DPM", "slab on DPM, insulation above", 65, 150, 100),
    _floor("screed 65, insulation 100, slab 150, on DPM", "slab on DPM, insulation above", 65, 100, 150),
    _floor("screed 65, insulation 120, slab 150, on DPM", "slab on DPM, insulation above", 65, 120, 150),
    _floor("screed 65, insulation 150, slab 150, on DPM", "slab on DPM, insulation above", 65, 150, 150),
    _floor("slab 100 on DPM, no insulation", "slab on DPM, insulation below", 0, 0, 100),
    _floor("slab 100 on DPM, insulation 100 below", "slab on DPM, insulation below", 0, 100, 100),
    _floor("slab 100 on DPM, insulation 150 below", "slab on DPM, insulation below", 0, 150, 100),
    _floor("slab 150 on DPM, insulation 100 below", "slab on DPM, insulation below", 0, 100, 150),
    _floor("slab 150 on DPM, insulation 150 below", "slab on DPM, insulation below", 0, 150, 150),
    _floor("screed 75 and insulation 120 on DPM, slab 100", "insulation and screed on DPM", 75, 120, 100),
    _floor("screed 75 and insulation 120 on DPM, slab 150", "insulation and screed on DPM", 75, 120, 150),
)  # fmt: skip

ROOF_BUILDS = Table(
    "roof_builds",
    "roof_build",
    "Roofs the form knows",
    (
        Fixed("name", "Roof", TEXT),
        Fixed("tray_over", "Tray cut into the house above it", FLAG),
        Fixed("cut_in", "Tray cut in", TEXT),
        Fixed("rises", "Rises towards the house", FLAG),
    ),
    key="name",
    guarded=False,
)
ROOF_BUILD_ROWS = (
    {"name": "flat", "tray_over": 1, "cut_in": "above a new roof", "rises": 0},
    {"name": "lean-to", "tray_over": 1, "cut_in": "above a new roof", "rises": 1},
    {
        "name": "two slopes against the house",
        "tray_over": 1,
        "cut_in": "stepped up a slope",
        "rises": 0,
    },
    {"name": "clear of the house wall", "tray_over": 0, "cut_in": "", "rises": 0},
)
