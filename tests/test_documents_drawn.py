"""Drawings in the documents that are sent: each floor's, held by the chart itself, kept in print."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import load_workbook

from estimator.documents import pdf
from estimator.documents.issue import Issue, Issued, Templates
from estimator.documents.writing import issue_documents
from estimator.files.resources import CLIENT_TEMPLATE, DEMO_FORM, DEMO_JOB, SITE_TEMPLATE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.pens.views import CUT_IN, CUTTING, ELEVATION, PLAN, ROOF, SECTION, STRIPS, View

from .hosts import by_libreoffice, figures
from .leaks import text_of
from .raw_package import parts_of

Strokes = list[list[tuple[float, float]]]


def issued(
    job: Job,
    folder: Path,
    templates: Templates | None = None,
    say: Callable[[str], Any] = lambda _: None,
) -> Issued:
    """An issue without its PDF; `say` is told what the estimator is."""
    folder.mkdir(exist_ok=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        return issue_documents(
            estimate(job), Issue("A", "25 November 2026"), folder, say, templates
        )


def with_mark(job: Job, mark: str) -> Job:
    """The job with another mark for its second floor."""
    rows = {
        table: [{name: mark if v == "Z2" else v for name, v in row.items()} for row in rows]
        for table, rows in job.rows.items()
    }
    return replace(job, rows=rows)


@pytest.fixture(scope="module")
def done(tmp_path_factory: pytest.TempPathFactory) -> Issued:
    """The demo issued, to be looked at only."""
    return issued(read_job(DEMO_JOB), tmp_path_factory.mktemp("drawn"))


def drawn_in(path: Path) -> dict[str, Any]:
    """The charts of a file by their first word, which is their title."""
    trees = [
        etree.fromstring(part)
        for name, part in sorted(
            parts_of(path.read_bytes()).items(), key=lambda each: (len(each[0]), each[0])
        )
        if name.startswith("xl/charts/chart")
    ]
    return {
        next(
            said
            for said in words_of(tree)
            if re.search(" o[fn] (floor|wall) |^Cutting of |^Roof against |^Tray cut in: ", said)
        ): tree
        for tree in trees
    }


def series_of(tree: Any) -> list[tuple[str, list[tuple[float, float]]]]:
    """Each series: its name and its points."""
    found = []
    for each in tree.iter("{*}ser"):
        x, y = (
            [float(v.text) for pt in each.find(f"{{*}}{n}").iter("{*}pt") for v in pt]
            for n in ("xVal", "yVal")
        )
        found.append((each.find("{*}tx").findtext(".//{*}v"), list(zip(x, y, strict=True))))
    return found


def words_of(tree: Any) -> list[str]:
    return [name for name, points in series_of(tree) if len(points) == 1]


def chosen(job: Job, view: View, mark: str) -> Ledger:
    return estimate(replace(job, particulars={**job.particulars, view.chosen: mark}))


def test_the_site_sheet_draws_each_floor_and_each_wall_with_openings(done: Issued) -> None:
    """Line for line what is drawn where that floor is chosen, and nothing of another."""
    job, found = read_job(DEMO_JOB), drawn_in(done.site)
    assert list(found) == [
        *("Plan of floor Z1", "Section of floor Z1", "Sheet on floor Z1"),
        *("Plan of floor Z2", "Section of floor Z2", "Sheet on floor Z2"),
        *(f"Elevation of wall {mark}" for mark in ("W1", "W2", "W3", "W4", "W5")),
        *(f"Roof against the wall: {mark}" for mark in ("R1", "R2")),
        "Tray cut in: C1",
        *("Cutting of F-26", "Cutting of F-03"),
    ]
    views: dict[str, View] = {
        "Plan": PLAN,
        "Section": SECTION,
        "Sheet": STRIPS,
        "Elevation": ELEVATION,
        "Roof": ROOF,
        "Tray": CUT_IN,
        "Cutting": CUTTING,
    }
    for title, tree in found.items():
        view = views[title.split()[0]]
        floor = chosen(job, view, title.split()[-1])
        lines: dict[str, Strokes] = {}
        for name, points in series_of(tree):
            if len(points) > 1:
                lines.setdefault(name, []).append(points)
        assert sum(map(len, lines.values())) > 1
        for each in view.lines:
            wanted = sorted(each.strokes(floor), key=len, reverse=True)
            kept = lines.pop(each.name, [])
            assert len(kept) == len(wanted), each.name
            for stroke, points in zip(wanted, kept, strict=True):
                assert points == [pytest.approx(point, abs=0.0051) for point in stroke]
        assert lines == {}
        texts = [t for words in view.words for *_, t in words.each(floor) if t.strip()]
        assert words_of(tree) == texts


def test_the_client_has_the_plan_of_each_floor_and_no_section(done: Issued) -> None:
    assert list(drawn_in(done.quote)) == ["Plan of floor Z1", "Plan of floor Z2"]
    book = load_workbook(done.quote)
    assert book.sheetnames == ["Quote", "Plan"]
    assert [len(sheet._charts) for sheet in book] == [0, 2]


def test_each_drawing_has_its_page_and_says_that_it_replaces_no_drawing(done: Issued) -> None:
    for path, title, count in ((done.site, "Drawings", 16), (done.quote, "Plan", 2)):
        sheet = load_workbook(path)[title]
        anchors = [chart.anchor for chart in sheet._charts]
        tops = [anchor._from.row for anchor in anchors]
        assert [brk.id for brk in sheet.row_breaks.brk] == tops[1:], "a page begins above each"
        assert len(tops) == count
        head = int(sheet.print_title_rows.replace("$", "").split(":")[1])
        assert any(
            "replace the drawing set" in str(sheet.cell(r, 1).value) for r in range(1, head + 1)
        )
        for anchor, top in zip(anchors, tops, strict=True):
            rows = (sheet.row_dimensions[top + n].height for n in (1, 2))
            assert sum(rows) >= anchor.ext.height / 12_700, "it is no higher than its rows"
        bottom = int(sheet.print_area.rpartition("$")[2])
        assert bottom == tops[-1] + 2


def test_libreoffice_keeps_every_line_and_prints_every_word(done: Issued, tmp_path: Path) -> None:
    """It puts the points into a table of the chart's own, where it loses lines that come before a
    longer one."""
    (saved,) = by_libreoffice([done.site], tmp_path, "ods").values()
    parts = parts_of(saved.read_bytes())
    tables = [
        {float(v) for v in etree.fromstring(part).xpath("//@*[local-name()='value']")}
        for name, part in parts.items()
        if name.startswith("Object ") and name.endswith("/content.xml")
    ]
    wanted = [
        {c for name, points in series_of(tree) for point in points for c in point}
        for tree in drawn_in(done.site).values()
    ]
    assert len(tables) == len(wanted) == 16
    assert all(any(every <= table for table in tables) for every in wanted)
    (printed,) = by_libreoffice([done.site], tmp_path, "pdf").values()
    pages = text_of(printed).split("\f")
    drawings = drawn_in(done.site)
    for title, tree in drawings.items():
        (page,) = [page for page in pages if title in page]
        assert sum(other in page for other in drawings) == 1, "nothing of the next one"
        solid = "".join(page.split())  # letters may be set apart
        said = ("They do not replace the drawing set", "25 November 2026", *words_of(tree))
        assert [words for words in said if "".join(words.split()) not in solid] == []


@pytest.mark.host
def test_any_mark_of_a_floor_is_printed_as_it_is_typed(tmp_path: Path) -> None:
    mark = "=A\"1;2}{'&<b>"
    done = issued(with_mark(read_job(DEMO_JOB), mark), tmp_path / "out")
    (printed,) = by_libreoffice([done.quote], tmp_path, "pdf").values()
    assert f"Plan of floor {mark}" in text_of(printed)


def test_a_job_with_nothing_to_draw_has_no_sheet_for_drawings(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    rows = {
        **job.rows,
        "zones": [],
        "edges": [],
        "penetrations": [],
        "openings": [],
        "abutments": [],
        "cut_ins": [],
    }
    done = issued(replace(job, rows=rows), tmp_path / "out")
    assert list(figures(done.site)) == ["Site"]
    assert list(figures(done.quote)) == ["Quote"]


def test_a_floor_that_the_questions_fill_in_is_drawn(tmp_path: Path) -> None:
    """The invented lean-to consists of answers: the mark of its floor is typed nowhere."""
    done = issued(read_job(DEMO_FORM), tmp_path)
    floor = ["Plan of floor X1", "Section of floor X1", "Sheet on floor X1"]
    assert list(drawn_in(done.site))[:3] == floor
    assert list(drawn_in(done.quote)) == floor[:1]


def test_a_template_without_rows_for_drawings_has_none(tmp_path: Path) -> None:
    """As those that were restyled for an earlier version; or a firm wants none."""
    paths = []
    for shipped, title in ((CLIENT_TEMPLATE, "Plan"), (SITE_TEMPLATE, "Drawings")):
        book = load_workbook(shipped)
        del book[title], book.defined_names["drawings_line"]
        paths.append(tmp_path / shipped.name)
        book.save(paths[-1])
    templates = Templates(client=paths[0], site=paths[1])
    done = issued(read_job(DEMO_JOB), tmp_path / "out", templates)
    assert drawn_in(done.site) == drawn_in(done.quote) == {}
    assert list(figures(done.site)) == ["Site"]


def test_a_suppliers_name_on_the_plan_is_told(tmp_path: Path) -> None:
    """Nobody calls a floor so; but what the client reads is looked through, all of it."""
    said: list[str] = []
    job = with_mark(read_job(DEMO_JOB), "Quayside store")
    issued(job, tmp_path / "out", say=said.append)
    assert [s for s in said if "Plan of floor Quayside store" in s] == [
        "The client will read a supplier's name: 'Quayside' in 'Plan of floor Quayside store'."
    ]
