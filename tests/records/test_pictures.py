"""Pictures beside the record: bounded, named by what is in them, never written over."""

import zlib
from pathlib import Path

import pytest

from stillroom.records.pictures import (
    LARGEST,
    Pictures,
    copy_pictures,
    folder_beside,
    is_name,
)
from stillroom.refusal import Refused, Unreadable

JPEG = b"\xff\xd8\xff\xe0 an invented picture"


def png(width: int, height: int, seed: int = 1) -> bytes:
    """A picture of noise, which no packing makes small."""
    state, rows = seed, bytearray()
    for _ in range(height):
        rows.append(0)
        for _ in range(width * 3 // 4 + 1):
            state = (1_103_515_245 * state + 12_345) & 0x7FFFFFFF
            rows += state.to_bytes(4, "big")
        del rows[-((width * 3 // 4 + 1) * 4 - width * 3) :]

    def chunk(kind: bytes, body: bytes) -> bytes:
        end = zlib.crc32(kind + body).to_bytes(4, "big")
        return len(body).to_bytes(4, "big") + kind + body + end

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + b"\x08\x02\0\0\0"
    return b"".join(
        (
            b"\x89PNG\r\n\x1a\n",
            chunk(b"IHDR", head),
            chunk(b"IDAT", zlib.compress(bytes(rows), 1)),
            chunk(b"IEND", b""),
        )
    )


@pytest.fixture
def record(tmp_path: Path) -> Path:
    return tmp_path / "stillroom.db"


def test_a_picture_is_kept_once_under_a_name_of_ours(record):
    pictures = Pictures(record)
    name = pictures.keep(JPEG)
    assert is_name(name)
    assert pictures.keep(JPEG) == name
    assert pictures.read(name) == (JPEG, "image/jpeg")
    assert [f.name for f in folder_beside(record).iterdir()] == [name]


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "no picture was chosen"),
        (b"<svg onload=alert(1)>", "no picture in JPEG"),
        (b"GIF89a", "no picture in JPEG"),
        (b"MZ\x90", "no picture in JPEG"),
        (JPEG + b"x" * LARGEST, "1,500,000 are kept"),
    ],
)
def test_what_is_none_or_too_large_leaves_nothing_behind(record, raw, said):
    with pytest.raises(Unreadable, match=said):
        Pictures(record).keep(raw)
    assert not folder_beside(record).exists()


@pytest.mark.parametrize(
    "name",
    ["../stillroom.db", "a.jpg", "", "0" * 32 + ".svg", "0" * 32 + ".jpg/..", "%2e"],
)
def test_no_other_file_is_read(record, name):
    record.write_bytes(b"secret")
    assert Pictures(record).read(name) is None


def test_a_picture_that_was_changed_on_the_disk_is_seen(record):
    pictures = Pictures(record)
    name = pictures.keep(JPEG)
    (folder_beside(record) / name).write_bytes(JPEG + b"!")
    with pytest.raises(Unreadable, match="changed or damaged"):
        pictures.read(name)


def test_a_record_on_a_server_has_no_folder_beside_it():
    with pytest.raises(Refused, match="kept on a server"):
        Pictures(None).keep(JPEG)
    assert Pictures(None).read("0" * 32 + ".jpg") is None


def test_a_disk_that_is_full_leaves_no_half_picture(record, monkeypatch):
    def full(_fd: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(Unreadable, match="No space left"):
        Pictures(record).keep(JPEG)
    assert list(folder_beside(record).iterdir()) == []


def test_a_copy_takes_what_is_not_there_yet(record, tmp_path):
    stick = tmp_path / "stick"
    assert copy_pictures(record, stick) == 0
    pictures = Pictures(record)
    pictures.keep(JPEG)
    (folder_beside(record) / "notes.txt").write_text("not ours")
    assert copy_pictures(record, stick) == 1
    pictures.keep(JPEG + b"2")
    assert copy_pictures(record, stick) == 1
    assert len(list((stick / "stillroom-pictures").iterdir())) == 2
