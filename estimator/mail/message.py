"""A message as RFC 5322 has it: text and HTML, files attached, marked as not yet sent."""

import re
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from email.header import Header
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime, formataddr, localtime
from pathlib import Path

from ..errors import FileError, MailError

# Everything in 7 bits and short lines, so that no server need know an extension.
POLICY = SMTP.clone(cte_type="7bit")
LONGEST_LINE = 998  # octets without the line's end: RFC 5322, 2.1.1
MOST_SUBJECT = 200  # characters: ours, a subject longer than that is a mistake
MOST_ATTACHED = 20_000_000  # octets in one file: ours, more is refused by most servers

# Read by mail programs as "open it for editing": common practice, no standard.
UNSENT = "X-Unsent"
_TYPES = {
    ".xlsx": ("application", "vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
    ".pdf": ("application", "pdf"),
    ".csv": ("text", "csv"),
    ".txt": ("text", "plain"),
    ".png": ("image", "png"),
    ".jpg": ("image", "jpeg"),
}
_UNKNOWN = ("application", "octet-stream")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
# dot-atom "@" domain: RFC 5322, 3.2.3 and 3.4.1; lengths by RFC 5321, 4.5.3.1.
_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+"
_LABEL = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
_ADDRESS = re.compile(rf"({_ATOM}(?:\.{_ATOM})*)@({_LABEL}(?:\.{_LABEL})*)")
_ENCODED = "=?"  # would be read as an encoded word: RFC 2047, 2
_NAMED = re.compile(r"([^<>@]*)<([^<>]*)>")
ACCEPTED_ADDRESS = "one address such as name@example.org, or Name <name@example.org>"


@dataclass(frozen=True)
class Attachment:
    """A file as it travels: its name without any folder, and its bytes."""

    name: str
    content: bytes


def attachment(path: Path) -> Attachment:
    """A file to be attached. Raises FileError when it cannot be read or is too large."""
    try:
        if path.stat().st_size > MOST_ATTACHED:
            size = f"{path.stat().st_size / 1e6:.1f} MB"
            raise FileError(path.name, size, f"a file of up to {MOST_ATTACHED / 1e6:.0f} MB")
        return Attachment(path.name, path.read_bytes())
    except OSError as error:
        raise FileError(path.name, error.strerror, "a file that can be read") from None


def address(text: str, where: str) -> Address:
    """One address, with the name before it if there is one. Raises MailError."""
    if _CONTROL.search(text):
        raise MailError(where, text, ACCEPTED_ADDRESS + ", on one line")
    named = _NAMED.fullmatch(text.strip())
    name, plain = (named[1].strip().strip('"'), named[2]) if named else ("", text.strip())
    found = _ADDRESS.fullmatch(plain)
    if (
        found is None
        or len(found[1]) > 64
        or len(found[2]) > 253
        or len(name) > 200
        or _ENCODED in name
    ):
        raise MailError(where, text, ACCEPTED_ADDRESS)
    return Address(name, found[1], found[2])


def draft(
    to: Sequence[str],
    sender: str,
    subject: str,
    text: str,
    html: str,
    attachments: Iterable[Attachment] = (),
    when: datetime | None = None,
) -> bytes:
    """A message ready to be opened in a mail program, or to be sent.

    `to` may be empty: the person who opens the draft says whom it is for. Nothing of the machine
    is in it: no path, no name of a host. Raises MailError for what cannot stand in a message.
    """
    sent_by = address(sender, "from")
    fields = {"From": _written(sent_by)}
    if to:
        fields["To"] = ",\r\n ".join(_written(address(one, "to")) for one in to)
    fields["Subject"] = _in_ascii(_one_line(subject), "Subject")
    fields["Date"] = format_datetime(when or localtime())
    fields["Message-ID"] = f"<{uuid.uuid4().hex}@{sent_by.domain}>"
    fields[UNSENT] = "1"
    message = EmailMessage(policy=POLICY)
    message.set_content(text)
    message.add_alternative(html, subtype="html")
    for one in attachments:
        _attach(message, one)
    head = "".join(f"{name}: {value}\r\n" for name, value in fields.items())
    content = head.encode("ascii") + message.as_bytes()
    for line in content.split(b"\r\n"):
        if len(line) > LONGEST_LINE:
            raise MailError("message", f"a line of {len(line)}", f"lines of up to {LONGEST_LINE}")
    return content


def _written(who: Address) -> str:
    if who.display_name.isascii():
        return formataddr((who.display_name, who.addr_spec))
    return f"{_in_ascii(who.display_name, 'From')}\r\n <{who.addr_spec}>"


def _in_ascii(text: str, field: str) -> str:
    """The text in encoded words (RFC 2047) where it is not ASCII, folded.

    By the library's older way: the newer one loses a blank where an encoded word ends.
    """
    return text if text.isascii() else Header(text, "utf-8", 75, field).encode(linesep="\r\n")


def _attach(message: EmailMessage, one: Attachment) -> None:
    name = one.name
    if not name or len(name) > 200 or _CONTROL.search(name) or set(name) & set('/\\:"'):
        raise MailError("attachment", name, "a file's name of up to 200 characters, no folder")
    main, sub = _TYPES.get(Path(name).suffix.lower(), _UNKNOWN)
    message.add_attachment(one.content, maintype=main, subtype=sub, cte="base64", filename=name)


def fitting_subject(text: str) -> str:
    """A subject made of that text: a long title is cut, and marks that turn text round left out."""
    plain = " ".join(_CONTROL.sub("", text).replace(_ENCODED, "= ?").split())
    return plain if len(plain) <= MOST_SUBJECT else plain[: MOST_SUBJECT - 1].rstrip() + "…"


def _one_line(subject: str) -> str:
    if _CONTROL.search(subject) or not subject.strip() or len(subject) > MOST_SUBJECT:
        raise MailError("subject", subject, f"one line of up to {MOST_SUBJECT} characters")
    if _ENCODED in subject:
        raise MailError("subject", subject, f"a subject without {_ENCODED}")
    return subject.strip()


_NOT_TO_BE_SENT = (UNSENT.lower().encode(), b"bcc", b"resent-bcc")
_FIELD = re.compile(rb"([!-9;-~]+)[ \t]*:")  # a field's name: RFC 5322, 2.2


def to_be_sent(content: bytes) -> bytes:
    """The message without the mark of a draft and without Bcc; lines end in CR LF.

    Nothing else is changed, so that what is sent is what was looked at.
    """
    lines = re.split(rb"\r\n|\r|\n", content)
    kept: list[bytes] = []
    keeps = True
    for n, line in enumerate(lines):
        if not line:
            return b"\r\n".join([*kept, *lines[n:]])
        if line[:1] not in b" \t":  # a field; what begins with a blank goes on with the last
            field = _FIELD.match(line)
            keeps = field is None or field[1].lower() not in _NOT_TO_BE_SENT
        if keeps:
            kept.append(line)
    return b"\r\n".join([*kept, b"", b""])
