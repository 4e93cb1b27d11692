"""Large plants in a pack: a book a cabinet, and what did not change is taken over, to the byte."""

from __future__ import annotations

import json
import shutil
import signal
import subprocess
import sys
import time
from functools import cache
from pathlib import Path

import pytest
from plant_schemes import plant

import wiregen
from wiregen.drawing import readback
from wiregen.packing import books, contents
from wiregen.packing.earlier import Earlier
from wiregen.pipeline import Design, cabinets
from wiregen.profiles import load
from wiregen.scheme import read_text

DRIVES, IN_CABINET = 20, 5


@cache
def text() -> str:
    return plant(DRIVES, in_cabinet=IN_CABINET)


def designed(scheme: str) -> Design:
    return wiregen.design(read_text(scheme, "plant.yaml", profiles=load()))


def held(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def edited(kind: str) -> str:
    """The plant with something changed at a drive in the second cabinet."""
    was, now = {
        "figure": ("-TA8:\n", ("spans: 15 to 50 Hz", "spans: 12 to 50 Hz")),
        "contact": ("-BT7:", ("contact: NC", "contact: NO")),
    }[kind]
    start = text().index(f"  {was}")
    changed = text()[start:].replace(*now, 1)
    assert changed != text()[start:]
    return text()[:start] + changed


def sets(scheme: str, folder: Path) -> list[books.Book]:
    design = designed(scheme)
    return list(books.books(design, contents._fingerprints(design), Earlier(folder)))


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("plant") / "pack"
    wiregen.pack(designed(text()), folder)
    return folder


def test_each_cabinet_has_a_book_of_its_own(packed: Path) -> None:
    names = {name for name in held(packed) if name.endswith(".pdf")}
    assert names == {"drawings-C1.pdf", "drawings-C2.pdf", "drawings-C3.pdf", "drawings-C4.pdf"}
    sheets = json.loads((packed / "design.json").read_text(encoding="utf-8"))["sheets"]
    assert next(s["file"] for s in sheets if s["file"].startswith("C2-")) == "C2-sheet-01.svg"
    assert len({s["number"] for s in sheets}) == len(sheets)
    assert all((packed / s["file"]).is_file() for s in sheets)


def test_all_books_together_show_the_circuit(packed: Path) -> None:
    """Read as a stranger would: every potential as it was wired, protective earth through all cabinets."""
    design = designed(text())
    sheets = [data for name, data in held(packed).items() if name.endswith(".svg")]
    assert readback.compare(readback.read(sheets), design.wiring.potentials) == ()


def test_every_pin_is_in_one_part() -> None:
    design = designed(text())
    found = [
        (pin, potential.name)
        for part in cabinets.parts(design)
        for potential in part.design.wiring.potentials
        if potential.kind != "earth"
        for pin in potential.pins
    ]
    whole = [(pin, p.name) for p in design.wiring.potentials if p.kind != "earth" for pin in p.pins]
    assert sorted(found) == sorted(whole)


def test_parts_feel_nothing_of_one_another() -> None:
    """What an instrument shows in a cabinet is the same whether the others are there or not."""
    design = designed(plant(14, in_cabinet=7))
    alone = {(r.state, r.pin, r.to): (r.volts, r.milliamps) for r in design.readings}
    assert len(cabinets.parts(design)) == 1
    cut = cabinets.parts(design, one_book=0)
    assert len(cut) == 2
    apart = {(r.state, r.pin, r.to): (r.volts, r.milliamps) for part in cut for r in part.design.readings}
    assert apart == alone


@pytest.mark.parametrize("kind", ["figure", "contact"])
def test_a_pack_over_an_earlier_one_is_that_of_an_empty_folder(kind: str, packed: Path, tmp_path: Path) -> None:
    over, fresh = tmp_path / "over", tmp_path / "fresh"
    shutil.copytree(packed, over)
    design = designed(edited(kind))
    wiregen.pack(design, over)
    wiregen.pack(design, fresh)
    assert held(over) == held(fresh)
    assert held(over) != held(packed)


def test_only_the_cabinet_that_changed_is_drawn_again(packed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = []
    real = books._drawn
    monkeypatch.setattr(books, "_drawn", lambda part, made_from: drawn.append(part.name) or real(part, made_from))
    assert len(list(sets(text(), packed))) == 4
    assert drawn == []
    assert len(list(sets(edited("figure"), packed))) == 4
    assert drawn == ["C2"]


def test_a_sheet_that_somebody_changed_is_not_taken_over(packed: Path, tmp_path: Path) -> None:
    folder = tmp_path / "pack"
    folder.mkdir()
    for name, data in held(packed).items():
        (folder / name).write_bytes(data)
    (folder / "C3-sheet-02.svg").write_bytes(b"<svg/>")
    found = {book.name: book for book in sets(text(), folder)}
    assert found["C3"].files["C3-sheet-02.svg"] == (packed / "C3-sheet-02.svg").read_bytes()


@pytest.mark.parametrize("damage", ["[]", '{"C1": 3}', '{"C1": {"made_from": 1}}', '{"../x": {}}', "null"])
def test_a_manifest_of_nonsense_takes_nothing_over(damage: str, packed: Path, tmp_path: Path) -> None:
    folder = tmp_path / "pack"
    folder.mkdir()
    for name, data in held(packed).items():
        (folder / name).write_bytes(data)
    manifest = json.loads((folder / "pack.json").read_bytes())
    (folder / "pack.json").write_text(json.dumps(manifest | {"books": json.loads(damage)}), encoding="utf-8")
    with pytest.raises(wiregen.packing.FolderRefused, match="changed by somebody"):
        wiregen.pack(designed(text()), folder)


def test_sheets_of_a_book_count_from_one(packed: Path) -> None:
    sheets = [data.decode() for name, data in held(packed).items() if name.startswith("C3-sheet-")]
    for number, sheet in enumerate(sheets, start=1):
        assert "MM-7000/C3" in sheet
        assert f">{number} of {len(sheets)}<" in sheet


def test_a_run_that_is_interrupted_leaves_the_pack_that_stood_there(tmp_path: Path) -> None:
    scheme, out = tmp_path / "plant.yaml", tmp_path / "out"
    scheme.write_text(plant(2), encoding="utf-8")
    command = [sys.executable, "-m", "wiregen", "pack", str(scheme), "-o", str(out)]
    subprocess.run(command, check=True, capture_output=True)
    before = held(out)
    scheme.write_text(plant(60), encoding="utf-8")  # long enough to be met at work
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
        time.sleep(3)
        run.send_signal(signal.SIGINT)
        _, told = run.communicate()
    assert run.returncode == 130
    assert told.strip() in ("interrupted", "")  # nothing where it was still importing
    assert held(out) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "plant.yaml"]
