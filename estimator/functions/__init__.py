"""The rules as spreadsheet functions: one register for every host. No host is needed here."""

from . import below_floors, bases, dpc, dpm, prices, trays, weeps  # noqa: F401, I001  fill the register
from .cells import call_from_cell, signature, why
from .refusal import Refusal
from .registry import FUNCTIONS, PREFIX, Function

__all__ = ["FUNCTIONS", "PREFIX", "Function", "Refusal", "call_from_cell", "signature", "why"]
