"""The build sequence."""

from strutwright.sequence.plan import BuildSequence, Stage, Step, by_courses

__all__ = ["BuildSequence", "Stage", "Step", "by_courses"]
