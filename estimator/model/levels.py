"""How much of the price a client's quote shows: the sums of its stages, its lines, quantities too."""

STAGES, LINES, QUANTITIES = LEVELS = ("stages", "lines", "quantities")
