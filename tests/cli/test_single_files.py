"""Commands that write one file: a place that cannot be written is wrong input, not our fault."""

from pathlib import Path

import pytest

from strutwright.cli.main import run

STALL = str(Path(__file__).parents[2] / "examples" / "tallow-cross-stall.toml")


@pytest.mark.parametrize(
    "words",
    [["template", "42.4 mm", "--tilt", "20 deg", "--out"], ["labels", STALL, "--out"]],
)
def test_a_missing_folder_is_told(words, tmp_path, capsys):
    assert run([*words, str(tmp_path / "missing" / "a.pdf")]) == 2
    assert "out-not-writable" in capsys.readouterr().err
    assert run([*words, str(tmp_path / "a.pdf")]) == 0
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.whole
def test_a_quote_is_at_the_prices_of_its_list(tmp_path, capsys):
    records, out = str(tmp_path / "r.sqlite"), tmp_path / "quote.pdf"
    totals = []
    for hour in (30, 60):
        prices = tmp_path / "list.csv"
        prices.write_text(f"item,price\nhour,{hour}\nminutes: hub,10\nno such thing,1\n")
        assert run(["price", "set", "autumn", str(prices), "--records", records]) == 0
        words = ["quote", STALL, "--prices", "autumn", "--out", str(out), "--records", records]
        assert run(words) == 0
        told = capsys.readouterr().out
        assert "Not in this kit: no such thing" in told
        totals.append(float(told.strip().splitlines()[-1].split()[1].rstrip(":")))
    assert out.read_bytes().startswith(b"%PDF")
    assert totals[1] > 1.2 * totals[0] > 0
