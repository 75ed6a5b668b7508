"""Thickness of sheet sold by gauge."""

from ..language import rule
from ..language.units import Amount, Micrometres


@rule
def micrometres(gauge: Amount) -> Micrometres:
    """Thickness of sheet of that gauge, as the UK trade states it: 1200 gauge is 300 µm.

    A quarter of the gauge (a packaging trade's note). By definition a gauge is
    0.254 µm, so that the sheet is nominally 1.6 % thicker than the trade says.
    """
    return gauge / 4
