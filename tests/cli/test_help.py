"""Help costs nothing and is the same wherever it stands."""

from __future__ import annotations

import json
import subprocess
import sys

import click
import pytest
from click.testing import CliRunner

import wiregen
from wiregen.cli.group import COMMANDS
from wiregen.cli.group import wiregen as group


def run(*arguments: str) -> str:
    result = CliRunner().invoke(group, list(arguments))
    assert result.exit_code == 0, result.output
    return result.output


def test_without_arguments_there_is_help() -> None:
    assert run() == run("--help") == run("-h")
    assert all(name in run() and short in run() for name, short in COMMANDS.items())


def test_the_short_helps_are_those_of_the_commands() -> None:
    context = click.Context(group)
    for name, short in COMMANDS.items():
        command = group.get_command(context, name)
        assert command is not None
        assert command.name == name
        assert command.get_short_help_str(limit=100) == short


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_a_word_for_every_option(name: str) -> None:
    command = group.get_command(click.Context(group), name)
    assert command is not None
    assert run(name, "--help") == run(name, "-h")
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            assert parameter.help
            assert parameter.help in " ".join(run(name, "--help").split())


def test_version() -> None:
    assert run("--version") == f"wiregen {wiregen.__version__}\n"


_MODULES = """
import json, sys
from wiregen.cli.boundary import run
status = run(sys.argv[1:])
print(json.dumps([status, sorted({name.split(".")[0] for name in sys.modules})]), file=sys.stderr)
"""


@pytest.mark.parametrize("arguments", [["--help"], [], ["--version"], ["pack", "--help"], ["schedule", "--help"]])
def test_help_imports_click_and_the_standard_library_only(arguments: list[str]) -> None:
    done = subprocess.run([sys.executable, "-c", _MODULES, *arguments], capture_output=True, check=True, text=True)
    status, modules = json.loads(done.stderr)
    bare = subprocess.run([sys.executable, "-c", "import sys; print(*sys.modules)"], capture_output=True, text=True)
    already = {name.split(".")[0] for name in bare.stdout.split()}
    allowed = {"click", "wiregen", "__main__", "__mp_main__"}
    assert status == 0
    assert set(modules) - already - set(sys.stdlib_module_names) <= allowed


def test_shell_completion_knows_the_commands() -> None:
    from click.shell_completion import ShellComplete

    found = ShellComplete(group, {}, "wiregen", "_WIREGEN_COMPLETE").get_completions([], "s")
    assert {item.value for item in found} == {name for name in COMMANDS if name.startswith("s")}
