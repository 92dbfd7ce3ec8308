"""What stands overnight is told once, with who says so: on page, paper and terminal."""

import pytest
from starlette.testclient import TestClient

from stillroom.paper.sheets import day_sheet_rows
from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.whole_day import plan_the_day
from tests.cli.running import run
from tests.kitchens import day, stores
from tests.web.conftest import MemoryStore

SAID = "12 h in the salt water of the soak"
BY = "Guide 6, Quick fresh-pack dill pickles"
DILLS = day(
    Want(product="quick fresh-pack dill pickles", jars=8, jar="pint"),
    shelf=(Lot(name="food", what="pickling cucumbers", mass_kg=5.0), *stores()),
)


@pytest.fixture
def store() -> MemoryStore:
    return MemoryStore(write_day(DILLS))


def test_on_the_page(client: TestClient, shop):
    shop.plan_within(60)
    page = client.get("/day").text
    evening = page.partition('id="evening-before"')[2].partition("</section>")[0]
    assert SAID in evening
    assert BY in evening
    cautions = page.partition('class="more-cautions"')[2].partition("</details>")[0]
    assert "Vinegar of 5 % acidity" in cautions
    assert SAID not in cautions


def test_on_paper():
    rows = day_sheet_rows(plan_the_day(DILLS, seconds=0.5))
    (line,) = [line for line in rows["evening_before"] if SAID in line]
    assert BY in line
    assert not [c for c in rows["cautions"] if SAID in c["text"]]


def test_in_the_terminal(tmp_path):
    file = tmp_path / "dills.toml"
    file.write_text(write_day(DILLS), encoding="utf-8")
    said = " ".join(run("plan", str(file), "--seconds", "0.5").out.split())
    _, _, evening = said.partition("The evening before,")
    assert BY in evening.partition("Lids")[0].partition("lids")[0]
    assert said.count("12 h in the salt water of the soak: ") == 1
