"""The error tree. The maker's faults are findings; these exceptions are for callers and carry a cure."""

from __future__ import annotations

from hoopwright.core.findings import Finding


class HoopwrightError(Exception):
    """Root of every error this package raises on purpose; ``cure`` says what to do."""

    def __init__(self, message: str, cure: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.cure = cure

    def __str__(self) -> str:
        """Return message and cure."""
        return f"{self.message}. {self.cure}" if self.cure else self.message


class ProjectError(HoopwrightError):
    """A project file cannot be read; ``findings`` lists every problem with its place and cure."""

    def __init__(self, message: str, findings: tuple[Finding, ...], cure: str = "") -> None:
        super().__init__(message, cure)
        self.findings = findings


class GeometryError(HoopwrightError):
    """A shape is not what an operation needs (self-crossing, empty, not finite)."""


class StitchFileError(HoopwrightError):
    """A stitch file cannot be read or written truthfully."""


class OutputError(HoopwrightError):
    """An output cannot be made or moved to its place."""


class BlockedError(HoopwrightError):
    """A build was refused because of blocking findings."""

    def __init__(self, message: str, findings: tuple[Finding, ...], cure: str = "") -> None:
        super().__init__(message, cure)
        self.findings = findings


def reason_of(error: OSError) -> str:
    """Return why the system refused a file or folder, in its own words."""
    return error.strerror or str(error)
