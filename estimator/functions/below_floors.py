"""Blinding, hardcore and loads of them; ventilation of the void."""

from .prices import BY_PACK
from .registry import Example, Function, Held

GROUP = "Blinding and hardcore"
VOID = "Ventilation"
_AREA, _DEPTH = "area: net_area", "depth: hardcore_depth"
_BLINDED = {"blinded": 1}
_GROUND = {"build_up": "slab on DPM, insulation below", "void": None}  # no void to be typed

ROWS = (
    Function(
        "BLINDING_VOLUME", GROUP, "zones.blinding_volume", (_AREA, "basis"),
        Example((24, "Common practice in small masonry building, no document"), 1.2, "24 × 0.050"),
        _BLINDED,
        meaning_here="Blinding in place under a floor whose sheet lies on it.",
    ),
    Function(
        "BLINDING_MASS", GROUP, "zones.blinding_mass", (_AREA, "basis"),
        Example((24, "Common practice in small masonry building, no document"), 2.52, "24 × 0.050 × 2.1"),
        _BLINDED,
    ),
    Function(
        "HARDCORE_DEPTH", GROUP, "zones.hardcore_depth",
        ("finished_level", "formation_level", "screed", "insulation", "slab", "basis"),
        Example((0, -0.5, 65, 100, 100, "Common practice in small masonry building, no document"), 185,
                "500 − 65 − 100 − 100, less 50 blinding"),
        _GROUND,
        (Held("levels_agree", "formation_level", "a level that leaves room for every layer"),),
        "Depth left for hardcore under a slab on blinded sheet: levels less everything above it.",
    ),
    Function(
        "HARDCORE_VOLUME", GROUP, "zones.hardcore_volume", (_AREA, _DEPTH),
        Example((24, 150), 3.6, "24 × 0.150"),
    ),
    Function(
        "HARDCORE_MASS", GROUP, "zones.hardcore_mass", (_AREA, _DEPTH, "basis"),
        Example((24, 150, "Common practice in small masonry building, no document"), 7.92, "24 × 0.150 × 2.2"),
    ),
    Function(
        "LAYER_MASS", GROUP, "zones.hardcore_mass",
        (_AREA, _DEPTH, "density: hardcore_density"),
        Example((24, 150, 1.94), 6.984, "24 × 0.150 × 1.94"),
        meaning_here="Tonnes of a layer in place, at a density of your own.",
    ),
    Function(
        "HARDCORE_LAYER_COUNT", GROUP, "zones.layers", (_DEPTH, "basis"),
        Example((300, "NHBC Standards (2024)"), 2, "300 ÷ 225 = 1.3, up to 2"),
    ),
    Function(
        "FILL_LOAD_COUNT", GROUP, "book.packs_worked",
        ("tonnes: net", "load: weight", "wastage", "fewest_packs: minimum_packs"),
        Example((7.2, 1000, 10, 3), 8, "7.2 × 1.1 = 7.92, up to 8; 3 at least"),
        {**BY_PACK, "material": "hardcore", "in_roll": 0, "pieces": 0},
        meaning_here="Bags, or steps of a loose load, that bring so many tonnes, with wastage.",
    ),
    Function(
        "VOID_VENT_AREA", VOID, "zones.vent_area", ("external_run: vent_run", _AREA, "basis"),
        Example((7, 20, "Approved Document C (2004)"), 10500, "the greater of 7 × 1500 and 20 × 500"),
        {"ventilated": 1},
    ),
    Function(
        "AIR_BRICK_COUNT", VOID, "zones.air_bricks", ("vent_area", "free_area"),
        Example((10500, 4500), 4, "5250 ÷ 4500 = 1.2, up to 2, in each of two sides"),
        meaning_here="Underfloor air bricks: half the free area in each of two opposite sides.",
    ),
)  # fmt: skip
