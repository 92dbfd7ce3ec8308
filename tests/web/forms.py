"""Fill in and send the forms of a page, as a browser without script does."""

import html
import re
from urllib.parse import urlencode

from starlette.testclient import TestClient

Fields = list[tuple[str, str]]


def forms(page: str, action: str) -> list[Fields]:
    """Hidden and typed fields of every form with this action."""
    found = []
    for part in page.split(f'action="{action}"')[1:]:
        inside = part.split("</form>")[0]
        found.append(
            [
                (name, html.unescape(value))
                for name, value in re.findall(
                    r'<input[^>]*? name="([^"]+)" value="([^"]*)"', inside
                )
            ]
        )
    return found


def send(client: TestClient, path: str, fields: Fields):
    """Post fields, in their order and as often as they are there."""
    return client.post(
        path,
        content=urlencode(fields),
        headers={"content-type": "application/x-www-form-urlencoded"},
    )


def begin_the_day(client: TestClient):
    """Begin the day by the plan that the stove shows."""
    shown = forms(client.get("/stove").text, "/stove/begin")
    return send(client, "/stove/begin", shown[0])


def words(page: str) -> str:
    """The text of a page, without its tags."""
    text = re.sub(r"<(script|style).*?</\1>", " ", page, flags=re.S)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).split())


def scripts_in(page: str) -> list[str]:
    """Return what begins a script in a page, but for the files that are ours."""
    ours = re.compile(r'<script type="module" src="/static/[a-z]+\.js">')
    return [
        tag for tag in re.findall(r"<script[^>]*>", page) if not ours.fullmatch(tag)
    ]
