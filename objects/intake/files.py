"""Files with lists, whatever they are: told apart by what is in them, never by their name."""

from objects.core.lists import ReadList, read_list


def read_file(data: bytes, file_name: str = "", *, sheet: str = "", max_rows: int = 200_000) -> ReadList:
    """Read a list: text with delimiters, a spreadsheet (XLSX) or LIDO records.

    data: the file. file_name: as the person's computer calls it, used in sentences only. sheet: the sheet
    of a spreadsheet to read; blank takes the first one that holds a list.
    Raises ListError, with a sentence for the reader, for everything that cannot be used.
    """
    return read_list(data, max_rows=max_rows)
