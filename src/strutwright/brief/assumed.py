"""Notes on what a brief does not say and what stands in its place."""

from __future__ import annotations

from collections.abc import Iterator

from strutwright.brief.values import Brief
from strutwright.units import show_force, show_length, show_temperature
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
        yield Note("assumed-family", f"No family is given: a {brief.shape.family} is built.")
    for index, opening in enumerate(brief.openings):
        if opening.facing is None and opening.kind != "vent":
            text = f"The {opening.kind} openings[{index}] has no facing: it faces south."
            yield Note("assumed-facing", text)
    needs_north = any(opening.facing is not None for opening in brief.openings)
    if needs_north and "site.north" not in given:
        text = "No north is given: the length lies west to east, north to its left."
        yield Note("assumed-north", text)


def _of_parts(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    show = brief.project.show
    struts = brief.struts
    if "struts.stock" not in given:
        yield Note("assumed-stock", f"No stock is given: struts are of {struts.stock}.")
    if not {"struts.kerf", "struts.end_trim", "struts.step"} <= given:
        kerf, trim = show_length(struts.kerf, show), show_length(struts.end_trim, show)
        text = (
            f"The saw is not fully described: kerf {kerf}, end trim {trim},"
            f" step {show_length(struts.step, show, step=struts.step)}."
        )
        yield Note("assumed-saw", text)
    if "hubs.connector" not in given:
        text = f"No connector is given: hubs are of kind {brief.hubs.connector}."
        yield Note("assumed-connector", text)
    if brief.cover.material is None:
        yield Note("assumed-no-cover", "No cover is given: the frame is bare.")


def _of_site(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    show, site = brief.project.show, brief.site
    if site.ground_snow is None:
        yield Note("site-no-snow", "No ground snow is given: nothing is checked against snow.")
    if site.basic_wind is None:
        yield Note("site-no-wind", "No basic wind is given: nothing is checked against wind.")
    if "site.standard" not in given:
        yield Note(
            "assumed-standard", f"No standard is given: loads and checks by {site.standard}."
        )
    if "site.exposure" not in given and site.basic_wind is not None:
        yield Note("assumed-exposure", f"No exposure is given: {site.exposure} is used for wind.")
    if "site.consequence" not in given:
        text = f"No consequence is given: {site.consequence} is used for a {brief.project.use}."
        yield Note("assumed-consequence", text)
    if "site.base" not in given:
        yield Note("assumed-base", f"No base is given: it is {site.base}.")
    if "site.temperature" not in given:
        cold, warm = (show_temperature(degrees, show) for degrees in site.temperature)
        text = f"No temperature of the frame is given: {cold} to {warm} is used."
        yield Note("assumed-temperature", text)
    if "loads.hung" not in given:
        hung = show_force(brief.loads.hung, show)
        yield Note("assumed-hung-load", f"No hung load is given: {hung} at any one hub.")
    if brief.climate.inside is not None and "climate.air_changes" not in given:
        text = f"No air changes are given: {brief.climate.air_changes:g} per hour."
        yield Note("assumed-air-changes", text)


def _of_people(brief: Brief, given: frozenset[str]) -> Iterator[Note]:
    show, crew, survey = brief.project.show, brief.crew, brief.survey
    if not {"crew.people", "crew.reach", "crew.platform"} <= given:
        platform = show_length(crew.platform, show) if crew.platform else "none"
        text = (
            f"The crew is not fully described: {crew.people} people,"
            f" reach {show_length(crew.reach, show)}, platform {platform}."
        )
        yield Note("assumed-crew", text)
    if not {"survey.tape", "survey.cut", "survey.play"} <= given:
        tape, cut, play = (show_length(x, show) for x in (survey.tape, survey.cut, survey.play))
        text = f"Standard deviations not all given: tape {tape}, sawing {cut}, hub play {play}."
        yield Note("assumed-tolerances", text)
    if "delivery.carrier" not in given:
        text = f"No carrier is given: parcels are packed for {brief.delivery.carrier}."
        yield Note("assumed-carrier", text)
