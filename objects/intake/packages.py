"""The package of a spreadsheet file (a ZIP archive), unpacked with nothing in it believed."""

import io
import zipfile
import zlib
from collections.abc import Iterator

from objects.core.list_text import ListError
from objects.core.words import noted, say

MOST_UNPACKED = 200_000_000  # bytes; 5,000,000 cells of 35 bytes and some to spare; assumed
MOST_MEMBERS = 2_000  # assumed; a workbook has some dozens
MOST_RATIO = 200  # unpacked to packed, beyond what may always be unpacked; workbooks reach about 40; assumed
_ALWAYS_UNPACKED = 10_000_000
_CHUNK, _PACKED_CHUNK = 1 << 20, 1 << 16
_LOCAL_HEADER = 30  # bytes before a member's name; APPNOTE.TXT of the ZIP format, 4.3.7
_UNUSED = ("xl/media/", "xl/drawings/", "xl/charts/", "xl/embeddings/", "xl/externalLinks/", "xl/pivotCache/")

BOMB = noted(
    "The spreadsheet unpacks to far more than any list holds ({why}). Delete the sheets that are "
    "not needed, or "
    "save the list as CSV."
)
DAMAGED = noted(
    "The spreadsheet file is damaged or incomplete ({why}). Open it, save it again, and choose the new file."
)
PROTECTED = noted(
    "The spreadsheet is protected by a password. Open it, take the password off, and save it again."
)


def members_of(data: bytes) -> list[zipfile.ZipInfo]:
    """What a package says it holds."""
    if data.count(b"PK\x01\x02") > MOST_MEMBERS:  # each entry of the table of contents begins so
        raise ListError(say(BOMB, why=say("more than {most_members:,} parts", most_members=MOST_MEMBERS)))
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            return package.infolist()
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OverflowError, EOFError) as error:
        raise ListError(say(DAMAGED, why=say("its table of contents cannot be read"))) from error


def unpacked(data: bytes, members: list[zipfile.ZipInfo]) -> dict[str, bytes]:
    """The XML parts of a package by name; pictures and whatever else is packed with them stay packed.

    Every part is unpacked bit by bit and counted; the sizes written in the file are only compared in the end.
    Names are never used as paths. Raises ListError for what is damaged, protected, or unpacks to too much.
    """
    parts: dict[str, bytes] = {}
    taken: set[str] = set()
    used = packed = 0
    for member in filter(_is_wanted, members):
        if member.filename.casefold() in taken:
            raise ListError(say(DAMAGED, why=say("it holds {named} twice", named=_named(member))))
        taken.add(member.filename.casefold())
        packed += member.compress_size
        most = min(MOST_UNPACKED, max(_ALWAYS_UNPACKED, MOST_RATIO * packed))
        parts[member.filename] = part = _unpack(data, member, most - used)
        used += len(part)
    return parts


def packed_again(parts: dict[str, bytes]) -> io.BytesIO:
    """A package of the parts that were checked, and of nothing else, not compressed."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as package:
        for name, part in parts.items():
            package.writestr(name, part)
    held.seek(0)
    return held


def _is_wanted(member: zipfile.ZipInfo) -> bool:
    name = member.filename
    is_plain = not name.startswith("/") and not any(sign in name for sign in ("..", "\\", ":"))
    return is_plain and name.endswith((".xml", ".rels")) and not name.startswith(_UNUSED)


def _named(member: zipfile.ZipInfo) -> str:
    return f"“{member.filename[:60]}”"


def _unpack(data: bytes, member: zipfile.ZipInfo, most: int) -> bytes:
    """One part; little more than so many bytes of it are ever made."""
    gathered, size = [], 0
    try:
        for piece in _pieces(data, member):
            size += len(piece)
            if size > most:
                raise ListError(
                    say(
                        BOMB,
                        why=say(
                            "{named} alone has more than {most:,.0f} MB",
                            named=_named(member),
                            most=most / 1e6,
                        ),
                    )
                )
            gathered.append(piece)
    except zlib.error as error:
        raise ListError(say(DAMAGED, why=say("{named} cannot be unpacked", named=_named(member)))) from error
    part = b"".join(gathered)
    if size != member.file_size or zlib.crc32(part) != member.CRC:
        raise ListError(
            say(DAMAGED, why=say("{named} is not what the table of contents says", named=_named(member)))
        )
    return part


def _pieces(data: bytes, member: zipfile.ZipInfo) -> Iterator[bytes]:
    packed = _packed(data, member)
    if member.compress_type == zipfile.ZIP_STORED:
        yield packed
    elif member.compress_type == zipfile.ZIP_DEFLATED:
        opened = zlib.decompressobj(-zlib.MAX_WBITS)
        for at in range(0, len(packed), _PACKED_CHUNK):
            yield opened.decompress(packed[at : at + _PACKED_CHUNK], _CHUNK)
            while opened.unconsumed_tail:
                yield opened.decompress(opened.unconsumed_tail, _CHUNK)
    else:
        raise ListError(say(DAMAGED, why=say("{named} is packed in an unusual way", named=_named(member))))


def _packed(data: bytes, member: zipfile.ZipInfo) -> bytes:
    """A part as it is packed, found by its own header."""
    if member.flag_bits & 1:
        raise ListError(say(PROTECTED))
    start = member.header_offset
    header = data[start : start + _LOCAL_HEADER]
    if start < 0 or len(header) < _LOCAL_HEADER or header[:4] != b"PK\x03\x04":
        raise ListError(say(DAMAGED, why=say("{named} is missing", named=_named(member))))
    start += _LOCAL_HEADER + int.from_bytes(header[26:28], "little") + int.from_bytes(header[28:30], "little")
    packed = data[start : start + member.compress_size]
    if len(packed) < member.compress_size:
        raise ListError(say(DAMAGED, why=say("{named} breaks off", named=_named(member))))
    return packed
