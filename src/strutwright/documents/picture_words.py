"""Words inside pictures, in the reader's language."""

from __future__ import annotations

from strutwright.documents.pictures.hub_card import HubWords
from strutwright.documents.reader import Reader

__all__ = ["hub_words", "scale_words"]


def hub_words(reader: Reader) -> HubWords:
    """Return the words of a hub card; what is filled in later stays as it is."""
    return HubWords(
        reader("hubs.outside"),
        reader("hubs.section"),
        reader("hubs.angles"),
        reader("hubs.numbered", number="{number}"),
        reader("hubs.below", labels="{labels}", angle="{angle}"),
        reader("hubs.above", labels="{labels}", angle="{angle}"),
    )


def scale_words(reader: Reader) -> tuple[str, str, str]:
    """Return the words at the foot of a view."""
    return (
        reader("frame.not_to_scale"),
        reader("views.scale", scale="{scale}"),
        reader("views.left_out", count="{count}"),
    )
