"""What a check says of the figure given, and whether it stops anything."""

from ..language import *


@rule
def asked(asked_row: Each, asked_here: Amount, allowance_by_basis: Column) -> Amount:
    """What the guidance asks, or what this check asks of itself."""
    return where(less(0, asked_row), beside(allowance_by_basis, asked_row), asked_here)


@rule
def asked_by(asked_row: Each, asked_by_here: Text, allowance_clause: TextColumn) -> Text:
    """Who asks it, and where."""
    return where(less(0, asked_row), beside(allowance_clause, asked_row), asked_by_here)


@rule
def regulatory(asked_row: Each, allowance_regulatory: Column) -> Amount:
    """The regulatory figure in the site's nation, whatever the guidance. Nothing where there is none."""
    return where(less(0, asked_row), beside(allowance_regulatory, asked_row), "")


@rule
def falls_short(found: Amount, asked: Amount, at_least: Flag) -> Flag:
    """1 when the figure given does not reach, or exceeds, what is asked. 0 where none is asked."""
    return where(
        same(at_least, 1),
        where(less(found, first_given(asked, found)), 1, 0),
        where(less(first_given(asked, found), found), 1, 0),
    )


@rule
def state(applies: Each, otherwise: Each, blank: Each, asked: Amount, falls_short: Flag) -> Text:
    """What the check says. A blank never meets. Without a figure asked it is the designer's.

    Where the clause asks for one or the other, all that have the other meet it.
    """
    return where(
        at_most(applies - otherwise, 0),
        where(same(applies, 0), "not applicable", "meets"),
        where(
            at_most(applies - otherwise, blank),
            "not given",
            where(
                given(asked),
                where(same(falls_short, 1), "short", where(less(0, blank), "not given", "meets")),
                "designer's detail",
            ),
        ),
    )


@rule
def stop_figure(asked_row: Each, regulatory: Amount, allowance_common: Column) -> Amount:
    """What decides a stop where the guidance is silent: the regulatory figure of the site's nation,
    or common practice's where there is none."""
    return where(
        less(0, asked_row), first_given(regulatory, beside(allowance_common, asked_row)), ""
    )


@rule
def would_stop(
    can_stop: Flag, state: Text, asked_row: Each, found: Amount, stop_figure: Amount, at_least: Flag
) -> Flag:
    """1 when the check stops its lines unless a reason is given.

    It can stop, and is short or not given. Where its guidance states no figure another one decides.
    A check that has no figure at all is always the designer's.
    """
    return can_stop * where(
        either(same(state, "meets"), same(state, "not applicable")),
        0,
        where(
            both(same(state, "designer's detail"), less(0, asked_row)),
            falls_short(found, stop_figure, at_least),
            1,
        ),
    )


@rule
def stops(would_stop: Flag, reason: Text) -> Flag:
    """1 when its lines become provisional: it would stop, and nobody gives a reason to go on."""
    return where(is_blank(reason), would_stop, 0)


@rule
def overridden_no(
    overridden: Flag, position: Each, check_overridden: Column, check_position: Column
) -> Each:
    """Its place among the stops that a reason takes away. 0 for none."""
    return where(
        same(overridden, 1),
        count_of(same(check_overridden, 1), less(check_position, position + 1)),
        0,
    )


@rule
def overridden(would_stop: Flag, stops: Flag) -> Flag:
    """1 where a reason takes a stop away."""
    return would_stop - stops


@rule
def otherwise_note(otherwise: Each, otherwise_by: Text) -> Text:
    """What meets the check instead, where something does."""
    return where(less(0, otherwise), otherwise_by, "")


@rule
def regulation_note(
    applies: Each,
    otherwise: Each,
    otherwise_by: Text,
    otherwise_note: Text,
    found: Amount,
    regulatory: Amount,
    asked_row: Each,
    at_least: Flag,
    short_said: Text,
) -> Text:
    """Whether the figure given falls short of the regulatory one, whatever the guidance asks.

    It names the document. Else, what meets the check instead.
    """
    return where(
        both(less(otherwise, applies), less(0, asked_row)),
        where(
            same(falls_short(found, regulatory, at_least), 1),
            short_said,
            otherwise_note,
        ),
        where(less(0, otherwise), otherwise_by, ""),
    )
