"""The commands: new, items, check, build, swatches, stitches."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright import __version__
from hoopwright.build import Build
from hoopwright.cli.show import Shell, finding_rows, quoted
from hoopwright.core.errors import BlockedError, OutputError, StitchFileError, reason_of
from hoopwright.core.findings import Finding, Severity, worst
from hoopwright.pipeline import build as make_build
from hoopwright.pipeline import check_files, items, new_project, stitch_facts, write, write_map, write_swatches
from hoopwright.project.lengths import Units
from hoopwright.project.load import Loaded, load, with_lines
from hoopwright.project.starter import LONGEST_TITLE

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
AsJson = Annotated[bool, typer.Option("--json", help="Print the result for other programs, as JSON.")]
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
    language: Annotated[
        Literal["en", "de"], typer.Option(help="Language of booklet, templates and pictures: English or German.")
    ] = "en",
    item: Annotated[str, typer.Option(help="What is made; the command items lists what can be.")] = "panel",
    quiet: Quiet = False,
) -> None:
    """Write a commented project file to start from."""
    shell = Shell(quiet=quiet, as_json=False)
    with shell.guard():
        path = _new_path(project)
        text = new_project(item, _title_for(path) if title is None else title, units, language=language)
        _write_new(path, text)
    shell.say(f"Wrote {path}. Open it in any text editor, then try:")
    shell.say(f"  hoopwright check {quoted(path)}")
    shell.say(f"  hoopwright build {quoted(path)} --out {quoted(path.parent / 'out')}")


def _new_path(asked: Path) -> Path:
    """Return the file to write: in a folder project.toml, else the name asked for, with an ending."""
    if os.path.isdir(asked):  # noqa: PTH112 - Path.is_dir raises for a name that is too long
        return asked / "project.toml"
    return asked if asked.suffix else asked.with_suffix(".toml")


def _title_for(path: Path) -> str:
    """Return a title made from the file's name, or from its folder's when it is called project.toml."""
    name = path.absolute().parent.name if path.stem == "project" else path.stem
    plain = "".join(c if c.isprintable() else " " for c in name.replace("-", " ").replace("_", " "))
    return plain.strip()[:LONGEST_TITLE].strip().capitalize() or "New panel"


def _write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet. Raises OutputError when it is, or cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        if isinstance(error, FileExistsError) and os.path.lexists(path):
            raise OutputError(f"{path} exists already, and nothing was changed", "Choose another name.") from error
        reason = reason_of(error)
        raise OutputError(f"{path} could not be written: {reason}", "Choose a folder where you may write.") from error


@app.command("items")
def list_items(as_json: AsJson = False) -> None:
    """List what can be made."""
    shell = Shell(quiet=False, as_json=as_json)
    rows = [(r.name, r.title, r.summary) for r in items()]
    shell.result({"items": [{"name": n, "title": t, "summary": s} for n, t, s in rows]})
    width = max(len(n) for n, _, _ in rows)
    for name, _, summary in rows:
        shell.say(f"{name:<{width}}  {summary}")
    shell.say("Write a first project with: hoopwright new FILE --item NAME")


@app.command()
def check(
    project: ProjectFile,
    map_file: Annotated[
        Path | None,
        typer.Option(
            "--map",
            help="Also draw the panel with letters, seam numbers and findings to this SVG file.",
            show_default=False,
        ),
    ] = None,
    quiet: Quiet = False,
    as_json: AsJson = False,
) -> None:
    """Say what would go wrong, without making the results.

    Exit code: 0 when all is well, 1 for warnings, 2 when it cannot be sewn.
    """
    shell = Shell(quiet=quiet, as_json=as_json)
    with shell.guard():
        made, loaded = _plan(shell, project)
        with shell.stage("Writing the stitch files on trial and reading them back"):
            made = check_files(made)
        findings = _all_findings(loaded, made.findings)
        shell.result({"project": str(project), "findings": finding_rows(findings), "worst": worst(findings)})
        shell.findings(findings)
        shell.order(made)
        if map_file is not None:
            write_map(made, map_file)
            shell.say(f"The map of the panel is in {map_file}.")
        if not findings:
            shell.say("Nothing to complain about: this can be sewn.")
        raise typer.Exit(EXIT[worst(findings)])


@app.command()
def build(
    project: ProjectFile,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            "-o",
            help="Folder for the results; else the folder out beside the project file.",
            show_default=False,
        ),
    ] = None,
    despite_findings: Annotated[
        bool, typer.Option("--despite-findings", help="Write even when a finding blocks; every output will say so.")
    ] = False,
    quiet: Quiet = False,
    as_json: AsJson = False,
) -> None:
    """Make the stitch files, templates, booklet and pictures.

    Exit code: 0 when they are written and can be sewn, 2 when not.
    """
    shell = Shell(quiet=quiet, as_json=as_json)
    with shell.guard():
        folder = out or project.parent / "out"
        made, loaded = _plan(shell, project)
        try:
            with shell.progress() as tell:
                made = write(made, folder, despite=despite_findings, tell=tell, text=loaded.text)
        except BlockedError as error:
            raise BlockedError(error.message, _all_findings(loaded, error.findings), error.cure) from None
        findings = _all_findings(loaded, made.findings)
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
def swatches(
    out: Annotated[Path, typer.Option("--out", "-o", help="Folder for the results.")] = Path("swatches"),
    field: Annotated[
        str, typer.Option(metavar="WIDTHxHEIGHT", help="The hoop's field in mm; the sheets are made to fit it.")
    ] = "130x180",
    kind: Annotated[
        list[str] | None,
        typer.Option(metavar="KIND", help="Kind of stitch file; repeat it for several.", show_default="the usual ones"),
    ] = None,
    units: Annotated[Units, typer.Option(help="Units in which lengths are shown.")] = "mm",
    paper: Annotated[Literal["A4", "Letter"], typer.Option(help="Paper of the card.")] = "A4",
    language: Annotated[Literal["en", "de"], typer.Option(help="Language of the card: English or German.")] = "en",
    weight: Annotated[
        Literal["fine", "bold", "corded"], typer.Option(help="How thick each line of a seam stitch is sewn.")
    ] = "bold",
    only: Annotated[
        Literal["seam-stitches", "grounds"] | None,
        typer.Option(help="Make the sheets of these only.", show_default=False),
    ] = None,
    quiet: Quiet = False,
    as_json: AsJson = False,
) -> None:
    """Make sheets to sew with every seam stitch and every ground, and a card of them at true size."""
    shell = Shell(quiet=quiet, as_json=as_json)
    with shell.guard():
        with shell.progress() as tell:
            made = write_swatches(
                out,
                field=field,
                kinds=tuple(kind or ()),
                units=units,
                paper=paper,
                language=language,
                weight=weight,
                only=only,
                tell=tell,
            )
        shell.findings(made.findings)
        shell.swatches(made, out)
        shell.result({"folder": str(out), "findings": finding_rows(made.findings)})


@app.command()
def stitches(
    file: Annotated[
        Path, typer.Argument(help="A stitch file of any common kind, such as panel.dst.", show_default=False)
    ],
    speed: Annotated[int, typer.Option(min=50, max=3000, help="Stitches a minute, for the time.")] = 600,
    as_json: AsJson = False,
) -> None:
    """Tell what a stitch file holds: size, halts, stitches, minutes."""
    shell = Shell(quiet=False, as_json=as_json)
    with shell.guard():
        shell.facts(file.name, stitch_facts(_stitch_bytes(file), file.name, speed), speed)


@app.command()
def worktable(
    folder: Annotated[
        Path, typer.Argument(help="The folder with your projects; made when it is not there.", show_default=False)
    ] = Path("projects"),
    port: Annotated[
        int | None,
        typer.Option(
            min=1024, max=65535, help="Number of the local address; else the first free one.", show_default=False
        ),
    ] = None,
    show: Annotated[bool, typer.Option("--show/--no-show", help="Open the page in the browser.")] = True,
) -> None:
    """Open the worktable in your browser: design by hand, see it sewn. It answers this machine only.

    Stop it with Ctrl and C; all work is saved as you go.
    """
    from hoopwright.worktable.key import kept_key
    from hoopwright.worktable.server import serve

    shell = Shell(quiet=False, as_json=False)
    with shell.guard():
        serve(
            folder,
            port,
            show=show,
            ready=lambda address: shell.say(f"The worktable is open at {address}"),
            key=kept_key(),
        )


def _stitch_bytes(file: Path) -> bytes:
    """Return the contents of a stitch file. Raises StitchFileError when it cannot be read."""
    try:
        if os.path.exists(file) and not os.path.isfile(file):  # noqa: PTH110, PTH113 - the Path methods raise for names too long
            raise StitchFileError(f"{file} is not a file", "Name a stitch file, such as panel.dst")
        return file.read_bytes()
    except OSError as error:
        raise StitchFileError(f"{file} cannot be read: {reason_of(error)}", "Check the name and the folder") from error


def _plan(shell: Shell, project: Path) -> tuple[Build, Loaded]:
    loaded = load(project)
    with shell.stage("Planning"):
        return make_build(loaded.project, dict(loaded.drawings)), loaded


def _all_findings(loaded: Loaded, later: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return what reading the file and all later rooms found, each with its line of the file where it has one."""
    return (*loaded.findings, *with_lines(later, loaded.text))
