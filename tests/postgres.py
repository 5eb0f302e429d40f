"""A PostgreSQL server of the tests' own, in a folder of its own, without a network port."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

OWNER = "reviewkit"
# The server refuses to run as root.
UNPRIVILEGED = "nobody"


def programs() -> Path | None:
    """Find the folder of the server's programs; Debian keeps them off the path."""
    for folder in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True):
        if (folder / "initdb").is_file():
            return folder
    found = shutil.which("initdb")
    return Path(found).parent if found else None


@contextmanager
def server(bin_folder: Path) -> Iterator[str]:
    """Run a server for as long as it is needed, and give the start of its address."""
    user = UNPRIVILEGED if os.geteuid() == 0 else pwd.getpwuid(os.geteuid()).pw_name
    folder = Path(tempfile.mkdtemp(prefix="reviewkit-postgres-"))
    data, log = folder / "data", folder / "log"
    if os.geteuid() == 0:
        shutil.chown(folder, user)

    def run(program: str, *arguments: str) -> None:
        command = [str(bin_folder / program), "-D", str(data), *arguments]
        done = subprocess.run(
            command, user=user, cwd=folder, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stdout + done.stderr

    try:
        # A server that is thrown away need not outlive a loss of power.
        run("initdb", "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
        settings = f"-k {folder} -c listen_addresses= -c fsync=off -c max_connections=30"
        run("pg_ctl", "-w", "-l", str(log), "-o", settings, "start")
        try:
            yield f"postgresql+psycopg://{OWNER}:secret@/{{}}?host={folder}"
        finally:
            run("pg_ctl", "-w", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
