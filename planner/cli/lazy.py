"""A group that imports a command only when it is called, so that help comes at once."""

from __future__ import annotations

from difflib import get_close_matches
from importlib import import_module

import click


class LazyGroup(click.Group):
    """A group whose commands live in modules of their own.

    Parameters
    ----------
    table : dict
        Name of each command, in the order of the help: the module that holds it as `command`, and
        the sentence that the help shows.
    """

    def __init__(self, *, table: dict[str, tuple[str, str]], **settings: object) -> None:
        super().__init__(**settings)  # type: ignore[arg-type]
        self.table = table

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order of the table."""
        return list(self.table)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a command; None if there is none of that name."""
        if cmd_name not in self.table:
            return None
        command = import_module(self.table[cmd_name][0]).command
        return command if isinstance(command, click.Command) else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that the arguments name; suggest the nearest if there is none."""
        if args and args[0] not in self.table and not args[0].startswith("-"):
            close = get_close_matches(args[0], self.table, n=1)
            hint = f' Did you mean "{close[0]}"?' if close else ""
            ctx.fail(f'There is no command "{args[0]}".{hint}')
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing any."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in self.table.items()])
