"""Reading scheme files: what is read, where it stands, and files that are none."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
import yaml

import wiregen.scheme
from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme
from wiregen.scheme.model import JoinedTo
from wiregen.terms import UnusableInput

BRINE_PUMP = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"


def test_the_brine_pump_reads_as_it_is_declared(read: Callable[..., Scheme], brine_pump: str) -> None:
    model = read(brine_pump).model
    drive = model.control["-TA1"]
    assert model.scheme == "Brine transfer pump"
    assert model.places["+F1"].route == "35 m"
    assert list(model.devices) == ["-TB1", "-TA1", "-SJ1", "-SJ2", "-SJ3", "-BT1", "-RA1", "-BL1", "-PF1", "-KE5"]
    assert model.devices["-SJ1"].contact == "NO"
    assert model.devices["-SJ3"].positions == ("HAND", "AUTO")
    assert drive.zero_volt == JoinedTo(joined_to="-TB1")
    assert drive.inputs is not None
    assert drive.inputs.wired == "source"
    assert drive.run is not None
    assert drive.run.named[""].stop is not None
    assert drive.run.named[""].stop.by == "-SJ2"
    assert drive.speed["auto"].from_ == "-BL1"
    assert drive.select is not None
    assert {code: when.speed for code, when in drive.select.when.items()} == {"HAND": "hand", "AUTO": "auto"}
    assert drive.relays["running"].switches == "-KE5"
    assert model.fixed["-TA1"]["DI2"][0].function == "stop"
    assert model.cabling.classes["analog"].screen == "cabinet end"


def test_short_and_long_forms_read_the_same(read: Callable[..., Scheme], brine_pump: str) -> None:
    long = (
        brine_pump.replace("inputs: source\n    zero", "inputs: {wired: source}\n    zero")
        .replace("external_trip: -BT1", "external_trip: {by: -BT1}")
        .replace("by: [-SJ3]", "by: -SJ3")
        .replace("AUTO: auto}", "AUTO: {speed: auto}}")
        .replace("{DI1: start, DI2: stop}", "{DI1: [{function: start}], DI2: {function: stop}}")
    )
    assert long != brine_pump
    assert read(long).model == read(brine_pump).model


def test_only_the_profiles_that_are_used_are_handed_on(read: Callable[..., Scheme], brine_pump: str) -> None:
    scheme = read(brine_pump)
    assert set(scheme.profiles) == {d.profile for d in scheme.model.devices.values()}


@pytest.mark.parametrize(
    ("where", "word"),
    [
        (("scheme",), "Brine transfer pump"),
        (("places", "+F1", "route"), "35 m}"),
        (("devices", "-SJ1"), "-SJ1:"),
        (("devices", "-SJ1", "contact"), "NO,"),
        (("devices", "-SJ3", "positions"), "positions:"),
        (("devices", "-SJ3", "positions", "1"), "AUTO]"),
        (("control", "-TA1"), "-TA1:\n    inputs"),
        (("control", "-TA1", "run", "stop"), "-SJ2}"),
        # What the text does not have is found at the nearest thing above it.
        (("control", "-TA1", "run", "named", "", "stop", "by"), "-SJ2}"),
        (("control", "-TA1", "enable"), "-TA1:\n    inputs"),
        (("control", "-TA1", "run", "reverse"), "run:"),
        (("control", "-TA1", "inputs", "wired"), "source\n    zero"),
        (("control", "-TA1", "inputs", "groups", "group 1"), "source\n    zero"),
        (("fixed", "-TA1", "DI1", "0", "function"), "start,"),
        (("banks", "-KE"), "# A brine"),
    ],
)
def test_everything_is_located(read: Callable[..., Scheme], brine_pump: str, where: tuple[str, ...], word: str) -> None:
    spot = read(brine_pump).locate(where)
    rest = "\n".join(brine_pump.split("\n")[spot.line - 1 :])[spot.column - 1 :]
    if where == ("banks", "-KE"):
        assert (spot.line, spot.column) == (2, 1), "the whole file begins at its first key"
    else:
        assert rest.startswith(word)


def _complaint(path: Path, profiles: Mapping[str, Profile]) -> str:
    with pytest.raises(UnusableInput) as caught:
        wiregen.scheme.read(path, profiles=profiles)
    (complaint,) = caught.value.complaints
    return str(complaint).replace(str(path.parent), "DIR")


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"", "DIR/s.yaml:1:1: nothing stands in this file"),
        (b"\n# only words\n", "DIR/s.yaml:1:1: nothing stands in this file"),
        (b"- a\n- b\n", "DIR/s.yaml:1:1: the file must hold keys and values, `key: value`"),
        (b"just words\n", "DIR/s.yaml:1:1: the file must hold keys and values, `key: value`"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "DIR/s.yaml:1:1: this is a binary file, not a scheme"),
        ("scheme: x".encode("utf-16"), "DIR/s.yaml:1:1: this file is UTF-16: save it as UTF-8"),
        (b"scheme: x\ndrawing: K\xe4ltepumpe\n", "DIR/s.yaml:2:11: byte 0xe4 is not UTF-8: save the file as UTF-8"),
        (b"scheme: x\ndrawing: a\x1bb\n", "DIR/s.yaml:2:11: control character U+001B is not allowed"),
        (b'scheme: "a\\x07b"\n', "DIR/s.yaml:1:9: control character U+0007 is not allowed"),
        (b"scheme: !!python/name:os.system x\n",
         "DIR/s.yaml:1:9: tag 'tag:yaml.org,2002:python/name:os.system' is not allowed; write the value plainly"),
        (b"a: &a [*a]\n", "DIR/s.yaml:1:4: an alias stands inside what it refers to"),
        (b"a: " + b"[" * 100 + b"]" * 100, "DIR/s.yaml:1:64: nested deeper than 60 levels"),
        (b"a: &a {b: c}\nd: {<<: *a}\n", "DIR/s.yaml:2:5: merge keys (`<<`) are not supported; write the keys out"),
        (b"scheme: " + b"x" * 10_000_000, "DIR/s.yaml:1:1: this file is larger than 2 MB: that is no scheme"),
    ],
)  # fmt: skip
def test_files_that_are_no_scheme(tmp_path: Path, profiles: Mapping[str, Profile], data: bytes, expected: str) -> None:
    path = tmp_path / "s.yaml"
    path.write_bytes(data)
    assert _complaint(path, profiles) == expected


@pytest.mark.parametrize(("levels", "says"), [(4, "holds more than 50000 values"), (9, "expands to more than")])
def test_aliases_that_explode_are_stopped(
    tmp_path: Path, profiles: Mapping[str, Profile], levels: int, says: str
) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, levels + 1)]
    path = tmp_path / "s.yaml"
    path.write_text("\n".join(lines), encoding="utf-8")
    assert says in _complaint(path, profiles)


def test_a_folder_a_missing_file_and_a_path_that_cannot_be(tmp_path: Path, profiles: Mapping[str, Profile]) -> None:
    (tmp_path / "pump.yaml").write_text("scheme: x", encoding="utf-8")
    near = "DIR/pmup.yaml:1:1: there is no such file; did you mean `DIR/pump.yaml`?"
    assert _complaint(tmp_path / "pmup.yaml", profiles) == near
    assert _complaint(tmp_path / "zzz" / "zzz", profiles).endswith(": there is no such file")
    assert _complaint(tmp_path / "x", profiles) == "DIR/x:1:1: there is no such file"
    folder = tmp_path / "folder"
    folder.mkdir()
    assert _complaint(folder, profiles) == "DIR/folder:1:1: this is a folder, not a scheme file"
    assert "cannot be read" in _complaint(tmp_path / "a\0b", profiles)
    assert "cannot be read" in _complaint(tmp_path / ("n" * 5000), profiles)


def test_an_unreadable_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, profiles: Mapping[str, Profile]) -> None:
    """Permissions do not stop the superuser, so the refusal of the operating system is played."""

    def refused(*_: object) -> object:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(wiregen.scheme.file, "open", refused, raising=False)
    says = "DIR/s.yaml:1:1: this file may not be read: check its permissions"
    assert _complaint(tmp_path / "s.yaml", profiles) == says


def test_a_byte_order_mark_changes_nothing(
    tmp_path: Path, profiles: Mapping[str, Profile], brine_pump: str, read: Callable[..., Scheme]
) -> None:
    path = tmp_path / "s.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + brine_pump.encode())
    marked = wiregen.scheme.read(path, profiles=profiles)
    assert marked.model == read(brine_pump).model
    places = {where: (spot.line, spot.column) for where, spot in marked.positions.items()}
    assert places == {where: (s.line, s.column) for where, s in read(brine_pump).positions.items()}


def test_reading_takes_no_longer_than_a_multiple_of_parsing(read: Callable[..., Scheme], brine_pump: str) -> None:
    """A ratio in one run, since machines differ: the scheme and its variant are each checked in whole."""

    def best(action: Callable[[], object]) -> float:
        times = []
        for _ in range(7):
            start = time.process_time()
            action()
            times.append(time.process_time() - start)
        return min(times)

    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    parsing = best(lambda: yaml.compose(brine_pump, Loader=loader))
    assert best(lambda: read(brine_pump)) < 25 * parsing
