"""Entries of a data file taken into a small class of ours: every field checked, none beside them."""

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields
from typing import Any, ClassVar, Literal, Protocol, TypeVar, get_args, get_origin, get_type_hints


class _Dataclass(Protocol):
    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]


D = TypeVar("D", bound=_Dataclass)


class StrictError(ValueError):
    """A field cannot be used: which (none where it is the whole entry), what was found and what is
    accepted."""

    def __init__(self, field: str | None, found: object, accepted: str) -> None:
        self.field, self.found, self.accepted = field, found, accepted
        super().__init__(f"{field}: {accepted}")


def taken(kind: type[D], entry: Any) -> D:
    """An entry as that dataclass, whose fields are texts, numbers, flags or a choice of some texts.

    A needed text holds at least one letter. Raises StrictError at the first field that is unknown,
    missing or of another kind; what the class itself finds wrong has no field.
    """
    if not isinstance(entry, Mapping):
        raise StrictError(None, entry, "a table of fields")
    listed = {f.name: f for f in fields(kind)}
    hints = get_type_hints(kind)
    for name, one in listed.items():
        if name not in entry:
            if one.default is MISSING:
                raise StrictError(name, None, "this field")
            continue
        accepted = _refused(hints[name], entry[name])
        if accepted:
            raise StrictError(name, entry[name], accepted)
    for name in entry:
        if name not in listed:
            raise StrictError(name, name, "one of " + ", ".join(listed))
    try:
        return kind(**{n: _as_held(hints[n], value) for n, value in entry.items()})
    except StrictError:
        raise
    except ValueError as error:
        raise StrictError(None, None, str(error)) from None


def _as_held(hint: Any, value: Any) -> Any:
    """A whole number as the number with a point that the field holds."""
    return float(value) if type(value) is int and float in (hint, *get_args(hint)) else value


def _refused(hint: Any, value: Any) -> str:
    """What is accepted, where that value is not; else an empty text."""
    words, numbers = [], False
    for one in get_args(hint) if get_origin(hint) is not Literal and get_args(hint) else (hint,):
        if get_origin(one) is Literal:
            if isinstance(value, str) and value in get_args(one):
                return ""
            words += [repr(text) for text in get_args(one)]
        elif one is float:
            numbers = True
            if isinstance(value, int | float) and not isinstance(value, bool):
                return ""
        elif one is bool:
            if isinstance(value, bool):
                return ""
            words.append("true or false")
        elif one is str:
            if isinstance(value, str) and value:
                return ""
            words.append("a text")
    return " or ".join([*(["a number"] if numbers else []), *words])
