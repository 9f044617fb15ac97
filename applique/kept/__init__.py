"""Quilts that the program keeps for their maker: a folder for each, written whole or not at all, with its undo."""

from applique.kept.address import Address, KeptAddress
from applique.kept.chest import Chest, ListedQuilt, data_folder
from applique.kept.history import ChangedElsewhere, History, history_from

__all__ = [
    "Address",
    "ChangedElsewhere",
    "Chest",
    "History",
    "KeptAddress",
    "ListedQuilt",
    "data_folder",
    "history_from",
]
