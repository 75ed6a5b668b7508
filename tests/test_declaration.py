"""A document says what its declaration names, wherever that comes from, and nothing else."""

from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from estimator.documents.declaration import (
    Document,
    JobRow,
    cell,
    column,
    copied,
    in_use,
    listed,
    part,
)
from estimator.documents.document import document
from estimator.documents.issue import Issue, Issuing
from estimator.errors import TemplateError
from estimator.files.resources import DEMO_JOB
from estimator.language import number, rule, text, total, worked
from estimator.language.units import EACH, Each
from estimator.language.units import Column as Figures
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.workbook.build import Built

SUPPLIERS = ["Fernbank Supplies (invented)", "Harrow Lane Depot (invented)"]


@rule
def letters_in_all(chosen_letters: Figures) -> Each:
    """How long all names are together."""
    return total(chosen_letters)


SHOWN: Document[Issuing] = Document(
    lists=(
        listed(
            *("chosen", "chosen", "Suppliers"),
            column("called", "Name", of="name"),
            column("letters", "Letters", EACH, lambda row: len(row["name"])),
            text("remark", "Remark", required=False),
            number("discs", "Discs", EACH, 1, 9, required=False),
            rows=in_use("suppliers", "name", lambda row: not row["name"].startswith("Quay")),
        ),
        part("urgent", "Urgent", lambda of: of.issue.changes),
    ),
    cells=(
        copied("job_title", "Job"),
        cell("revision_mark", "Revision", lambda of: of.issue.revision),
        worked(letters_in_all, "Letters in all"),
        text("signed_by", "Signed by", required=False),
    ),
)


@pytest.fixture(scope="module")
def subject() -> Issuing:
    return Issuing(estimate(read_job(DEMO_JOB)), Issue("C", "25 November 2026"))


def template(path: Path, named: bool = True) -> Path:
    """Four cells, the list and the part, one beneath the other."""
    book = Workbook()
    sheet = book.active
    sheet.title = "One"
    rows = (
        ["{job_title}", "{revision_mark}", "{letters_in_all}", "{signed_by}"],
        ["{called}", "{letters}", "{remark}", "{discs}"],
        ["only in a hurry"],
    )
    for row in rows:
        sheet.append(row)
    for name, row in {"chosen_line": 2, "urgent_line": 3}.items():
        if named or name != "chosen_line":
            book.defined_names[name] = DefinedName(name, attr_text=f"One!$A${row}:$D${row}")
    book.save(path)
    return path


def built(subject: Issuing, path: Path) -> Built:
    return document(SHOWN.ledger(subject), path)


def test_what_is_declared_is_shown_wherever_it_comes_from(subject: Issuing, tmp_path: Path) -> None:
    """Renamed, made of the row, filtered, copied, of the issue, worked out: letters 28 + 28 = 56."""
    [sheet] = (found := built(subject, template(tmp_path / "t.xlsx"))).workbook.worksheets
    values = [[c.value for c in row] for row in sheet.iter_rows()]
    assert values == [
        ["Garden room extension (invented example)", "C", "=SUMPRODUCT(One!$B$2:$B$3*1)", None],
        [SUPPLIERS[0], 28, None, None],
        [SUPPLIERS[1], 28, None, None],
    ]
    assert found.results["One"][1, 3] == 56
    assert set(found.workbook.defined_names) == {
        *("job_title", "revision_mark", "letters_in_all", "signed_by"),
    }


def test_what_a_row_holds_besides_stays_at_the_desk(subject: Issuing) -> None:
    """The suppliers' rows hold delivery charges; the declared columns are all that is read."""
    [first, second] = SHOWN.ledger(subject).rows["chosen"]
    assert first == {"called": SUPPLIERS[0], "letters": 28}
    assert second == {"called": SUPPLIERS[1], "letters": 28}
    assert JobRow(subject.job, "suppliers", 1)["delivery"] == 45


def test_a_part_is_there_when_its_condition_holds(subject: Issuing, tmp_path: Path) -> None:
    issue = Issue("D", "26 November 2026", changes=["More."], changed_since="C")
    path = template(tmp_path / "t.xlsx")
    shown = [
        [c.value for c in built(of, path).workbook["One"]["A"]]
        for of in (subject, Issuing(subject.job, issue))
    ]
    assert ["only in a hurry" in column for column in shown] == [False, True]


def test_what_is_typed_in_a_document_is_open_and_has_its_limits(
    subject: Issuing, tmp_path: Path
) -> None:
    [sheet] = built(subject, template(tmp_path / "t.xlsx")).workbook.worksheets
    open_cells = {c.coordinate for row in sheet.iter_rows() for c in row if not c.protection.locked}
    assert open_cells == {"D1", "C2", "C3", "D2", "D3"}
    assert sheet.protection.sheet
    limits = {str(v.sqref): v for v in sheet.data_validations.dataValidation}
    assert set(limits) == {"D1", "C2:C3", "D2:D3"}
    whole = limits["D2:D3"]
    assert (whole.type, whole.formula1, whole.formula2) == ("whole", "1", "9")


def test_a_list_whose_places_are_its_own_needs_no_name(subject: Issuing, tmp_path: Path) -> None:
    path = template(tmp_path / "t.xlsx", named=False)
    assert built(subject, path).workbook["One"]["A3"].value == SUPPLIERS[1]
    other: Document[Issuing] = Document(
        lists=(
            *SHOWN.lists,
            listed(*("other", "other", ""), column("called", ""), rows=lambda _: ()),
        ),
        cells=SHOWN.cells,
    )
    with pytest.raises(TemplateError, match="a block named chosen_line"):
        document(other.ledger(subject), path)


def test_a_list_in_a_document_asks_for_its_own_columns_only() -> None:
    table = SHOWN.plan.tables["chosen"]
    assert table.places == ("called", "letters", "remark", "discs")
