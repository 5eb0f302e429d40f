"""What can go wrong, said to the person who can put it right."""

from __future__ import annotations


class ReviewkitError(Exception):
    """Base of every error that is the input's or the user's, never ours."""


class InputError(ReviewkitError):
    """Something in a file or an option that cannot be used.

    Attributes:
        source: Name of the file or option, as the user gave it.
        line: 1-based line (or spreadsheet row), ``None`` when it concerns the whole.
        problem: What is wrong and what would be right, one sentence without a full stop.
    """

    def __init__(self, source: str, line: int | None, problem: str) -> None:
        super().__init__(source, line, problem)
        self.source = source
        self.line = line
        self.problem = problem

    def __str__(self) -> str:
        place = self.source if self.line is None else f"{self.source}, line {self.line}"
        return f"{place}: {self.problem}"


class InputErrors(ReviewkitError):  # noqa: N818 - the name says that it holds many
    """Every problem found in one file, reported together; never empty."""

    def __init__(self, errors: tuple[InputError, ...]) -> None:
        super().__init__(errors)
        self.errors = errors

    def __str__(self) -> str:
        return "\n".join(str(error) for error in self.errors)
