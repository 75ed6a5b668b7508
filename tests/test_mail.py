"""Messages as the RFCs have them, and what becomes of them on the way to a real server."""

import base64
import email
import re
import socket
from collections.abc import Iterator
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.policy import SMTP
from pathlib import Path
from typing import Any

import pytest

from estimator.errors import FileError, MailError, TemplateError
from estimator.files.resources import LETTERS
from estimator.mail.account import NOT_KNOWN, NOTHING_SENT, Account
from estimator.mail.letters import LETTERS as KINDS
from estimator.mail.letters import fill
from estimator.mail.message import Attachment, attachment, draft, to_be_sent
from estimator.mail.sending import send
from estimator.mail.settings import ENVIRONMENT, Settings, read_settings

from .mail_servers import (
    PASSWORD,
    SENDER,
    USER,
    Certificates,
    Inbox,
    certificates,
    private,
    real_server,
    scripted_server,
    settings,
)

TO = "merchant@invented.example"
FILES = (
    Attachment("Anfrage für Müller & Söhne (1).xlsx", bytes(range(256)) * 500),
    Attachment("order.csv", "code,packs\r\nÄ-1,2\n.\r\n..dots\r\n".encode()),
    Attachment("quote.pdf", b"%PDF-1.4 \x00\xff"),
    Attachment("x" * 190 + ".dat", b""),
)


def message(**more: Any) -> bytes:
    given: dict[str, Any] = {
        "to": [TO],
        "sender": SENDER,
        "subject": "Prices",
        "text": "Hello\n.\n..\n" + "long " * 500,
        "html": "<p>Hello</p>",
        "attachments": FILES,
    }
    return draft(**{**given, **more})


def parsed(content: bytes) -> EmailMessage:
    found = email.message_from_bytes(content, policy=SMTP)
    assert isinstance(found, EmailMessage)
    assert not found.defects
    return found


# ---- drafts ----------------------------------------------------------------------------------


def test_a_draft_is_a_message_of_rfc_5322() -> None:
    content = message()
    found = parsed(content)
    # RFC 5322, 3.6: one From and one Date; 3.6.4: a Message-ID with a domain; 2.1.1: lines.
    for name in ("From", "To", "Subject", "Date", "Message-ID", "MIME-Version", "X-Unsent"):
        assert len(found.get_all(name)) == 1
    assert found["X-Unsent"] == "1"
    assert found["Date"].datetime.tzinfo is not None
    assert re.fullmatch(r"<[0-9a-f]{32}@invented\.example>", found["Message-ID"])
    assert all(len(line) <= 998 for line in content.split(b"\r\n"))
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert content.isascii()
    # RFC 2046, 5.1.4: the plainest alternative first.
    mixed, *rest = list(found.iter_parts())
    assert [p.get_content_type() for p in mixed.iter_parts()] == ["text/plain", "text/html"]
    assert mixed.get_content_type() == "multipart/alternative"
    assert [p.get_content_disposition() for p in rest] == ["attachment"] * 4
    assert [p.get_content_type() for p in rest] == [
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "text/csv",
        "application/pdf",
        "application/octet-stream",
    ]


def test_attachments_come_back_as_they_were() -> None:
    for content in (message(), to_be_sent(message())):
        found = list(parsed(content).iter_attachments())
        assert [(p.get_filename(), p.get_payload(decode=True)) for p in found] == [
            (f.name, f.content) for f in FILES
        ]


def test_file_names_are_written_as_rfc_2231_has_it() -> None:
    assert b"filename*" in message()
    assert b"M%C3%BCller" in message()


def test_nothing_of_the_machine_is_in_a_draft(tmp_path: Path) -> None:
    file = tmp_path / "order.csv"
    file.write_text("a,b\n")
    content = message(attachments=[attachment(file)])
    for secret in (socket.gethostname(), socket.getfqdn(), str(tmp_path), tmp_path.name):
        if secret not in ("localhost", ""):
            assert secret.encode() not in content
    assert b"localhost" not in content


@pytest.mark.parametrize("subject", ["Prices", "Müller – Ω漢😀 " * 8, "a = b?", "x" * 200])
def test_subjects_and_names_come_back(subject: str) -> None:
    """RFC 2047, by the library."""
    long_name = "Jörg, Müller (der Ältere) " + "& Söhne " * 20
    content = message(subject=subject, sender=f"{long_name} <j@invented.example>", to=["Łucja <l@x.example>"])  # fmt: skip
    assert content.isascii()
    # RFC 2047, 2: an encoded word has up to 75 characters, a line that holds one up to 76.
    head = content.partition(b"\r\n\r\n")[0]
    assert all(len(line) <= 76 for line in head.split(b"\r\n") if b"=?" in line)
    found = parsed(content)
    assert found["Subject"] == subject.strip()
    # The newer reader puts a blank between the encoded words of a name, against RFC 2047, 6.2.
    raw = email.message_from_bytes(content)["From"]
    assert str(make_header(decode_header(raw))) == f"{long_name.strip()} <j@invented.example>"
    assert found["To"].addresses[0].display_name == "Łucja"


INJECTED = "a\r\nBcc: thief@x.example"


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("subject", INJECTED, r"^subject: found 'a\\r\\nBcc"),
        ("subject", "a\nb", r"^subject: "),
        ("subject", "a\u2028b", r"^subject: "),
        ("subject", "  ", r"^subject: "),
        ("subject", "=?utf-8?q?no?=", r"^subject: "),
        ("sender", "=?utf-8?q?no?= <a@x.example>", r"^from: "),
        ("subject", "x" * 201, r"one line of up to 200"),
        ("sender", f"me@x.example{INJECTED}", r"^from: .*on one line"),
        ("sender", "", r"^from: found ''"),
        ("sender", "a@x.example, b@x.example", r"^from: .*one address"),
        ("to", ["a@x.example\r\n"], r"^to: .*on one line"),
        ("to", ["nobody"], r"^to: found 'nobody'; accepted: one address"),
        ("to", ["a@b@c.example"], r"^to: "),
        ("to", ["ü@x.example"], r"^to: "),
        ("to", ["a@-x.example"], r"^to: "),
        ("to", ["a" * 65 + "@x.example"], r"^to: "),
        ("attachments", [Attachment("/home/me/a.xlsx", b"")], r"^attachment: .*no folder"),
        ("attachments", [Attachment("..\\a.xlsx", b"")], r"^attachment: "),
        ("attachments", [Attachment("a\r\nX: y.xlsx", b"")], r"^attachment: "),
        ("attachments", [Attachment("", b"")], r"^attachment: "),
    ],
)
def test_what_cannot_stand_in_a_message_is_refused(field: str, value: Any, said: str) -> None:
    with pytest.raises(MailError, match=said) as found:
        message(**{field: value})
    assert "\n" not in str(found.value)


def test_a_file_that_is_not_there_or_too_large(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"none\.pdf: .*a file that can be read"):
        attachment(tmp_path / "none.pdf")
    with (tmp_path / "big.pdf").open("wb") as big:
        big.truncate(20_000_001)
    with pytest.raises(FileError, match=r"big\.pdf: found '20\.0 MB'"):
        attachment(tmp_path / "big.pdf")


def test_the_mark_of_a_draft_and_bcc_are_not_sent() -> None:
    content = b"From: a@x.example\nBcc: b@x.example,\n c@x.example\nx-unsent: 1\nSubject: s\n more\n\nBcc: body\n.\n"
    assert to_be_sent(content) == (
        b"From: a@x.example\r\nSubject: s\r\n more\r\n\r\nBcc: body\r\n.\r\n"
    )
    assert to_be_sent(b"Bcc: b@x.example\r\nFrom: a@x.example") == b"From: a@x.example\r\n\r\n"


# ---- letters ---------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_people_s_text_is_text_in_a_letter(kind: str) -> None:
    hostile = "<b>&amp;</b>{total}{0}\"'"
    letter = KINDS[kind]
    words = fill(kind, LETTERS, dict.fromkeys(letter.needed | letter.free, hostile))
    assert hostile in words.text
    assert "<b>" not in words.html
    assert "&lt;b&gt;&amp;amp;&lt;/b&gt;{total}{0}&quot;&#x27;" in words.html
    assert "\n" not in words.subject
    for remote in ("http:", "https:", "<img", "<script", "url("):
        assert remote not in words.html.lower()


@pytest.mark.parametrize("ending", ["txt", "html"])
@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("{supplier}", "{suplier}", r"found '\{suplier\}'; accepted: one of the places .*supplier"),
        ("{supplier}", "you", r"found nothing; accepted: a place \{supplier\}"),
    ],
)
def test_a_place_that_is_wrong_is_named(
    tmp_path: Path, ending: str, old: str, new: str, said: str
) -> None:
    for name in ("order.txt", "order.html"):
        text = (LETTERS / name).read_text("utf-8")
        text = text.replace(old, new) if name.endswith(ending) else text
        (tmp_path / name).write_text(text, "utf-8")
    with pytest.raises(TemplateError, match=rf"^order\.{ending}: {said}"):
        fill("order", tmp_path, {})


def test_a_letter_without_subject_or_file(tmp_path: Path) -> None:
    with pytest.raises(TemplateError, match=r"^order\.txt: "):
        fill("order", tmp_path, {})
    (tmp_path / "order.txt").write_text("Hello {supplier}")
    with pytest.raises(TemplateError, match=r"order\.txt, line 1: .*'Subject: '"):
        fill("order", tmp_path, {})


# ---- settings --------------------------------------------------------------------------------

GOOD = f'host = "mail.example"\nuser = "u"\npassword = "{PASSWORD}"\nfrom = "a@x.example"\n'


def test_settings_from_a_file_and_from_the_environment(tmp_path: Path) -> None:
    file = tmp_path / "mail.toml"
    private(file, GOOD + 'security = "tls"\nca_file = "ca.pem"\n')
    found = read_settings(file, {})
    assert (found.server, found.secret) == ("mail.example:465", PASSWORD)
    assert found.ca_file == tmp_path / "ca.pem"
    names = {ENVIRONMENT[k]: v for k, v in (("host", "m.example"), ("port", "2525"), ("user", "u"),
             ("password", PASSWORD), ("from", "a@x.example"), ("security", "starttls"))}  # fmt: skip
    assert read_settings(None, names).server == "m.example:2525"
    file.write_text(GOOD.replace(f'password = "{PASSWORD}"\n', ""))
    assert read_settings(file, {"ESTIMATOR_SMTP_PASSWORD": "from outside"}).secret == "from outside"
    assert read_settings(file, {"ESTIMATOR_SMTP_PASSWORD": "x"}).server == "mail.example:587"


def test_a_password_that_others_can_read_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "mail.toml"
    private(file, GOOD)
    for mode in (0o644, 0o640, 0o604):
        file.chmod(mode)
        with pytest.raises(MailError, match=r"mail\.toml: .*others.*chmod 600 mail\.toml") as found:
            read_settings(file, {})
        assert PASSWORD not in str(found.value)
    file.chmod(0o600)
    assert read_settings(file, {}).secret == PASSWORD


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"mail.example"', '"mail.example/x"', r"mail\.toml: host: .*name of the mail server"),
        ('host = "mail.example"\n', "", r"mail\.toml: host: found nothing"),
        ('user = "u"\n', "", r"user: found nothing; .*together with a password"),
        (f'password = "{PASSWORD}"\n', "", r"password: found nothing; .*together with a user"),
        (f'"{PASSWORD}"', f'"{PASSWORD}é"', r"password: found 'something else'; .*ASCII"),
        (f'"{PASSWORD}"', f'["{PASSWORD}"]', r"password: found 'something else'"),
        ('"a@x.example"', '"nobody"', r"from: found 'nobody'"),
        ('from = "a@x.example"\n', "", r"from: found nothing"),
        ("host", 'security = "none"\nhost', r"security: found 'none'; .*never sent without encr"),
        ("host", 'security = "plain"\nhost', r"security: "),
        ("host", "port = 70000\nhost", r"port: found 70000; accepted: a whole number from 1"),
        ("host", "timeout_seconds = 0\nhost", r"timeout_seconds: found 0"),
        ("password", "pasword", r"pasword: found 'pasword'; accepted: one of host, port"),
        (f'"{PASSWORD}"', f'"{PASSWORD}', r"mail\.toml: found 'no TOML at line 3"),
    ],
)
def test_settings_that_are_wrong(tmp_path: Path, old: str, new: str, said: str) -> None:
    file = tmp_path / "mail.toml"
    assert old in GOOD
    private(file, GOOD.replace(old, new))
    with pytest.raises((MailError, FileError), match=said) as found:
        read_settings(file, {})
    assert PASSWORD not in str(found.value)
    assert PASSWORD not in repr(found.value.__context__)
    assert "\n" not in str(found.value)


def test_no_settings_at_all(tmp_path: Path) -> None:
    with pytest.raises(MailError, match="--settings FILE, or ESTIMATOR_SMTP_HOST"):
        read_settings(None, {})
    with pytest.raises(FileError, match=r"none\.toml.*that exists"):
        read_settings(tmp_path / "none.toml", {})


def test_the_password_shows_nowhere() -> None:
    found = settings(25, None)
    for shown in (repr(found), str(found), f"{found.model_dump()}", found.model_dump_json()):
        assert PASSWORD not in shown


# ---- sending ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory) -> Certificates:
    return certificates(tmp_path_factory.mktemp("certificates"))


def sent(where: Settings, people: tuple[str, ...] = (TO,), **more: Any) -> Account:
    said: list[str] = []
    content = more.pop("content", None) or message()
    account = send(content, where, people, more.pop("dry_run", False), said.append, **more)
    assert PASSWORD not in repr(account) + " ".join([*said, *account.lines])
    return account


def refused(
    where: Settings, match: str, state: str, people: tuple[str, ...] = (TO,), **more: Any
) -> str:
    """The sentence, which ends with what became of the message."""
    said: list[str] = []
    content = more.pop("content", None) or message()
    with pytest.raises(MailError, match=match) as found:
        send(content, where, people, False, said.append)
    text = str(found.value)
    assert text.startswith(f"{where.server}: ") or "ca_file" in text or "message" in text
    assert text.endswith(f"; {state}.")
    assert found.value.state == state
    assert "\n" not in text
    for secret in (PASSWORD, base64.b64encode(f"\0{USER}\0{PASSWORD}".encode()).decode()):
        assert secret not in text + " ".join(said)
    return text


@pytest.mark.parametrize("from_start", [False, True], ids=["starttls", "tls"])
def test_a_message_arrives_whole(known: Certificates, from_start: bool) -> None:
    inbox = Inbox()
    with real_server(inbox, known.good, from_start) as port:
        where = settings(port, known.ca_file, security="tls" if from_start else "starttls")
        account = sent(where, (TO, "Other <other@invented.example>", TO))
    assert account.sent
    assert account.logged_in
    assert account.answer == "250 2.0.0 queued as invented"
    ((sender, people, content),) = inbox.arrived
    assert sender == USER
    assert people == [TO, "other@invented.example"]
    found = parsed(content)
    assert "X-Unsent" not in found
    assert "Bcc" not in found
    assert found.get_body(("plain",)).get_content().startswith("Hello\r\n.\r\n..\r\nlong")
    files = [(p.get_filename(), p.get_payload(decode=True)) for p in found.iter_attachments()]
    assert files == [(f.name, f.content) for f in FILES]
    # What arrived is what was looked at, but for the mark of a draft.
    assert len(content) == account.size
    assert set(inbox.greeted) == {"[127.0.0.1]"}


def test_attachments_are_the_files_to_the_byte(known: Certificates, tmp_path: Path) -> None:
    file = LETTERS.parent / "job.xlsx"
    inbox = Inbox()
    with real_server(inbox, known.good) as port:
        sent(settings(port, known.ca_file), content=message(attachments=[attachment(file)]))
    (part,) = parsed(inbox.arrived[0][2]).iter_attachments()
    assert part.get_payload(decode=True) == file.read_bytes()


def test_bcc_is_delivered_and_not_shown(known: Certificates) -> None:
    inbox = Inbox()
    content = message().replace(b"Subject:", b"Bcc: hidden@invented.example\r\nSubject:", 1)
    with real_server(inbox, known.good) as port:
        sent(settings(port, known.ca_file), (TO, "hidden@invented.example"), content=content)
    assert inbox.arrived[0][1] == [TO, "hidden@invented.example"]
    assert b"hidden@" not in inbox.arrived[0][2]


def test_a_wrong_password(known: Certificates) -> None:
    inbox = Inbox()
    with real_server(inbox, known.good) as port:
        where = settings(port, known.ca_file, password="Not-" + PASSWORD)
        text = refused(where, r"user or password refused \(535", NOTHING_SENT)
    assert "Not-" not in text
    assert inbox.commands == []


def test_a_server_that_repeats_the_password_is_not_quoted(known: Certificates) -> None:
    word = base64.b64encode(f"\0{USER}\0{PASSWORD}".encode()).decode()
    for answer in (f"535 no {PASSWORD} here", f"535 no {word} here"):
        with scripted_server(known.good, {"AUTH": answer}) as port:
            where = settings(port, known.ca_file, security="tls")
            refused(where, "535 no … here", NOTHING_SENT)


def test_one_refused_recipient_stops_all(known: Certificates) -> None:
    inbox = Inbox(refuse=("nobody@invented.example",))
    with real_server(inbox, known.good) as port:
        where = settings(port, known.ca_file)
        text = refused(where, r"refused: nobody@invented\.example \(550 5\.1\.1", NOTHING_SENT,
                       (TO, "nobody@invented.example"))  # fmt: skip
        assert "1 others accepted, then withdrawn" in text
        assert inbox.arrived == []
        assert inbox.commands == ["MAIL", "RCPT", "RCPT"]
        assert sent(where).sent  # the same server, afterwards


def test_no_starttls_offered() -> None:
    inbox = Inbox()
    with scripted_server(None, {}, log := []) as port:
        refused(settings(port, None), "a server without STARTTLS", NOTHING_SENT)
    assert inbox.arrived == []
    assert "AUTH" not in log
    assert "MAIL" not in log


def test_starttls_offered_and_refused(known: Certificates) -> None:
    answers = {"EHLO": "250-here\r\n250 STARTTLS", "STARTTLS": "454 not now"}
    with scripted_server(None, answers, log := []) as port:
        refused(settings(port, known.ca_file), "454 not now", NOTHING_SENT)
    assert "AUTH" not in log


@pytest.mark.parametrize("security", ["starttls", "tls"])
@pytest.mark.parametrize(
    ("which", "trusted", "said"),
    [
        ("stranger", True, "not trusted"),
        ("good", False, "not trusted"),
        ("other_name", True, "not trusted .*(mismatch|doesn't match|not valid for)"),
    ],
)
def test_certificates_are_verified(
    known: Certificates, which: str, trusted: bool, said: str, security: str
) -> None:
    inbox = Inbox()
    with real_server(inbox, getattr(known, which), security == "tls") as port:
        ca_file = known.ca_file if trusted else None
        refused(settings(port, ca_file, security=security), said, NOTHING_SENT)
    assert inbox.commands == []


def test_a_file_of_certificates_that_is_none(tmp_path: Path) -> None:
    (tmp_path / "none.pem").write_text("none")
    for name in ("none.pem", "missing.pem"):
        refused(settings(1, tmp_path / name), "^ca_file: ", NOTHING_SENT)


def test_no_server_there_and_no_such_name() -> None:
    with socket.socket() as taken:  # bound, and not listening
        taken.bind(("127.0.0.1", 0))
        where = settings(taken.getsockname()[1], None)
        refused(where, "no connection .*while it was reached", NOTHING_SENT)


def test_tls_spoken_to_a_plain_server() -> None:
    with scripted_server(None, {}) as port:
        refused(settings(port, None, security="tls"), "no encrypted connection", NOTHING_SENT)


PHASES = {
    "greeting": NOTHING_SENT,
    "EHLO": NOTHING_SENT,
    "AUTH": NOTHING_SENT,
    "MAIL": NOTHING_SENT,
    "RCPT": NOTHING_SENT,
    "DATA": NOTHING_SENT,
    "message": NOT_KNOWN,
}


@pytest.mark.parametrize("phase", PHASES)
@pytest.mark.parametrize(
    ("does", "said"),
    [
        ("drop", "the connection dropped"),
        ("hang", "no answer in time"),
        ("trickle", "no answer in time"),
    ],
)
def test_a_connection_that_drops_or_hangs(
    known: Certificates, phase: str, does: str, said: str
) -> None:
    with scripted_server(known.good, {phase: does}, log := []) as port:
        # Only what never answers is waited for so shortly; where it hangs before the message, a
        # machine so busy that an earlier answer is late ends in the same state.
        silent = {"answer_seconds" if phase == "message" else "timeout_seconds": 1}
        more = silent if does != "drop" else {}
        refused(settings(port, known.ca_file, security="tls", **more), said, PHASES[phase])
    assert ("message" in log) == (phase == "message")


def test_a_connection_that_drops_within_the_message(known: Certificates) -> None:
    """The message is far larger than what a socket holds, so that the end is never handed over."""
    big = message(attachments=[Attachment("big.pdf", bytes(15_000_000))])
    with scripted_server(known.good, {"message": "drop early"}, log := []) as port:
        where = settings(port, known.ca_file, security="tls")
        refused(
            where,
            "(dropped|no connection).*while the message was handed",
            NOTHING_SENT,
            content=big,
        )
    assert "message" not in log


@pytest.mark.parametrize(
    ("answers", "said", "state"),
    [
        ({"greeting": "554 closed"}, "554 closed", NOTHING_SENT),
        ({"greeting": "421 busy"}, "421 busy", NOTHING_SENT),
        ({"EHLO": "250 here"}, "a server without a login", NOTHING_SENT),
        ({"MAIL": "553 not yours"}, r"the sender estimator@invented\.example refused \(553", NOTHING_SENT),
        ({"MAIL": "552 too big"}, r"too large for the server \(552 too big", NOTHING_SENT),
        ({"RCPT": "451 later"}, r"refused: merchant@invented\.example \(451 later", NOTHING_SENT),
        ({"DATA": "554 no"}, r"the message refused \(554 no", NOTHING_SENT),
        ({"message": "554 spam"}, r"the message refused \(554 spam", NOTHING_SENT),
        ({"message": "452 full"}, r"the message refused \(452 full", NOTHING_SENT),
        ({"message": "552 too big"}, r"too large for the server \(552 too big", NOTHING_SENT),
        ({"message": "hello"}, "to the whole message", NOT_KNOWN),
        ({"message": "354 go on"}, "354 go on to the whole message", NOT_KNOWN),
    ],
)  # fmt: skip
def test_answers_that_say_no(
    known: Certificates, answers: dict[str, str], said: str, state: str
) -> None:
    with scripted_server(known.good, answers) as port:
        refused(settings(port, known.ca_file, security="tls"), said, state)


def test_a_message_too_large_is_not_begun(known: Certificates) -> None:
    """RFC 1870, 6: what a server says it takes."""
    inbox = Inbox()
    with real_server(inbox, known.good, data_size_limit=5000) as port:
        refused(settings(port, known.ca_file), r"too large for the server, which takes up to 5,000", NOTHING_SENT)  # fmt: skip
    assert inbox.commands == []


def test_a_drop_after_the_answer_is_still_sent(known: Certificates) -> None:
    with scripted_server(known.good, {"QUIT": "drop"}) as port:
        assert sent(settings(port, known.ca_file, security="tls")).sent


def test_a_dry_run_hands_over_nothing(known: Certificates) -> None:
    inbox = Inbox()
    with real_server(inbox, known.good) as port:
        account = sent(settings(port, known.ca_file), dry_run=True)
    assert not account.sent
    assert account.logged_in
    assert inbox.commands == []
    text = "\n".join(account.lines)
    assert "nothing was sent" in text
    assert "user and password accepted" in text
    for file in FILES:
        assert f"attached: {file.name}, {len(file.content):,} bytes" in text


def test_a_dry_run_may_reach_no_server() -> None:
    account = sent(settings(1, None), dry_run=True, try_login=False)
    assert not account.sent
    assert any("server not tried" in line for line in account.lines)


def test_a_dry_run_with_a_wrong_password(known: Certificates) -> None:
    with (
        real_server(Inbox(), known.good) as port,
        pytest.raises(MailError, match="user or password refused"),
    ):
        sent(settings(port, known.ca_file, password="no"), dry_run=True)


def test_another_sender_than_the_settings_name() -> None:
    where = settings(1, None)
    content = message(sender="else@invented.example")
    text = refused(where, r"^message: From else@invented", NOTHING_SENT, content=content)
    assert "estimator@invented.example, as in the settings" in text


@pytest.mark.parametrize("people", [(), ("nobody",), ("a@x.example\r\nRCPT TO:<b@x.example>",)])
def test_recipients_that_are_none(people: tuple[str, ...]) -> None:
    with pytest.raises(MailError, match=r"^recipients?: "):
        send(message(), settings(1, None), people, False, lambda _: None)


@pytest.fixture(autouse=True)
def bounded() -> Iterator[None]:
    before = socket.getdefaulttimeout()
    socket.setdefaulttimeout(30)
    yield
    socket.setdefaulttimeout(before)


def test_a_long_title_or_one_turned_round_makes_a_subject() -> None:
    """200 characters at the most, the last of them the sign that it is cut; no mark of direction."""
    words = {"client_name": "A", "job_title": "Long " * 60, "prepared_by": "B"}
    values = {place: words.get(place, "x") for place in KINDS["quote"].needed}
    subject = fill("quote", LETTERS, values).subject
    assert len(subject) <= 200
    assert subject.endswith("…")
    turned = fill("quote", LETTERS, {**values, "job_title": "Porch \u202edesrever"}).subject
    assert "Porch desrever" in turned
    for one in (subject, turned):
        assert draft([], "a@example.org", one, "text", "<p>text</p>")
