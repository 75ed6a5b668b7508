"""The rolls of a product as they are drawn: every piece once, each as long as it is, in its roll."""

from dataclasses import replace

import pytest

from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.subjects import each
from estimator.pens.views import CUTTING

from .made import worked_out
from .random_jobs import random_job
from .small_jobs import STOCK, bare_job, product, row


def said(ledger: Ledger) -> list[tuple[float, float, str]]:
    """Every word of a piece: where it is, and what it says."""
    words = [words for words in CUTTING.words if words.table == "drawn_cuts"]
    return [(x, y, text) for w in words for _, (x, y), text in w.each(ledger) if text != " "]


def strokes(name: str, ledger: Ledger) -> list[list[tuple[float, float]]]:
    (lines,) = (lines for lines in CUTTING.lines if lines.name == name)
    return list(lines.strokes(ledger))


def test_trays_by_hand() -> None:
    """Trays of 2.4, 2.4, 2.4, 1.4 and 1.4 m from rolls of 5 m: two of 2.4 leave 0.2; one of 2.4 and one
    of 1.4 leave 1.2; the last of 1.4 leaves 3.6. 78 of the frame for 5 m: 15.6 to a metre, from 6 on.
    """
    wall = row("walls", mark="W1", run="open", length=20, measured_on="outside face",
               external_corners=0, internal_corners=0, ends_at_existing=0,
               outer_leaf=100, cavity=100, inner_leaf=100)  # fmt: skip
    openings = [
        row("openings", mark=f"O{n}", wall="W1", kind="window", number=1, width=w, height=1, lintel=w)
        for n, w in enumerate((2.1, 2.1, 2.1, 1.1, 1.1))
    ]  # fmt: skip
    book = [r for r in STOCK if r["material"] != "tray_roll"]
    book.append(product("T5", "tray_roll", 8, width=450, length=5))
    job = bare_job(walls=[wall], openings=openings, book=book)
    found = estimate(replace(job, particulars={**job.particulars, "tray_joints": "one piece"}))
    assert said(found) == [
        (pytest.approx(6 + 2.4 * 15.6), 80, "2 × 2.400"),
        (pytest.approx(6 + 1.2 * 15.6), 70.5, "2.400"),
        (pytest.approx(6 + 3.1 * 15.6), 70.5, "1.400"),
        (pytest.approx(6 + 0.7 * 15.6), 61, "1.400"),
    ]
    cuts = sorted((stroke[0][0], stroke[0][1]) for stroke in strokes("cuts", found))
    assert [x for x, _ in cuts] == pytest.approx(
        [6 + n * 15.6 for n in (1.4, 2.4, 3.8, 4.8)], abs=1e-6
    )
    assert len(strokes("rolls", found)) == 3
    words = found.column("cut_words", "says")
    assert words[0] == "Cutting of T5"
    assert words[2] == "Cut from 3, each 5.000 m"
    assert words[4:8] == ["left 0.200", "left 1.200", "left 3.600", " "]


@pytest.mark.parametrize("seed", [4, 5, 7])
def test_every_piece_of_the_cutting_list_is_drawn_once(seed: int) -> None:
    """Of each product: as many pieces of each length as are listed, where there is room for all."""
    seen = 0
    for code, ledger, _ in each(estimate(random_job(seed)), (CUTTING,)):
        listed = [
            (f"{length:.3f}", round(count))
            for mark, length, count in zip(
                *(ledger.column("cuts", c) for c in ("mark", "length", "pieces")), strict=True
            )
            if mark == code
        ]
        if ledger.cell("bars_rolls") > 8 or len(listed) > 8:
            continue
        drawn: dict[str, int] = {}
        for _, _, text in said(ledger):
            count, _, length = text.rpartition(" × ")
            drawn[length] = drawn.get(length, 0) + int(count or 1)
        wanted: dict[str, int] = {}
        for length, count in listed:
            wanted[length] = wanted.get(length, 0) + count
        assert drawn == wanted, code
        assert len(strokes("rolls", ledger)) == ledger.cell("bars_rolls")
        seen += 1
    assert seen


def test_a_job_that_cuts_nothing_has_no_drawing() -> None:
    found = worked_out("blank")
    assert list(each(found, (CUTTING,))) == []
    assert found.column("cut_words", "says")[0] == "Cutting: nothing is cut in whole pieces"
    assert strokes("rolls", found) == strokes("cuts", found) == []
