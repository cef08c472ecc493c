"""Nothing leaves the machine and nothing is kept but what was typed and what it came to: every command is run where no
socket may be opened, in its own process and those of its crew.
"""

from __future__ import annotations

import getpass
import json
import os
import re
import shutil
import socket
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from askplant.cli import COMMANDS
from tests.faults.conftest import ROOT, Run

# Python runs this module at every start of it, so that the processes of a crew are watched too. What is sent to oneself to wake
# an event loop (a pair of sockets that are joined already) opens no connection.
WATCH = """
import os, sys
FORBIDDEN = ("socket.connect", "socket.bind", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto", "socket.sendmsg",
             "urllib.Request", "http.client.connect", "ftplib.connect", "smtplib.connect", "webbrowser.open")
def watch(event, arguments):
    if event in FORBIDDEN:
        with open(os.environ["WATCHED"], "a") as told:
            print(event, arguments, file=told)
        raise RuntimeError(f"forbidden: {event}")
sys.addaudithook(watch)
with open(os.environ["WATCHED"] + ".runs", "a") as told:
    print(os.getpid(), file=told)
"""
TABLE = "request\nevergreen shrub\ntall tree\nfern\ngroundcover for shade\n"
STOCK = "Botanical name,Size,Price,Qty\nIlex glabra,5 gal,$40,12\n"
REQUEST = "evergreen shrub, zone 7"
EACH: dict[str, tuple[str, ...]] = {
    "ask": ("ask", REQUEST),
    "read": ("read", REQUEST),
    "why": ("why", "inkberry", REQUEST),
    "show": ("show", "inkberry"),
    "compare": ("compare", "inkberry", "Thuja occidentalis"),
    "care": ("care", "inkberry", "--zone", "7", "--ics", "care.ics"),
    "growth": ("growth", "inkberry"),
    "hold": ("hold", "inkberry", "4 ft"),
    "plan": ("plan", "30 ft evergreen screen, zone 7, 8 ft"),
    "sheet": ("sheet", REQUEST, "-o", "sheet.html"),
    "stock": ("stock", "use", "list.csv"),
    "batch": ("batch", "in.csv", "out.xlsx", "--workers", "2"),
    "desk": ("desk", "--open", "A-1204"),
    # The last: it changes what the base is made from.
    "traits": ("traits", "observe", "inkberry", "--age", "5", "--height", "4 ft"),
}
LINES = f"{REQUEST}\nby the glimmer\nkeep 1\n"


def alone() -> tuple[str, ...]:
    """What makes a command run without any network at all, where that is allowed."""
    if (
        shutil.which("unshare")
        and subprocess.run(["unshare", "-n", "true"], capture_output=True, check=False).returncode == 0
    ):
        return ("unshare", "-n")
    return ()


def test_no_command_is_left_out() -> None:
    """A new command takes its place here."""
    assert set(EACH) == set(COMMANDS)


def test_no_command_opens_a_socket(run: Run, tmp_path: Path, kept: Path) -> None:
    """Each is done as it should be where a connection, a name looked up or a port is an error, and no network is there."""
    (tmp_path / "watch").mkdir()
    (tmp_path / "watch/sitecustomize.py").write_text(WATCH, encoding="utf-8")
    (tmp_path / "in.csv").write_text(TABLE, encoding="utf-8")
    (tmp_path / "list.csv").write_text(STOCK, encoding="utf-8")
    told = tmp_path / "watched"
    also = {"PYTHONPATH": f"{tmp_path / 'watch'}{os.pathsep}{ROOT}", "WATCHED": str(told)}
    for name, arguments in EACH.items():
        done = run(*arguments, also=also, before=alone(), input=LINES if name == "desk" else "")
        assert done.returncode == 0, (name, done.stderr)
        assert not told.exists(), (name, told.read_text(encoding="utf-8"))
    assert (tmp_path / "out.xlsx").stat().st_size
    assert len(set((tmp_path / "watched.runs").read_text().split())) >= len(EACH) + 2
    probe = [sys.executable, "-c", "import socket; socket.create_connection(('127.0.0.1', 9))"]
    tried = subprocess.run(probe, env=os.environ | also, capture_output=True, text=True, check=False)
    assert "forbidden: socket." in tried.stderr
    check_kept(tmp_path / "askplant_state")


def check_kept(state: Path) -> None:
    """What the desk has written: these files, these keys, for its owner alone; nobody's name, no place on the disk."""
    files = {path.relative_to(state).as_posix(): path for path in state.rglob("*") if path.is_file()}
    assert set(files) == {"calls.jsonl", "sittings/A-1204.jsonl"}
    for path in files.values():
        text = path.read_text(encoding="utf-8")
        for name in (
            getpass.getuser(),
            socket.gethostname(),
            str(Path.home()),
            str(state),
            str(ROOT),
            "askplant_state",
        ):
            if len(name) > 3:
                assert name not in text, path
        if os.name != "nt":
            assert path.stat().st_mode & 0o777 == 0o600
            assert path.parent.stat().st_mode & 0o777 == 0o700
    calls = [json.loads(line) for line in files["calls.jsonl"].read_text(encoding="utf-8").splitlines()]
    assert [call["request"] for call in calls] == LINES.splitlines()[:2]
    for call in calls:
        assert list(call) == ["at", "request", "asked", "fit", "plants", "unread", "strangers", "dearest"]
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d", call["at"])
        assert len(call["plants"]) <= 5
    entries = [json.loads(line) for line in files["sittings/A-1204.jsonl"].read_text(encoding="utf-8").splitlines()]
    known = {"at", "happened", "line", "reading", "off", "plants", "reference"}
    assert {key for entry in entries for key in entry} <= known


OFF = {
    "desk.toml": ((), {}),
    "ASKPLANT_LOG=off": ((), {"ASKPLANT_LOG": "off"}),
    "--unlogged": (("--unlogged",), {}),
    "log off": ((), {}),
}


@pytest.mark.parametrize("way", OFF)
def test_the_log_turned_off(way: str, run: Run, tmp_path: Path, kept: Path) -> None:
    """In each of the ways that the README names nothing at all is written."""
    options, also = OFF[way]
    own = tmp_path / "askplant_own"
    own.mkdir()
    if way == "desk.toml":
        (own / "desk.toml").write_text("log = false\n", encoding="utf-8")
    lines = f"{'log off' if way == 'log off' else ''}\n{REQUEST}\n"
    done = run("desk", "--base", str(kept), *options, input=lines, also=also)
    assert (done.returncode, done.stderr) == (0, "")
    assert "fit" in done.stdout
    assert [path for path in (tmp_path / "askplant_state").rglob("*") if path.is_file()] == []
    assert way in (ROOT / "README.md").read_text(encoding="utf-8") or way == "desk.toml"


def test_what_is_kept_is_where_the_readme_says(surroundings: Mapping[str, str]) -> None:
    """The README's list of what the log holds is that of its keys."""
    text = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    assert "`calls.jsonl` (time, request, what was understood of it, the first plants, words not understood)" in text
    assert surroundings["ASKPLANT_STATE"]
