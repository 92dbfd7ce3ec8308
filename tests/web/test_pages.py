"""The pages without a browser: what they say, keep and refuse."""

import re
from dataclasses import replace

import pytest
from jinja2 import Environment
from planning.told_why import planned_or_told_why
from starlette.testclient import TestClient

from stillroom.book.processes import process_for
from stillroom.paper.sheets import Page, day_sheet_pdf
from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.sentence import first_sentence
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.refusal import Fault, Refusal, Unreadable
from stillroom.web.app import build_app
from stillroom.web.pages import HERE, templates
from stillroom.web.planner import Planned
from stillroom.web.shop import Shop
from stillroom.web.wording import quarts


class Store:
    def __init__(self, text: str | None) -> None:
        self.text = text

    def current(self) -> str | None:
        return self.text

    def save(self, text: str, why: str, **more: object) -> None:
        self.text = text


def pages_of(planned: Planned, text: str = "a day\n") -> TestClient:
    def planner(text: str, *, seconds: float) -> Planned:
        return planned

    shop = Shop(Store(text), seconds=0.1, planner=planner)
    assert shop.plan_within(10) is planned
    return TestClient(build_app(shop), base_url="http://localhost")


@pytest.fixture
def plan(demo_plan: Planned) -> DayPlan:
    assert isinstance(demo_plan, DayPlan)
    return demo_plan


def plain(html: str) -> str:
    """Words of a page, one space between."""
    text = re.sub(r"<[^>]+>", " ", html)
    for entity, letter in (("&#39;", "'"), ("&amp;", "&"), ("&#34;", '"')):
        text = text.replace(entity, letter)
    return re.sub(r"[\s\u00a0]+", " ", text)


def test_what_templates_may_call_is_called_by_one() -> None:
    written = "".join(
        file.read_text("utf-8") for file in (HERE / "templates").rglob("*.html")
    )
    ours = templates().filters.keys() - Environment().filters.keys()
    assert len(ours) > 15
    for name in ours:
        assert re.search(rf"\| *{name}\b", written), name
    for name in templates().globals.keys() - Environment().globals.keys():
        assert re.search(rf"\b{name}\(", written), name


def test_the_root_leads_to_the_day(client: TestClient) -> None:
    answer = client.get("/", follow_redirects=False)
    assert answer.headers["location"] == "/day"


def test_no_day_yet_leads_to_the_kitchen() -> None:
    shop = Shop(Store(None))
    client = TestClient(build_app(shop), base_url="http://localhost")
    assert "No day is written yet" in client.get("/day").text
    assert 'name="kitchen.pots[1]:volume"' in client.get("/kitchen").text


def test_a_day_that_is_still_worked_out_looks_again_by_itself() -> None:
    import threading

    never = threading.Event()

    def planner(text: str, *, seconds: float) -> Planned:
        never.wait(20)
        return Refusal("no", "yes", "me")

    shop = Shop(Store("a day\n"), planner=planner)
    client = TestClient(build_app(shop), base_url="http://localhost")
    answer = client.get("/day")
    never.set()
    assert '<meta http-equiv="refresh" content="1">' in answer.text
    assert "Working the day out" in answer.text


def test_the_day_says_first_what_matters(plan: DayPlan) -> None:
    text = plain(pages_of(plan).get("/day").text)
    assert first_sentence(plan) in text
    assert f"Jars {sum(b.jars for b in plan.batches)} " in text
    for purchase in plan.shopping:
        assert purchase.buy in text
    for unmet in plan.unmet:
        assert unmet.instead in text
    for left in plan.leftovers:
        assert left.text in text
    assert plan.afterwards
    for after in plan.afterwards:
        assert after.later.text in text
    for caution in plan.cautions:
        assert caution.text[1:] in text  # the first letter may be a capital there


@pytest.mark.parametrize(
    ("query", "paper"),
    [("", "us-letter"), ("?paper=a4", "a4"), ("?paper=<script>", "us-letter")],
)
def test_the_day_comes_on_the_paper_that_was_asked_for(
    plan: DayPlan, query: str, paper: Page
) -> None:
    answer = pages_of(plan).get(f"/day/sheet.pdf{query}")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert answer.content == day_sheet_pdf(plan, page=paper)


def test_a_day_without_a_plan_has_no_paper() -> None:
    client = pages_of(Refusal("no", "yes", "me"))
    answer = client.get("/day/sheet.pdf", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/day")


def test_a_proven_day_says_so(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    proven = replace(plan.answer, proven=True, lower_bound_min=plan.answer.finish_min)
    text = plain(pages_of(replace(plan, answer=proven)).get("/day").text)
    assert "can end sooner" in text
    assert "proven" in text
    assert "not known to be reachable" not in text


def test_a_day_without_a_plan_says_which_rules_clash(plan: DayPlan) -> None:
    no_plan = NoPlan(
        clashes=("nobody may lift hot jars", "there is one canner"),
        minimal=True,
        would_help=("someone who may lift",),
    )
    text = plain(pages_of(replace(plan, answer=no_plan)).get("/day").text)
    for words in (*no_plan.clashes, *no_plan.would_help, "Without any one of these"):
        assert words[1:] in text
    assert "What would be left if all of it were made" in text
    assert "Left when the day is done" not in text


def test_why_no_way_out_was_found_is_said_on_the_page_as_in_the_terminal(
    plan: DayPlan,
) -> None:
    none = NoPlan(
        clashes=("there is one canner",),
        minimal=True,
        would_help=("a larger canner",),
        why_fewer="the time was over before a way was found",
    )
    text = plain(pages_of(replace(plan, answer=none)).get("/day").text)
    helps = " ".join(f"{said[0].upper()}{said[1:]}" for said in none.other_helps)
    assert f"What may help {helps}" in text
    # of one reason there is no other that could be taken away
    assert "Without any one of these" not in text


def test_a_day_without_a_plan_shows_one_of_another_day_and_says_so(
    plan: DayPlan,
) -> None:
    assert plan.problem is not None
    none = planned_or_told_why(replace(plan.problem, horizon_min=300), seconds=0.0)
    assert isinstance(none, NoPlan)
    assert none.plan_if is not None
    answers = pages_of(replace(plan, answer=none))
    text = plain(answers.get("/day").text)
    assert "A plan for another day than this" in text
    assert "if the day could run on until" in text
    assert text.count("It is no plan of this day: do not begin it as it stands.") == 2


def test_a_refused_day_and_an_unreadable_one_are_pages() -> None:
    refused = pages_of(Refusal("no height is known", "give it", "the tables"))
    assert "no height is known" in refused.get("/day").text
    faulty = pages_of(Unreadable(Fault("it is empty", key="wants", line=3)))
    assert 'href="/kitchen#fault-wants">The wants</a>: it is empty' in (
        faulty.get("/day").text
    )
    assert refused.get("/batch/a", follow_redirects=False).status_code == 303


def test_each_batch_page_has_recipe_shelf_process_and_steps(plan: DayPlan) -> None:
    client = pages_of(plan)
    for batch in plan.batches:
        text = plain(client.get(f"/batch/{batch.id}").text)
        for part in batch.parts:
            assert part.name in text
        for draw in batch.draws:
            assert draw.text in text
        assert batch.process.source in text
        assert f"{batch.process.minutes} min" in text
        assert batch.expected.basis in text
        assert "Not in it: own hours, heat," in text
        for caution in batch.cautions:
            assert caution.source in text


def test_a_batch_page_has_the_size_of_the_pot_it_is_planned_in(plan: DayPlan) -> None:
    """It showed the 12 quarts that a batch was sized by, "in stockpot" of 16."""
    assert isinstance(plan.answer, Answer)
    by_name = {pot.name: pot.volume_m3 for pot in plan.day.kitchen.pots}
    sized_small = tuple(
        replace(batch, checked=replace(batch.checked, pot_given_m3=0.001))
        for batch in plan.batches
    )
    client = pages_of(replace(plan, batches=sized_small))
    for batch in sized_small:
        used = {s.pot for s in plan.answer.timetable.steps if s.batch == batch.id}
        (pot,) = used - {None, ""}
        text = plain(client.get(f"/batch/{batch.id}").text)
        assert f"in {pot}" in text
        assert f"has {plain(quarts(by_name[pot]))}" in text


def test_each_load_page_has_its_jars_process_and_clock(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    client = pages_of(plan)
    for load in plan.answer.timetable.loads:
        text = plain(client.get(f"/load/{load.id}").text)
        for batch, count in load.jars:
            assert re.search(rf"{count} \S+ of {batch}", text)
            assert plan.batch(batch).process.source in text
            assert plan.batch(batch).process.band_ft in text
        assert f"{load.process_min} min from a full boil" in text
        assert load.canner in text
        assert load.lowered_by in text
        assert load.lifted_by in text


def test_the_process_form_begins_with_the_height_of_the_kitchen(
    client: TestClient,
) -> None:
    page = client.get("/book/process").text
    assert 'name="elevation" value="2150 ft"' in page
    assert "216.0" in page  # jellying point there, °F


def test_a_process_comes_with_its_source(client: TestClient) -> None:
    process = process_for("plum jelly", jar="half-pint", elevation_ft=655 / 0.3048)
    assert not isinstance(process, Refusal)
    query = {"product": "plum jelly", "jar": "half-pint", "elevation": "655 m"}
    text = plain(client.get("/book/process", params=query).text)
    assert f"{process.minutes} min" in text
    assert process.source in text
    assert process.band_ft in text
    assert "looked up: its text was seen" in text


def test_the_keepers_own_margin_is_shown_as_hers(client: TestClient) -> None:
    query = {"product": "plum jelly", "jar": "half-pint", "elevation": "0 ft"}
    text = plain(client.get("/book/process", params=query | {"margin": "7"}).text)
    assert "+ 7 min" in text
    assert "the margin is hers, not published" in text


@pytest.mark.parametrize(
    ("query", "status", "words"),
    [
        ({"product": "plum jelly", "jar": "quart"}, 422, "in quart jars is published"),
        ({"product": "pumpkin butter"}, 422, "Instead:"),
        ({"product": "plum jelly", "canner": "oven"}, 422, "Instead:"),
        ({"product": "plum jelly", "elevation": "2150"}, 400, "2150"),
        ({"product": "plum jelly", "elevation": "12000 ft"}, 400, "is outside -500"),
        ({"product": "plum jelly", "margin": "-3"}, 400, "nothing shortens it"),
        ({"product": "plum jelly", "margin": "9" * 50}, 400, "is no margin"),
        ({"product": ""}, 400, "Name what is in the jars"),
        ({"product": "<b>x</b>"}, 422, "&lt;b&gt;x&lt;/b&gt;"),
    ],
)
def test_what_cannot_be_answered_says_what_instead(
    client: TestClient, query: dict[str, str], status: int, words: str
) -> None:
    answer = client.get("/book/process", params=query)
    assert answer.status_code == status
    assert words in answer.text


def test_the_book_shows_every_recipe_with_its_source(client: TestClient) -> None:
    from stillroom.book.procedures import procedures
    from stillroom.book.processes import processes

    text = plain(client.get("/book").text)
    for procedure in procedures():
        assert procedure.title in text
        assert procedure.source in text
    for row in processes():
        assert row.source in text


def test_a_recipe_that_is_refused_stands_for_the_record_only(
    client: TestClient,
) -> None:
    from stillroom.book.procedures import answered_procedures, procedures

    refused = [p for p in procedures() if p.refuse]
    assert refused
    html = client.get("/book").text
    assert f"{len(procedures()) - len(refused)} tested recipes" in plain(html)
    cooked, kept = html.split('id="for-the-record"')
    cooked, kept = plain(cooked), plain(kept.split("</section>")[0])
    assert kept.count("No:") == len(refused)
    for p in refused:
        assert p.refuse[1:] in kept
        assert p.refuse[1:] not in cooked
    for p in answered_procedures():
        assert p.title in cooked
    for path in ("process", "batch", "juice"):
        offered = client.get(f"/book/{path}").text
        assert 'value="plum jelly"' in offered
        assert "elderberry jelly" not in offered


def form_of(html: str) -> list[tuple[str, str]]:
    """What a browser would send of the kitchen form, ticks and choices as drawn."""
    import html as entities

    sent = []
    for tag in re.findall(r"<input[^>]*>", html, flags=re.S):
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        ticked = " checked" in tag
        if at.get("type") == "checkbox" and not ticked:
            continue
        sent.append((at["name"], entities.unescape(at.get("value", ""))))
    for name, options in re.findall(
        r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', html, flags=re.S
    ):
        chosen = re.search(r'value="([^"]*)" selected', options)
        first = re.search(r'value="([^"]*)"', options)
        found = chosen or first
        assert found is not None
        sent.append((name, entities.unescape(found[1])))
    return sent


def changed(sent: list[tuple[str, str]], **changes: str) -> dict[str, list[str] | str]:
    body: dict[str, list[str] | str] = {}
    for name, value in sent:
        found = body.setdefault(name, [])
        assert isinstance(found, list)
        found.append(value)
    return body | changes


def test_the_form_sent_back_untouched_saves_nothing_new(
    client: TestClient, store: object
) -> None:
    sent = form_of(client.get("/kitchen").text)
    answer = client.post(
        "/kitchen", data=changed(sent, do="save"), follow_redirects=False
    )
    assert answer.status_code == 303
    assert len(store.revisions) == 1  # type: ignore[attr-defined]


def test_a_change_is_a_new_revision_that_reads_back(
    client: TestClient, store: object
) -> None:
    sent = form_of(client.get("/kitchen").text)
    body = changed(sent, do="save", **{"kitchen.pots[1]:volume": "2 1/2 gal"})
    assert client.post("/kitchen", data=body, follow_redirects=False).status_code == 303
    (_, (text, why)) = store.revisions  # type: ignore[attr-defined]
    assert why == "kitchen form"
    assert '"2 1/2 gal"' in text
    day = read_day(text)
    assert day.kitchen.pots[0].volume_m3 == pytest.approx(2.5 * 3.785411784e-3)


def test_faults_stand_beside_their_fields_and_nothing_typed_is_lost(
    client: TestClient, store: object
) -> None:
    sent = form_of(client.get("/kitchen").text)
    body = changed(
        sent,
        do="save",
        **{
            "kitchen.pots[1]:volume": "two & <buckets>",
            "day:name": "",
            "wants[1]:jars": "many",
            "people[1]:name": "Wren",
        },
    )
    answer = client.post("/kitchen", data=body)
    assert answer.status_code == 400
    assert len(store.revisions) == 1  # type: ignore[attr-defined]
    for name, value in (
        ("kitchen.pots[1]:volume", "two &amp; &lt;buckets&gt;"),
        ("wants[1]:jars", "many"),
        ("people[1]:name", "Wren"),
    ):
        assert re.search(
            rf'name="{re.escape(name)}" value="{re.escape(value)}"', answer.text
        )
    for key in ("kitchen.pots[1].volume", "day.name", "wants[1].jars"):
        assert f'id="fault-{key}"' in answer.text
        assert f'aria-describedby="fault-{key}"' in answer.text
    assert "3 things have to be mended" in answer.text
    assert "This is not filled in yet" in answer.text
    assert "written without quotes" not in answer.text  # words for files only


def test_a_day_changed_elsewhere_is_not_overwritten_unseen(
    client: TestClient, shop: Shop, store: object
) -> None:
    sent = form_of(client.get("/kitchen").text)
    other = new_day_text().replace('name = "Keeper"', 'name = "Aunt"')
    shop.save_day(other, "another window", over=shop.day_text())
    body = changed(sent, do="save", **{"people[1]:name": "Wren"})
    answer = client.post("/kitchen", data=body)
    assert answer.status_code == 409
    assert "Wren" in answer.text
    assert shop.day_text() == other
    again = changed(form_of(answer.text), do="save")
    assert (
        client.post("/kitchen", data=again, follow_redirects=False).status_code == 303
    )
    assert '"Wren"' in shop.day_text()


def drawn_from(client: TestClient) -> str:
    """What the file page says of the day file that it shows."""
    page = client.get("/kitchen/file").text
    (said,) = set(re.findall(r'name="drawn-from" value="([^"]+)"', page))
    return str(said)


@pytest.mark.parametrize("how", ["typed", "brought"])
def test_a_file_saved_elsewhere_meanwhile_is_not_overwritten_unseen(
    client: TestClient, shop: Shop, how: str
) -> None:
    seen = drawn_from(client)
    other = new_day_text().replace('name = "Keeper"', 'name = "Aunt"')
    hers = new_day_text().replace('name = "Keeper"', 'name = "Wren"')
    shop.save_day(other, "another window", over=shop.day_text())

    def send(seen: str) -> tuple[int, str]:
        sent = {"text": hers} if how == "typed" else {}
        answer = client.post(
            "/kitchen/file",
            data={**sent, "drawn-from": seen},
            files={"file": ("day.toml", hers)} if how == "brought" else None,
            follow_redirects=False,
        )
        return answer.status_code, answer.text

    status, page = send(seen)
    assert status == 409
    assert "changed elsewhere while you wrote" in page
    assert "Wren" in page
    assert shop.day_text() == other
    assert send(drawn_from(client))[0] == 303  # the other was there to be seen
    assert shop.day_text() == hers


@pytest.mark.parametrize("first", ["add kitchen.burners", "save", "remove wants[9]"])
def test_a_key_or_a_slip_between_does_not_hide_what_was_saved_elsewhere(
    client: TestClient, shop: Shop, first: str
) -> None:
    """After "another burner", or a slip, hers was saved over the other unseen."""
    drawn = form_of(client.get("/kitchen").text)
    slip = {"kitchen:elevation": "abc"} if first == "save" else {}  # mended below
    other = new_day_text().replace('name = "Keeper"', 'name = "Aunt"')
    shop.save_day(other, "another window", over=shop.day_text())
    answer = client.post("/kitchen", data=changed(drawn, do=first, **slip))
    assert answer.status_code == (400 if first == "save" else 200)
    mended = changed(form_of(answer.text), do="save", **{"kitchen:elevation": "900 ft"})
    answer = client.post("/kitchen", data=mended, follow_redirects=False)
    assert answer.status_code == 409
    assert "changed elsewhere while you typed" in answer.text
    assert shop.day_text() == other
    again = changed(form_of(answer.text), do="save")  # told, she may put hers on top
    assert (
        client.post("/kitchen", data=again, follow_redirects=False).status_code == 303
    )
    assert '"900 ft"' in shop.day_text()


def test_a_slip_in_the_file_does_not_hide_what_was_saved_elsewhere(
    client: TestClient, shop: Shop
) -> None:
    seen = drawn_from(client)
    other = new_day_text().replace('name = "Keeper"', 'name = "Aunt"')
    shop.save_day(other, "another window", over=shop.day_text())
    faulty = new_day_text().replace('power = "3 kW" ', 'power = "3 cats" ')
    sent = {"text": faulty, "drawn-from": seen}
    answer = client.post("/kitchen/file", data=sent)
    assert answer.status_code == 400
    marks = set(re.findall(r'name="drawn-from" value="([^"]+)"', answer.text))
    assert marks == {seen}


def test_the_file_page_saves_keeps_and_gives(client: TestClient, shop: Shop) -> None:
    text = demo_day_text()
    windows = text.replace("\n", "\r\n")  # as browsers send a text field
    answer = client.post(
        "/kitchen/file",
        data={"text": windows, "drawn-from": drawn_from(client)},
        follow_redirects=False,
    )
    assert answer.status_code == 303
    assert shop.day_text() == text
    given = client.get("/kitchen/day.toml")
    assert given.text == text
    assert "attachment" in given.headers["content-disposition"]


def test_a_faulty_file_is_kept_on_the_page_with_its_lines(
    client: TestClient, store: object
) -> None:
    faulty = new_day_text().replace('power = "3 kW" ', 'power = "3 cats" ')
    answer = client.post("/kitchen/file", data={"text": faulty})
    assert answer.status_code == 400
    assert len(store.revisions) == 1  # type: ignore[attr-defined]
    line = next(
        number
        for number, words in enumerate(faulty.split("\n"), start=1)
        if "3 cats" in words
    )
    assert f"<b>Line {line}</b>" in answer.text
    assert answer.text.count("3 cats") > 2  # the fault, its line, and the text itself


def test_a_file_can_be_brought(client: TestClient, shop: Shop) -> None:
    def bring(content: bytes) -> int:
        return client.post(
            "/kitchen/file",
            data={"drawn-from": drawn_from(client)},
            files={"file": ("day.toml", content)},
            follow_redirects=False,
        ).status_code

    assert bring(b"\xff\xfe\x00") == 400
    assert bring(b"/etc/passwd") == 400
    assert shop.day_text() == new_day_text()
    assert bring(demo_day_text().encode("utf-8-sig")) == 303
    assert shop.day_text() == demo_day_text()


def test_no_page_has_a_style_or_script_of_its_own(plan: DayPlan) -> None:
    """The browser would refuse it; see the gate's policy."""
    client = pages_of(plan, demo_day_text())
    for path in ("/day", "/kitchen", "/kitchen/file", "/book", "/book/process",
                 f"/batch/{plan.batches[0].id}", "/nothing"):  # fmt: skip
        html = client.get(path).text
        assert not re.search(r"\sstyle=|<style|\son\w+=|<script(?![^>]*src=)", html)
        assert re.search(r"<h1[ >]", html)


def test_the_plan_by_hand_stands_beside_step_by_step(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    html = pages_of(plan).get("/day").text
    section = html[html.index('id="by-hand"') :]
    section = section[: section.index("</section>")]
    assert "Only to compare with" in section
    assert section.count("<tr>") > len(plan.answer.by_hand.steps) // 2
    assert "<details" in section
    assert " open" not in section


def test_a_recipe_of_the_book_is_found_by_a_word_of_it(client: TestClient) -> None:
    from stillroom.book.procedures import answered_procedures

    def found(words: str) -> tuple[str, set[str]]:
        html = client.get("/book", params={"find": words}).text
        text = plain(html)
        return text, {p.title for p in answered_procedures() if p.title in text}

    text, titles = found("Figs")
    assert "Fig jam, liquid pectin" in titles
    assert "Plum jelly" not in text
    assert titles == {
        p.title
        for p in answered_procedures()
        if any("fig" in one.name for one in p.ingredients)
    }
    both, _ = found("plum lemon")
    assert "Fig jam" not in both
    nothing, none = found("moon cheese")
    assert not none
    assert "Neither a recipe nor a table has moon cheese" in nothing
    assert "look its process up" in nothing
    _, all_ = found("")
    assert len(all_) == len({p.title for p in answered_procedures()})
    hostile = client.get("/book", params={"find": "<script>alert(1)</script>" * 9})
    assert hostile.status_code == 200
    assert "<script>alert" not in hostile.text
