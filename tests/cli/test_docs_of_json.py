"""docs/cli.md names what each command prints with ``--json``, in its own section."""

import re
import shlex
import time

import pytest

from tests.cli.running import run
from tests.cli.test_main import section_of

ASKED = [
    "book",
    "book pears",
    "book pumpkin",
    'process "crushed tomatoes" --jar pint --elevation 2150ft --folk-rule',
    "jelly-point --elevation 2150ft --thermometer 208.5F",
    'batch "plum jelly" --have "11 cups" --pot 12qt',
    "plan mine.toml --seconds 0.5",
    "plan mine.toml --seconds 0.5 --with people.Keeper.goes=09:30",
    "odds mine.toml --seconds 0.5",
    "why mine.toml --seconds 0.5",
    "what-if mine.toml --with kitchen.counter=8 --seconds 0.5",
    'replan mine.toml --now 08:25 --late "plum jelly 1/fill=10min" --seconds 0.5',
    'juice plums --for "plum jelly"',
    'measured "pear butter" "7 1/4 cups"',
    "recipe check own.toml --elevation 2150ft",
    "remake --jars 8 --filled 2026-11-01T15:10",
    "yields",
    "year peaches --persons 3 --eaten peaches=12",
    'trouble "lid clicks"',
    "explain",
    "explain jar",
    "thermometer --boil 208.5F --elevation 2150ft",
    "check",
    "backup",
    "export --out once-more",
    "import told --db again.db",
    "restore stillroom-backups/*.db --db back.db",
    "learned",
    "stock",
    "stock after",
    "stock soon",
    "stock first",
    "stock cover",
    "stock jars",
    'stock trace "plum jelly"',
    'stock steps "plum jelly"',
    'stock recall "plum jelly" --why "a bad lid"',
    "stock trace --from Wren",
]
"""Each is asked by itself, in a folder where little has happened yet."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A day to fill in, a recipe, and a record with one lot made of another."""
    here = tmp_path_factory.mktemp("farm")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(here)
        for told in (
            "day new mine.toml",
            "recipe new own.toml",
            'stock add "2 bags plum juice, 5 cups each, freezer, from Wren" --yes',
            'stock made "8 half-pints plum jelly, pantry" --on yesterday --load 1 '
            '--process 10 --elevation 2150ft --from "plum juice=5 cups" --yes',
            "backup",
            "export --out told",
        ):
            assert run(*shlex.split(told)).code == 0
    time.sleep(1.0)  # a backup is named by its second, and one of the cases makes one
    return here


def keys_of(printed: object) -> set[str]:
    """Every key at any depth."""
    if isinstance(printed, list):
        return set().union(*map(keys_of, printed))
    if not isinstance(printed, dict):
        return set()
    return set(printed).union(*map(keys_of, printed.values()))


@pytest.mark.parametrize("asked", ASKED)
def test_each_key_is_named_in_the_section_of_its_command(asked, folder, monkeypatch):
    monkeypatch.chdir(folder)
    words = shlex.split(asked)
    at = next((n for n, word in enumerate(words) if "*" in word), None)
    if at is not None:
        words[at] = str(next(iter(folder.glob(words[at]))))
    printed = run(*words, "--json")
    assert printed.code == 0, printed.err
    keys = keys_of(printed.json)
    assert keys
    assert keys - set(re.findall(r"\w+", section_of(words[0]))) == set()
