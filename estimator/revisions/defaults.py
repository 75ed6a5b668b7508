"""What holds while nothing else is said: such choices are not kept in a job."""

from collections.abc import Mapping
from typing import Any

from ..buying.lines import LINES
from ..buying.materials import MATERIAL_ROWS


def usual_status() -> dict[str, str]:
    """The status of each line of the quantities while nothing else is said."""
    return {line.key: line.status for line in LINES}


def usual_wastage_applies() -> dict[str, Any]:
    """Whether each material's wastage counts while nothing else is said."""
    return {str(m["key"]): m["wastage_applies"] for m in MATERIAL_ROWS}


def unusual(given: Mapping[str, Any], usual: Mapping[str, Any]) -> dict[str, Any]:
    """What was said that differs from what holds unsaid."""
    return {k: v for k, v in given.items() if v not in (None, "") and v != usual.get(k)}
