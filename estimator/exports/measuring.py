"""How each line of the quantities is measured in a bill, and by which rule.

Clauses are those of NRM2: New Rules of Measurement 2, Detailed measurement for building works
(RICS, 2nd edition, October 2021). All are from memory: the document was not read, the item numbers
least of all. The bill says so, and they are to be confirmed in it.
"""

from dataclasses import dataclass

from ..buying.lines import LINES, Line
from ..language import rounding

DOCUMENT = "NRM2 (RICS, 2nd edition, October 2021)"
FILLING, MEMBRANE, TRAY = "5.12", "5.16", "section 14"
NARROW_COURSE, BROAD_COURSE = "14.16", "14.17"
GENERAL = "net, as fixed in place"  # the general rule, where no item is known for it

# Widths and thicknesses at which the unit changes, in millimetres.
THIN_BED, DEEP_FILLING = 50, 500
WIDE_SHEET = 500
WIDE_COURSE = 300

VERTICAL = frozenset({"tie_dpc", "jamb_dpc", "cut_in_jambs"})
COURSES_OF_TRAY = frozenset({"copings"})  # bought as trays, laid as damp-proof courses
WITH_THE_SHEET = frozenset({"lap_tape", "over_tape"})  # laps and what seals them
# Bought by weight or in pieces, measured otherwise: the column of the same list that says how much.
MEASURED_AS = {
    "hardcore": ("hardcore_volume", "m³"),
    "blinding": ("blinding_volume", "m³"),
    "lead": ("sealant", "m"),  # the sealant runs along every flashing, once
    "cut_in_lead": ("sealant", "m"),
}
THICKNESS = {"hardcore": "hardcore_depth", "blinding": "bed"}


@dataclass(frozen=True)
class Measured:
    """One kind of item: its description, its unit, by which rule; `times` makes m into m²."""

    description: str
    unit: str
    rule: str
    times: float = 1


def of_filling(label: str, thickness: float) -> Measured:
    """A bed of filling `thickness` mm thick: by area up to 50 mm, by volume above.

    >>> of_filling("Hardcore under floors", 165).description
    'Imported filling, bed over 50 mm and not over 500 mm deep: Hardcore under floors, 165 mm thick when compacted'
    """
    band, unit = "over 500 mm deep", "m³"
    if thickness <= THIN_BED:
        band, unit = "not over 50 mm thick", "m²"
    elif thickness <= DEEP_FILLING:
        band = "over 50 mm and not over 500 mm deep"
    words = f"Imported filling, bed {band}: {label}, {figure(thickness)} mm thick when compacted"
    # From volume to area where it is measured by area.
    return Measured(words, unit, clause(FILLING), 1000 / thickness if unit == "m²" else 1)


def of_sheet(label: str) -> Measured:
    """A membrane over a floor, wider than 500 mm: by area in contact, laps included."""
    words = f"Membrane over 500 mm wide, horizontal, laps and what seals them included: {label}"
    return Measured(words, "m²", clause(MEMBRANE))


def of_turn_up(label: str, height: float) -> Measured:
    """A membrane turned up and dressed `height` mm at a floor's edge: by length up to 500 mm, by area above."""
    band, unit, times = _by_width(height, WIDE_SHEET)
    words = (
        f"Membrane {band}, turned up at edges of floors, what is dressed on to a DPC included: "
        f"{label}, {figure(height)} mm"
    )
    return Measured(words, unit, clause(MEMBRANE), times)


def of_line(line: Line, label: str, width: float, material: str, unit: str) -> Measured:
    """Any other line: damp-proof courses and trays `width` mm wide by their width, all else as is."""
    if material == "dpc_roll" or line.key in COURSES_OF_TRAY:
        band, by, times = _by_width(width, WIDE_COURSE)
        way = "vertical" if line.key in VERTICAL else "horizontal"
        words = f"Damp-proof course {band}, {way}: {label}, {figure(width)} mm wide"
        return Measured(words, by, clause(NARROW_COURSE if by == "m" else BROAD_COURSE), times)
    if material == "tray_roll":
        band, by, times = _by_width(width, WIDE_COURSE)
        words = f"Cavity tray {band}: {label}, {figure(width)} mm girth"
        return Measured(words, by, clause(TRAY), times)
    words = f"{label}, {figure(width)} mm" if width else label
    return Measured(words, unit, GENERAL)


def clause(item: str) -> str:
    """A clause as the bill prints it."""
    return f"NRM2 {item}, from memory"


def figure(value: float) -> str:
    """Millimetres in a description: one decimal at the most.

    >>> figure(102.5), figure(407.6828), figure(150.0)
    ('102.5', '407.7', '150')
    """
    return f"{rounding.to_places(value, 1):f}".removesuffix(".0")


def _by_width(width: float, limit: float) -> tuple[str, str, float]:
    """Not wider than that: by length. Wider: by area."""
    if width <= limit:
        return f"not over {limit} mm wide", "m", 1
    return f"over {limit} mm wide", "m²", width / 1000


LINE_OF = {line.key: line for line in LINES}
