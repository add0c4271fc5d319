"""The one door out: every file that a command writes, and every lock that it lays down, goes through here."""

from builder.door.folder import folder_spot, followed, put_folder
from builder.door.lock import LockedError, lock_path, locked
from builder.door.opened import BarredError, said
from builder.door.put import Writing, put
from builder.door.shelf import Shelf, caches
from builder.door.spot import Spot, spot
from builder.door.unfinished import own_folder, passing_folder

__all__ = [
    "BarredError",
    "LockedError",
    "Shelf",
    "Spot",
    "Writing",
    "caches",
    "folder_spot",
    "followed",
    "lock_path",
    "locked",
    "own_folder",
    "passing_folder",
    "put",
    "put_folder",
    "said",
    "spot",
]
