"""A store with a passphrase: nothing of the patient in clear on the disk, and no way in without it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pipeline.record import sealing
from pipeline.record.errors import StoreError, Unreadable, WrongPassphrase
from pipeline.record.sealing import Locked
from pipeline.record.store import Store
from tests.record import examples
from tests.record.test_store import add, close_all

PATIENT_WORDS = [
    b"Invented patient",
    b"tibby",
    b"tibialis",
    b"ankle_dorsiflexion",
    b"4-",
    b"brisk there",
    b"no manoeuvre",
]


def on_disk(folder: Path) -> bytes:
    return b"".join(file.read_bytes() for file in folder.rglob("*") if file.is_file())


def fill(folder: Path, tmp_path: Path, passphrase: str | None) -> str:
    with Store.open(folder, passphrase) as store:
        exam = add(store, audio=examples.sound(tmp_path / "a.wav"), transcript=examples.transcript(), speaker="Dr Ada")
        revision = close_all(store, exam)
        store.edit(exam, "row-2", {"value": "3+"}, who="Ada", seen=revision, why="tibialis was meant")
    return exam


def test_no_patient_word_is_readable_on_disk(tmp_path: Path) -> None:
    fill(tmp_path / "open", tmp_path, None)
    fill(tmp_path / "sealed", tmp_path, "correct horse")
    clear, sealed = on_disk(tmp_path / "open"), on_disk(tmp_path / "sealed")
    for words in [*PATIENT_WORDS, b"RIFF"]:
        assert words in clear
        if words != b"4-":  # two characters occur by chance
            assert words not in sealed


def test_equal_texts_look_different_when_sealed(tmp_path: Path) -> None:
    with Store.open(tmp_path / "s", "correct horse") as store:
        add(store), add(store)
    with closing(sqlite3.connect(tmp_path / "s" / "store.sqlite3")) as connection:
        titles = [title for (title,) in connection.execute("SELECT title FROM examination")]
    assert len(set(titles)) == 2


@pytest.mark.parametrize("wrong", [None, "", "correct hose"])
def test_without_the_passphrase_the_store_stays_shut(tmp_path: Path, wrong: str | None) -> None:
    fill(tmp_path / "s", tmp_path, "correct horse")
    with pytest.raises(WrongPassphrase, match="passphrase"):
        Store.open(tmp_path / "s", wrong)
    with Store.open(tmp_path / "s", "correct horse") as store:
        assert store.verify(store.list()[0].id) == []


def test_a_passphrase_cannot_be_put_on_a_filled_open_store(tmp_path: Path) -> None:
    fill(tmp_path / "s", tmp_path, None)
    with pytest.raises(StoreError, match="without a passphrase"):
        Store.open(tmp_path / "s", "correct horse")


def test_damaged_sealed_text_and_sound_are_reported_not_shown(tmp_path: Path) -> None:
    exam = fill(tmp_path / "s", tmp_path, "correct horse")
    (sound,) = (tmp_path / "s" / "audio").iterdir()
    whole = sound.read_bytes()
    # The second sealed chunk takes the place of the first: each alone is genuine.
    stride = 65536 + 28
    sound.write_bytes(whole[stride : 2 * stride] + whole[:stride] + whole[2 * stride :])
    with Store.open(tmp_path / "s", "correct horse") as store:
        assert "damaged" in store.verify(exam)[0]
        with pytest.raises(Unreadable):
            store.clip(exam, 0, 1)
    sound.write_bytes(whole)
    with closing(sqlite3.connect(tmp_path / "s" / "store.sqlite3")) as connection:
        connection.execute("UPDATE finding SET data = 'AAAA' || substr(data, 5) WHERE id = 'row-2'")
        connection.commit()
    with Store.open(tmp_path / "s", "correct horse") as store:
        assert store.verify(exam) == ["an encrypted part of the store is damaged; restore it from a backup"]


def test_the_key_costs_what_the_documentation_says(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()  # the real cost
    sealer, salt, cost, wrapped = sealing.new_key("correct horse")
    assert cost == 2**17
    assert sealing.open_key("correct horse", salt, cost, wrapped).unseal(sealer.seal(b"words")) == b"words"
    with pytest.raises(Unreadable):
        Locked(b"k" * 32).unseal(sealer.seal(b"words"))
