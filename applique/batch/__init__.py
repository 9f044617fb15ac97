"""One template and a list of names: a pattern for each row of the list."""

from applique.batch.checking import CheckedRow, check_each
from applique.batch.making import Outcome, State, folders_of, left_over, make_each
from applique.batch.rows import ListRow, NameList, list_in, read_list

__all__ = [
    "CheckedRow",
    "ListRow",
    "NameList",
    "Outcome",
    "State",
    "check_each",
    "folders_of",
    "left_over",
    "list_in",
    "make_each",
    "read_list",
]
