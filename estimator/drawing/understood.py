"""What a drawing says of a job: its floors, wall runs, openings and features."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from ..errors import DrawingError
from .entities import read_drawing
from .layer_names import FLOOR, UNITS
from .layers import Layers
from .openings import Feature, Opening, features, held, placed, thresholds
from .outlines import floors as outlines_of
from .outlines import unit_of
from .runs import Run, drawn, round_floors
from .shapes import Drawing
from .walks import Floor, walked


@dataclass
class Understood:
    """What was taken of a drawing, in walks and lists; what was not, and what has to be mended."""

    name: str
    unit: str
    floors: Sequence[Floor]
    runs: Sequence[Run]
    openings: Sequence[Opening]
    features: Sequence[Feature]
    left: Sequence[str]
    refused: Sequence[DrawingError]
    ignored: Sequence[tuple[str, str, int]]  # layer, kind of entity, how many


def understood(path: Path, layers: Layers, units: str | None = None) -> Understood:
    """What a drawing says. `units` instead of the unit that it names itself.

    Raises FileError for a file that is no drawing, and DrawingError for one without a floor, or
    whose unit is not known or cannot be.
    """
    drawing = read_drawing(path, layers, units)
    if not drawing.of(FLOOR) and not drawing.refused:
        raise _no_floor(drawing, layers)
    size = unit_of(drawing, units)
    unit = next(name for name, (metres, _) in UNITS.items() if metres == size)
    drawing.shapes = [s.in_metres(size) for s in drawing.shapes]
    outlines = outlines_of(drawing)
    runs = drawn(drawing, outlines, layers)
    openings = held(drawing, outlines, runs, layers)
    floors = walked(outlines, drawing, layers, thresholds(openings))
    runs = [*round_floors(floors), *runs]
    return Understood(
        drawing.name,
        unit,
        floors,
        runs,
        placed(openings, floors, runs, drawing),
        features(drawing, outlines),
        drawing.left,
        drawing.refused,
        sorted((layer, kind, n) for (layer, kind), n in drawing.ignored.items()),
    )


def _no_floor(drawing: Drawing, layers: Layers) -> DrawingError:
    there = sorted({layer for layer, _ in drawing.ignored})
    more = f". It has the layers {', '.join(there[:12])}" if there else ""
    said = f" ({drawing.left[0].rstrip('.')})" if drawing.left else ""
    accepted = f"a closed polyline round each floor, on a layer {layers.names(FLOOR)}{more}{said}"
    return DrawingError(drawing.name, "no floor", accepted)
