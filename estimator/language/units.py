"""What a figure is measured in, said in the type of every argument and result of a rule."""

from dataclasses import dataclass, field
from typing import Annotated


def plain(figure: float | None) -> str:
    """A limit in plain digits, however large."""
    return f"{figure:.12g}"


@dataclass(frozen=True)
class Unit:
    """A unit as printed, how many decimals are shown, and the ending a job file's key takes.

    `least`, `most` and `smallest` are the figures that a house extension can hold, common practice:
    wide enough for any sum of a job, and narrow enough that a figure 1,000 times too large or too
    small is mostly noticed. `smallest` is the least size of a figure that is not 0.
    """

    sign: str
    decimals: int = 0
    ending: str = ""
    text: bool = False
    exact: bool = False  # counts and money are compared to the last digit, lengths to a hair
    dated: bool = False  # a day, held as the number that a cell with a date holds
    least: float | None = field(default=None, kw_only=True)
    most: float | None = field(default=None, kw_only=True)
    smallest: float = field(default=0, kw_only=True)

    def holds(self, value: float) -> bool:
        """Whether a job can hold that figure."""
        return (
            (self.least is None or value >= self.least)
            and (self.most is None or value <= self.most)
            and (value == 0 or abs(value) >= self.smallest)
        )

    @property
    def range(self) -> str:
        """The figures a job can hold, as one phrase."""
        sign = f" {self.sign}" if self.sign else ""
        if self.least is None or self.most is None:
            return f"a number{sign}"
        if self.smallest:
            return f"0, or from {plain(self.smallest)} to {plain(self.most)}{sign}"
        return f"a number from {plain(self.least)} to {plain(self.most)}{sign}"

    @property
    def number_format(self) -> str:
        """The format of a cell that holds such a figure."""
        if self.text:
            return "@"
        if self.dated:
            return "yyyy-mm-dd"
        whole = "#,##0" if self.decimals else "0"
        return whole + ("." + "0" * self.decimals if self.decimals else "")


METRES = Unit("m", 3, "_m", least=-50, most=1000)  # levels are below a datum too
# A detail in metres by mistake is less than 1; one below a level is negative.
MILLIMETRES = Unit("mm", 0, "_mm", least=-60_000, most=60_000, smallest=1)
SQUARE_METRES = Unit("m²", 2, "_m2", least=0, most=2000)
SQUARE_MILLIMETRES = Unit("mm²", 0, "_mm2", least=0, most=10_000_000, smallest=1)
CUBIC_METRES = Unit("m³", 3, "_m3", least=0, most=1000)
TONNES = Unit("t", 3, "_t", least=0, most=2000)
KILOGRAMS = Unit("kg", 0, "_kg", least=0, most=50_000)
DENSITY = Unit("t/m³", 2, "_t_per_m3", least=0, most=5, smallest=0.1)
PER_METRE = Unit("mm²/m", 0, "_mm2_per_m", least=0, most=100_000, smallest=1)
PER_SQUARE_METRE = Unit("mm²/m²", 0, "_mm2_per_m2", least=0, most=100_000, smallest=1)
MICROMETRES = Unit("µm", 0, "_um", least=0, most=20_000, smallest=10)
AREA_PER_METRE = Unit("mm²/m", 0, "_mm2_per_m", least=0, most=100_000, smallest=1)
DEGREES = Unit("°", 1, "_degrees", least=-72_000, most=72_000)  # a turn, left of ahead below 0
PITCH = Unit("°", 1, "_degrees", least=0, most=90, smallest=1)
EACH = Unit("nr", 0, exact=True, least=-1000, most=1_000_000)  # turns have a sign
POUNDS = Unit("£", 2, exact=True, least=-100_000_000, most=100_000_000)
PERCENT = Unit("%", 1, "_percent", least=0, most=100, smallest=0.5)
PERCENT_LEAST = 0.5  # less is a fraction typed for a percentage, or the other way round
AMOUNT = Unit("", 3)  # a figure whose unit stands in another column of its row
FIRST_DAY, LAST_DAY = 36_526, 73_050  # 2000-01-01 and 2099-12-31
DAY = Unit("", 0, exact=True, dated=True, least=0, most=LAST_DAY)  # 0: none
DAYS = Unit("days", 0, "_days", exact=True, least=0, most=73_050)
FLAG = Unit("", 0, exact=True, least=-1, most=1)  # -1: the other way round
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
Degrees = Annotated[float, DEGREES]
Pitch = Annotated[float, PITCH]
Each = Annotated[float, EACH]
Pounds = Annotated[float, POUNDS]
Percent = Annotated[float, PERCENT]
Amount = Annotated[float, AMOUNT]
Day = Annotated[float, DAY]
Days = Annotated[float, DAYS]
Flag = Annotated[float, FLAG]
Text = Annotated[str, TEXT]
Column = Annotated[float, AMOUNT]  # a whole column of another list
TextColumn = Annotated[str, TEXT]
