"""One template and a list of names: a pattern for each row of the list."""

from applique.batch.filling import fill, placeholders
from applique.batch.making import Outcome, State, left_over, make_each
from applique.batch.rows import ListRow, NameList, read_list

__all__ = [
    "ListRow",
    "NameList",
    "Outcome",
    "State",
    "fill",
    "left_over",
    "make_each",
    "placeholders",
    "read_list",
]
