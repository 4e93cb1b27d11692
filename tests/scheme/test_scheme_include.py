"""`include`: files laid under the one that names them; every place keeps its file."""

from __future__ import annotations

from pathlib import Path

import pytest

from wiregen import profiles, scheme
from wiregen.terms import UnusableInput

PLANT = "places: {+C1: {name: Cabinet}}\ndevices:\n  -TA1: {profile: drive_compact, at: +C1, text: Pump}\n"


def write(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        path = folder / f"{name}.yaml"
        path.write_text(text, encoding="utf-8")
    return folder / "main.yaml"


def read(path: Path) -> scheme.Scheme:
    return scheme.read(path, profiles=profiles.load())


def test_own_values_lie_over_included_ones(tmp_path: Path) -> None:
    main = "scheme: A\ninclude: plant.yaml\ndevices: {-TA1: {text: Fan}}\n"
    found = read(write(tmp_path, main=main, plant=PLANT + "drawing: X\n"))
    assert found.model.devices["-TA1"].text == "Fan"
    assert found.model.devices["-TA1"].profile == "drive_compact"
    assert found.model.drawing == "X"


def test_null_deletes_what_was_included(tmp_path: Path) -> None:
    main = "scheme: A\ninclude: [plant.yaml]\ndevices: {-TA1: {text: null}}\n"
    assert read(write(tmp_path, main=main, plant=PLANT)).model.devices["-TA1"].text == ""


def test_later_files_lie_over_earlier_ones(tmp_path: Path) -> None:
    main = "scheme: A\ninclude: [plant.yaml, more.yaml]\n"
    more = "devices: {-TA1: {text: Mixer}}\n"
    assert read(write(tmp_path, main=main, plant=PLANT, more=more)).model.devices["-TA1"].text == "Mixer"


def test_places_name_their_file(tmp_path: Path) -> None:
    found = read(write(tmp_path, main="scheme: A\ninclude: plant.yaml\n", plant=PLANT))
    spot = found.locate(("devices", "-TA1", "text"))
    assert (Path(spot.file).name, spot.line, spot.column) == ("plant.yaml", 3, 49)


def test_complaints_name_the_included_file(tmp_path: Path) -> None:
    path = write(tmp_path, main="scheme: A\ninclude: plant.yaml\n", plant=PLANT.replace("at: +C1", "at: +C2"))
    with pytest.raises(UnusableInput) as refused:
        read(path)
    (complaint,) = refused.value.complaints
    assert Path(complaint.spot.file).name == "plant.yaml"
    assert complaint.spot.line == 3


def test_variants_stay_whole(tmp_path: Path) -> None:
    """A null in a variant deletes when the variant is applied, not when files are laid over one another."""
    main = "scheme: A\ninclude: plant.yaml\nvariants: {bare: {devices: {-TA1: {text: null}}}}\n"
    path = write(tmp_path, main=main, plant=PLANT)
    assert scheme.read(path, variant="bare", profiles=profiles.load()).model.devices["-TA1"].text == ""
    assert read(path).model.devices["-TA1"].text == "Pump"


@pytest.mark.parametrize(
    ("files", "told"),
    [
        ({"main": "scheme: A\ninclude: main.yaml\n"}, "includes itself"),
        ({"main": "scheme: A\ninclude: b.yaml\n", "b": "include: main.yaml\n"}, "includes itself"),
        ({"main": "scheme: A\ninclude: /etc/plant.yaml\n"}, "is an absolute path"),
        ({"main": "scheme: A\ninclude: plnat.yaml\n", "plant": PLANT}, "there is no such file; did you mean"),
        ({"main": "scheme: A\ninclude: {a: b}\n"}, "`include` takes a file name, or a list of them"),
        (
            {"main": "scheme: A\ninclude: b.yaml\n", "b": "variants: {x: {}}\n"},
            "variants stand in the file that is read",
        ),
    ],
)
def test_wrong_includes(tmp_path: Path, files: dict[str, str], told: str) -> None:
    with pytest.raises(UnusableInput, match=told):
        read(write(tmp_path, **files))
