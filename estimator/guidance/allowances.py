"""The allowances sheet: every basis's value side by side, the job's own, and which is in use."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from ..language import *
from ..language.percent import column_in_use
from .basis import KEYS, Basis, labels_of
from .house import MOST


@rule
def basis_slot(basis_choice: Text, basis_name: TextColumn, basis_position: Column) -> Each:
    """The chosen guidance's place in the list of guidance documents."""
    return sum_of(basis_position, same(basis_name, basis_choice))


@rule
def by_basis(basis_slot: Each, *stated: Amount) -> Amount:
    """The chosen guidance's figure, or that it states none."""
    return choose(basis_slot, *stated)


@rule
def in_use(override: Amount, by_basis: Amount, own: Amount, common: Amount) -> Amount:
    """The figure in use: the override, else the guidance's, the job's own, or common practice's."""
    return first_given(override, by_basis, own, common)


@rule
def assumed(override: Amount, by_basis: Amount, own: Amount) -> Flag:
    """1 where nobody gives a figure: not the guidance, not the job."""
    return where(given(first_given(override, by_basis, own)), 0, 1)


@rule
def needed(
    position: Each,
    figure_read_allowance_no: Column,
    figure_read_used: Column,
) -> Each:
    """Quantities of this job that read the figure."""
    return count_of(same(figure_read_allowance_no, position), same(figure_read_used, 1))


@rule
def from_where(
    override: Amount, by_basis: Amount, own: Amount, in_use: Amount, needed: Each
) -> Text:
    """Whose figure is in use."""
    return where(
        given(override),
        "override",
        where(
            given(by_basis),
            "guidance",
            where(
                given(own),
                "job's own, guidance states none",
                where(
                    same(needed, 0),
                    "common practice: no quantity rests on it",
                    where(given(in_use), "assumed, common practice", "none: give your own"),
                ),
            ),
        ),
    )


@rule
def missing(in_use: Amount, needed: Each) -> Flag:
    """1 where this job needs a figure and there is none at all."""
    return where(given(in_use), 0, where(less(0, needed), 1, 0))


@rule
def figures_missing(allowance_missing: Column) -> Each:
    """Allowances that this job needs and that have no figure."""
    return count_of(same(allowance_missing, 1))


@rule
def allowances_assumed(allowance_assumed: Column, allowance_needed: Column) -> Each:
    """Allowances that this job needs and takes from common practice: nobody gives a figure."""
    return count_of(same(allowance_assumed, 1), less(0, allowance_needed))


@rule
def clause(basis_slot: Each, *clause_of: Text) -> Text:
    """Where the chosen guidance says so, or was looked at."""
    return choose(basis_slot, *clause_of)


@rule
def regulation_no(site_nation: Text, basis_regulates: TextColumn, basis_position: Column) -> Each:
    """The place among the guidance documents of the regulatory document of the site's nation. 0 where none is
    shipped, and while the nation is not chosen."""
    return sum_of(basis_position, same(basis_regulates, site_nation))


@rule
def regulation_title(regulation_no: Each, site_nation: Text, basis_title: TextColumn) -> Text:
    """The document whose figures stand as regulatory, or why there are none."""
    return where(
        less(0, regulation_no),
        beside(basis_title, regulation_no),
        where(
            is_blank(site_nation),
            "none: choose the nation on Start",
            "none: the document of this nation is not in this program",
        ),
    )


@rule
def laxer_said(regulation_no: Each, basis_laxer: TextColumn) -> Text:
    """What is said of a figure in use that is laxer than the regulatory one: it names the document."""
    return where(less(0, regulation_no), beside(basis_laxer, regulation_no), "")


@rule
def short_said(regulation_no: Each, basis_short: TextColumn) -> Text:
    """What is said of a figure given that falls short of the regulatory one."""
    return where(less(0, regulation_no), beside(basis_short, regulation_no), "")


@rule
def regulatory(regulation_no: Each, *stated: Amount) -> Amount:
    """The figure of the regulatory document of the site's nation. Nothing where none is shipped."""
    return where(less(0, regulation_no), choose(regulation_no, *stated), "")


@rule
def beside_regulation(in_use: Amount, regulatory: Amount, stricter: Flag, laxer_said: Text) -> Text:
    """Whether the figure in use is laxer than the regulatory document's, which it names."""
    return where(
        given(in_use),
        where(less(0, stricter * (first_given(regulatory, in_use) - in_use)), laxer_said, ""),
        "",
    )


BASES = Table(
    "bases",
    "basis",
    "Guidance to choose from",
    (
        Fixed("name", "Guidance", TEXT),
        Fixed("title", "Document", TEXT),
        Fixed("binds", "What it is", TEXT),
        Fixed("regulates", "Regulatory in", TEXT),
        Fixed("laxer", "Said of a laxer figure", TEXT),
        Fixed("short", "Said of a figure short of it", TEXT),
        Fixed("label", "As it is chosen", TEXT, since=7),
    ),
    key="name",
    guarded=False,
)


@rule
def document_title(basis_slot: Each, basis_title: TextColumn) -> Text:
    """The chosen guidance's document."""
    return where(less(0, basis_slot), beside(basis_title, basis_slot), "no such guidance")


@rule
def document_binds(basis_slot: Each, basis_binds: TextColumn) -> Text:
    """Whom the chosen guidance binds."""
    return where(less(0, basis_slot), beside(basis_binds, basis_slot), "")


TYPED = (
    Input("override", "Override", AMOUNT, "Replaces the guidance's figure.", required=False,
          limits_in=("least", "most"), percent_in=("unit", PERCENT.sign)),
    Input("own", "Own, where guidance states none", AMOUNT,
          "Used only where the guidance states no figure. Blank: common practice is assumed.",
          required=False, limits_in=("least", "most"), percent_in=("unit", PERCENT.sign)),
)  # fmt: skip


def allowances_table(bases: Sequence[Basis]) -> Table:
    """The list of allowances: a column for each shipped basis, and some kept for a firm's own."""
    numbered = [(n, b.document.named, b.document.title) for n, b in enumerate(bases, 1)]
    for n in range(1, MOST + 1):
        numbered.append(
            (len(bases) + n, f"House guidance {n}", "A firm's own figures, if it has any.")
        )
    return Table(
        "allowances",
        "allowance",
        "Allowances",
        (
            Fixed("key", "Name in formulas", TEXT),
            Fixed("label", "Allowance", TEXT),
            Fixed("unit", "Unit", TEXT),
            *(Fixed(f"stated_{n}", name, AMOUNT, title) for n, name, title in numbered),
            *(Fixed(f"clause_of_{n}", f"Clause, {name}", TEXT) for n, name, _ in numbered),
            Fixed("common", "Common practice", AMOUNT),
            Fixed("stricter", "Stricter side", FLAG),
            Fixed("least", "Least", AMOUNT),
            Fixed("most", "Most", AMOUNT),
            worked(by_basis, "By the guidance"),
            worked(regulatory, "Regulatory figure"),
            *TYPED,
            *(column_in_use(i) for i in TYPED),
            worked(in_use, "In use"),
            worked(assumed),
            worked(needed, "Quantities that need it"),
            worked(from_where, "From"),
            worked(beside_regulation, "Beside the regulatory figure"),
            worked(clause),
            worked(missing),
        ),
        key="key",
        guarded=False,
        names="in_use",
    )  # fmt: skip


def allowance_items() -> tuple[Item, ...]:
    """One item for each allowance: the named cell that rules read."""
    return tuple(Item(k.name, k.label, k.unit, k.help, since=k.since) for k in KEYS)


def allowance_rows(
    bases: Sequence[Basis], override: Mapping[str, float], own: Mapping[str, float]
) -> list[dict[str, Any]]:
    """The rows of the allowances list: what each basis states, and what the job types."""
    common = next(b for b in bases if b.document.assumed)
    rows = []
    for key in KEYS:
        row: dict[str, Any] = {
            "key": key.name,
            "label": key.label,
            "unit": key.unit.sign,
            "common": common.values[key.name].number,
            "stricter": key.stricter,
            "least": key.least,
            "most": key.most,
            "override": override.get(key.name),
            "own": own.get(key.name),
        }
        for n, basis in enumerate(bases, 1):
            row[f"stated_{n}"] = basis.values[key.name].value
            row[f"clause_of_{n}"] = basis.citation(key.name)
        rows.append(row)
    return rows


def basis_rows(bases: Iterable[Basis]) -> list[dict[str, Any]]:
    """The rows of the list of bases. Each has a text of its own by which a person chooses it."""
    bases = tuple(bases)
    labels = labels_of(bases)
    return [
        {
            "name": b.name,
            "title": b.document.title,
            "binds": b.document.binds,
            "regulates": b.document.nation if b.document.regulatory else "none",
            "laxer": f"laxer than {b.document.named}",
            "short": f"short of {b.document.named}",
            "label": labels[b.name],
        }
        for b in bases
    ]


def source_rows(bases: Iterable[Basis]) -> list[dict[str, Any]]:
    """Every value of every basis with its source, for the notes."""
    labels = {k.name: k for k in KEYS}
    return [
        {
            "label": labels[name].label,
            "basis": basis.document.named,
            "value": value.value if value.number is None else f"{value.number:g} {labels[name].unit.sign}".strip(),
            "says": value.says,
            "source": basis.citation(name),
            "standing": value.standing,
        }
        for basis in bases
        for name, value in basis.values.items()
    ]  # fmt: skip


SOURCES = Table(
    "sources",
    "cited",
    "What each document says",
    (
        Fixed("label", "Allowance", TEXT),
        Fixed("basis", "Document", TEXT),
        Fixed("value", "Value", TEXT),
        Fixed("says", "In our words", TEXT),
        Fixed("source", "Source", TEXT),
        Fixed("standing", "Known how", TEXT),
    ),
    key="label",
    guarded=False,
)

CHOICE = text("basis_choice", "Guidance", choice_of="bases.name", shown_as="label",
              help="Whose guidance the allowances follow. There is no default.")  # fmt: skip
CELLS = (
    worked(basis_slot, "Guidance no."),
    worked(document_title, "Document"),
    worked(document_binds, "What it is"),
    worked(regulation_no, "Regulatory document no."),
    worked(regulation_title, "Regulatory figures by"),
    worked(laxer_said, "Said of a laxer figure"),
    worked(short_said, "Said of a figure short of it"),
    worked(figures_missing, "Allowances without a figure"),
    worked(allowances_assumed, "Allowances assumed from common practice"),
)
