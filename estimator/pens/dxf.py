"""A drawing as DXF, in millimetres as built, by ezdxf."""

import io
from importlib.util import find_spec
from typing import Any

from ..errors import FileError
from ..language.ledger import Ledger
from .views import UNITS_TO_POINT, View

HOW = "install the program with its part layout (docs/install.md)"
_CAPITALS = 0.7  # of a letter's size: DXF counts the height of capitals
_MILLIMETRES = 4  # as $INSUNITS has it
_WEIGHTS = (13, 18, 25, 35, 50, 70, 100)  # hundredths of a millimetre: those that DXF knows
_POINT = 25.4 / 72


def has_writer() -> bool:
    """Whether the package that writes DXF is installed: it comes with the program's part layout."""
    return find_spec("ezdxf") is not None


def as_dxf(view: View, ledger: Ledger) -> bytes:
    """The bytes of the file, a layer for each kind of line.

    Raises FileError where ezdxf is not installed.
    """
    if not has_writer():
        raise FileError("ezdxf", None, f"the writer of drawings: {HOW}")
    import ezdxf
    from ezdxf.enums import TextEntityAlignment

    document = ezdxf.new("R2010")
    document.units = _MILLIMETRES
    space = document.modelspace()
    size = view.unit(ledger)
    for lines in view.lines:
        style = lines.style
        if style.pattern and style.name not in document.linetypes:
            parts = [part * style.weight * UNITS_TO_POINT * size for part in style.pattern]
            signed = [part if n % 2 == 0 else -part for n, part in enumerate(parts)]
            document.linetypes.add(style.name, [sum(parts), *signed])
        weight = min(_WEIGHTS, key=lambda w: abs(w - style.weight * _POINT * 100))
        layer = document.layers.add(_layer(lines.name), lineweight=weight)
        if style.pattern:
            layer.dxf.linetype = style.name
        for stroke in lines.strokes(ledger):
            points = [(x * size, y * size) for x, y in stroke]
            space.add_lwpolyline(points, dxfattribs={"layer": layer.dxf.name})
    document.layers.add("words")
    for words in view.words:
        align = (
            TextEntityAlignment.MIDDLE_LEFT if words.ahead else TextEntityAlignment.MIDDLE_CENTER
        )
        for _, (x, y), text in words.each(ledger):
            if text.strip():
                height = words.size * UNITS_TO_POINT * _CAPITALS * size
                written: Any = space.add_text(text, height=height, dxfattribs={"layer": "words"})
                written.set_placement((x * size, y * size), align=align)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def _layer(name: str) -> str:
    return name.replace(":", "")
