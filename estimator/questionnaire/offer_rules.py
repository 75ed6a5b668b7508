"""The few ways in which an answer is offered to a cell: only while the form is in use."""

from ..language import *


@rule
def mark_if(wanted: Amount, extension_asked: Flag, mark: Text) -> Text:
    """The ref of a row that the form fills. Nothing where it fills none."""
    return where(both(same(extension_asked, 1), less(0, first_given(wanted, 0))), mark, "")


@rule
def text_if_asked(extension_asked: Flag, words: Text) -> Text:
    """A text, while the form is in use."""
    return where(same(extension_asked, 1), words, "")


@rule
def number_if_asked(extension_asked: Flag, figure: Amount) -> Amount:
    """A figure, while the form is in use and the figure is known."""
    return where(both(same(extension_asked, 1), given(figure)), figure, "")


@rule
def constant_if_asked(extension_asked: Flag, constant: Amount) -> Amount:
    """A figure that does not depend on the answers, while the form is in use."""
    return where(same(extension_asked, 1), constant, "")


@rule
def from_build(extension_asked: Flag, build_no: Each, column: Column) -> Amount:
    """A measure of the build-up that was chosen."""
    return where(both(same(extension_asked, 1), less(0, build_no)), beside(column, build_no), "")


@rule
def text_from_build(extension_asked: Flag, build_no: Each, texts: TextColumn) -> Text:
    """A name in the build-up that was chosen."""
    return where(both(same(extension_asked, 1), less(0, build_no)), beside(texts, build_no), "")


@rule
def unknown_if_blank(extension_asked: Flag, answer: Text) -> Text:
    """What was answered. "unknown" while it was not."""
    return where(same(extension_asked, 1), where(is_blank(answer), "unknown", answer), "")


def mark(words: str, wanted: str = "extension_asked") -> Worked:
    """The mark of a row, where that named cell is above 0."""
    return worked(mark_if, wanted=NamedCell(wanted), mark=words)


def words(said: str) -> Worked:
    """A text that does not depend on the answers."""
    return worked(text_if_asked, words=said)


def figure(value: float | str) -> Worked:
    """A figure, or that of a named cell."""
    if isinstance(value, str):
        return worked(number_if_asked, figure=NamedCell(value))
    return worked(constant_if_asked, constant=value)


def build(number: str, column: str) -> Worked:
    """What stands in the build-up whose number is that named cell, as "wall_builds.cavity"."""
    table, _, name = column.partition(".")
    stands = WholeColumn(table, name)
    if name in ("kind", "cut_in"):
        return worked(text_from_build, build_no=NamedCell(number), texts=stands)
    return worked(from_build, build_no=NamedCell(number), column=stands)
