"""Many buyers of one block: a table with a row for each becomes a folder with a booklet for each."""

from builder.work.roster.due import Due, due
from builder.work.roster.orders import Order, Orders, Wishes, orders_of
from builder.work.roster.run import Built, Run, make

__all__ = ["Built", "Due", "Order", "Orders", "Run", "Wishes", "due", "make", "orders_of"]
