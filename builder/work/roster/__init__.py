"""Many buyers of one block: a table with a row for each becomes a folder with a booklet for each."""

from builder.work.roster.due import Due, due
from builder.work.roster.orders import Order, Orders, Wishes, orders_of
from builder.work.roster.run import Finished, Run, make

__all__ = ["Due", "Finished", "Order", "Orders", "Run", "Wishes", "due", "make", "orders_of"]
