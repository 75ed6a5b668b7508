"""The sentences a person reads when something they gave cannot be used."""


class EstimateError(ValueError):
    """Something given cannot be used: where it stands, what was found, what is accepted."""

    def __init__(self, where: str, found: object, accepted: str) -> None:
        self.where, self.found, self.accepted = where, found, accepted
        super().__init__(f"{where}: found {_shown(found)}; accepted: {accepted}.")


class JobError(EstimateError):
    """The job file is wrong; the person who measured can mend it."""


class PriceError(EstimateError):
    """A price file is wrong; the person who priced can mend it."""


class BasisError(EstimateError):
    """A basis file is wrong, or the basis asked for does not exist."""


class TemplateError(EstimateError):
    """A template lacks a place that the workbook needs."""


class IssueError(EstimateError):
    """Documents cannot be issued as asked, or not yet."""


class FileError(EstimateError):
    """A file cannot be read or written as asked."""


class DrawingError(EstimateError):
    """Something in a drawing cannot be taken as it stands; whoever draws it can mend it."""


class ArgumentError(EstimateError):
    """A rule called by hand cannot use what it was given."""


class MailError(EstimateError):
    """A message cannot be written or sent; `state` says what became of it, where it was on its way.

    The sentence never holds a password.
    """

    def __init__(self, where: str, found: object, accepted: str, state: str = "") -> None:
        super().__init__(where, found, accepted)
        self.state = state
        if state:
            self.args = (f"{where}: {found}; accepted: {accepted}; {state}.",)


def _shown(found: object) -> str:
    if found is None:
        return "nothing"
    try:
        text = repr(found) if isinstance(found, str) else str(found)
    except (RecursionError, ValueError):  # lists within lists, or a number of thousands of digits
        return "something too long to be shown"
    return text if len(text) <= 60 else text[:57] + "..."


def so_many(number: float, thing: str) -> str:
    """A number of things in words: 1 line, 2 lines."""
    return f"{number:g} {thing}{'' if number == 1 else 's'}"
