"""What fails first and what may hang, in plain sentences."""

from __future__ import annotations

from strutwright.design.design import Design
from strutwright.sentences import told
from strutwright.structure.first import FirstFailure, snow_depths
from strutwright.units import show_force, show_length, show_pressure, show_speed

__all__ = ["limit_sentences"]


def limit_sentences(design: Design) -> tuple[str, ...]:
    """Return what fails first as snow and wind grow, and what may hang, a sentence each."""
    found, why = design.judgement.limits, design.judgement.limits_unknown
    if found is None:
        shown = told(why, system=design.brief.project.show)
        return (f"What fails first and what may hang is not known: {shown}.",) if why else ()
    said = [_first_words(design, one) for one in found.first]
    hub, system = found.hung.weakest, design.brief.project.show
    force = show_force(float(found.hung.with_design_snow[hub]), system)
    alone = show_force(float(found.hung.with_dead_load.min()), system)
    said.append(
        f"The weakest hub ({hub}) carries {force} hung from it with the design snow lying; "
        f"without snow every hub carries at least {alone}."
    )
    return tuple(said)


def _first_words(design: Design, one: FirstFailure) -> str:
    kit, system = design.kit, design.brief.project.show
    label = kit.strut_types[kit.strut_type_of[one.strut]].label
    what = f"{one.code} of strut {one.strut} (type {label}) under {one.combination}"
    if one.factor is None:
        return f"More {one.action} is not what fails this kit first."
    if one.factor == 0.0:
        return f"Fails without any {one.action}: {what}."
    return f"Fails first at {_size(design, one, system)}: {what}."


def _size(design: Design, one: FirstFailure, system: str) -> str:
    found, site = design.judgement.limits, design.brief.site
    if one.action == "wind":
        basis = "" if site.basic_wind is None else f" ({site.basic_wind.basis})"
        speed = None if found is None else found.wind_speed
        return f"a basic wind of {show_speed(speed or 0.0, system)}{basis}"
    snow = (found.ground_snow if found else None) or 0.0
    depths = ", ".join(
        f"{show_length(depth, system)} at {density} kg/m3"
        for density, depth in snow_depths(snow).items()
    )
    return f"{show_pressure(snow, system)} of snow on the ground ({depths})"
