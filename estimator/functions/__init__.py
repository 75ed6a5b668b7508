"""The rules as spreadsheet functions: one table for every host. No host is needed here."""

from . import bases, below_floors, dpc, dpm, prices, trays, weeps
from .cells import call_from_cell, signature, why
from .refusal import Refusal
from .registry import PREFIX, Function

# In the order of the page.
FUNCTIONS = {
    function.name: function
    for room in (dpm, dpc, trays, weeps, below_floors, prices, bases)
    for function in room.ROWS
}

__all__ = ["FUNCTIONS", "PREFIX", "Function", "Refusal", "call_from_cell", "signature", "why"]
