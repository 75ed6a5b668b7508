"""The rules as spreadsheet functions: one register for every host. No host is needed here."""

from . import dpm, dpc, trays, weeps, below_floors, prices, bases  # noqa: F401, I001  in the order of the page
from .cells import call_from_cell, signature, why
from .refusal import Refusal
from .registry import FUNCTIONS, PREFIX, Function

__all__ = ["FUNCTIONS", "PREFIX", "Function", "Refusal", "call_from_cell", "signature", "why"]
