"""One template and a list of names: a pattern for each row of the list."""

from applique.batch.checking import CheckedRow, check_each
from applique.batch.heights import SharedHeight, shared_height
from applique.batch.making import TO_PRINT, Outcome, State, folders_of, left_over, make_each
from applique.batch.rows import ListRow, NameList, list_in, read_list
from applique.batch.to_print import Together, write_to_print

__all__ = [
    "TO_PRINT",
    "CheckedRow",
    "ListRow",
    "NameList",
    "Outcome",
    "SharedHeight",
    "State",
    "Together",
    "check_each",
    "folders_of",
    "left_over",
    "list_in",
    "make_each",
    "read_list",
    "shared_height",
    "write_to_print",
]
