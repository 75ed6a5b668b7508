"""The one value that stands for "cannot be said", in Python as #N/A does in a sheet."""

from typing import Any


class NotAvailable:
    """A figure that cannot be given. Whatever is worked out from it cannot be given either."""

    def _pass_on(self, *_: Any) -> "NotAvailable":
        return self

    __add__ = __radd__ = __sub__ = __rsub__ = _pass_on
    __mul__ = __rmul__ = __truediv__ = __rtruediv__ = __neg__ = _pass_on

    def __bool__(self) -> bool:
        raise TypeError("a figure that is not available is neither true nor false")

    def __repr__(self) -> str:
        return "#N/A"


NOT_AVAILABLE = NotAvailable()
