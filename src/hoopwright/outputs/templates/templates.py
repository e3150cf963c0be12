"""The templates as one PDF."""

from __future__ import annotations

from hoopwright.build import Build
from hoopwright.core.findings import blocking
from hoopwright.outputs.saying import saying
from hoopwright.outputs.templates.cuts import cut_pages, rough_cuts
from hoopwright.outputs.templates.furniture import Sheet, furniture, sheet_of
from hoopwright.outputs.templates.marks import as_data
from hoopwright.outputs.templates.pages import Page, pages_of
from hoopwright.outputs.templates.pieces import pieces_of
from hoopwright.outputs.templates.typeset import source, typeset

NOTHING = "There is no template: this plan cannot be pieced yet"


def templates_pdf(build: Build) -> bytes:
    """Return the PDF with every template of the build at true size, on the project's paper.

    Lengths on paper are exact millimetres when it is printed at 100 %; equal builds give equal bytes.
    Raises OutputError when the pages cannot be set.
    """
    project = build.plan.project
    sheet = sheet_of(project.paper)
    pages = (*pages_of(pieces_of(build), sheet), *_rough(build, sheet)) or (Page(NOTHING, (), legend=False),)
    stop, say = _stop(build), saying(project)
    data = {
        "document": say(f"Templates: {project.title}"),
        "language": project.language,
        "width": sheet.width,
        "height": sheet.height,
        "pages": [
            [
                as_data(m)
                for m in (
                    *furniture(sheet, project.title, p.what, k, len(pages), legend=p.legend, stop=stop, say=say),
                    *p.marks,
                )
            ]
            for k, p in enumerate(pages, start=1)
        ],
    }
    return typeset(source("hoopwright.outputs.templates", "templates.typ"), data, {})


def _rough(build: Build, sheet: Sheet) -> tuple[Page, ...]:
    """Return the pages with the rough cuts, when the project wants them."""
    project = build.plan.project
    if project.piecing.cut == "templates":
        return ()
    cuts = [cut for panel in build.plan.panels for cut in rough_cuts(project, panel.patches)]
    return tuple(Page("Rough cuts", marks, legend=False) for marks in cut_pages(cuts, sheet, saying(project)))


def _stop(build: Build) -> str:
    """Return the warning of a build that must not be sewn, else nothing."""
    count = len(blocking(build.findings))
    if not count:
        return ""
    return f"Do not cut: the plan has {count} blocking finding{'' if count == 1 else 's'}."
