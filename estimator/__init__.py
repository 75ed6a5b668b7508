"""Damp-proofing materials for small masonry buildings: measured, checked, priced.

From Python: `load` a job, work out its `figures`, look up `bases`, and call a rule by hand through
`checked`. What cannot be used raises EstimateError, a ValueError of one sentence. Each is loaded
when it is first asked for.

>>> import estimator
>>> estimator.figures(estimator.load("workbook_templates/demo/garden_room.toml"))["quote_total"]
3709.97
"""

__version__ = "0.13.0"
TYPE_CHECKING = False  # as in typing, which is not loaded for it

if TYPE_CHECKING:
    from .api import Figures, bases, figures, load
    from .errors import EstimateError
    from .model.checked import checked

__all__ = ["EstimateError", "Figures", "bases", "checked", "figures", "load"]
_WHERE = {"checked": "model.checked", "EstimateError": "errors"}


def __getattr__(name: str) -> object:
    """One of the names above, from where it is."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f".{_WHERE.get(name, 'api')}", __name__), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
