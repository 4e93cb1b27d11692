"""The README tells the truth: every block runs, shows what it says, and leads to the committed example and sheet."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

import wiregen
from wiregen.cli.group import COMMANDS
from wiregen.drawing import draw
from wiregen.review import catalogue
from wiregen.scheme.support import NOT_YET

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
SHEET = ROOT / "examples" / "brine_pump_sheet.svg"


class Reader:
    """Somebody who reads the README from top to bottom and does what it says, in a folder of their own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.scheme: dict[str, Any] = {}
        shutil.copytree(ROOT / "examples", folder / "examples")
        program = folder / "bin" / "wiregen"
        program.parent.mkdir()
        program.write_text(f"#!{sys.executable}\nimport sys\nfrom wiregen.cli import main\nsys.exit(main())\n")
        program.chmod(0o755)
        self._environment = os.environ | {"PATH": f"{program.parent}{os.pathsep}{os.environ['PATH']}"}

    def merge(self, text: str) -> None:
        """A block that names its scheme is a whole file; any other goes under the keys that are there."""
        found = yaml.load(text, yaml.BaseLoader)
        self.scheme = found if "scheme" in found else _merged(self.scheme, found)
        (self.folder / "pump.yaml").write_text(yaml.safe_dump(self.scheme, sort_keys=False), encoding="utf-8")

    def console(self, text: str) -> None:
        for command, expected in re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n)*)", text, re.MULTILINE):
            done = subprocess.run(
                command, shell=True, cwd=self.folder, env=self._environment, text=True, capture_output=True, check=False
            )
            shown = done.stdout + done.stderr
            assert re.fullmatch(_pattern(expected), _without_places(shown)), f"$ {command}\n{shown}"
            assert done.returncode == bool(re.search(r"^\d+ errors?\b", shown, re.MULTILINE)), f"$ {command}\n{shown}"

    def python(self, text: str) -> None:
        subprocess.run([sys.executable, "-c", text], cwd=self.folder, env=self._environment, check=True)


def _merged(old: Any, new: Any) -> Any:
    if not (isinstance(old, dict) and isinstance(new, dict)):
        return new
    return old | {key: _merged(old.get(key), value) for key, value in new.items()}


def _without_places(text: str) -> str:
    return re.sub(r":\d+:\d+:", ":", text)


def _pattern(expected: str) -> str:
    """``...`` stands for any lines; on which line something stands depends on who typed it, so places do not count."""
    lines = _without_places(expected).splitlines()
    return "".join(r"(?:.*\n)*?" if line == "..." else re.escape(line) + r"\n" for line in lines)


def test_every_block_says_what_it_is() -> None:
    assert {language for language, _ in BLOCKS} == {"sh", "yaml", "console", "python"}


def test_two_commands_for_a_fresh_machine() -> None:
    commands = [text for language, text in BLOCKS if language == "sh"]
    assert len(commands) == 2
    for command in commands:
        assert command.count("\n") == 1
        assert command.startswith("python3 -m venv ")
    assert "wiregen pack examples/" in commands[0]
    assert "[test]" in commands[1]
    assert commands[1].rstrip().endswith("-m pytest")


def test_whoever_follows_the_readme_arrives_at_the_brine_pump(tmp_path: Path) -> None:
    reader = Reader(tmp_path)
    for language, text in BLOCKS:
        if language == "yaml":
            reader.merge(text)
        elif language == "console":
            reader.console(text)
        elif language == "python":
            reader.python(text)
    example = yaml.load((ROOT / "examples" / "brine_pump.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    assert reader.scheme == example
    for pack in ("pump", "sinking"):
        assert {"design.json", "drawings.pdf", "sheet-01.svg"} <= {path.name for path in (tmp_path / pack).iterdir()}


def test_the_sheet_is_the_one_that_is_drawn_now() -> None:
    drawing = draw(wiregen.design(wiregen.read(ROOT / "examples" / "brine_pump.yaml")))
    sheet = next(s for s in drawing.sheets if s.title == "Terminal diagram of -TA1")
    assert sheet.svg == SHEET.read_bytes(), (
        "look at the new sheet, then: "
        f"wiregen draw examples/brine_pump.yaml -o out && cp out/{sheet.file} examples/brine_pump_sheet.svg"
    )


def test_commands_and_codes_exist() -> None:
    assert re.findall(r"^\| `wiregen (\w+)", README, re.MULTILINE) == list(COMMANDS)
    told = set(re.findall(r"(?:error|warning|note) ([a-z]+(?:-[a-z]+)+) ", README))
    assert told
    assert told <= {entry.code for entry in catalogue.entries()}


def test_every_example_is_told() -> None:
    told = re.findall(r"`(\w+\.yaml)`", README.partition("| in `examples/` |")[2].partition("\n\n")[0])
    assert sorted([*told, "brine_pump.yaml"]) == sorted(path.name for path in (ROOT / "examples").glob("*.yaml"))


def test_what_is_said_not_to_be_done_yet_is_what_is_refused() -> None:
    told = set(re.findall(r"`(\w+)`", README.partition("## What it does not do yet")[2]))
    assert told == {key for _, key in NOT_YET}


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([^)]+)\)", README))))
def test_links_lead_somewhere(target: str) -> None:
    assert (ROOT / target).is_file()


@pytest.mark.parametrize(
    "words",
    [
        *("isolate", "wait", "prove dead", "trained and authorised", "local codes", "instructions of the makers"),
        *("licensed person", "no safety assessment"),
    ],
)
def test_the_cautions_stand_there(words: str) -> None:
    assert words in " ".join(README.replace("*", "").split()).lower()
