"""Files as each earlier version of the program left them, with some rows in them."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from reviewkit.store import FILE_NAME
from reviewkit.store.versions import APPLICATION_ID, STEPS

# What a version adds to the rows of the one before it.
ROWS: dict[int, tuple[str, ...]] = {
    1: (
        """INSERT INTO reviews VALUES (
            3, 'Tuesday circuit', '2024-05-07T18:30:00.000125+00:00', 'tuesday.vtt', x'00ff',
            'tuesday.csv', 'move,work\nSquat,45s\n', 1, '{"timing": 81.5, "density": null}',
            '<svg/>', NULL, '0.1.0'
        )""",
        """INSERT INTO reviews VALUES (
            7, 'Plié', '2024-05-08T06:00:00.000000+00:00', 'plie.srt', x'',
            '', '', 0, '{}', '', 4000, '0.1.0'
        )""",
        # The digest is that of the text, as SHA-256 gives it.
        """INSERT INTO plans VALUES (
            2, 'Tuesday', 'move,work',
            '798e026533c17bf0301b68409d0c7c7ba4e8b3b50c1b387e86c7be2e17ad5aab',
            '2024-05-07T18:29:00.000000+00:00'
        )""",
    ),
    2: (
        """INSERT INTO corrections VALUES (
            4, 7, '2024-05-08T06:01:00.000000+00:00', 'moved edge',
            '{"interval": "3", "edge": "end", "at_ms": 65000}'
        )""",
        "INSERT INTO lexicon_lines VALUES (1, 'a.csv', 'b', '2024-05-08T06:02:00.000000+00:00')",
    ),
    3: ("UPDATE reviews SET document = '{}' WHERE id = 7",),
}


def old_file(folder: Path, version: int) -> Path:
    """Make the file of an earlier version by the steps that made it then."""
    path = folder / FILE_NAME
    with closing(sqlite3.connect(path)) as file, file:
        for at, step in enumerate(STEPS[:version], start=1):
            for statement in (*step, *ROWS[at]):
                file.execute(statement)
        file.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        file.execute(f"PRAGMA user_version = {version}")
    return path


def shape(path: Path) -> set[tuple[str, str]]:
    """Give the statements that made a file's tables, and its version."""
    with closing(sqlite3.connect(path)) as file:
        made = file.execute("SELECT name, coalesce(sql, '') FROM sqlite_schema").fetchall()
        (version,) = file.execute("PRAGMA user_version").fetchone()
    return {*made, ("version", str(version))}
