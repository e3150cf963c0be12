"""How results look in a terminal: findings, totals, progress, and plain words for errors."""

from __future__ import annotations

import dataclasses
import json
import os
import shlex
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import typer
from rich.console import Console
from rich.table import Table
from rich.text import Text

from hoopwright.build import Build
from hoopwright.core.errors import BlockedError, HoopwrightError, ProjectError
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.words import counted, whole_minutes
from hoopwright.outputs.machine.facts import StitchFacts

COLOURS: Final = {Severity.BLOCKS: "bold red", Severity.WARNS: "yellow", Severity.NOTES: "cyan"}
WORDS: Final = {Severity.BLOCKS: "blocks", Severity.WARNS: "warns", Severity.NOTES: "note"}


def finding_rows(findings: Sequence[Finding]) -> list[dict[str, object]]:
    """Return findings as plain values for JSON."""
    return [
        {
            "code": f.code,
            "severity": str(f.severity),
            "message": f.message,
            "cure": f.cure,
            "where": {k: v for k, v in dataclasses.asdict(f.where).items() if v is not None},
        }
        for f in findings
    ]


def _together(findings: Sequence[Finding]) -> list[list[Finding]]:
    """Put findings with the same code and cure together, in the order of their first."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for f in findings:
        groups.setdefault((f.code, f.cure), []).append(f)
    return list(groups.values())


def quoted(path: Path) -> str:
    """Return a path as it is typed in a command: in quotes when it has spaces or other signs of its own."""
    if os.name == "nt":
        return f'"{path}"' if " " in str(path) else str(path)
    return shlex.quote(str(path))


class Shell:
    """The terminal of one command: quiet, JSON or words. Words go to standard output, errors to standard error."""

    def __init__(self, *, quiet: bool, as_json: bool) -> None:
        self.as_json = as_json
        self.quiet = quiet or as_json
        self.out = Console(highlight=False, soft_wrap=True)
        self.err = Console(stderr=True, highlight=False, soft_wrap=True)

    def say(self, text: str) -> None:
        """Print a line unless quiet."""
        if not self.quiet:
            self.out.print(Text(text))

    def error(self, message: str, cure: str) -> None:
        """Print what went wrong and the cure."""
        if self.as_json:
            self.result({"error": message, "cure": cure})
        else:
            self.err.print(Text.assemble((message.rstrip(".") + ".", "bold red"), f" {cure}"))

    def result(self, values: dict[str, object]) -> None:
        """Print the result as JSON when asked for."""
        if self.as_json:
            typer.echo(json.dumps(values, ensure_ascii=False, indent=1))

    @contextmanager
    def guard(self) -> Iterator[None]:
        """Turn the errors of this package into words and exit code 2."""
        try:
            yield
        except (ProjectError, BlockedError) as error:
            self._listed(error)
            raise typer.Exit(2) from None
        except HoopwrightError as error:
            self.error(error.message, error.cure)
            raise typer.Exit(2) from None

    def _listed(self, error: ProjectError | BlockedError) -> None:
        if self.as_json:
            self.result({"error": error.message, "cure": error.cure, "findings": finding_rows(error.findings)})
            return
        self.findings(error.findings, always=True)
        self.error(error.message, error.cure)

    def findings(self, findings: Sequence[Finding], *, always: bool = False) -> None:
        """Print findings, the gravest first; when quiet only those that block or warn."""
        if self.as_json:
            return
        for severity in (Severity.BLOCKS, Severity.WARNS, Severity.NOTES):
            if severity is Severity.NOTES and self.quiet and not always:
                continue
            for same in _together([f for f in findings if f.severity is severity]):
                self._told(same)

    def _told(self, findings: Sequence[Finding]) -> None:
        """Print findings of one code that share a cure, and the cure once."""
        console = self.err if findings[0].severity is Severity.BLOCKS else self.out
        for f in findings:
            place = str(f.where)
            head = Text.assemble((f"{f.code} {WORDS[f.severity]}", COLOURS[f.severity]), "  ")
            console.print(head + Text(f"{f.message.rstrip('.')}.") + Text(f"  [{place}]" if place else "", "dim"))
        if findings[0].cure:
            console.print(Text(f"             {findings[0].cure}", "italic"))

    @contextmanager
    def stage(self, what: str) -> Iterator[None]:
        """Show that something is being done while it takes time."""
        if self.quiet or not self.err.is_terminal:
            yield
            return
        with self.err.status(what):
            yield

    @contextmanager
    def progress(self) -> Iterator[Callable[[str], None]]:
        """Show the stages of a build as they come."""
        if self.quiet or not self.err.is_terminal:
            yield lambda _: None
            return
        with self.err.status("Planning") as status:
            yield lambda name: status.update(f"Making the {name}")

    def order(self, made: Build) -> None:
        """Print the sewing order with the reasons."""
        if self.quiet:
            return
        for panel in made.plan.panels:
            for section in panel.order.sections:
                names = ", ".join(f"S{m.section}" if m.section else m.letters[0] for m in section.members)
                what = "Sewing order" if section is panel.order.sections[-1] else f"Section S{section.number}"
                self.say(f"{what}: {names}")
            for wish in panel.order.wishes:
                self.say(f"  {wish.sentence}")

    def built(self, made: Build, folder: Path) -> None:
        """Print what was made and what to open first."""
        if self.quiet:
            return
        if made.blocked:
            self.error("DO NOT SEW what was written: it cannot come out", "The findings above say why.")
        e = made.estimate
        halts = sum(1 for h in made.plan.hoopings for s in h.steps if s.halt)
        self.say(f"{made.plan.project.title}: {e.stitches} stitches, {halts} halts for your hands.")
        self.say(
            f"About {_minutes(e.machine + e.hands)}, of which the machine sews {whole_minutes(e.machine)}; changes of thread "
            "and assembly are counted, cutting out the cloth is not."
        )
        self.say(f"The results are in {folder}:")
        for name, what in (
            ("DO-NOT-SEW.txt", "why it must not be sewn as it stands"),
            ("booklet.pdf", "read this first: materials, cutting list, every halt with its picture"),
            ("templates.pdf", "print at 100 % and measure the bar before you cut"),
            ("machine/", "the stitch files, one for each kind of machine"),
            ("pictures/", "the finished panel and every step"),
            ("build.json", "the record, for other programs"),
        ):
            if (folder / name).exists():
                self.say(f"  {name:<14} {what}")

    def swatches(self, made: Build, folder: Path) -> None:
        """Print which sheets were made, how long each takes, and what to open."""
        width = max(len(h.key) for h in made.plan.hoopings)
        for hooping in made.plan.hoopings:
            minutes = _minutes(made.estimate.machine_of(hooping.key))
            self.say(
                f"{hooping.key:<{width}}  {hooping.title}: {hooping.count} stitches, about {minutes} on the machine"
            )
        self.say("Each sheet is one hooping of two threads: first numbers and outlines, then the swatches.")
        self.say(f"The results are in {folder}:")
        for name, what in (
            ("swatch-card.pdf", "every swatch at true size, with names and settings; print at 100 %"),
            ("machine/", "the stitch files of the sheets, one for each kind of machine"),
            ("pictures/", "the sheets as they look when sewn"),
        ):
            self.say(f"  {name:<16} {what}")

    def facts(self, name: str, facts: StitchFacts, speed: int | None = None) -> None:
        """Print what a stitch file holds; ``speed`` is that of its minutes."""
        if self.as_json:
            self.result({"file": name, **dataclasses.asdict(facts)})
            return
        table = Table(box=None, show_header=False, pad_edge=False)
        for label, value in fact_rows(facts, speed):
            table.add_row(label, Text(value))
        self.out.print(Text(name))
        self.out.print(table)


def _minutes(minutes: float) -> str:
    return counted(whole_minutes(minutes), "minute")


def fact_rows(facts: StitchFacts, speed: int | None = None) -> tuple[tuple[str, str], ...]:
    """Return what a stitch file holds as labels and values to read; ``speed`` is that of its minutes."""
    x, y = facts.densest_at
    at = f" at {speed} stitches a minute" if speed else ""
    return (
        ("size", f"{facts.width:.1f} x {facts.height:.1f} mm"),
        ("blocks of stitches", str(facts.blocks)),
        ("halts, for hands or thread", str(facts.halts)),
        ("stitches", str(facts.stitches)),
        ("longest stitch", f"{facts.longest:.1f} mm"),
        ("shortest stitch", f"{facts.shortest:.1f} mm"),
        ("most needle holes", f"{facts.densest} within 1 mm of x {x:.1f}, y {y:.1f} mm"),
        ("thread cuts", str(facts.trims)),
        ("sewing time", f"about {_minutes(facts.minutes)}{at}, handwork left out"),
    )
