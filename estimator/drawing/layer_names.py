"""What a layer can mean, and the layers that are read where an office names none of its own.

No import but the language's own: the page of help lists these names.
"""

FLOOR, RUN, NAME = "floor", "wall run", "floor name"

# The layer, and what is drawn on it: a floor, the kind of edge that a side along it has, a wall
# run, a kind of opening, a kind of floor feature, or the name of the floor it stands in.
USUAL_LAYERS: dict[str, str] = {
    "Floors": FLOOR,
    "Floor names": NAME,
    "New walls": "new wall",
    "Existing walls with DPC": "existing wall with DPC",
    "Existing walls DPC unknown": "existing wall, DPC unknown",
    "Thresholds": "threshold",
    "Partitions": "partition",
    "Free edges": "free",
    "Wall runs": RUN,
    "Windows": "window",
    "Raised doors": "raised door",
    "Level doors": "level-access door",
    "Air bricks": "air brick",
    "Columns": "column",
    "Piers": "pier",
}

# Units a drawing may be in: how many metres each is (exactly, of inches and feet), and its number
# in the drawing's own $INSUNITS.
UNITS: dict[str, tuple[float, int]] = {
    "mm": (0.001, 4),
    "cm": (0.01, 5),
    "m": (1.0, 6),
    "in": (0.0254, 1),
    "ft": (0.3048, 2),
}
