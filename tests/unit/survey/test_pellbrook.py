"""The storm-repair example: sixteen readings, two swapped struts."""

from pathlib import Path

import pytest

from strutwright.brief import read_brief
from strutwright.design import survey

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.mark.whole
def test_the_two_swapped_struts_of_the_repair_are_found():
    """Struts 84 and 86 were swapped, and errors drawn, when the readings were made up."""
    brief = read_brief(EXAMPLES / "pellbrook-repair.toml")
    result = survey(brief, EXAMPLES / "pellbrook-readings.csv")
    assert len(result.checked) == 16
    first = result.suspects[0]
    assert (first.hypothesis, first.struts) == ("swapped", (84, 86))
    assert first.probability > 0.9
    assert result.corrections == ()  # struts are put right before anything is pulled
