"""The server of the tests: installed where that may be done, else what is missing."""

import subprocess

import pytest

from tests.records import postgres_server


def test_what_is_there_is_not_installed_again(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(postgres_server, "programs", lambda: "/usr/bin")
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: pytest.fail("ran"))
    assert postgres_server.install() == ""


def test_who_may_not_install_is_told_what_to_do(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(postgres_server, "programs", lambda: None)
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: pytest.fail("ran"))
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    assert "apt-get install postgresql" in postgres_server.install()
    monkeypatch.setattr("os.geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda _: None)
    assert "no apt-get here" in postgres_server.install()
    monkeypatch.delenv(postgres_server.URL, raising=False)
    assert "no initdb was found" in postgres_server.missing()


def test_a_failed_installation_is_told_with_its_reason(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(postgres_server, "programs", lambda: None)
    monkeypatch.setattr("os.geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda _: "/usr/bin/apt-get")

    def fails(words: tuple[str, ...], **_: object) -> object:
        code = 0 if "update" in words else 100
        return subprocess.CompletedProcess(words, code, "", "E: no network")

    monkeypatch.setattr(subprocess, "run", fails)
    assert "failed: E: no network" in postgres_server.install()
