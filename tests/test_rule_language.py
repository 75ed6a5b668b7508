"""What a rule may say, and that what it may not say fails when it is registered or traced."""

from typing import Any

import pytest

from estimator.language import (
    NOT_AVAILABLE,
    NOTHING,
    RuleError,
    at_most,
    available,
    beside,
    both,
    choose,
    count_of,
    divided,
    either,
    first_given,
    first_row,
    given,
    label_of,
    largest_of,
    less,
    most,
    rule,
    same,
    smallest_of,
    sum_of,
    to_pence,
    total,
    where,
    whole_down,
    whole_up,
)
from estimator.language.many import Many
from estimator.language.plan import Plan, PlanError, check_cell_name
from estimator.language.tables import Item
from estimator.language.tracing import Ref, TraceError
from estimator.language.units import EACH, Metres

A, B, C = Ref("A1"), Ref("B1"), Ref("C1")
COLUMN = Ref("D1:D9", many=True)
TEXT = Ref("F1", holds_text=True)
TEXTS = Ref("E1:E9", many=True, holds_text=True)


def test_a_condition_statement_is_refused() -> None:
    with pytest.raises(RuleError, match="one expression"):

        @rule
        def branching(length: Metres) -> Metres:
            """Would trace the wrong branch."""
            if length > 3:
                return length
            return length * 2


def _registered(expression: str) -> None:
    scope: dict[str, Any] = {"Metres": Metres, "most": most, "where": where}
    code = f'def tried(length: Metres, other: Metres) -> Metres:\n    """Tried."""\n    return {expression}\n'
    import linecache

    name = f"<tried {expression}>"
    linecache.cache[name] = (len(code), None, code.splitlines(keepends=True), name)
    exec(compile(code, name, "exec"), scope)
    rule(scope["tried"])


@pytest.mark.parametrize(
    "expression",
    [
        "length if other else 0",
        "length is None",
        "length == other",
        "length < other < 3",
        "length and other",
        "not length",
        "length in (1, 2)",
        "f'{length}'",
        "length ** 2",
        "length % 2",
        "length // 2",
        "[length][0]",
        "max(length, other)",
        "round(length)",
        "(lambda x: x)(length)",
        "most(length, key=other)",
        "None",
        "True",
        "other.real",
    ],
)
def test_what_a_formula_cannot_say_is_refused(expression: str) -> None:
    with pytest.raises(RuleError):
        _registered(expression)


def test_what_a_formula_can_say_is_accepted() -> None:
    _registered("most(length, other) * 2 - where(length, 1, -other)")


@pytest.mark.parametrize(
    "use",
    [
        lambda: bool(A),
        lambda: A == B,
        lambda: A < 3,
        lambda: f"{A}",
        lambda: str(A),
        lambda: float(A),
        lambda: int(A),
        lambda: round(A),
        lambda: abs(A),
        lambda: A**2,
        lambda: A % 2,
        lambda: A in (1, 2),
        lambda: {A: 1},
        lambda: list(A),
        lambda: max(A, B),
        lambda: most(COLUMN, 1),
        lambda: whole_up(COLUMN),
        lambda: total(A),
        lambda: where(A, True, 0),
    ],
)
def test_a_reference_refuses_what_it_cannot_write(use: Any) -> None:
    with pytest.raises(TypeError):
        use()


@pytest.mark.parametrize(
    ("traced", "text"),
    [
        (A - (B - C), "A1-(B1-C1)"),
        (A * (B / C), "A1*(B1/C1)"),
        ((A + B) * C, "(A1+B1)*C1"),
        (-A * 2, "-1*A1*2"),
        (A + 0.000001, "A1+0.000001"),
        (most(A, 2), "MAX(A1,2)"),
        (whole_up(A / 2), "ROUNDUP(ROUND(A1/2,6),0)"),
        (to_pence(A), "ROUND(A1,2)"),
        (where(less(A, B), 1, 0), "IF(ROUND(A1-B1,6)<0,1,0)"),
        (where(less(0, A), "x", ""), 'IF(0<ROUND(A1,6),"x","")'),
        (same(A, 'a "b"'), 'A1="a ""b"""'),
        (both(at_most(A, B), same(A, 1)), "AND(ROUND(A1-B1,6)<=0,A1=1)"),
        (first_given(A, B, 0), "IF(ISNUMBER(A1),A1,IF(ISNUMBER(B1),B1,0))"),
        (first_given(A), "IF(ISNUMBER(A1),A1,NA())"),
        (available(same(A, 0), B), "IF(A1=0,B1,NA())"),
        (sum_of(COLUMN, same(TEXTS, A)), "SUMPRODUCT(D1:D9*(E1:E9=A1))"),
        (total(COLUMN), "SUMPRODUCT(D1:D9*1)"),
        (count_of(same(TEXTS, A)), "SUMPRODUCT((E1:E9=A1)*1)"),
        (largest_of(COLUMN, at_most(A, COLUMN)),
         "SUMPRODUCT(LARGE(D1:D9*(A1<=D1:D9+0.000001),1))"),
        (either(same(A, 0), at_most(COLUMN, A)), "0<(A1=0)+(D1:D9<=A1+0.000001)-0.000001"),
        (beside(COLUMN, A), "INDEX(D1:D9,A1)"),
        (beside(TEXTS, A), 'INDEX(E1:E9,A1)&""'),
        (first_row(TEXTS, A), "IFERROR(MATCH(A1,E1:E9,0),0)"),
        (label_of("roll", A), '"roll"&" "&ROUND(A1*1000000,0)'),
        (label_of(TEXT, B, C), 'F1&" "&ROUND(B1*1000000,0)&" "&ROUND(C1*1000000,0)'),
        (choose(A, B, C), "CHOOSE(A1,B1,C1)"),
        (divided(A, B), "IF(0<ROUND(B1,6),A1/B1,0)"),
    ],
)  # fmt: skip
def test_formula_text(traced: Ref, text: str) -> None:
    assert traced.text == text


def test_numbers_follow_the_hosts_not_binary() -> None:
    """1.1 × 3 is a hair above 3.3 in binary; on site it is 3.3."""
    assert at_most(1.1 * 3, 3.3) is True
    assert less(3.3, 1.1 * 3) is False
    assert whole_up((0.34 + 0.56) / 0.9) == 1
    assert whole_down(0.3 / 0.1) == 3
    assert whole_up(-0.2) == -1


def test_a_figure_that_cannot_be_said_is_passed_on() -> None:
    assert most(NOT_AVAILABLE, 1) is NOT_AVAILABLE
    assert 2 * NOT_AVAILABLE + 1 is NOT_AVAILABLE
    assert where(True, 1, NOT_AVAILABLE) == 1
    assert where(same(NOT_AVAILABLE, 1), 1, 2) is NOT_AVAILABLE
    assert total(Many([1, NOT_AVAILABLE])) is NOT_AVAILABLE


def test_rows_of_one_set_or_another_are_added_row_by_row() -> None:
    kinds, others = Many(["a", "b", "a", "c"]), Many(["c", "a", "a", "c"])
    apart = same(kinds, "a") + same(kinds, "b")  # no row is of both
    assert [*apart] == [1, 1, 1, 0]
    assert total(apart) == 3
    assert [*(apart * Many([5, 7, 11, 13]))] == [5, 7, 11, 0]
    twice = same(kinds, "a") + same(others, "a")  # the third row is
    assert [*twice] == [1, 1, 2, 0]
    assert total(twice) == 4
    assert [*(same(kinds, "a") + 1)] == [2, 1, 2, 1]
    gap = Many([NOT_AVAILABLE, 1, 1, 1])
    assert total(apart * gap) is NOT_AVAILABLE
    assert first_given(NOT_AVAILABLE, None, 3) == 3
    with pytest.raises(TypeError):
        bool(NOT_AVAILABLE)


def test_nought_is_given_and_a_blank_is_not() -> None:
    assert given(0)
    assert not given(None)
    assert not given("not stated")
    assert first_given(0, 5) == 0


def test_texts_compare_without_capitals_as_in_every_host() -> None:
    assert same("Ash", "ASH")
    assert not same("Ash", "Ashe")


def test_the_first_row_of_a_text_or_number() -> None:
    marks = Many(["A1", "b2", "B2", "", NOT_AVAILABLE])
    assert first_row(marks, "B2") == 2
    assert first_row(marks, "C3") == 0
    assert first_row(marks, NOT_AVAILABLE) == 0
    assert first_row(Many([0, 3, 7, 3]), 3) == 2


def test_the_smallest_figure_of_some_rows() -> None:
    """As a sheet says it: each row that does not count stands a thousand million higher."""
    figures, kinds = Many([7, 3, 5]), Many(["a", "b", "a"])
    assert smallest_of(figures, same(kinds, "a")) == 5
    assert smallest_of(figures, same(kinds, "c")) == 3 + NOTHING
    assert smallest_of(Many([7, NOT_AVAILABLE, 5]), same(kinds, "a")) is NOT_AVAILABLE
    assert smallest_of(figures, same(kinds, "a") + same(kinds, "a") - 1) == 5


def test_a_label_is_alike_where_all_of_it_is() -> None:
    """Figures that differ by less than a millionth are the same, as everywhere."""
    assert label_of("tray roll", 383.2050807, 0) == "tray roll 383205081 0"
    assert label_of("tray roll", 0.1 + 0.2) == label_of("tray roll", 0.3)
    assert label_of("tray roll", 0.3) != label_of("tray roll", 0.300001)
    assert label_of("tray roll", NOT_AVAILABLE) is NOT_AVAILABLE


@pytest.mark.parametrize(
    "name", ["DPC150", "vat20", "lap", "R1C1", "weep spacing", "_lap", "a1_b2"]
)
def test_a_cell_name_that_a_host_might_misread_is_refused(name: str) -> None:
    with pytest.raises(PlanError):
        check_cell_name(name)


def test_trace_error_is_a_type_error() -> None:
    """So that a rule that slips past the register still fails where rules are run."""
    assert issubclass(TraceError, TypeError)


def test_two_named_cells_of_one_name_are_refused() -> None:
    """Else the second would silently be read for the first."""
    twice = (Item("depth", "Depth", EACH), Item("depth", "Another depth", EACH))
    with pytest.raises(PlanError, match="depth: two named cells have this name"):
        Plan((), twice, {})
