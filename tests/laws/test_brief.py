"""Whatever stands in a brief, it is read or refused with a mend; nothing else comes out."""

from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.brief import parse_brief, starter_brief
from strutwright.errors import InputError

STARTER = starter_brief()
PIECES = ["[", "]", "[[", '"', "'", "=", "#", "{", "}", ",", ".", "\n", "-", "0", "1e9", '"""', "x"]


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, len(STARTER)),
    st.integers(0, 60),
    st.one_of(st.sampled_from(PIECES), st.text(max_size=5)),
)
def test_a_spoilt_brief_is_read_or_refused_with_a_mend(at, cut, put):
    text = STARTER[:at] + put + STARTER[at + cut :]
    assert all(problem.mend and problem.where and problem.what for problem in problems_of(text))


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(
        ["size.width", "shape.division", "struts.bars", "site.temperature", "price.hour"]
    ),
    st.sampled_from(["nan", "-inf", "1e300", "-1", "0", '""', '"1 m"', "[]", "[[1]]", "{}", "true"])
    | st.integers(-(10**30), 10**30).map(str)
    | st.dates().map(str),
)
def test_any_value_of_toml_is_read_or_refused_with_a_mend(key, value):
    section, name = key.split(".")
    sections = {"project": 'name = "x"\n', "size": ""}
    sections[section] = sections.get(section, "") + f"{name} = {value}\n"
    text = "".join(f"[{title}]\n{body}" for title, body in sections.items())
    assert all(problem.mend and problem.where for problem in problems_of(text))


def problems_of(text):
    try:
        parse_brief(text)
    except InputError as refused:
        return refused.problems
    return ()
