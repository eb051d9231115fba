"""Pictures of stages and steps, with their cameras and how much of the new parts they show."""

from __future__ import annotations

import math

import numpy as np

from strutwright.design import Design
from strutwright.documents.book.steps import stage_name
from strutwright.documents.pictures import TypeSign, hub_at
from strutwright.documents.pictures.seen import Scene, Sights, choose_cameras, turned
from strutwright.documents.pictures.step import StepView, step_picture
from strutwright.documents.reader import Reader
from strutwright.drawing import Camera, Sheet
from strutwright.sequence import Step
from strutwright.shape.apply import azimuth_of
from strutwright.values import Indices

__all__ = ["hub_picture", "shares_seen", "stage_cameras", "step_cameras", "step_pictures"]


def stage_cameras(design: Design, sights: Sights) -> list[Camera]:
    """Return the camera of each stage; `sights` are those of the shell."""
    stages = []
    standing = np.empty(0, dtype=np.int64)
    for stage in design.sequence.stages:
        scenes = []
        for step in stage.steps:
            scenes.append(Scene(standing, step.struts))
            standing = np.concatenate([standing, step.struts])
        stages.append(scenes)
    return choose_cameras(sights, stages, _front(design))


def step_cameras(
    design: Design, cameras: list[Camera], sights: Sights
) -> dict[int, tuple[Camera, Scene]]:
    """Return for each step its camera, within 30 degrees of its stage's, and what it shows."""
    out = {}
    standing = np.empty(0, dtype=np.int64)
    for stage, camera in zip(design.sequence.stages, cameras, strict=True):
        for step in stage.steps:
            scene = Scene(standing, step.struts)
            out[step.number] = (turned(sights, camera, scene), scene)
            standing = np.concatenate([standing, step.struts])
    return out


def shares_seen(design: Design) -> dict[int, tuple[float, float]]:
    """Return for each step which share of its new parts and of their ends its picture shows."""
    sights = Sights(design.shell)
    cameras = step_cameras(design, stage_cameras(design, sights), sights)
    return {
        number: (sights.share(camera, scene), sights.joints(camera, scene))
        for number, (camera, scene) in cameras.items()
    }


def step_pictures(design: Design, reader: Reader, types: tuple[TypeSign, ...]) -> dict[str, Sheet]:
    """Return the overview of each stage and the picture of each step."""
    sheets: dict[str, Sheet] = {}
    shell = design.shell
    standing = np.empty(0, dtype=np.int64)
    whole = np.arange(len(shell.struts))
    sights = Sights(shell)
    cameras = stage_cameras(design, sights)
    by_step = step_cameras(design, cameras, sights)
    stages = zip(design.sequence.stages, cameras, strict=True)
    for number, (stage, camera) in enumerate(stages, 1):
        fresh = _struts(stage.steps)
        rest = np.setdiff1d(whole, fresh)
        name = reader("steps.overview", number=number, name=stage_name(reader, stage))
        view = _view(design, reader, camera, Scene(rest, fresh), name)
        sheets[f"stage-{number}"] = step_picture(shell, design.kit.strut_type_of, types, view)
        framed = np.unique(shell.struts[np.concatenate([standing, fresh])])
        for step in stage.steps:
            near, scene = by_step[step.number]
            one = _step_view(design, reader, near, (scene, framed), step)
            sheets[f"step-{step.number}"] = step_picture(
                shell, design.kit.strut_type_of, types, one
            )
            if len(step.hubs):
                sheets[f"hub-of-{step.number}"] = hub_picture(design, reader, int(step.hubs[-1]))
            standing = np.concatenate([standing, step.struts])
    return sheets


def hub_picture(design: Design, reader: Reader, hub: int) -> Sheet:
    """Return the close-up of a hub, from outside, with its top side up."""
    note = reader("steps.hub_note", hub=hub)
    return hub_at(design.kit, hub, note, (reader("steps.up"), reader("steps.back")))


def _struts(steps: tuple[Step, ...]) -> Indices:
    return np.concatenate([np.empty(0, dtype=np.int64), *(step.struts for step in steps)])


def _view(design: Design, reader: Reader, camera: Camera, scene: Scene, name: str) -> StepView:
    alt = reader("steps.overview_alt", struts=len(scene.fresh))
    foot = reader("frame.not_to_scale")
    framed = np.arange(len(design.shell.hubs))
    words = (reader("steps.door"), reader("steps.north"), foot)
    return StepView(
        camera, scene, framed, (), (), (), _door(design), _north(design), words, name, alt,
        numbered=False,
    )  # fmt: skip


def _step_view(
    design: Design, reader: Reader, camera: Camera, shown: tuple[Scene, Indices], step: Step
) -> StepView:
    scene, framed = shown
    by_name = {prop.name: prop for prop in design.sequence.props}
    props = [by_name[name] for name in (*step.standing, *step.removed)]
    alt = reader(
        "steps.alt",
        number=step.number,
        struts=len(step.struts),
        hubs=len(step.hubs),
        standing=len(scene.standing),
    )
    foot = reader("steps.foot", number=step.number)
    return StepView(
        camera,
        scene,
        framed,
        tuple(step.hubs.tolist()),
        tuple((prop.name, prop.hub, prop.foot) for prop in props),
        (*step.props, *step.removed),
        _door(design),
        _north(design),
        (reader("steps.door"), reader("steps.north"), foot),
        foot,
        alt,
        near=_round(design, scene, step),
    )


def _round(design: Design, scene: Scene, step: Step) -> Indices:
    """Return the hubs of the new struts and the standing ones that they are joined to."""
    ends = design.shell.struts[scene.fresh]
    here = np.union1d(ends, step.hubs)
    if not len(scene.standing):
        return here
    other = design.shell.struts[scene.standing]
    beside = other[np.isin(other, here).any(axis=1)]
    return np.union1d(here, beside)


def _north(design: Design) -> float:
    return azimuth_of(0.0, design.brief.site.north)


def _door(design: Design) -> tuple[int, ...]:
    """Return the two lowest hubs of the first door's frame."""
    names = sorted(name for name in design.shell.groups if _is_door(name))
    if not names:
        return ()
    hubs = design.shell.groups[names[0]]
    order = np.argsort(design.shell.hubs[hubs, 2], kind="stable")
    return tuple(int(hub) for hub in hubs[order[:2]])


def _is_door(name: str) -> bool:
    return name.startswith("hubs.door") and name.endswith(".frame")


def _front(design: Design) -> float:
    """Return the azimuth from which the door is seen; the front left without one."""
    door = _door(design)
    if not door:
        return -math.pi / 3
    x, y = design.shell.hubs[list(door), :2].mean(axis=0)
    return math.atan2(float(y), float(x))
