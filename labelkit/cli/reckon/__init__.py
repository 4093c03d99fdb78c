"""``labelkit reckon NAME``: each figure on its own, the rows of one table."""

from labelkit.cli import lot_code
from labelkit.cli.reckon import filling, handling, label, room, water
from labelkit.cli.reckon._figure import command

command.add_command(lot_code.command, "lot-code")
command.order["Label"] += ("lot-code",)

__all__ = ["command", "filling", "handling", "label", "room", "water"]
