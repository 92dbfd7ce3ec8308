"""The days that are shipped to try things on."""

from click.testing import CliRunner

from stillroom.cli.main import cli
from stillroom.planning.day_file.dayfile import LIKE, day_like_text, read_day


def test_every_shipped_day_reads():
    for name in LIKE:
        assert read_day(day_like_text(name)).wants


def test_eighty_jars_is_what_it_says():
    day = read_day(day_like_text("eighty-jars"))
    kitchen = day.kitchen
    assert sum(want.jars for want in day.wants) == 80
    assert (len(day.people), len(kitchen.burners)) == (2, 3)
    assert (len(kitchen.pots), len(kitchen.canners)) == (2, 2)
    assert day.invented


def test_a_shipped_day_is_written_from_the_command_line(tmp_path):
    file = tmp_path / "day.toml"
    done = CliRunner().invoke(cli, ["day", "new", str(file), "--like", "eighty-jars"])
    assert done.exit_code == 0, done.output
    assert read_day(file) == read_day(day_like_text("eighty-jars"))
