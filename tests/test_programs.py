"""What the tests run beside Python is installed once, and what lacks is said."""

import pytest

from tests import debian, programs
from tests.records import postgres_server


def test_what_lacks_is_said_and_what_is_there_is_not(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv(postgres_server.URL, raising=False)
    monkeypatch.setattr(debian, "install", lambda package, _: f"no {package} here")
    said = "\n".join(programs.ready())
    for package in ("chromium", "poppler-utils", "postgresql"):
        assert f"no {package} here" in said
    monkeypatch.setattr(debian, "install", lambda *_: "")
    assert len(programs.ready()) == 1


def test_a_server_that_is_given_is_not_installed(monkeypatch: pytest.MonkeyPatch):
    asked: list[str] = []
    monkeypatch.setattr(debian, "install", lambda package, _: asked.append(package))
    monkeypatch.setenv(postgres_server.URL, "postgresql://postgres@127.0.0.1/postgres")
    programs.ready()
    assert asked == ["chromium", "poppler-utils"]


def test_a_package_without_its_program_is_said(monkeypatch: pytest.MonkeyPatch):
    class Done:
        returncode = 0

    monkeypatch.setattr("os.geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda _: "/usr/bin/apt-get")
    monkeypatch.setattr("subprocess.run", lambda *_, **__: Done())
    assert "not found" in debian.install("chromium", lambda: None)
