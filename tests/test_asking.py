"""Figures asked from others by the rules of the plan, worked by hand."""

from typing import Any

import pytest

from estimator.language.asked import Alike, Asked, NotGivenError
from estimator.language.plan import PlanError
from estimator.model.plan import SHIPPED_ROWS, plan

PIPES = {"penetrations.number": 3, "penetrations.diameter": 100, "penetrations.on_sheet": 1}


def figures(targets: list[str], given: dict[str, Any], rows: Any = None) -> tuple[Any, ...]:
    """Figures asked for once. In `given` a list of values is a whole column."""
    tall = {p.partition(".")[0]: len(v) for p, v in given.items() if isinstance(v, list)}
    values = (
        [v] if not isinstance(v, list) and p.partition(".")[0] in tall else v
        for p, v in given.items()
    )
    return tuple(Asked(plan(), targets, given, rows=rows, tall=tall)(*values))


def one(target: str, given: dict[str, Any], rows: Any = None) -> Any:
    [found] = figures([target], given, rows)
    return found


def test_by_as_many_rules_as_it_takes() -> None:
    """3 collars; 3 × π × 0.1 m of tape."""
    found = figures(["penetrations.collars", "penetrations.collar_tape"], PIPES)
    assert found == (3, pytest.approx(0.942477796))


def test_what_is_given_is_never_worked_out() -> None:
    """Leaves of 300 in all, the wall said to be 400 thick: its middle lies at 200."""
    given = {"walls.outer_leaf": 100, "walls.cavity": 100, "walls.inner_leaf": 100,
             "walls.line_in_use": "centre"}  # fmt: skip
    assert one("walls.line_depth", given, SHIPPED_ROWS) == 150
    assert one("walls.line_depth", {**given, "walls.thickness": 400}, SHIPPED_ROWS) == 200


@pytest.mark.parametrize("place", PIPES)
def test_what_is_missing_is_named(place: str) -> None:
    with pytest.raises(NotGivenError, match=place.replace("on_sheet", "zone")):
        one("penetrations.collar_tape", {p: v for p, v in PIPES.items() if p != place})


def test_a_missing_cell_and_a_list_without_its_rows_are_named() -> None:
    with pytest.raises(NotGivenError, match="dpc_lap"):
        one("walls.end_laps", {"walls.old_ends_in_use": 2})
    with pytest.raises(NotGivenError, match=r"measuring_lines\.name"):
        one("walls.line_depth", {"walls.line_in_use": "centre", "walls.thickness": 300})


def test_a_longer_column_makes_a_longer_list() -> None:
    """3 + 4 weeps over openings, 1 over an abutment, 2 where a tray is cut in. The first row is read."""
    weeps = {"openings.weeps": [3, 4], "abutments.weeps": 1, "cut_ins.weeps": 2,
             "walls.base_weeps": 0, "parapets.weeps": 0, "old_vents.weeps": 0}  # fmt: skip
    assert one("weeps_in_all", weeps) == 10
    jambs = {"openings.with_jambs": [2, 1], "openings.height": [1.2, 2.1]}
    assert one("openings.jambs", jambs) == pytest.approx(4.8)


def test_a_row_is_spare_only_where_its_key_is_given_and_blank() -> None:
    assert one("openings.stop_ends", {"openings.with_tray": 2}) == 4
    assert one("openings.stop_ends", {"openings.with_tray": 2, "openings.mark": "W1"}) == 4
    assert one("openings.stop_ends", {"openings.with_tray": 2, "openings.mark": ""}) == 0


def test_asked_again_from_other_values() -> None:
    """Jambs of 2 openings 1.2 high: 4.8; of 3: 7.2. Laps at four ends of each: 4 × 2 × 0.1, 0.15."""
    asked = Asked(plan(), ["openings.jambs", "openings.jamb_laps"],
                  ["openings.with_jambs"], {"openings.height": 1.2}, {"dpc_lap"})  # fmt: skip
    assert asked.names == ["dpc_lap"]
    assert list(asked(2, 100)) == pytest.approx([4.8, 0.8])
    assert list(asked(3, 150)) == pytest.approx([7.2, 1.8])
    with pytest.raises(TypeError, match="1 values given for 2"):
        next(asked(2))


def test_one_value_for_several_places_and_one_place_like_another() -> None:
    """A leaf of 100, the cavity as wide as it, an inner leaf as wide as that: 300."""
    alike = {"walls.inner_leaf": Alike("walls.cavity")}
    asked = Asked(plan(), ["walls.thickness"], [("walls.outer_leaf", "walls.cavity")], alike)
    assert list(asked(100)) == [300]
    round_about = {**alike, "walls.cavity": Alike("walls.inner_leaf")}
    with pytest.raises(PlanError, match="rests on itself"):
        Asked(plan(), ["walls.thickness"], ["walls.outer_leaf"], round_about)


def test_a_place_is_given_once() -> None:
    given = ["walls.cavity", ("walls.outer_leaf", "walls.inner_leaf")]
    for fixed in ({"walls.cavity": 100}, {"walls.cavity": Alike("walls.outer_leaf")}):
        with pytest.raises(PlanError, match=r"walls\.cavity is given twice"):
            Asked(plan(), ["walls.thickness"], given, fixed)


def test_a_figure_is_worked_out_when_it_is_taken() -> None:
    """16 bricks of 225 in 3.6 m; units as long as their lap would divide by nothing."""
    fixed = {"cut_ins.counted": 1, "cut_ins.reach": 3.6, "cut_ins.brick_unit": 225,
             "cut_ins.number": 1, "cut_ins.corners": 0}  # fmt: skip
    asked = Asked(plan(), ["cut_ins.bricks", "cut_ins.units"],
                    ["cut_ins.unit_length", "cut_ins.unit_lap"], fixed)(0.3, 300)  # fmt: skip
    assert next(asked) == 16
    with pytest.raises(ZeroDivisionError):
        next(asked)
