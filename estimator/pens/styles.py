"""The lines of our drawings: they differ in weight and dash, so that they print in black."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Style:
    """How a line is drawn: its weight in points, its dash, and how dark it is.

    `dash` is one of the file format's own dashes (DrawingML, ST_PresetLineDashVal); `pattern` is
    the same in weights of the line, drawn and left out by turns.
    """

    name: str
    weight: float
    dash: str = "solid"
    pattern: tuple[float, ...] = ()
    colour: str = "000000"


HEAVY = Style("heavy", 3.0)
OLD = Style("old", 2.25, "sysDash", (3, 1), "595959")
MEDIUM = Style("medium", 1.5)
LONG = Style("long", 1.0, "lgDash", (8, 3))
DOTTED = Style("dotted", 1.25, "sysDot", (1, 1), "404040")
DASHED = Style("dashed", 0.75, "dash", (4, 3))
FINE = Style("fine", 0.5)
DOTTED_FINE = Style("fine dotted", 0.5, "sysDot", (1, 1), "404040")
SHEET = Style("sheet", 2.0, "dash", (4, 3))
SOLID = Style("solid", 2.25)
