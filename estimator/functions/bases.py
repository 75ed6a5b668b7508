"""What a basis says, figure by figure. It is said by no rule, so these are no figures of the plan."""

from ..language.units import AMOUNT, TEXT
from .registry import Example, Function

GROUP = "Guidance"

ROWS = (
    Function(
        "BASIS_FIGURE", GROUP, lambda key, basis: basis(key), ("key", "basis"),
        Example(("dpm_lap", "NHBC Standards (2024)"), 300, "NHBC Standards 5.1.20"),
        meaning_here="A figure of the guidance, in the unit that docs/bases.md gives, where it states "
        "one.",
        unit_here=AMOUNT,
    ),
    Function(
        "BASIS_SOURCE", GROUP, lambda key, basis: basis.source(key), ("key", "basis"),
        Example(("dpm_lap", "NHBC Standards (2024)"), "NHBC Standards, updated 2 January 2024, 5.1.20",
                "as docs/bases.md lists it"),
        meaning_here="Where the guidance states that figure, or was looked at.",
        unit_here=TEXT,
    ),
)  # fmt: skip
