"""On which line each key stands."""

import tomllib

from strutwright.brief.lines import key_lines

TEXT = '''# a remark with [brackets] and "quotes"
top = 1
[project]
name = "a # b"   # x = 1
"odd key" = 'c'
[struts]
bars = [
  { length = "10 ft", price = 9.80 }, # one
  { length = "5 ft", quantity = 3 },
]
stock.material = "s235"
[[openings]]
kind = "door"
[[openings]]
kind = 'vent'
text = """
[not]
x = 1
"""
when = 1979-05-27T07:32:00Z
[site.basic_wind]
value="24 m/s"'''


def test_every_key_has_its_line():
    tomllib.loads(TEXT)
    lines = key_lines(TEXT)
    expected = {
        "top": 2,
        "project": 3,
        "project.name": 4,
        "project.odd key": 5,
        "struts": 6,
        "struts.bars": 7,
        "struts.bars[0].length": 8,
        "struts.bars[0].price": 8,
        "struts.bars[1]": 9,
        "struts.bars[1].quantity": 9,
        "struts.stock.material": 11,
        "openings": 12,
        "openings[0]": 12,
        "openings[0].kind": 13,
        "openings[1]": 14,
        "openings[1].kind": 15,
        "openings[1].text": 16,
        "openings[1].when": 20,
        "site.basic_wind": 21,
        "site.basic_wind.value": 22,
    }
    assert {key: lines[key] for key in expected} == expected
    assert "not" not in lines
    assert not any(key.endswith(".x") for key in lines)
