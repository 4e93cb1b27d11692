"""What each command prints, writes and returns."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import jsonschema
import pytest
import yaml

from wiregen.cli import boundary, status

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"
MAIN = [sys.executable, "-c", "import sys; from wiregen.cli import main; sys.exit(main())"]


class Done(NamedTuple):
    status: int
    out: str
    err: str


Run = Callable[..., Done]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.setenv(boundary.TRACEBACK, "")

    def call(*arguments: str | Path) -> Done:
        found = boundary.run([str(a) for a in arguments])
        told = capsys.readouterr()
        return Done(found, told.out, told.err)

    return call


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    """The brine pump with a make contact as stop."""
    button = "-SJ2: {profile: push_button, contact: N"
    text = BRINE.read_text(encoding="utf-8").replace(button + "C", button + "O")
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def unusable(tmp_path: Path) -> Path:
    path = tmp_path / "unusable.yaml"
    path.write_text(BRINE.read_text(encoding="utf-8").replace("control:", "contrl:"), encoding="utf-8")
    return path


def test_check_without_errors(run: Run) -> None:
    done = run("check", BRINE)
    assert done.status == status.OK
    assert done.err == ""
    assert re.fullmatch(r"no findings|(\d+ (warnings?|notes?|accepted)(, )?)+", done.out.splitlines()[-1])


def test_check_tells_each_finding_with_place_why_remedy_and_basis(run: Run, wrong: Path) -> None:
    done = run("check", wrong)
    assert done.status == status.ERRORS
    found = re.search(
        rf"^{re.escape(str(wrong))}:(\d+):(\d+): error runs-only-while-held (.+)\n"
        r"    why:    \S.+\n    remedy: \S.+\n    basis:  \S.+\n",
        done.out,
        re.MULTILINE,
    )
    assert found, done.out
    line = wrong.read_text(encoding="utf-8").splitlines()[int(found[1]) - 1]
    assert "stop" in line
    assert re.match(r"\d+ errors?", done.out.splitlines()[-1])


def test_check_as_json_is_whole_at_0_and_1(run: Run, wrong: Path) -> None:
    for scheme, expected in ((BRINE, status.OK), (wrong, status.ERRORS)):
        done = run("check", scheme, "--format", "json")
        data = json.loads(done.out)
        assert done.status == expected
        assert data["scheme"]["title"] == "Brine transfer pump"
        errors = [f for f in data["findings"] if f["severity"] == "error"]
        assert bool(errors) == (expected == status.ERRORS)
        assert all(
            {"code", "message", "why", "remedy", "basis", "line", "column", "accepted"} <= set(f) for f in errors
        )


def test_complaints_as_json_say_what_stderr_says(run: Run, unusable: Path) -> None:
    text, data = run("check", unusable), run("check", unusable, "--format", "json")
    assert text.status == data.status == status.UNUSABLE
    assert text.out == ""
    assert text.err == data.err
    errors = json.loads(data.out)["errors"]
    assert [f"{e['file']}:{e['line']}:{e['column']}: error: {e['message']}" for e in errors] == text.err.splitlines()
    assert any("control" in e["message"] for e in errors)


def test_an_unknown_variant_is_unusable_and_a_near_one_is_named(run: Run) -> None:
    done = run("check", BRINE, "--variant", "sinkin")
    assert done.status == status.UNUSABLE
    assert "sinking" in done.err


def test_a_variant_is_used(run: Run) -> None:
    done = run("check", BRINE, "--variant", "sinking", "--format", "json")
    assert json.loads(done.out)["scheme"]["variant"] == "sinking"


def test_allocate_as_table_and_as_json_agree(run: Run) -> None:
    data = json.loads(run("allocate", BRINE, "--format", "json").out)
    done = run("allocate", BRINE)
    assert done.status == status.OK
    for entry in data["allocation"]["assignments"]:
        row = rf"^{re.escape(entry['device'])}:{re.escape(entry['terminal'])} .*{re.escape(entry['function'])}"
        assert re.search(row, done.out, re.MULTILINE), entry
    assert done.out.splitlines()[-1] == f"status: {data['allocation']['status']}"
    assert data["conflicts"] == []


def test_allocate_tells_errors_on_stderr_and_returns_1(run: Run, wrong: Path) -> None:
    done = run("allocate", wrong)
    assert done.status == status.ERRORS
    assert "runs-only-while-held" in done.err
    assert "runs-only-while-held" not in done.out


def test_schedule_prints_the_cables_as_csv(run: Run) -> None:
    done = run("schedule", BRINE)
    rows = list(csv.DictReader(io.StringIO(done.out)))
    assert [(r["cable"], r["cores"], r["used"], r["length_m"]) for r in rows] == [
        ("-WG1", "5", "4", "35"),
        ("-WG2", "2", "2", "35"),
    ]


@pytest.mark.parametrize(
    "name", ["cables", "terminations", "strips", "functions", "readings", "test_sheet", "findings"]
)
def test_schedule_prints_any_list_in_any_format(run: Run, name: str) -> None:
    as_csv = list(csv.DictReader(io.StringIO(run("schedule", BRINE, "--list", name).out)))
    as_json = json.loads(run("schedule", BRINE, "--list", name, "--format", "json").out)
    as_text = run("schedule", BRINE, "--list", name, "--format", "text").out.splitlines()
    assert len(as_csv) == len(as_json) == len(as_text) - 2
    assert [list(r) for r in as_csv] == [list(r) for r in as_json]
    if name != "findings":
        assert as_csv


def test_schedule_writes_every_list_twice(run: Run, tmp_path: Path) -> None:
    done = run("schedule", BRINE, "-o", tmp_path / "lists")
    assert done.status == status.OK
    names = {p.name for p in (tmp_path / "lists").iterdir()}
    lists = ("cable_schedule", "terminations", "strips", "functions", "readings", "test_sheet", "findings")
    assert names == {f"{n}.{s}" for n in lists for s in ("csv", "xlsx")} | {"pack.json", "read_me_first.txt"}
    assert (tmp_path / "lists" / "cable_schedule.csv").read_text(encoding="utf-8") == run("schedule", BRINE).out


def test_profiles_lists_what_a_scheme_may_name(run: Run) -> None:
    names = [p["profile"] for p in json.loads(run("profiles", "--format", "json").out)]
    text = run("profiles").out.splitlines()[2:]
    assert [line.split()[0] for line in text] == names
    assert {"drive_compact", "push_button", "io_digital_in_16"} <= set(names)


def test_a_profile_is_shown_with_its_terminals_in_order_figures_and_basis(run: Run) -> None:
    data = json.loads(run("profiles", "drive_compact", "--format", "json").out)
    lines = run("profiles", "drive_compact").out.splitlines()
    labels = [t["label"] for t in data["terminals"]]
    assert [line.split()[0] for line in lines[4 : 4 + len(labels)]] == labels
    ai2 = next(line for line in lines if line.startswith("AI2 "))
    assert "analog in" in ai2
    assert "250 ohm at 4-20 mA" in ai2
    assert "typical, invented" in ai2
    assert "joined inside: COM ACOM" in lines


def test_every_profile_can_be_shown(run: Run) -> None:
    for profile in json.loads(run("profiles", "--format", "json").out):
        done = run("profiles", profile["profile"])
        assert done.status == status.OK
        assert done.out.startswith(f"{profile['profile']}: {profile['title']} (")


def test_a_users_own_profile_is_found(run: Run, tmp_path: Path) -> None:
    (tmp_path / "my_lamp.yaml").write_text(
        "profile: my_lamp\ntitle: My lamp\ndevice: lamp\nterminals:\n"
        "  - {label: X1, role: load}\n  - {label: X2, role: load}\n",
        encoding="utf-8",
    )
    assert run("profiles", "my_lamp", "--profiles", tmp_path).status == status.OK
    assert run("profiles", "my_lamp").status == status.UNUSABLE


def test_a_bad_profile_is_told_with_its_line(run: Run, tmp_path: Path) -> None:
    (tmp_path / "bad.yaml").write_text("profile: bad\ntitle: Bad\ndevice: lamp\nterminal: []\n", encoding="utf-8")
    done = run("profiles", "--profiles", tmp_path)
    assert done.status == status.UNUSABLE
    assert f"{tmp_path}/bad.yaml:4:" in done.err


def test_every_code_is_explained(run: Run) -> None:
    entries = json.loads(run("explain", "--format", "json").out)
    lines = run("explain").out.splitlines()[2:]
    assert [line.split()[:2] for line in lines] == [[e["code"], e["severity"]] for e in entries]
    for entry in entries:
        done = run("explain", entry["code"])
        assert done.status == status.OK
        flat = " ".join(done.out.split())
        for part in ("title", "what", "why", "remedy", "basis"):
            assert " ".join(entry[part].split()) in flat
        example = done.out.split("A scheme that brings it about:\n")[1]
        assert yaml.safe_load(example) == yaml.safe_load(entry["example"])


def test_an_unknown_code_is_status_2_and_a_near_one_is_named(run: Run) -> None:
    done = run("explain", "runs-only-while-helt")
    assert done.status == status.UNUSABLE
    assert "runs-only-while-held" in done.err
    assert done.out == ""


def test_the_schema_accepts_the_example_and_refuses_a_wrong_one(run: Run) -> None:
    done = run("schema")
    validator = jsonschema.Draft202012Validator(json.loads(done.out))
    scheme = yaml.load(BRINE.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    validator.validate(scheme)
    with pytest.raises(jsonschema.ValidationError):
        validator.validate(scheme | {"contrl": {}})


def ansi(text: str) -> bool:
    return "\x1b[" in text


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a terminal")
@pytest.mark.parametrize(("no_color", "coloured"), [("", True), ("1", False)])
def test_colour_only_on_a_terminal_and_not_with_no_color(wrong: Path, no_color: str, coloured: bool) -> None:
    leader, follower = os.openpty()
    environment = {k: v for k, v in os.environ.items() if k != "NO_COLOR"} | {"NO_COLOR": no_color, "TERM": "xterm"}
    with subprocess.Popen([*MAIN, "check", str(wrong)], stdout=follower, stderr=follower, env=environment) as process:
        os.close(follower)
        shown = b""
        while True:
            try:
                part = os.read(leader, 65536)
            except OSError:  # how a terminal tells its end
                break
            if not part:
                break
            shown += part
    os.close(leader)
    assert process.returncode == status.ERRORS
    assert b"runs-only-while-held" in shown
    assert b"Reading the scheme ..." in shown, "progress is shown on a terminal"
    assert ansi(shown.decode()) == coloured


def test_no_colour_and_no_progress_in_a_pipe(wrong: Path) -> None:
    done = subprocess.run([*MAIN, "check", str(wrong)], capture_output=True, text=True, check=False)
    assert done.returncode == status.ERRORS
    assert not ansi(done.stdout)
    assert done.stderr == ""
