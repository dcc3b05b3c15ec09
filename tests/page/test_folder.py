"""Plans of a folder: found by name alone, saved whole, and never over somebody else's change."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from advisor.errors import InputError
from advisor.page.folder import ChangedMeanwhileError, Folder

ROOT = Path(__file__).parents[2]


@pytest.fixture
def place(tmp_path: Path) -> Path:
    (tmp_path / "one.yaml").write_text("title: One\n", encoding="utf-8")
    (tmp_path / "note.txt").write_text("no plan", encoding="utf-8")
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "two.yaml").write_text("title: Two\n", encoding="utf-8")
    return tmp_path


def test_only_plans_of_the_folder_itself_are_there(place: Path) -> None:
    outside = place.parent / "outside.yaml"
    outside.write_text("title: Outside\n", encoding="utf-8")
    (place / "link.yaml").symlink_to(outside)
    folder = Folder(place)
    assert folder.names() == ["one.yaml"]
    for name in ("note.txt", "link.yaml", "sub/two.yaml", "../outside.yaml", str(outside), "", ".", "one.yaml/"):
        with pytest.raises(KeyError):
            folder.read(name)


def test_one_plan_alone_is_a_folder_of_one(place: Path) -> None:
    (place / "other.yaml").write_text("title: Other\n", encoding="utf-8")
    assert Folder(place / "one.yaml").names() == ["one.yaml"]


def test_no_place_is_said() -> None:
    with pytest.raises(InputError, match="is not there"):
        Folder(Path("/no/such/place"))


def test_a_save_is_refused_where_the_file_changed_meanwhile(place: Path) -> None:
    folder = Folder(place)
    mine = folder.read("one.yaml")
    theirs = folder.save("one.yaml", "title: Theirs\n", mine.mark)
    with pytest.raises(ChangedMeanwhileError) as caught:
        folder.save("one.yaml", "title: Mine\n", mine.mark)
    assert caught.value.now == theirs
    assert (place / "one.yaml").read_text(encoding="utf-8") == "title: Theirs\n"
    assert folder.save("one.yaml", "title: Mine\n", theirs.mark).text == "title: Mine\n"


KILLS = int(os.environ.get("KILLS", "20"))  # 200 in full
SAVER = """
import sys
from pathlib import Path
from advisor.page.folder import Folder
folder = Folder(Path(sys.argv[1]))
texts = [f"title: {letter * 200_000}\\n" for letter in "ab"]
print("ready", flush=True)
while True:
    for text in texts:
        folder.save("one.yaml", text, folder.read("one.yaml").mark)
"""


def test_killed_in_mid_save_the_file_is_the_old_or_the_new_one(place: Path) -> None:
    whole = {f"title: {letter * 200_000}\n" for letter in "ab"} | {"title: One\n"}
    seen = set()
    for turn in range(KILLS):
        process = subprocess.Popen([sys.executable, "-c", SAVER, str(place)], stdout=subprocess.PIPE, cwd=ROOT,
                                   env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(0.002 * (turn % 10 + 1))
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        text = (place / "one.yaml").read_text(encoding="utf-8")
        assert text in whole
        seen.add(text)
    assert len(seen) > 1  # some kills came after a save
    assert {path.name for path in place.iterdir()} <= {"one.yaml", "note.txt", "sub"}
