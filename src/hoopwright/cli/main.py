"""The commands: new, check, build, stitches."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Literal, NoReturn

import typer

from hoopwright import __version__
from hoopwright.build import Build
from hoopwright.cli.show import Shell, finding_rows
from hoopwright.core.findings import Finding, Severity, worst
from hoopwright.pipeline import build as make_build
from hoopwright.pipeline import check_files, stitch_facts, write
from hoopwright.project.load import load
from hoopwright.project.starter import starter_text

EXIT = {None: 0, Severity.NOTES: 0, Severity.WARNS: 1, Severity.BLOCKS: 2}
"""Exit codes by the gravest finding: 0 nothing or notes, 1 warnings, 2 it cannot be sewn or not be read."""

app = typer.Typer(
    name="hoopwright",
    help="Plans patchwork sewn in the hoop of an embroidery machine, and checks it before the first stitch.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Quiet = Annotated[bool, typer.Option("--quiet", "-q", help="Print only what went wrong.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the result as JSON on standard output.")]
ProjectFile = Annotated[Path, typer.Argument(help="The project file (TOML).", show_default=False)]


def main() -> None:
    """Run the command line; a maker's mistake ends in plain words, never in a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    app()


def _version(value: bool) -> None:
    if value:
        typer.echo(f"hoopwright {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version and stop.")
    ] = False,
) -> None:
    """Plans patchwork sewn in the hoop of an embroidery machine, and checks it before the first stitch."""


@app.command()
def new(
    project: Annotated[Path, typer.Argument(help="The project file to write.", show_default=False)],
    title: Annotated[str | None, typer.Option(help="Title of the work; else made from the file's name.")] = None,
    units: Annotated[Literal["mm", "in"], typer.Option(help="Units in which lengths are shown.")] = "mm",
    quiet: Quiet = False,
) -> None:
    """Write a commented project file to start from."""
    shell = Shell(quiet=quiet, as_json=False)
    if project.is_dir():
        project = project / "project.toml"
    elif project.suffix == "":
        project = project.with_suffix(".toml")
    if title is None:
        name = project.parent.absolute().name if project.stem == "project" else project.stem
        title = name.replace("-", " ").replace("_", " ").strip().capitalize() or "New panel"
    try:
        project.parent.mkdir(parents=True, exist_ok=True)
        with project.open("x", encoding="utf-8") as file:
            file.write(starter_text(title, units))
    except FileExistsError:
        _stop(shell, f"{project} exists already, and nothing was changed", "Choose another name.")
    except OSError as error:
        _stop(shell, f"{project} could not be written: {error.strerror}", "Choose a folder where you may write.")
    shell.say(f"Wrote {project}. Open it in any text editor, then try:")
    shell.say(f"  hoopwright check {project}")
    shell.say(f"  hoopwright build {project} --out {project.parent / 'out'}")


@app.command()
def check(project: ProjectFile, quiet: Quiet = False, as_json: AsJson = False) -> None:
    """Say what would go wrong, without writing anything.

    Exit code: 0 when all is well, 1 for warnings, 2 when it cannot be sewn.
    """
    shell = Shell(quiet=quiet, as_json=as_json)
    with shell.guard():
        made, notes = _plan(shell, project)
        with shell.stage("Writing the stitch files on trial and reading them back"):
            made = check_files(made)
        findings = (*notes, *made.findings)
        shell.result({"project": str(project), "findings": finding_rows(findings), "worst": worst(findings)})
        shell.findings(findings)
        shell.order(made)
        if not findings:
            shell.say("Nothing to complain about: this can be sewn.")
        raise typer.Exit(EXIT[worst(findings)])


@app.command()
def build(
    project: ProjectFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Folder for the results.", show_default=False)] = None,
    despite_findings: Annotated[
        bool, typer.Option("--despite-findings", help="Write even when a finding blocks; every output will say so.")
    ] = False,
    quiet: Quiet = False,
    as_json: AsJson = False,
) -> None:
    """Make the stitch files, templates, booklet and pictures."""
    shell = Shell(quiet=quiet, as_json=as_json)
    with shell.guard():
        folder = out or project.parent / "out"
        made, notes = _plan(shell, project)
        with shell.progress() as tell:
            made = write(made, folder, despite=despite_findings, tell=tell)
        findings = (*notes, *made.findings)
        shell.findings(findings)
        shell.built(made, folder)
        shell.result(
            {
                "project": str(project),
                "folder": str(folder),
                "blocked": made.blocked,
                "findings": finding_rows(findings),
            }
        )
        raise typer.Exit(2 if made.blocked else 0)


@app.command()
def stitches(
    file: Annotated[Path, typer.Argument(help="A stitch file of any common kind.", show_default=False)],
    speed: Annotated[int, typer.Option(min=50, max=3000, help="Stitches a minute, for the time.")] = 600,
    as_json: AsJson = False,
) -> None:
    """Tell what a stitch file holds: field, halts, counts, longest, densest, minutes."""
    shell = Shell(quiet=False, as_json=as_json)
    with shell.guard():
        try:
            data = file.read_bytes()
        except OSError as error:
            _stop(shell, f"{file} cannot be read: {error.strerror}", "Check the name and the folder.")
        shell.facts(file.name, stitch_facts(data, file.name, speed))


def _plan(shell: Shell, project: Path) -> tuple[Build, tuple[Finding, ...]]:
    loaded = load(project)
    with shell.stage("Planning"):
        return make_build(loaded.project, dict(loaded.drawings)), loaded.findings


def _stop(shell: Shell, message: str, cure: str) -> NoReturn:
    shell.error(message, cure)
    raise typer.Exit(2)
