"""`sordino schema`: what editors need to complete and check a project file."""

from __future__ import annotations

import json

import click

from sordino.plan.statement import Plan


@click.command("schema", short_help="Print the JSON Schema of the project file, for editors.")
def command() -> int:
    """Print the JSON Schema of the project file.

    Editors that know TOML and JSON Schema complete keys and mark mistakes with it.
    """
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema"} | Plan.model_json_schema(by_alias=True)
    click.echo(json.dumps(schema, ensure_ascii=False, indent=1))
    return 0
