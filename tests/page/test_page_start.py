"""Starting the page: one command, the loopback address, one page a folder, and what it is made of."""

import csv
import hashlib
import http.client
import itertools
import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import tomllib
import urllib.request
from pathlib import Path

import pytest

from labeler.page.demo import examples, make_demo
from labeler.page.start import listen
from labeler.types import LabelerError

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "labeler" / "page" / "static"


def start(folder, notes, *more):
    """A page in a process of its own; returns it and the address that it prints."""
    process = subprocess.Popen(
        [sys.executable, "-m", "labeler", "page", str(folder), "--no-browser", *more],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"LABELER_PAGE_NOTES": str(notes), "PYTHONUNBUFFERED": "1"},
    )
    return process, re.search(r"http\S+", process.stdout.readline())[0]


def test_it_starts_answers_and_stops(tmp_path):
    """One command makes the demo's folder, prints the address, answers there, and Ctrl-C ends it without a trace."""
    process, address = start(tmp_path / "stall", tmp_path / "notes", "--demo")
    try:
        assert re.match(r"http://127\.0\.0\.1:\d+/enter\?key=\S{20,}$", address)
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        assert "Quay pie" in opener.open(address, timeout=10).read().decode()
        second = subprocess.run(
            [sys.executable, "-m", "labeler", "page", str(tmp_path / "stall"), "--no-browser"],
            capture_output=True,
            text=True,
            env=os.environ | {"LABELER_PAGE_NOTES": str(tmp_path / "notes")},
            check=True,
        )
        assert "runs already" in second.stdout and address in second.stdout
    finally:
        process.send_signal(signal.SIGINT)
        _, wrong = process.communicate(timeout=20)
    assert "Traceback" not in wrong and process.returncode in (0, 130)
    assert list((tmp_path / "notes").iterdir()) == []


def test_it_listens_on_the_loopback_address_alone():
    """The socket is bound to 127.0.0.1, and a port that is taken is said."""
    opened = listen(0)
    try:
        assert opened.getsockname()[0] == "127.0.0.1"
        other = socket.socket()
        other.bind(("127.0.0.1", 0))
        other.listen()
        with pytest.raises(LabelerError, match="cannot be listened on"):
            listen(other.getsockname()[1])
        other.close()
    finally:
        opened.close()


@pytest.mark.parametrize("folder", ["nowhere", "file.md"])
def test_what_is_no_folder_is_said(tmp_path, folder):
    """A folder that is missing, or a file in its place, is one plain line with status 2."""
    (tmp_path / "file.md").write_text("- 1 egg\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "labeler", "page", str(tmp_path / folder)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2 and done.stderr.count("\n") == 1 and "folder" in done.stderr


def test_the_demo_leaves_what_is_there(tmp_path):
    """Every recipe of the demo is packed with the page, and a file of the cook's of the same name stays."""
    packed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["hatch"]["build"]["targets"]
    assert sorted(packed["wheel"]["force-include"]) == [f"demo/{path.name}" for path in examples()]
    (tmp_path / "quay-pie.md").write_text("- 1 egg\n", encoding="utf-8")
    make_demo(tmp_path)
    assert (tmp_path / "quay-pie.md").read_text(encoding="utf-8") == "- 1 egg\n"
    assert len(list(tmp_path.glob("*.md"))) == 3


def test_the_editor_is_the_one_that_was_made():
    """The module is what the maker script wrote, its packages are listed with MIT licences, and it fetches nothing."""
    folder = STATIC / "editor"
    data = (folder / "editor.js").read_bytes()
    assert hashlib.sha256(data).hexdigest() == (folder / "editor.sha256").read_text(encoding="utf-8").split()[0]
    with (folder / "editor.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["licence"] for row in rows} == {"MIT"} and len(rows) >= 8
    licences = (folder / "LICENCES.txt").read_text(encoding="utf-8")
    assert all(row["package"] in licences for row in rows)
    assert b"http://" not in data.replace(b"http://www.w3.org/", b"") and b"https://" not in data


def test_no_script_of_the_page_reads_text_as_markup():
    """No script writes markup from text, evaluates text, or asks any address but the page's own."""
    for path in STATIC.glob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function", text), (
            path
        )
        assert not re.search(r"https?://(?!www\.w3\.org)", text.replace('"https://"', "")), path


def asked(address, path, given):
    """A question as the page's own script asks it; gives the answer's status."""
    base, _, key = address.partition("/enter?key=")
    port = base.rpartition(":")[2]
    sent = {"Content-Type": "application/json", "Origin": base, "Cookie": f"labeler-{port}={key}"}
    request = urllib.request.Request(base + path, json.dumps(given).encode(), sent)
    with urllib.request.urlopen(request, timeout=60) as answer:
        return answer.status


def test_a_server_killed_while_it_saves_leaves_whole_texts(tmp_path):
    """Killed at any moment of saving, a recipe file holds one of the texts that were saved, whole."""
    folder = tmp_path / "stall"
    folder.mkdir()
    texts = [f"- {number} g flour\n" * 4000 for number in range(1, 60)]
    path = folder / "a.md"
    path.write_text(texts[0], encoding="utf-8")
    process, address = start(folder, tmp_path / "notes")
    saved = 0
    try:
        for before, after in itertools.pairwise(texts * 20):
            base = hashlib.sha256(before.encode()).hexdigest()
            asked(address, "/api/save", {"name": "a.md", "text": after, "base": base})
            saved += 1
            if saved == 1:
                threading.Timer(0.7, process.kill).start()
    except (OSError, http.client.HTTPException):
        pass  # the server is gone
    finally:
        process.kill()
        process.communicate(timeout=20)
    assert saved > 0 and path.read_text(encoding="utf-8") in texts


def test_a_slow_client_holds_nobody_up(tmp_path):
    """Clients that begin a request and never end it do not keep the page from answering."""
    make_demo(tmp_path / "stall")
    process, address = start(tmp_path / "stall", tmp_path / "notes")
    port = int(re.search(r":(\d+)/", address)[1])
    slow = []
    try:
        for _ in range(40):
            opened = socket.create_connection(("127.0.0.1", port), timeout=5)
            opened.sendall(f"POST /api/save HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Length: 99999\r\n".encode())
            slow.append(opened)
        text = "- 1 cup flour\n"
        assert asked(address, "/api/read", {"name": "quay-pie.md", "text": text}) == 200
    finally:
        for opened in slow:
            opened.close()
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=20)
