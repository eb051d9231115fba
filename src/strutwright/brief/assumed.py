"""Notes on what a brief does not say and what stands in its place."""

from __future__ import annotations

from collections.abc import Iterator

from strutwright.brief.values import Brief
from strutwright.sentences import note
from strutwright.values import Note

__all__ = ["assumptions"]


def assumptions(brief: Brief, given: frozenset[str]) -> tuple[Note, ...]:
    """Return a note for each default that matters to a reader.

    Parameters
    ----------
    brief : Brief
        Defaults filled in; facings not yet.
    given : frozenset of str
        Keys that the file gives, as ``section.key``.
    """
    return (
        *_of_shape(brief, given),
        *_of_parts(brief, given),
        *_of_site(brief, given),
        *_of_people(brief, given),
    )


def _of_shape(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    if brief.shape and "shape.family" not in given:
        yield note("assumed-family", family=brief.shape.family)
    for index, opening in enumerate(brief.openings):
        if opening.facing is None and opening.kind != "vent":
            yield note("assumed-facing", index=index, kind=opening.kind)
    needs_north = any(opening.facing is not None for opening in brief.openings)
    if needs_north and "site.north" not in given:
        yield note("assumed-north")


def _of_parts(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    struts = brief.struts
    if "struts.stock" not in given:
        yield note("assumed-stock", stock=str(struts.stock))
    if not {"struts.kerf", "struts.end_trim", "struts.step"} <= given:
        yield note("assumed-saw", kerf=struts.kerf, trim=struts.end_trim, step=struts.step)
    if "hubs.connector" not in given:
        yield note("assumed-connector", connector=str(brief.hubs.connector))
    if brief.cover.material is None:
        yield note("assumed-no-cover")


def _of_site(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    site = brief.site
    if site.ground_snow is None:
        yield note("site-no-snow")
    if site.basic_wind is None:
        yield note("site-no-wind")
    if "site.standard" not in given:
        yield note("assumed-standard", standard=site.standard)
    if "site.exposure" not in given and site.basic_wind is not None:
        yield note("assumed-exposure", exposure=site.exposure)
    if "site.consequence" not in given:
        said = {"consequence": str(site.consequence), "use": brief.project.use}
        yield note("assumed-consequence", **said)
    if "site.base" not in given:
        yield note("assumed-base", base=site.base)
    if "site.temperature" not in given:
        cold, warm = site.temperature
        yield note("assumed-temperature", cold=cold, warm=warm)
    if "loads.hung" not in given:
        yield note("assumed-hung-load", hung=brief.loads.hung)
    if brief.climate.inside is not None and "climate.air_changes" not in given:
        yield note("assumed-air-changes", changes=brief.climate.air_changes)


def _of_people(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    crew, survey = brief.crew, brief.survey
    if not {"crew.people", "crew.reach", "crew.platform"} <= given:
        if crew.platform:
            said = {"reach": crew.reach, "platform": crew.platform}
            yield note("assumed-crew", people=crew.people, **said)
        else:
            yield note("assumed-crew.ground", people=crew.people, reach=crew.reach)
    if not {"survey.tape", "survey.cut", "survey.play"} <= given:
        yield note("assumed-tolerances", tape=survey.tape, cut=survey.cut, play=survey.play)
    if "delivery.carrier" not in given:
        yield note("assumed-carrier", carrier=brief.delivery.carrier)
