"""wiregen schema: the JSON Schema of a scheme file."""

from __future__ import annotations

import click

from wiregen.cli.designing import echo_json


@click.command("schema")
def command() -> None:
    """Print the JSON Schema of a scheme file.

    An editor that knows it completes and checks a scheme while you type. Save it beside your schemes as
    scheme.schema.json and begin a scheme with the line

    # yaml-language-server: $schema=scheme.schema.json
    """
    from wiregen.scheme import schema

    echo_json(schema())
