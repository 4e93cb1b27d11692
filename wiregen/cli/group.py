"""The group of commands. A command's module is imported when the command is used, so that help costs nothing."""

from __future__ import annotations

import os
from collections.abc import Iterable
from importlib import import_module

import click

from wiregen import __version__

#: Name -> short help, in the order of the work. A test holds the help equal to the commands' own.
COMMANDS = {
    "begin": "Ask how a motor is controlled, and write a scheme.",
    "check": "Say what is wrong with a scheme.",
    "allocate": "Show which terminal each function gets.",
    "repair": "Find changes that end the conflicts of a scheme, and make one.",
    "compare": "Show alternatives of a scheme side by side.",
    "explore": "Find and try alternatives of a scheme.",
    "draw": "Draw the sheets of a scheme.",
    "readings": "Show the voltages and currents to expect.",
    "sequence": "Do what the steps of a scheme say, and tell what the machine does.",
    "faults": "Say what every single fault of the wiring does.",
    "schedule": "Write the cable schedule and the other lists.",
    "pack": "Write everything of a scheme into one folder.",
    "profiles": "List the terminal profiles, or show one.",
    "explain": "Explain the code of a finding.",
    "schema": "Print the JSON Schema of a scheme file.",
}


class Commands(click.Group):
    """A group that knows the names and short helps of its commands without importing them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command = import_module(f"wiregen.cli.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args[0] not in COMMANDS and not args[0].startswith("-"):
            ctx.fail(f"there is no command {args[0]!r}{near(args[0], COMMANDS)}")
        return super().resolve_command(ctx, args)


def near(name: str, names: Iterable[str]) -> str:
    """`` (did you mean 'check'?)`` where a known name is like ``name``, else nothing."""
    from difflib import get_close_matches

    like = get_close_matches(name, list(names), n=3)
    return f" (did you mean {' or '.join(repr(n) for n in like)}?)" if like else ""


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit status: 0 no error finding, 1 error findings, 2 the input or the command line cannot be used.",
)
@click.version_option(__version__, message="wiregen %(version)s")
@click.pass_context
def wiregen(ctx: click.Context) -> None:
    """Control wiring of motor drives from one declared scheme: which function goes to which terminal, what is wrong
    with it, terminal diagrams, a cable schedule. SCHEME is the file that declares it, in YAML.

    The results are for review by a qualified person; they are no safety assessment.
    """
    ctx.color = False if os.environ.get("NO_COLOR") else None
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
