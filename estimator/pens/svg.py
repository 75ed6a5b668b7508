"""A drawing as SVG: a picture to scale for letters and pages."""

from collections.abc import Iterator
from xml.sax.saxutils import escape

from ..language.ledger import Ledger
from .views import FRAME, UNITS_TO_POINT, Point, View, Words

SIDE_MM = 160  # of the picture, as it is printed


def as_svg(view: View, ledger: Ledger) -> bytes:
    """The bytes of the file: the frame, its lines by style, its texts."""
    return "\n".join(_parts(view, ledger)).encode()


def _parts(view: View, ledger: Ledger) -> Iterator[str]:
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{SIDE_MM}mm" height="{SIDE_MM}mm" '
        f'viewBox="0 0 {FRAME} {FRAME}" role="img" font-family="Arial, sans-serif">'
    )
    yield f"<title>{escape(view.title)}</title><desc>{escape(view.told)}</desc>"
    yield f'<rect width="{FRAME}" height="{FRAME}" fill="#ffffff"/>'
    for lines in view.lines:
        width = lines.style.weight * UNITS_TO_POINT
        dash = " ".join(f"{part * width:.4g}" for part in lines.style.pattern)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        strokes = "".join(map(_path, lines.strokes(ledger)))
        if strokes:
            yield (
                f'<path fill="none" stroke="#{lines.style.colour}" stroke-width="{width:.4g}"'
                f'{dashed} d="{strokes}"><title>{escape(lines.name)}</title></path>'
            )
    for words in view.words:
        for _, point, text in words.each(ledger):
            if text.strip():
                yield _text(words, point, text)
    yield "</svg>\n"


def _path(stroke: list[Point]) -> str:
    (x, y), *rest = stroke
    return f"M{x:.4f} {FRAME - y:.4f}" + "".join(f"L{x:.4f} {FRAME - y:.4f}" for x, y in rest)


def _text(words: Words, point: Point, text: str) -> str:
    anchor = "start" if words.ahead else "middle"
    weight = ' font-weight="bold"' if words.bold else ""
    return (
        f'<text x="{point[0]:.4f}" y="{FRAME - point[1]:.4f}" text-anchor="{anchor}"'
        f' dy="0.36em" font-size="{words.size * UNITS_TO_POINT:.4g}"{weight}>'
        f"{escape(text)}</text>"
    )
