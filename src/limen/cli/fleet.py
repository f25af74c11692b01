"""`limen fleet …`: the commands for many doors at once."""

from limen.cli import examples
from limen.cli.options import commands

fleet_app = commands("fleet", examples.FLEET)
