"""All load cases of a shell on its site."""

from __future__ import annotations

from strutwright.loads.case import Loads
from strutwright.loads.form import form_of
from strutwright.loads.hung import crop_case, erection_case, hung_case, hung_hubs
from strutwright.loads.site import Door, LoadSite
from strutwright.loads.snow import snow_loads
from strutwright.loads.weight import Masses, cover_weight, frame_weight
from strutwright.loads.wind import bare_frame_loads, wind_loads
from strutwright.sentences import note
from strutwright.shape import Shell

__all__ = ["load_cases"]


def load_cases(
    shell: Shell,
    masses: Masses,
    site: LoadSite,
    *,
    hung: float = 445.0,
    crop: float = 0.0,
    doors: tuple[Door, ...] = (),
) -> Loads:
    """Return every load case: weight, crop, hung, snow, wind, bare frame, ladder.

    Parameters
    ----------
    shell : Shell
    masses : Masses
        Of struts, hubs and cover.
    site : LoadSite
    hung : float, N
        At any one hub; the crown and one hub of each course stand in the cases.
    crop : float, Pa
        Hung evenly, per area of floor.
    doors : tuple of Door
        Each is also tried open.

    Returns
    -------
    Loads
        Cases, notes, and what could not be worked out.
    """
    form = form_of(shell, site.riser)
    cases = [frame_weight(shell, masses)]
    notes = [note("loads-cover-handed")]
    notes.append(note("loads-left-out"))
    if masses.cover:
        cases.append(cover_weight(shell, form, masses.cover))
    if crop:
        cases.append(crop_case(shell, form, crop))
    if hung:
        cases.extend(hung_case(shell, int(hub), hung) for hub in hung_hubs(shell))
        notes.append(note("hung-hubs"))
    cases.append(erection_case(shell))
    if masses.film_stiffness is not None:
        notes.append(note("film-pull"))
    if masses.cover or masses.film_stiffness is not None:
        covered = snow_loads(shell, form, site, masses.film_stiffness)
        covered += wind_loads(shell, form, site, doors, masses.film_stiffness)
    else:
        covered = Loads((), (note("cover-none"),))
    return (
        Loads(tuple(cases), tuple(notes))
        + covered
        + bare_frame_loads(shell, form, site, masses.diameters)
    )
