"""What a person sees: tmux stands for the terminal, pexpect for the keyboard."""
import os
import subprocess
import tempfile
import time

import pexpect

from person import CTRL_C, PROMPT, SECONDS

CTRL_L = "\x0c"
# At the foot of a page of `more`, and of the last one.
MORE = "--More--"
END = "(END)"
# So many looks, a twentieth of a second apart, that see the same.
QUIET = 10
# No line of its own below the screen, no waiting after Escape.
SETTINGS = "set -g status off\nset -s escape-time 0\n"


class Screen:
    """A terminal with one command in it. Keys go in by a terminal of its size, the screen is asked of tmux."""

    def __init__(self, command, folder, environment, columns=80, lines=24):
        self.sockets = tempfile.TemporaryDirectory(prefix="screen")
        settings = os.path.join(self.sockets.name, "settings")
        with open(settings, "w", encoding="utf-8") as file:
            file.write(SETTINGS)
        self.environment = environment | {"TMUX_TMPDIR": self.sockets.name, "TERM": "xterm"}
        self.tmux = ["tmux", "-u", "-L", "person", "-f", settings]
        self.child = pexpect.spawn(
            self.tmux[0],
            [*self.tmux[1:], "new-session", "-x", str(columns), "-y", str(lines), *command],
            cwd=str(folder),
            env=self.environment,
            dimensions=(lines, columns),
            encoding="utf-8",
            timeout=SECONDS,
        )
        self.child.delaybeforesend = None

    def close(self):
        self.child.close(force=True)
        subprocess.run([*self.tmux, "kill-server"], env=self.environment, capture_output=True, check=False)
        self.sockets.cleanup()

    def type(self, keys):
        self.child.send(keys)

    def ask(self, *words):
        return subprocess.run([*self.tmux, *words], env=self.environment, capture_output=True, encoding="utf-8", check=False).stdout

    def lines(self):
        """The screen, without the blank lines below."""
        return self.ask("capture-pane", "-p").rstrip("\n").split("\n")

    def waits(self):
        """Whether the last line is a prompt with nothing typed, or a page that waits."""
        column, line = (self.ask("display-message", "-p", "#{cursor_x} #{cursor_y}").split() or ["0", "0"])[:2]
        shown = self.lines()
        last = shown[-1]
        return len(shown) == int(line) + 1 and (last == PROMPT.rstrip() and int(column) == len(PROMPT) or last in (MORE, END))

    def until(self, true, what):
        end = time.monotonic() + SECONDS
        while not true():
            try:
                self.child.read_nonblocking(65536, timeout=0.01)
            except pexpect.TIMEOUT:
                pass
            except pexpect.EOF:
                return
            assert time.monotonic() < end, what + "\n" + "\n".join(self.lines())

    def settled(self):
        """The screen once it has not changed for a while: for keys after which no prompt comes."""
        seen = [None] * QUIET

        def still():
            seen.append("\n".join(self.lines()))
            time.sleep(0.05)
            return seen[-QUIET:].count(seen[-1]) == QUIET

        self.until(still, "the screen goes on changing")
        return self.lines()

    def until_prompt(self):
        self.until(self.waits, "no prompt")
        return self.lines()

    def clear(self):
        self.type(CTRL_L)
        self.until(lambda: self.lines() == [PROMPT.rstrip()], "not cleared")

    def leave(self, text):
        """Types what leaves the program; whether it did."""
        self.clear()
        self.type(text + "\r")
        self.child.expect_exact("[exited]")

    def line(self, text):
        """The screens of one line's answer: one, or one a page."""
        self.clear()
        self.type(text)
        self.until(lambda: "".join(self.lines()).replace(" ", "").endswith(text.replace(" ", "").split("\t")[-1]), "not echoed: " + text)
        self.type("\r")
        pages = [self.until_prompt()]
        while pages[-1][-1] == MORE:
            self.type(" ")
            self.until(lambda: self.lines() != pages[-1], "no further page")
            pages.append(self.until_prompt())
        if pages[-1][-1] == END:
            self.type("q")
            self.until(lambda: self.lines()[-1] == PROMPT.rstrip(), "the pager stays")
        return pages

    def keys(self, keys):
        """The screen after keys that end no line; the line is given up."""
        self.clear()
        self.type(keys)
        seen = self.settled()
        self.type(CTRL_C)
        self.until_prompt()
        return [seen]
