"""Small classes to review by the batch: a minute of talk, made by hand."""

from __future__ import annotations

from pathlib import Path

from reviewkit.batch.jobs import Given, Job, Settings

CAPTIONS = """WEBVTT

00:01.000 --> 00:04.000
squats in three two one go

00:08.000 --> 00:11.000
knees out chest tall {extra}

00:38.000 --> 00:41.000
and rest
"""
PLAN = "move,work,rest,must_say\nSquat,40s,20s,knees out;chest tall\n"


def captions(extra: str = "") -> bytes:
    return CAPTIONS.format(extra=extra).encode()


def job(name: str, transcript: bytes | None = None, plan: str | None = PLAN) -> Job:
    given = captions(name) if transcript is None else transcript
    return Job(
        name,
        Given(f"{name}.vtt", given),
        Given("plan.csv", plan.encode()) if plan else None,
        Settings(),
    )


def write_classes(folder: Path, *names: str) -> Path:
    """Write a class for each name, with one plan for all of them."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "plan.csv").write_text(PLAN)
    for name in names:
        (folder / f"{name}.vtt").write_bytes(captions(name))
    return folder
