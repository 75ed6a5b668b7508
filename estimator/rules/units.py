"""What a figure is measured in, said in the type of every argument and result of a rule."""

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True)
class Unit:
    """A unit as printed, how many decimals are shown, and the ending a job file's key takes."""

    sign: str
    decimals: int = 0
    ending: str = ""
    text: bool = False
    exact: bool = False  # counts and money are compared to the last digit, lengths to a hair

    @property
    def number_format(self) -> str:
        """The format of a cell that holds such a figure."""
        if self.text:
            return "@"
        whole = "#,##0" if self.decimals else "0"
        return whole + ("." + "0" * self.decimals if self.decimals else "")


METRES = Unit("m", 3, "_m")
MILLIMETRES = Unit("mm", 0, "_mm")
SQUARE_METRES = Unit("m²", 2, "_m2")
SQUARE_MILLIMETRES = Unit("mm²", 0, "_mm2")
CUBIC_METRES = Unit("m³", 3, "_m3")
TONNES = Unit("t", 3, "_t")
KILOGRAMS = Unit("kg", 0, "_kg")
DENSITY = Unit("t/m³", 2, "_t_per_m3")
PER_METRE = Unit("mm²/m", 0, "_mm2_per_m")
PER_SQUARE_METRE = Unit("mm²/m²", 0, "_mm2_per_m2")
MICROMETRES = Unit("µm", 0, "_um")
AREA_PER_METRE = Unit("mm²/m", 0, "_mm2_per_m")
PITCH = Unit("°", 1, "_degrees")
EACH = Unit("nr", 0, exact=True)
POUNDS = Unit("£", 2, exact=True)
PERCENT = Unit("%", 1, "_percent")
PERCENT_LEAST = 0.5  # less is a fraction typed for a percentage, or the other way round
AMOUNT = Unit("", 3)  # a figure whose unit stands in another column of its row
FLAG = Unit("", 0, exact=True)
TEXT = Unit("", text=True)

Metres = Annotated[float, METRES]
Millimetres = Annotated[float, MILLIMETRES]
SquareMetres = Annotated[float, SQUARE_METRES]
SquareMillimetres = Annotated[float, SQUARE_MILLIMETRES]
CubicMetres = Annotated[float, CUBIC_METRES]
Micrometres = Annotated[float, MICROMETRES]
Tonnes = Annotated[float, TONNES]
PerMetre = Annotated[float, PER_METRE]
PerSquareMetre = Annotated[float, PER_SQUARE_METRE]
Kilograms = Annotated[float, KILOGRAMS]
Density = Annotated[float, DENSITY]
AreaPerMetre = Annotated[float, AREA_PER_METRE]
Pitch = Annotated[float, PITCH]
Each = Annotated[float, EACH]
Pounds = Annotated[float, POUNDS]
Percent = Annotated[float, PERCENT]
Amount = Annotated[float, AMOUNT]
Flag = Annotated[float, FLAG]
Text = Annotated[str, TEXT]
Column = Annotated[float, AMOUNT]  # a whole column of another list
TextColumn = Annotated[str, TEXT]
