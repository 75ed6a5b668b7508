"""Drawings written by ezdxf for tests: what is on which layer, in which unit, turned how."""

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ezdxf
from ezdxf.document import Drawing as Document

from estimator.drawing.layer_names import UNITS, USUAL_LAYERS

Points = Sequence[tuple[float, float]]


def new_drawing(unit: str | None = "mm") -> Document:
    document = ezdxf.new("R2010", units=UNITS[unit][1] if unit else 0)
    for name in USUAL_LAYERS:
        document.layers.add(name)
    return document


def outline(document: Document, points: Points, layer: str = "Floors", closed: bool = True) -> Any:
    return document.modelspace().add_lwpolyline(
        list(points), close=closed, dxfattribs={"layer": layer}
    )


def line(document: Document, one: tuple[float, ...], two: tuple[float, ...], layer: str) -> Any:
    return document.modelspace().add_line(one, two, dxfattribs={"layer": layer})


def moved(points: Points, by: tuple[float, float] = (0, 0), degrees: float = 0) -> Points:
    """Turned about nought to the left, then moved."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(by[0] + x * cos - y * sin, by[1] + x * sin + y * cos) for x, y in points]


def saved(document: Document, folder: Path, name: str = "plan.dxf") -> Path:
    path = folder / name
    document.saveas(path)
    return path
