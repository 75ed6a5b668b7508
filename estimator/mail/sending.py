"""Sending one message over TLS, to all of its recipients or to none.

A server takes a message for those it accepted, so all are asked about before the message is
handed over, and it is withdrawn (RSET) when one of them is refused. After the last byte has been
handed over only the server's answer tells whether it was sent: without it, that is not known.
"""

import re
import smtplib
import ssl
from base64 import b64encode
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from email import message_from_bytes
from typing import NoReturn

from ..errors import FileError, MailError
from ..files.opening import file_text
from .account import NOT_KNOWN, NOTHING_SENT, Account
from .connection import Encrypted, ToBeEncrypted
from .message import POLICY, address, to_be_sent
from .settings import Settings

# Said instead of the machine's name: RFC 5321, 4.1.3 and 4.1.4, an address in brackets.
_GREETING = "[127.0.0.1]"
_CHUNK = 64 * 1024
_MOST_RECIPIENTS = 50  # ours; RFC 5321, 4.5.3.1.8 asks servers to take 100
_TAKEN = (250, 251)  # RFC 5321, 4.3.2: RCPT
Say = Callable[[str], None]


def send(
    content: bytes,
    settings: Settings,
    recipients: Sequence[str],
    dry_run: bool,
    say: Say,
    try_login: bool = True,
) -> Account:
    """Send a message, or say what would be sent.

    A dry run hands over neither message nor addresses; with `try_login` it reaches the server,
    verifies its certificate and logs in. Raises MailError: one sentence that ends with what
    became of the message.
    """
    wire = to_be_sent(content)
    account = _account(wire, settings, recipients)
    if dry_run and not try_login:
        return account
    say(f"Reaching {settings.server}")
    server = _connected(settings)
    try:
        account = replace(account, logged_in=_log_in(server, settings, say))
        options = _options(server, wire, settings)
        if dry_run:
            return replace(account, answer=_plain(server.noop()[1], settings) or "yes")
        _name_all(server, account, options, settings, say)
        return replace(account, sent=True, answer=_hand_over(server, wire, settings, say))
    finally:
        with suppress(smtplib.SMTPException, OSError):
            server.quit()
        server.close()


def _account(wire: bytes, settings: Settings, recipients: Sequence[str]) -> Account:
    message = message_from_bytes(wire, policy=POLICY)
    sender = address(settings.sender, "from").addr_spec
    written = message["From"].addresses if message["From"] else ()
    if [a.addr_spec.lower() for a in written] != [sender.lower()]:
        found = str(message["From"] or "no sender")
        raise MailError("message", f"From {found}", f"{sender}, as in the settings", NOTHING_SENT)
    people = tuple(dict.fromkeys(address(r, "recipient").addr_spec for r in recipients))
    if not 1 <= len(people) <= _MOST_RECIPIENTS:
        raise MailError("recipients", len(people), f"1 to {_MOST_RECIPIENTS}", NOTHING_SENT)
    attached = tuple(
        (str(part.get_filename()), len(part.get_payload(decode=True)))
        for part in message.iter_attachments()
    )
    subject = str(message["Subject"] or "")
    return Account(settings.server, sender, people, subject, len(wire), attached)


# ---- reaching the server -------------------------------------------------------------------


def _connected(settings: Settings) -> smtplib.SMTP:
    """A connection that is encrypted, to a server whose certificate was verified."""
    context = _context(settings)
    host, port, wait = settings.host, settings.port_in_use, settings.timeout_seconds
    with _said(settings, "while it was reached"):
        if settings.security == "tls":
            return Encrypted(host, port, _GREETING, timeout=wait, context=context)
        server = ToBeEncrypted(host, port, _GREETING, timeout=wait)
    try:
        with _said(settings, "before it was encrypted"):
            server.ehlo_or_helo_if_needed()
            if not server.has_extn("starttls"):
                _refuse(settings, "a server without STARTTLS", "a server that encrypts: by "
                        "STARTTLS, or from the start with security = tls")  # fmt: skip
            code, answer = server.starttls(context=context)
            if code != 220:
                _refuse(settings, f"STARTTLS refused ({code} {_plain(answer, settings)})",
                        "a server that encrypts")  # fmt: skip
    except BaseException:
        server.close()
        raise
    return server


def _context(settings: Settings) -> ssl.SSLContext:
    try:
        trusted = None if settings.ca_file is None else file_text(settings.ca_file)
        return ssl.create_default_context(cadata=trusted)
    except FileError as error:
        raise MailError(
            "ca_file", f"{error.where} ({error.found or 'nothing'})",
            "a file of certificates (PEM)", NOTHING_SENT,
        ) from None  # fmt: skip
    except OSError as error:  # ssl.SSLError is one
        found = f"{settings.ca_file} ({error.strerror or 'not a certificate'})"
        raise MailError("ca_file", found, "a file of certificates (PEM)", NOTHING_SENT) from None


def _log_in(server: smtplib.SMTP, settings: Settings, say: Say) -> bool:
    """Greet the server again, now in secret, and log in where a user is given."""
    with _said(settings, "while logging in"):
        server.ehlo_or_helo_if_needed()
        if settings.user is None:
            return False
        say(f"Logging in as {settings.user}")
        try:
            server.login(settings.user, settings.secret)
        except smtplib.SMTPAuthenticationError as error:
            answer = f"{error.smtp_code} {_plain(error.smtp_error, settings)}"
            _refuse(
                settings,
                f"user or password refused ({answer})",
                "the user and password of an account there",
            )
        except smtplib.SMTPNotSupportedError:
            _refuse(settings, "a server without a login", "settings without user and password")
    return True


def _options(server: smtplib.SMTP, wire: bytes, settings: Settings) -> list[str]:
    """What is said of the message beforehand: its size (RFC 1870), and 8 bits (RFC 6152)."""
    options = []
    if server.has_extn("size"):
        most = server.esmtp_features["size"].strip()
        if most.isdecimal() and 0 < int(most) < len(wire):
            _too_large(settings, wire, f", which takes up to {int(most):,}")
        options.append(f"SIZE={len(wire)}")
    if not wire.isascii():
        if not server.has_extn("8bitmime"):
            _refuse(
                settings, "a message in 8 bits, which the server cannot read", "a message in ASCII"
            )
        options.append("BODY=8BITMIME")
    return options


# ---- the message ---------------------------------------------------------------------------


def _name_all(
    server: smtplib.SMTP, account: Account, options: list[str], settings: Settings, say: Say
) -> None:
    """Name the sender and everyone it is for; all must be taken, or none is sent anything."""
    with _said(settings, "before the message was handed over"):
        code, answer = server.mail(account.sender, options)
        if code == 552:
            _too_large(settings, b"", f" (552 {_plain(answer, settings)})")
        if code != 250:
            found = f"the sender {account.sender} refused ({code} {_plain(answer, settings)})"
            _refuse(settings, found, "a sender that the server accepts")
        refused = []
        for one in account.recipients:
            code, answer = server.rcpt(one)
            if code in _TAKEN:
                say(f"{one} accepted")
            else:
                refused.append(f"{one} ({code} {_plain(answer, settings)})")
        if refused:
            server.rset()
            others = len(account.recipients) - len(refused)
            more = f" ({others} others accepted, then withdrawn)" if others else ""
            _refuse(
                settings,
                f"refused: {'; '.join(refused)}{more}",
                "recipients that the server accepts",
            )


def _hand_over(server: smtplib.SMTP, wire: bytes, settings: Settings, say: Say) -> str:
    """Hand the message over; the server's answer that it has taken it."""
    with _said(settings, "before the message was handed over"):
        code, answer = server.docmd("DATA")
        if code != 354:
            _refuse(settings, f"the message refused ({code} {_plain(answer, settings)})",
                    "a message that the server accepts")  # fmt: skip
    # A line that begins with a point gets another: RFC 5321, 4.5.2.
    body = re.sub(rb"(?m)^\.", b"..", wire)
    body += b"" if body.endswith(b"\r\n") else b"\r\n"
    try:
        code, answer = _message_data(server, body, settings, say)
    except BaseException:
        server.close()  # a QUIT would be read as part of the message
        raise
    if code == 552:
        _too_large(settings, wire, f" (552 {_plain(answer, settings)})")
    said = f"{code} {_plain(answer, settings)}"
    if 400 <= code < 600:
        _refuse(settings, f"the message refused ({said})", "a message that the server accepts")
    if not 200 <= code < 300:  # the first digit decides: RFC 5321, 4.2.1
        found = f"the answer {said} to the whole message"
        raise MailError(settings.server, found, "an answer of 250", NOT_KNOWN)
    return said


def _message_data(
    server: smtplib.SMTP, body: bytes, settings: Settings, say: Say
) -> tuple[int, bytes]:
    """The message itself, the point that ends it, and the answer."""
    # Until that point has gone, a server may not deliver: RFC 5321, 4.1.1.4.
    with _said(settings, "while the message was handed over"):
        for start in range(0, len(body), _CHUNK):
            server.send(body[start : start + _CHUNK])
            done = min(start + _CHUNK, len(body))
            say(f"Handed over {done:,} of {len(body):,} bytes")
    with _said(settings, "before it answered to the whole message", NOT_KNOWN):
        if server.sock is not None:
            server.sock.settimeout(settings.answer_seconds)
        server.send(b".\r\n")
        return server.getreply()


# ---- sentences -----------------------------------------------------------------------------


def _refuse(settings: Settings, found: str, accepted: str) -> NoReturn:
    raise MailError(settings.server, found, accepted, NOTHING_SENT)


def _too_large(settings: Settings, wire: bytes, more: str) -> NoReturn:
    size = f" of {len(wire):,} bytes" if wire else ""
    _refuse(settings, f"a message{size} too large for the server{more}", "a smaller message")


def _plain(answer: bytes | str, settings: Settings) -> str:
    """A server's answer on one short line, without the password should it repeat it."""
    text = answer.decode("utf-8", "replace") if isinstance(answer, bytes) else answer
    if settings.secret:
        said = (settings.secret, f"\0{settings.user}\0{settings.secret}")
        for one in (*said, *(b64encode(s.encode()).decode() for s in said)):
            text = text.replace(one, "…")
    text = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return text if len(text) <= 160 else text[:159] + "…"


@contextmanager
def _said(settings: Settings, when: str, state: str = NOTHING_SENT) -> Iterator[None]:
    """Whatever goes wrong on the way is one sentence, with what became of the message."""
    try:
        yield
        return
    except MailError:
        raise
    except ssl.SSLCertVerificationError as error:
        found, accepted = (
            f"a certificate that is not trusted ({error.verify_message})",
            "a certificate for that name, from an authority that this computer or ca_file trusts",
        )
    except ssl.SSLError as error:
        found = f"no encrypted connection ({error.reason or 'closed'})"
        accepted = f"a server that encrypts there by {settings.security}"
    except TimeoutError:
        found, accepted = f"no answer in time, {when}", "a server that answers"
    except smtplib.SMTPServerDisconnected as error:
        late = isinstance(error.__context__, TimeoutError)
        found = f"{'no answer in time' if late else 'the connection dropped'}, {when}"
        accepted = "a server that answers" if late else "a connection that lasts"
    except smtplib.SMTPResponseException as error:
        answer = f"{error.smtp_code} {_plain(error.smtp_error, settings)}"
        found, accepted = f"the answer {answer}, {when}", "a mail server that is running"
    except smtplib.SMTPException as error:
        found, accepted = f"{_plain(str(error), settings)}, {when}", "a mail server"
    except OSError as error:
        found, accepted = (
            f"no connection ({error.strerror or error}), {when}",
            "a mail server at that address",
        )
    except KeyboardInterrupt:
        if state == NOTHING_SENT:
            raise
        found, accepted = f"stopped by hand, {when}", "to wait for the answer"
    raise MailError(settings.server, found, accepted, state) from None
