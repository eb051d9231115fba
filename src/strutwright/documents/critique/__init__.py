"""The critic: the build book held against the rules for good instructions."""

from strutwright.documents.critique.critic import critique
from strutwright.documents.critique.finding import Finding

__all__ = ["Finding", "critique"]
