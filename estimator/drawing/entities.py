"""A DXF file read entity by entity, with ezdxf: the only module that knows it."""

import logging
from collections import Counter
from collections.abc import Iterable, Iterator
from importlib.util import find_spec
from io import BytesIO
from itertools import islice
from pathlib import Path
from typing import Any

from ..errors import DrawingError, FileError
from ..files.opening import file_bytes
from .geometry import ONE_POINT, Point
from .layer_names import FLOOR, NAME, RUN, UNITS
from .layers import EDGE_KINDS, FEATURES, OPENING_KINDS, Layers
from .shapes import BLOCK, CIRCLE, LINE, POLYLINE, TEXT, Drawing, Shape, spot

MOST_BYTES = 64 * 2**20
MOST_SHAPES = 5_000  # of what is drawn on the layers that are read
MOST_POINTS = 2_000  # of one polyline, or of what is drawn in one block
CURVES = ("ARC", "CIRCLE", "ELLIPSE", "SPLINE")
_LINES = ("LINE", "LWPOLYLINE", "POLYLINE")
_DRAWN = (*_LINES, *CURVES, "SOLID")  # of a block: what is measured; words are not
_CLOSED = "a closed polyline round the floor, of straight sides"


def read_drawing(path: Path, layers: Layers, unit: str | None = None) -> Drawing:
    """What the drawing shows on those layers, in its own units: that one, or as it says itself.

    Raises FileError for a file that is no DXF, and where ezdxf is not installed.
    """
    if find_spec("ezdxf") is None:
        accepted = (
            "the reader of drawings: install the program with its part layout (docs/install.md)"
        )
        raise FileError("ezdxf", None, accepted)
    document = _document(path)
    drawing = Drawing(path.name, unit or _unit(document))
    hidden = {
        layer.dxf.name.lower(): "frozen" if layer.is_frozen() else "off"
        for layer in document.layers
        if layer.is_frozen() or layer.is_off()
    }
    for entity in document.modelspace():
        _take(entity, layers, hidden, drawing)
        if len(drawing.shapes) > MOST_SHAPES:
            accepted = f"up to {MOST_SHAPES:,}: one building, and layers that hold only it"
            raise FileError(str(path), f"more than {MOST_SHAPES:,} lines and blocks", accepted)
    _say_elsewhere(document, layers, drawing)
    return drawing


def _document(path: Path) -> Any:
    data = file_bytes(path, "a drawing", MOST_BYTES)
    accepted = "a drawing saved as DXF, in text"
    if data[:4] == b"AC10" or data[:10] == b"AutoCAD Bi":  # as such files begin
        raise FileError(str(path), "a drawing saved another way", accepted)
    import ezdxf
    from ezdxf import recover

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL + 1)  # it would tell of each repair
    try:
        return recover.read(BytesIO(data))[0]
    except (ezdxf.DXFError, OSError):
        raise FileError(str(path), "no DXF that can be read", accepted) from None
    except Exception as error:  # a damaged file may end the reader anywhere
        found = f"a damaged DXF ({type(error).__name__})"
        raise FileError(str(path), found, accepted) from None


def _unit(document: Any) -> str | None:
    number = document.header.get("$INSUNITS", 0)
    return next((name for name, (_, code) in UNITS.items() if code == number), None)


def _take(entity: Any, layers: Layers, hidden: dict[str, str], drawing: Drawing) -> None:
    """One entity of the model: a shape, a sentence, or one more that is ignored."""
    layer, kind = str(entity.dxf.layer), entity.dxftype()
    block = layers.block(str(entity.dxf.name)) if kind == "INSERT" else None
    meaning = layers.meaning(layer) if block is None else block.kind
    if meaning is None:
        drawing.ignored[layer, kind] += 1
        return
    state = hidden.get(layer.lower()) or ("hidden" if entity.dxf.get("invisible", 0) else "")
    hair = ONE_POINT / (UNITS[drawing.unit][0] if drawing.unit else 1)
    try:
        shape = _shape(entity, meaning, hair)
    except DrawingError as error:
        if state:
            drawing.left.append(f"{error.where} is {state}, and is not taken.")
        else:
            drawing.refused.append(error)
        return
    if shape is None:
        drawing.ignored[layer, kind] += 1
    elif state:
        drawing.left.append(f"{shape.said()} is {state}, and is not taken.")
    elif len(shape.points) > 1 and _is_point(shape, hair):
        drawing.left.append(f"{shape.said()} has no length, and is not taken.")
    else:
        drawing.shapes.append(shape)


def _is_point(shape: Shape, hair: float) -> bool:
    x, y = shape.points[0]
    return all(abs(a - x) + abs(b - y) <= hair for a, b in shape.points)


def _shape(entity: Any, meaning: str, hair: float) -> Shape | None:
    """The entity as a shape; None where one of its kind says nothing on such a layer.

    Raises DrawingError for one that cannot be taken.
    """
    kind = entity.dxftype()
    outlines = meaning in (*OPENING_KINDS, *FEATURES)
    if kind in _LINES and meaning != NAME:
        return _lines(entity, meaning, hair)
    if kind == "INSERT" and outlines:
        return _block(entity, meaning)
    if kind == "CIRCLE" and meaning in FEATURES:
        x, y, _ = entity.ocs().to_wcs(entity.dxf.center)
        r = entity.dxf.radius
        return _as(entity, meaning, CIRCLE, [(x - r, y - r), (x + r, y + r)], closed=True)
    if kind in CURVES and meaning in (FLOOR, RUN, *EDGE_KINDS):
        start = _first_point(entity)
        where = f"layer {entity.dxf.layer}, {kind.lower()} {entity.dxf.handle} at {spot(start, 1)}"
        raise DrawingError(where, "a curve", "straight sides: draw it as splays")
    if kind in ("TEXT", "MTEXT") and meaning == NAME:
        x, y, _ = entity.dxf.insert
        lines = entity.plain_text().strip().splitlines()
        words = lines[0].strip() if lines else ""
        return _as(entity, meaning, TEXT, [(x, y)], words=words) if words else None
    return None


def _as(entity: Any, meaning: str, kind: str, points: Iterable[Point], **more: Any) -> Shape:
    found = tuple((float(x), float(y)) for x, y in points)
    return Shape(meaning, kind, str(entity.dxf.layer), str(entity.dxf.handle), found, **more)


def _first_point(entity: Any) -> Point:
    if entity.dxf.hasattr("center"):
        x, y, _ = entity.dxf.center
    else:
        points = list(islice(getattr(entity, "control_points", ()), 1)) or [(0, 0)]
        x, y = points[0][:2]
    return float(x), float(y)


def _lines(entity: Any, meaning: str, hair: float) -> Shape | None:
    """A line or polyline. Raises DrawingError for one that is curved, or does not lie level."""
    kind = entity.dxftype()
    if kind == "LINE":
        corners, closed, curved = [entity.dxf.start, entity.dxf.end], False, None
    elif kind == "LWPOLYLINE":
        if len(entity) > MOST_POINTS:
            raise _too_many(entity, len(entity))
        corners, closed = list(entity.vertices_in_wcs()), bool(entity.closed)
        curved = next((n for n, p in enumerate(entity.get_points("b")) if p[0]), None)
    else:
        if not (entity.is_2d_polyline or entity.is_3d_polyline):
            return None  # a mesh
        if len(entity.vertices) > MOST_POINTS:
            raise _too_many(entity, len(entity.vertices))
        corners, closed = list(entity.points_in_wcs()), bool(entity.is_closed)
        bulges = (v.dxf.get("bulge", 0) for v in entity.vertices)
        curved = next((n for n, b in enumerate(bulges) if b), None)
    if not corners:
        return None
    shape = _as(entity, meaning, LINE if kind == "LINE" else POLYLINE,
                [(p[0], p[1]) for p in corners], closed=closed)  # fmt: skip
    if curved is not None and not (curved == len(corners) - 1 and not closed):
        raise shape.refused("an arc", "straight sides: draw it as splays", shape.points[curved])
    up = next((p for p in corners if abs(p[2] - corners[0][2]) > hair), None)
    if up is not None:
        found = f"Z from {corners[0][2]:.6g} to {up[2]:.6g}"
        raise shape.refused(found, "a plan, drawn on one level", (up[0], up[1]))
    if meaning == FLOOR and kind == "LINE":
        raise shape.refused("a single line", f"{_CLOSED}: join its lines")
    return shape


def _too_many(entity: Any, count: int) -> DrawingError:
    where = f"layer {entity.dxf.layer}, polyline {entity.dxf.handle}"
    return DrawingError(where, f"{count:,} points", f"up to {MOST_POINTS:,}, of straight sides")


def _block(entity: Any, meaning: str) -> Shape:
    """A block with the points of all that is drawn in it. Raises DrawingError for none, or a grid."""
    name = str(entity.dxf.name)
    x, y, _ = entity.ocs().to_wcs(entity.dxf.insert)
    placed = _as(entity, meaning, BLOCK, [(x, y)], block=name)
    if entity.mcount > 1:
        raise placed.refused(f"a grid of {entity.mcount} blocks", "blocks put in one by one")
    points = _points_in(entity)
    if len(points) > MOST_POINTS:
        raise placed.refused("a block of too many lines", f"one of up to {MOST_POINTS:,} points")
    if not points:
        raise placed.refused(f"block {name}, in which no line is drawn", "a block with its outline")
    mark = entity.get_attrib_text("MARK", "", True).strip()
    return _as(entity, meaning, BLOCK, points, block=name, words=mark)


def _points_in(entity: Any) -> list[Point]:
    """The points of the lines in a block, as many as are read and one more."""
    from ezdxf import disassemble

    parts = islice(disassemble.recursive_decompose([entity]), MOST_POINTS + 1)
    drawn = (e for e in parts if e.dxftype() in _DRAWN)
    try:
        vertices = disassemble.to_vertices(disassemble.to_primitives(drawn, 1.0))
        return [(v.x, v.y) for v in islice(vertices, MOST_POINTS + 1)]
    except (RecursionError, ValueError, ZeroDivisionError):
        return []


def _say_elsewhere(document: Any, layers: Layers, drawing: Drawing) -> None:
    """What stands on layers that are read, but in blocks or on sheets: not taken, and said."""
    for layout in document.layouts:
        if not layout.is_modelspace:
            for layer, entity, count in _mapped(layout, layers):
                drawing.left.append(
                    f"layer {layer}, {entity} and {count} in all on the sheet {layout.name}: "
                    "only the model is read, and they are not taken."
                )
    said: set[str] = set()
    for insert in document.modelspace().query("INSERT"):
        name = str(insert.dxf.name)
        block = document.blocks.get(name)
        if block is None or name in said or layers.block(name) is not None:
            continue
        if layers.meaning(str(insert.dxf.layer)) in (*OPENING_KINDS, *FEATURES):
            continue
        said.add(name)
        x, y, _ = insert.dxf.insert
        for layer, entity, count in _mapped(block, layers):
            drawing.left.append(
                f"layer {layer}, {entity} and {count} in all in the block {name} at "
                f"{spot((x, y), 1)}: not taken. To have them read, explode the block."
            )


def _mapped(entities: Iterable[Any], layers: Layers) -> Iterator[tuple[str, str, int]]:
    """Of each layer that is read: the first line on it, and how many there are."""
    counts: Counter[str] = Counter()
    first: dict[str, str] = {}
    for entity in entities:
        layer = str(entity.dxf.layer)
        if layers.meaning(layer) is not None and entity.dxftype() in (*_LINES, "INSERT"):
            counts[layer] += 1
            first.setdefault(layer, f"{entity.dxftype().lower()} {entity.dxf.handle}")
    for layer, count in counts.items():
        yield layer, first[layer], count
