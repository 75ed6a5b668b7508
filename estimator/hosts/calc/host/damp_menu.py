"""The menu in LibreOffice Calc. Runs inside LibreOffice, in its own Python.

An entry saves the workbook, has the installed program work on the file, shows what it said, and
asks before anything is recorded. The program writes over the file only while Calc has it closed:
the window stays, and the workbook is opened in it again. What the program is, and what it is told,
stands in damp_menu.json beside this.

Whoever dispatches an entry with an argument `Answer`, true or false, sees no dialog: it answers the
question, and the words come back as the result.
"""

import contextlib
import json
import os
import subprocess
import threading
import time

import uno
import unohelper
from com.sun.star.awt import XCallback
from com.sun.star.frame import (
    DispatchResultEvent,
    FeatureStateEvent,
    XDispatchProvider,
    XNotifyingDispatch,
)
from com.sun.star.frame.DispatchResultState import FAILURE, SUCCESS
from com.sun.star.lang import XInitialization, XServiceInfo

HANDLER, PROTOCOL = "damp.calc.Menu", "vnd.estimator.damp:"
SERVICES = ("com.sun.star.frame.ProtocolHandler", HANDLER)
XLSX = ("Calc MS Excel 2007 XML", "Calc Office Open XML")  # the filters that write .xlsx
SETTINGS = "damp_menu.json"
PAUSE = 0.1  # seconds between two looks at the program
URIS_ONLY = 1  # com.sun.star.system.SystemShellExecuteFlags
OK, CANCEL = 1, 2  # com.sun.star.awt.PushButtonType
LEAST_FINDINGS = 2  # exit codes from here on are refusals and mistakes
WIDTH, HEIGHT, EDGE, LINE = 320, 200, 6, 14  # of the dialog, in its own units

with open(os.path.join(os.path.dirname(__file__), SETTINGS), encoding="utf-8") as _file:
    MENU = json.load(_file)
_at_work = threading.Lock()


class RefusedError(Exception):
    """Why an entry is not carried out, in one sentence."""

    def __init__(self, where, found, accepted):
        super().__init__(f"{where}: found {found}; accepted: {accepted}.")


class Handler(unohelper.Base, XDispatchProvider, XNotifyingDispatch, XInitialization, XServiceInfo):
    """What LibreOffice asks for every entry of the menu, one for each window."""

    def __init__(self, context):
        self.context, self.frame = context, None

    def initialize(self, arguments):
        """The window whose menu it is."""
        self.frame = arguments[0]

    def queryDispatch(self, url, target, flags):  # noqa: N802  as the interface names them
        """This, for an entry of the menu."""
        return self if _action(url) in MENU["actions"] else None

    def queryDispatches(self, requests):  # noqa: N802
        """The same for several."""
        return tuple(self.queryDispatch(r.FeatureURL, r.FrameName, r.SearchFlags) for r in requests)

    def dispatch(self, url, arguments):
        """Carry out an entry, once the menu is closed."""
        callback = _service(self.context, "com.sun.star.awt.AsyncCallback")
        callback.addCallback(Later(lambda: self._carry_out(url, arguments)), None)

    def dispatchWithNotification(self, url, arguments, listener):  # noqa: N802
        """Carry out an entry at once, and hand back what was said."""
        done, words = self._carry_out(url, arguments)
        if listener is not None:
            state = SUCCESS if done else FAILURE
            listener.dispatchFinished(DispatchResultEvent(self, state, words))

    def addStatusListener(self, listener, url):  # noqa: N802
        """An entry can always be chosen; why it cannot be carried out is said then."""
        listener.statusChanged(FeatureStateEvent(self, url, "", True, False, None))

    def removeStatusListener(self, listener, url):  # noqa: N802
        """Nothing is ever told to it again."""

    def _carry_out(self, url, arguments):
        action, given = _action(url), {a.Name: a.Value for a in arguments or ()}
        if "Answer" in given:
            person = Answering(bool(given["Answer"]))
        else:
            person = Person(self.context, self.frame, MENU["actions"][action].capitalize())
        words = "Another entry of this menu is still running."
        if _at_work.acquire(blocking=False):
            try:
                return Work(self.context, self.frame, action, person).done()
            except RefusedError as refused:
                words = str(refused)
            except Exception as error:  # a defect of ours is said, and Calc goes on
                words = f"A mistake in the menu ({type(error).__name__}): {error}"
            finally:
                _at_work.release()
        person.told(words)
        return False, words

    def getImplementationName(self):  # noqa: N802
        """The name of this implementation."""
        return HANDLER

    def supportsService(self, name):  # noqa: N802
        """Whether it is a handler of entries, or this one."""
        return name in SERVICES

    def getSupportedServiceNames(self):  # noqa: N802
        """That it is a handler of entries, and this one."""
        return SERVICES


class Later(unohelper.Base, XCallback):
    """Something done by LibreOffice when it has nothing else to do."""

    def __init__(self, what):
        self.what = what

    def notify(self, data):
        """Do it."""
        self.what()


class Work:
    """One entry carried out on the workbook in a window."""

    def __init__(self, context, frame, action, person):
        self.context, self.frame, self.action, self.person = context, frame, action, person
        self.said, self.shown = [], 0  # all that was said, and how much of it a person has seen

    def done(self):
        """Whether it was, and all that was said."""
        document = self.frame.Controller.Model
        path = _path_of_ours(document)
        recorded = self.action in MENU["recorded"]
        if recorded:
            self._refuse_second_window(document, path)
        self._save(document, path)
        opened_as = self._close(document, path) if recorded else None
        try:
            code, folder = self._steps(path)
        finally:
            if opened_as is not None:
                self._open_again(path, *opened_as)
        if folder:
            self._show(folder)
        self.person.told("\n\n".join(self.said[self.shown :]))
        return code < LEAST_FINDINGS, "\n\n".join(self.said)

    def _steps(self, path):
        """What needs no yes, and after a yes the rest: the last exit code, and the folder."""
        first, second = MENU["steps"]
        code, outcome = self._run(path, first)
        if outcome["question"]:
            yes = self.person.says_yes(self.said[-1], outcome["question"])
            self.shown = len(self.said)
            if yes:
                code, outcome = self._run(path, second)
        return code, outcome["folder"]

    def _refuse_second_window(self, document, path):
        frames = _service(self.context, "com.sun.star.frame.Desktop").Frames
        controllers = (frames.getByIndex(n).Controller for n in range(frames.Count))
        if sum(c is not None and c.Model == document for c in controllers) > 1:
            raise RefusedError(path, "two windows of it", "one: close the others")

    def _save(self, document, path):
        """Save it in its own format, with what stands unfinished in a cell."""
        controller, modified = self.frame.Controller, document.isModified()
        # A view that is suspended takes in what is being typed. Calc then asks whether a changed
        # workbook is to be saved: not one that counts as unchanged.
        document.setModified(False)
        document.disableSetModified()
        try:
            free = controller.suspend(True)
            controller.suspend(False)
        finally:
            document.enableSetModified()
            document.setModified(modified or document.UndoManager.isUndoPossible())
        if not free:
            raise _busy(path)
        if not document.isModified():
            return
        try:
            document.calculate()
            document.store()
        except Exception as error:
            document.setModified(True)
            said = f"a workbook that cannot be saved ({error})"
            raise RefusedError(path, said, "a place that can be written to") from None

    def _close(self, document, path):
        """Close it and keep the window; what it was opened as, and where the person was in it."""
        controller = self.frame.Controller
        hidden = tuple(a for a in document.Args if a.Name == "Hidden")
        view = controller.getViewData()
        if not controller.suspend(True):
            raise _busy(path)
        self.frame.setComponent(None, None)
        try:
            document.close(True)
        except Exception:  # it is being printed, say
            self._open_again(path, hidden, view)
            raise _busy(path) from None
        return hidden, view

    def _open_again(self, path, hidden, view):
        where, document = uno.systemPathToFileUrl(path), None
        with contextlib.suppress(Exception):
            document = self.frame.loadComponentFromURL(where, "_self", 0, hidden)
        if document is None:
            self.said.append(f"Calc did not open {path} again. It is saved: open it yourself.")
            return
        with contextlib.suppress(Exception):  # a place that is there no longer
            document.CurrentController.restoreViewData(view)

    def _run(self, path, step):
        """Have the program do one step: its exit code, and the outcome it names."""
        put = {"{workbook}": path, "{action}": self.action, "{step}": step}
        command = [put.get(word, word) for word in MENU["command"]]
        lines = []
        with self._working(path) as progress:
            try:
                running = _started(command, os.path.dirname(path))
            except OSError as error:
                accepted = "the program where it was, or the extension written anew with it (addin)"
                raise RefusedError(command[0], error.strerror, accepted) from None
            reader = threading.Thread(target=lambda: lines.extend(running.stdout), daemon=True)
            reader.start()
            while reader.is_alive():
                progress(lines[-1] if lines else "")
                reader.join(PAUSE)
            code = running.wait()
        words, outcome = _outcome(lines, code)
        self.said.append(words)
        return code, outcome

    @contextlib.contextmanager
    def _working(self, path):
        """A bar in the window while the program works, which takes no typing meanwhile."""
        window, bar = self.frame.ContainerWindow, self.frame.createStatusIndicator()
        title = f"{MENU['actions'][self.action].capitalize()}: {os.path.basename(path)}"
        began = time.monotonic()

        def progress(line):
            said = "" if line.startswith("{") else line.strip()
            bar.setText(f"{title}. {said}" if said else title)
            bar.setValue(int((time.monotonic() - began) * 10) % 100)  # it lets Calc draw, too

        bar.start(title, 100)
        window.setEnable(False)
        try:
            yield progress
        finally:
            window.setEnable(True)
            bar.end()

    def _show(self, folder):
        """Open a folder in the system's own window."""
        shell = _service(self.context, "com.sun.star.system.SystemShellExecute")
        try:
            shell.execute(uno.systemPathToFileUrl(folder), "", URIS_ONLY)
        except Exception:
            self.said.append("The folder could not be opened from here.")


class Answering:
    """Nobody looks: the question was answered beforehand."""

    def __init__(self, answer):
        self.answer = answer

    def told(self, words):
        """Nothing is shown."""

    def says_yes(self, words, question):
        """The answer."""
        return self.answer


class Person:
    """Whoever chose the entry, who is shown words in a dialog."""

    def __init__(self, context, frame, title):
        self.context, self.frame, self.title = context, frame, title

    def told(self, words):
        """Words to read, and one button."""
        if words:
            self._dialog(words, "", (("Close", OK),))

    def says_yes(self, words, question):
        """Words to read, and whether the answer to the question below them is yes."""
        return self._dialog(words, question, (("Yes", OK), ("No", CANCEL)))

    def _dialog(self, words, question, buttons):
        model = _service(self.context, "com.sun.star.awt.UnoControlDialogModel")
        model.Title, model.Width, model.Height = self.title, WIDTH, HEIGHT
        below = HEIGHT - EDGE - LINE
        height = below - 2 * EDGE - (LINE if question else 0)
        inside = WIDTH - 2 * EDGE
        text = _control(model, "Edit", "words", EDGE, EDGE, inside, height)
        text.MultiLine = text.ReadOnly = text.VScroll = text.HScroll = True
        font = text.FontDescriptor
        font.Name, font.Height = "Liberation Mono", 9  # what is printed has columns
        text.FontDescriptor, text.Text = font, words
        if question:
            above = below - EDGE - LINE + 2
            _control(model, "FixedText", "question", EDGE, above, inside, LINE).Label = question
        for n, (label, kind) in enumerate(reversed(buttons)):
            left = WIDTH - (n + 1) * (EDGE + 50)
            button = _control(model, "Button", label.lower(), left, below, 50, LINE)
            button.Label, button.PushButtonType = label, kind
            button.DefaultButton = n == 0  # No, where there is a question
        dialog = _service(self.context, "com.sun.star.awt.UnoControlDialog")
        dialog.setModel(model)
        toolkit = _service(self.context, "com.sun.star.awt.Toolkit")
        dialog.createPeer(toolkit, self.frame.ContainerWindow)
        try:
            return dialog.execute() == OK
        finally:
            dialog.dispose()


def _control(model, kind, name, left, top, width, height):
    control = model.createInstance(f"com.sun.star.awt.UnoControl{kind}Model")
    control.Name, control.PositionX, control.PositionY = name, left, top
    control.Width, control.Height = width, height
    model.insertByName(name, control)
    return control


def _path_of_ours(document):
    """The path of the workbook's file. Raises RefusedError where it is no saved .xlsx of ours."""
    if not document.hasLocation():
        accepted = f"{MENU['ours']}, saved as .xlsx"
        raise RefusedError("This document", "no file: it was never saved", accepted)
    if not document.URL.startswith("file:"):
        raise RefusedError(document.URL, "a file elsewhere", "one on a disk of this computer")
    path = uno.fileUrlToSystemPath(document.URL)
    name = os.path.basename(path)
    written_by = next((a.Value for a in document.Args if a.Name == "FilterName"), "")
    if written_by not in XLSX or not path.lower().endswith(".xlsx"):
        raise RefusedError(name, "another kind of file", f"{MENU['ours']}, saved as .xlsx")
    if not document.NamedRanges.hasByName(MENU["mark"]):
        raise RefusedError(name, f"no name {MENU['mark']}", MENU["ours"])
    if document.isReadonly():
        raise RefusedError(name, "a workbook opened to be read only", "one that can be saved")
    return path


def _started(command, folder):
    """The program in a process of its own, without what LibreOffice set for its own Python."""
    around = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    return subprocess.Popen(
        command,
        cwd=folder,
        env={**around, "PYTHONUTF8": "1"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
    )


def _outcome(lines, code):
    """What the program said, and the outcome that its last line names, where it got that far."""
    try:
        named = json.loads(lines[-1])
        outcome, words = {"question": named["question"], "folder": named["folder"]}, lines[:-1]
    except (IndexError, KeyError, TypeError, ValueError):
        outcome, words = {"question": "", "folder": None}, lines
    return "".join(words).strip() or f"The program ended with code {code}.", outcome


def _busy(path):
    return RefusedError(path, "a workbook that is busy", "one that Calc is done with")


def _action(url):
    return url.Complete.removeprefix(PROTOCOL) if url.Complete.startswith(PROTOCOL) else ""


def _service(context, name):
    return context.ServiceManager.createInstanceWithContext(name, context)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816  the loader looks for it
g_ImplementationHelper.addImplementation(Handler, HANDLER, SERVICES)
