"""A basis as a cell names it, read by names that hold the shipped bases as constants.

They refer to constants and to each other alone, so they go along where a sheet that calls them is
copied into another workbook. `functions/guidance.py` says the same of a cell's text for Python.
"""

from typing import Any

from ...functions import FUNCTIONS
from ...functions.guidance import known, labels
from ...language.columns import as_constants
from ...language.helpers import available, first_given, given, most, same, where
from ...language.lookups import found_at
from ...language.many import Many
from ...language.tracing import COMPARED, JOINED, Ref, as_ref, function, operation
from ...language.units import EACH
from ...language.written import NAME, Written

NUMBER, OWN, USABLE = "DAMP_BASIS_NUMBER", "DAMP_OWN_FIGURE", "DAMP_OWN_USABLE"
FIGURE, SOURCE = "DAMP_BASIS_FIGURE", "DAMP_BASIS_SOURCE"
_BASIS, _KEY = Ref(NAME + "basis", holds_text=True), Ref(NAME + "key", holds_text=True)
_SAID = Ref(NAME + "said", holds_text=True)
Named = tuple[str, tuple[str, ...], str]  # a name, its parameters, and its text


def figure_of(key: str, basis: Ref | None) -> Ref:
    """The figure of a basis for that key, one's own before the document's."""
    assert basis is not None, key
    return function(FIGURE, [key, basis])


def number_of(basis: Ref) -> Ref:
    """Which of the shipped bases a text names; 0 where it cannot be read."""
    return function(NUMBER, [basis])


def is_one_cell(cell: Ref) -> Ref:
    """One cell or value, no column of them."""
    return operation(function("ROWS", [cell]) * function("COLUMNS", [cell]), "=", 1, COMPARED)


def within(cell: Ref, least: Any, most: Any, whole: bool) -> list[Ref]:
    """Neither below one limit nor above the other; whole where it counts, to six places."""
    found = [operation(cell, ">=", least, COMPARED), operation(cell, "<=", most, COMPARED)]
    if whole:
        found.append(is_whole(cell))
    return found


def is_whole(cell: Ref) -> Ref:
    """A whole number, to six places."""
    return operation(function("ROUND", [cell, 6]), "=", function("ROUND", [cell, 0]), COMPARED)


def inner() -> list[Named]:
    """What the others call: an own figure in a text, whether it can be used, which basis."""
    return [
        (OWN, ("key", "said"), _own()),
        (USABLE, ("key", "said", "least", "most", "whole"), _own_usable()),
        (NUMBER, ("basis",), _number()),
    ]


def public() -> list[Named]:
    """The two functions of a basis."""
    figures = tuple(a.name for a in FUNCTIONS[FIGURE].arguments)
    return [(FIGURE, figures, _figure()), (SOURCE, figures, _source())]


def _spaceless(basis: Ref) -> Ref:
    """The text without spaces, each part of it ended by a semicolon."""
    return _joined(function("SUBSTITUTE", [basis, " ", ""]), ";")


def _joined(*parts: Any) -> Ref:
    first, *others = parts
    found = as_ref(first)
    for other in others:
        found = operation(found, "&", other, JOINED)
    return Ref(found.text, JOINED, holds_text=True)


def _own() -> str:
    """The figure after a key; #N/A or #VALUE! where there is none, or none that is plain digits."""
    written = Written(("key", "said"))
    before = written.named("before", _joined(";", _KEY, "="))
    start = written.named("start", function("FIND", [before, _SAID]) + function("LEN", [before]))
    end = function("FIND", [";", _SAID, start])
    digits = written.named("digits", function("MID", [_SAID, start, end - start]))
    plain = function(
        "AND",
        [
            operation(0, "<", function("LEN", [digits]), COMPARED),
            *(_lacks(digits, sign) for sign in ("%", "+", "-", "E")),
        ],
    )
    # No sign parts thousands: a decimal comma must not read as one.
    figure = function("_xlfn.NUMBERVALUE", [digits, ".", " "])
    return written.expression(available(plain, figure))


def _lacks(text: Ref, sign: str) -> Ref:
    found = function("FIND", [sign, function("UPPER", [text])])
    return function("ISERROR", [found])


def _own_usable() -> str:
    """1 where the text holds a figure for that key within its limits, else 0."""
    least, most_, whole = (Ref(NAME + n) for n in ("least", "most", "whole"))
    written = Written(("key", "said", "least", "most", "whole"))
    figure = written.named("figure", function(OWN, [_KEY, _SAID]))
    fits = function("OR", [same(whole, 0), is_whole(figure)])
    limits = function("AND", [*within(figure, least, most_, whole=False), fits])
    return written.expression(where(given(figure), where(limits, 1, 0), 0))


def _number() -> str:
    """Every part after the name must be a figure that can be used, each key once."""
    bases = list(known()["bases"])
    written = Written(("basis",))
    said = written.named("said", _spaceless(_BASIS))
    name = function("LEFT", [said, function("FIND", [";", said]) - 1], holds_text=True)
    name = written.named("name", name)
    numbers = _numbers(len(bases))
    spaceless = [label.replace(" ", "") for label in labels().values()]
    by_key, by_label = (found_at(name, _column(n), numbers) for n in (bases, spaceless))
    at = written.named("at", by_key + by_label)
    parts = function("LEN", [function("SUBSTITUTE", [said, ";", ""])])
    figures = written.named("figures", function("LEN", [said]) - parts - 1)
    keys = [
        function(USABLE, [key, said, k["least"], k["most"], int(k["unit"] == EACH.sign)])
        for key, k in known()["keys"].items()
    ]
    good = function("IF", [same(figures, 0), 1, same(function("SUM", keys), figures)])
    found = Ref(written.expression(where(good, at, 0)))
    return function("IF", [is_one_cell(_BASIS), found, 0]).text


def _figure() -> str:
    written, own, row, number = _looked_up()
    stated = [[known()["bases"][b][k]["value"] for b in known()["bases"]] for k in known()["keys"]]
    rows = (",".join(_figure_text(v) for v in row) for row in stated)
    figure = function("INDEX", [Ref("{" + ";".join(rows) + "}"), row, number])
    figure = written.named("stated", figure)
    return written.expression(_answered(row, number, first_given(own, figure)))


def _figure_text(value: Any) -> str:
    return as_ref(value).text if isinstance(value, int | float) else "#N/A"


def _source() -> str:
    written, own, row, number = _looked_up()
    bases, keys = known()["bases"], known()["keys"]
    sources = list(dict.fromkeys(bases[b][k]["source"] for k in keys for b in bases))
    places = (",".join(str(sources.index(bases[b][k]["source"]) + 1) for b in bases) for k in keys)
    place = function("INDEX", [Ref("{" + ";".join(places) + "}"), row, number])
    source = function("INDEX", [Ref(_column(sources).text), place], holds_text=True)
    found = where(given(own), "own figure", source)
    return written.expression(_answered(row, number, found))


def _looked_up() -> tuple[Written, Ref, Ref, Ref]:
    """What both functions look up first: the own figure, and where the basis's stands."""
    written = Written(("key", "basis"))
    keys = written.named("keys", _column(list(known()["keys"])))
    row = written.named("row", found_at(_KEY, keys, _numbers(len(known()["keys"]))))
    number = written.named("number", number_of(_BASIS))
    key = written.named("spelt", function("INDEX", [Ref(keys.text), most(row, 1)], holds_text=True))
    own = written.named("own", function(OWN, [key, _spaceless(_BASIS)]))
    return written, own, row, number


def _answered(row: Ref, number: Ref, found: Any) -> Any:
    """The answer, where key and basis are known ones."""
    known_both = [operation(0, "<", row, COMPARED), operation(0, "<", number, COMPARED)]
    return available(function("AND", [is_one_cell(_KEY), *known_both]), found)


def _column(texts: list[str]) -> Ref:
    return as_constants(Many(texts, holds_text=True))


def _numbers(count: int) -> Ref:
    return as_constants(Many(range(1, count + 1)))
