"""What stands in a cell in place of a figure: one sentence that says why there is none."""

from dataclasses import dataclass

from ..errors import EstimateError


class CellError(EstimateError):
    """A cell's value cannot be used: which argument, what was found, what is accepted."""


class Plain:
    """What was found, in words that are shown without quotation marks."""

    def __init__(self, words: str) -> None:
        self.words = words

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True)
class Refusal:
    """No figure, and why. `unstated` where the guidance gives none, else something is wrong."""

    sentence: str
    unstated: bool = False


def in_words(found: object) -> object:
    """A number as a cell shows it; 0 may have been a blank (Calc); anything else as it is."""
    if not isinstance(found, int | float):
        return found
    return Plain("0 or a blank cell" if found == 0 else f"{found:.15g}")
