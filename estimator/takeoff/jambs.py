"""Jambs of openings: closers from stock lengths, or a DPC, never both; closers below sills too."""

from ..language import *


@rule
def jambs_asked(
    number: Each, kind_row: Each, cavity: Millimetres, opening_kind_has_jambs: Column
) -> Each:
    """How many of them have jambs at which a cavity is to be closed."""
    return where(less(0, cavity), number * beside(opening_kind_has_jambs, kind_row), 0)


@rule
def with_closers(jambs_asked: Each, with_jambs: Each, closer: Millimetres) -> Each:
    """How many of them are closed by closers: those with a closer and no DPC at the jambs."""
    return where(both(less(0, first_given(closer, 0)), less(with_jambs, 1)), jambs_asked, 0)


@rule
def closers(with_closers: Each, height: Metres) -> Metres:
    """Closers, net: the opening's height at both sides."""
    return 2 * with_closers * height


@rule
def closer_each(with_closers: Each, height: Metres) -> Metres:
    """Length of one closer, cut whole from a stock length."""
    return where(less(0, with_closers), height, 0)


@rule
def closer_width(with_closers: Each, cavity: Millimetres) -> Millimetres:
    """Least width of the closers that are bought: the cavity they close."""
    return where(less(0, with_closers), cavity, 0)


@rule
def sill_closers(
    with_closers: Each, kind_row: Each, width: Metres, opening_kind_has_sill: Column
) -> Metres:
    """Closers below sills, net: the opening's width, joined where a stock length is shorter.

    Where closers close the jambs and there is a sill: the cavity is open below it as beside it
    (common practice). A level threshold has a tray of its own.
    """
    return with_closers * beside(opening_kind_has_sill, kind_row) * width


@rule
def sill_closer_width(sill_closers: Metres, cavity: Millimetres) -> Millimetres:
    """Least width of the closers below sills: the cavity they close."""
    return where(less(0, sill_closers), cavity, 0)


@rule
def jambs_bare(jambs_asked: Each, with_jambs: Each, with_closers: Each) -> Each:
    """How many of them have neither."""
    return where(less(0, with_jambs + with_closers), 0, jambs_asked)


JAMB_COLUMNS = (
    worked(jambs_asked, "Jambs to close"),
    worked(with_closers, "With closers"),
    worked(closer_each, "Closer length"),
    worked(closer_width, "Closer width"),
    worked(closers, "Closers, net"),
    worked(sill_closers, "Closers below sills"),
    worked(sill_closer_width, "Their width"),
    worked(jambs_bare, "Jambs left bare"),
)
