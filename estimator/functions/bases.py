"""What a basis says, figure by figure."""

from ..rules.units import Amount, Text
from .guidance import Guidance
from .registry import function

GROUP = "Guidance"


@function(GROUP, ("dpm_lap", "nhbc_2024"), 300, "NHBC Standards 5.1.20", name="basis")
def basis_figure(key: Text, basis: Guidance) -> Amount:
    """A figure of the basis, in the unit that docs/bases.md gives, where it states one."""
    return basis(key)


@function(
    GROUP, ("dpm_lap", "nhbc_2024"), "NHBC Standards, updated 2 January 2024, 5.1.20",
    "as docs/bases.md lists it",
)  # fmt: skip
def basis_source(key: Text, basis: Guidance) -> Text:
    """Where the basis states that figure, or was looked at."""
    return basis.source(key)
