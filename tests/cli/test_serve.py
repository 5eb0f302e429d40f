from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import httpx
import pytest

from reviewkit.cli.app import main

START = [sys.executable, "-m", "reviewkit", "serve", "--no-open"]


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    environment = os.environ | {"PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        [*START, "--data", str(tmp_path)], stdout=subprocess.PIPE, text=True, env=environment
    ) as program:
        assert program.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/", program.stdout.readline())
        assert found
        try:
            yield found[0], program
        finally:
            program.kill()


@pytest.mark.skipif(sys.platform == "win32", reason="stops by a signal of another kind there")
def test_it_prints_where_it_is_serves_there_and_stops_when_told(
    served: tuple[str, subprocess.Popen[str]], tmp_path: Path
) -> None:
    address, program = served
    answer = httpx.get(address, timeout=30, trust_env=False)
    assert answer.status_code == 200
    assert "server" not in answer.headers
    assert (tmp_path / "reviewkit.sqlite3").is_file()
    program.send_signal(signal.SIGINT)
    assert program.wait(30) == 0


def test_it_is_reached_from_this_machine_alone(
    served: tuple[str, subprocess.Popen[str]],
) -> None:
    address, _ = served
    port = int(address.rsplit(":", 1)[1].strip("/"))
    with closing(socket.socket()) as here:
        assert here.connect_ex(("127.0.0.1", port)) == 0
    # Every address of 127.0.0.0/8 is this machine; what listens on all of them answers.
    with closing(socket.socket()) as elsewhere:
        assert elsewhere.connect_ex(("127.0.0.2", port)) != 0


def test_a_port_that_is_taken_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(socket.socket()) as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(SystemExit) as stopped:
            main(["serve", "--no-open", "--port", str(port), "--data", str(tmp_path)])
    assert stopped.value.code == 2
    error = capsys.readouterr().err
    assert error.startswith(f"--port: {port} cannot be used: ")
    assert error.count("\n") == 1


def test_a_data_file_that_cannot_be_read_is_said_and_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "reviewkit.sqlite3"
    path.write_bytes(b"no database at all" * 100)
    with pytest.raises(SystemExit) as stopped:
        main(["serve", "--no-open", "--data", str(tmp_path)])
    assert stopped.value.code == 2
    assert str(path) in capsys.readouterr().err
    assert path.read_bytes() == b"no database at all" * 100
