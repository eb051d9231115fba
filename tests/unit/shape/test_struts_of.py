"""Edges told apart by one number each are those told apart row by row."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from strutwright.shape.topology import struts_of

HUB = st.integers(0, 60)


@given(st.lists(st.tuples(HUB, HUB, HUB), min_size=1, max_size=40))
def test_edges_are_those_of_a_sort_by_rows(faces):
    faces = np.array(faces)
    rows = {tuple(sorted((face[k], face[k - 1]))) for face in faces.tolist() for k in range(3)}
    assert struts_of(faces).tolist() == [list(row) for row in sorted(rows)]
