"""Blinding, hardcore and loads of them; ventilation of the void."""

from ..buying.ranking import content
from ..buying.taking import packs as packs_sold
from ..buying.taking import packs_needed, required
from ..rules.many import Many
from ..rules.units import (
    CubicMetres,
    Density,
    Each,
    Kilograms,
    Metres,
    Millimetres,
    Percent,
    SquareMetres,
    SquareMillimetres,
    Tonnes,
)
from ..takeoff import floors, ventilation
from ..takeoff.build_ups import bed, floor_depth, levels_agree, room_below
from ..takeoff.build_ups import hardcore_depth as depth_left
from .guidance import Guidance
from .refusal import held
from .registry import function

GROUP = "Blinding and hardcore"
VOID = "Ventilation"


@function(GROUP, (24, "common_practice"), 1.2, "24 × 0.050")
def blinding_volume(area: SquareMetres, basis: Guidance) -> CubicMetres:
    """Blinding in place under a floor whose sheet lies on it."""
    return floors.blinding_volume(area, bed(1, basis("blinding_thickness")))


@function(GROUP, (24, "common_practice"), 2.52, "24 × 0.050 × 2.1")
def blinding_tonnes(area: SquareMetres, basis: Guidance) -> Tonnes:
    """Blinding to order from: its volume in place at its density in place."""
    volume = floors.blinding_volume(area, bed(1, basis("blinding_thickness")))
    return floors.blinding_mass(volume, basis("blinding_density"))


@function(
    GROUP, (0, -0.5, 65, 100, 100, "common_practice"), 185, "500 − 65 − 100 − 100, less 50 blinding"
)  # fmt: skip
def hardcore_depth(
    finished_level: Metres,
    formation_level: Metres,
    screed: Millimetres,
    insulation: Millimetres,
    slab: Millimetres,
    basis: Guidance,
) -> Millimetres:
    """Depth left for hardcore under a slab on blinded sheet: levels less everything above it."""
    floor = floor_depth(screed, insulation, slab)
    room = room_below(
        finished_level, formation_level, floor, 0, bed(1, basis("blinding_thickness"))
    )
    held(levels_agree(1, room, 0, 0), "formation_level", formation_level,
         "a level that leaves room for every layer")  # fmt: skip
    return depth_left(1, room, 0)


@function(GROUP, (24, 150), 3.6, "24 × 0.150")
def hardcore_volume(area: SquareMetres, depth: Millimetres) -> CubicMetres:
    """Hardcore measured compacted in place."""
    return floors.hardcore_volume(area, depth)


@function(GROUP, (24, 150, "common_practice"), 7.92, "24 × 0.150 × 2.2")
def hardcore_tonnes(area: SquareMetres, depth: Millimetres, basis: Guidance) -> Tonnes:
    """Hardcore to order from: its volume in place at its density in place."""
    return floors.hardcore_mass(floors.hardcore_volume(area, depth), basis("hardcore_density"))


@function(GROUP, (24, 150, 1.94), 6.984, "24 × 0.150 × 1.94")
def tonnes_in_place(area: SquareMetres, depth: Millimetres, density: Density) -> Tonnes:
    """Tonnes of a layer in place, at a density of your own."""
    return floors.hardcore_mass(floors.hardcore_volume(area, depth), density)


@function(GROUP, (300, "nhbc_2024"), 2, "300 ÷ 225 = 1.3, up to 2")
def hardcore_layers(depth: Millimetres, basis: Guidance) -> Each:
    """Layers in which the hardcore is compacted."""
    return floors.layers(depth, basis("hardcore_layer_max"))


@function(GROUP, (7.2, 1000, 10, 3), 8, "7.2 × 1.1 = 7.92, up to 8; 3 at least")
def loads(tonnes: Tonnes, load: Kilograms, wastage: Percent, fewest_packs: Each) -> Each:
    """Bags, or steps of a loose load, that bring so many tonnes, with wastage."""
    holds = content(1, 0, 0, load, Many([0]), Many([1]))
    needed = packs_needed(tonnes, required(tonnes, 0, wastage), 0, holds, 0, 0, 0)
    return packs_sold(needed, fewest_packs)


@function(
    VOID, (7, 20, "england_adc_2013"), 10500, "the greater of 7 × 1500 and 20 × 500"
)  # fmt: skip
def vent_area(external_run: Metres, area: SquareMetres, basis: Guidance) -> SquareMillimetres:
    """Free area of openings to the void of a suspended floor: by the run or by the floor."""
    by_run, by_floor = basis("vent_per_metre"), basis("vent_per_area")
    return ventilation.vent_area(1, external_run, area, by_run, by_floor)


@function(VOID, (10500, 4500), 4, "5250 ÷ 4500 = 1.2, up to 2, in each of two sides")
def air_bricks(vent_area: SquareMillimetres, free_area: SquareMillimetres) -> Each:
    """Underfloor air bricks: half the free area in each of two opposite sides."""
    return ventilation.air_bricks(ventilation.bricks_each(vent_area, free_area))
