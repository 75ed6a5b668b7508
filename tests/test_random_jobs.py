"""The random jobs are worth comparing: finished, or unfinished each in its own way; and various."""

from functools import cache

import pytest

from estimator.buying.cutting import ROLLS_REMEMBERED
from estimator.language import NOT_AVAILABLE
from estimator.model.estimate import estimate

from .conftest import LONG, in_turn
from .made import worked_out
from .random_cover import differing, refused, worked
from .random_faults import FAULTS
from .random_jobs import UNFINISHED, random_job

SEEDS = in_turn(range(200), 20)
# What holds 0 or nothing in each of the 200 jobs, and in the one of walked floors.
NEVER = {
    # A job that is read has none of these: a sentence says so before anything is worked out.
    *("edges.crossed", "edges.listed_twice", "edges.side_misfit"),
    *("zones.half_typed", "zones.sides_crossed", "zones.sides_twice"),
    *("zones.walk_fault", "zones.walk_note", "zones.hole_fault"),
    *("edges.hole_misfit", "edges.hole_outside", "edges.sides_met", "edges.holes_met"),
    *("zones.holes_outside", "zones.holes_together"),
    *("openings.side_misfit", "openings.past_side", "openings.corners_across"),
    *("walls.step_fault", "walls.step_note", "openings.steps_across", "openings.step_between"),
    *("openings.thresholds_across", "openings.place_fault", "openings.misplaced"),
    *("edges.turn_up_unread", "edges.joins_itself", "openings_disagree", "abutments_disagree"),
    *("book.length_missing", "book.width_missing", "book.pieces_missing", "book.weight_missing"),
    *("book.too_wide", "book.pack_misfit", "packs_misfit"),
    *("work_lines.rate_misfits", "work_lines.quantity_misfits", "work_lines.percentage_misfits"),
    *("work_lines.misfit", "work_misfits"),
    # Only the sheet can go wrong in this way, or run out of room.
    *("lines_beyond", "quote_lines_beyond", "lines_disagree", "needs_disagree", "items_unshown"),
    *("elevation_weeps_left", "cuts_beyond", "needs_beyond"),
    *(f"cuts.{stem}_{roll}" for stem in ("fit", "from_begun") for roll in range(8, ROLLS_REMEMBERED + 1)),
    *(f"cuts.left_{roll}" for roll in range(13, ROLLS_REMEMBERED + 1)),
    # Of floors that are no rectangle the one walked job has neither: tests/test_strips.py,
    # tests/test_wrap_round.py.
    *("bands.dips_a", "bands.dips_b", "edges.step_up", "section_step"),
    # No opening has a ref of more than eight letters: tests/test_drawn_words.py.
    *("drawn_openings.long_mark", "drawn_unmarked"),
    # Common practice has a figure for each allowance; every sheet stocked here fits every zone.
    *("allowances.missing", "figures_missing", "book.sheet_fails"),
    # Nothing is measured there; no check of products can be met otherwise, nor is one assumed.
    *(f"{hold}_items.{column}" for hold in ("before_start", "foundations")
      for column in ("measure_row", "what", "quantity", "unit")),
    *("product_checks.otherwise", "product_checks.otherwise_note", "product_checks.assumed"),
}  # fmt: skip


@cache
def _seen(seed: int) -> tuple[bool, set[str], set[str]]:
    """Whether it has a total, what refuses it, and what differs from 0 and nothing."""
    ledger = estimate(random_job(seed))
    priced = ledger.cell("quote_total") is not NOT_AVAILABLE
    return priced, set(refused(ledger)), set(differing(ledger))


# A wider roll is bought of which somebody typed fewer packs than it then takes.
TOO_FEW = {193: "own_packs_short"}


@pytest.mark.parametrize("seed", SEEDS)
def test_has_a_total_unless_it_is_left_unfinished(seed: int) -> None:
    priced, causes, _ = _seen(seed)
    without = UNFINISHED | TOO_FEW
    assert priced == (seed not in without)
    assert without[seed] in causes if seed in without else not causes


def test_each_way_to_lose_a_total_has_its_job() -> None:
    assert sorted(UNFINISHED.values()) == sorted(FAULTS)
    assert 20 <= len(UNFINISHED) <= 30
    assert all(set(range(n, 200, 20)) & set(UNFINISHED) for n in range(20))


def test_what_is_worked_out_differs_somewhere() -> None:
    """Each column and cell, but those named here; the short run can only miss more."""
    seen = set(differing(worked_out("walked"))).union(*(_seen(seed)[2] for seed in SEEDS))
    assert not seen & NEVER
    assert set(worked()) >= NEVER
    if LONG:
        assert set(worked()) - seen == NEVER
