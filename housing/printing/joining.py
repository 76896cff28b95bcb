"""Joins the files of a print into one, with the tags that screen readers go by and each picture once."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Page, Pdf

ONCE = ("/FontFile2", "/FontFile3", "/FontFile")


def join(files: Sequence[Path], target: Path, title: str) -> int:
    """Write the pages of one file or more, in order, into a new one; returns how many there are."""
    with ExitStack() as opened:
        whole = opened.enter_context(Pdf.open(files[0]))
        seen: dict[bytes, Object] = {}
        _share(whole.pages, seen)
        for file in files[1:]:
            part = opened.enter_context(Pdf.open(file))
            _append(whole, part)
            _share(whole.pages[-len(part.pages) :], seen)
        _entitle(whole, title)
        part_file = target.with_suffix(".part")
        whole.save(part_file, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        part_file.replace(target)
        return len(whole.pages)


def _append(whole: Pdf, part: Pdf) -> None:
    """Add the pages of a part and its tags. Both count their pages from 0 in the table of tags."""
    before, tagged = len(whole.pages), "/StructTreeRoot" in part.Root and "/StructTreeRoot" in whole.Root
    if tagged:
        before = _next_key(whole)
        for holder in _tag_holders(part):
            holder[_key_of(holder)] = int(holder[_key_of(holder)]) + before
    whole.pages.extend(part.pages)
    if not tagged:
        return
    tree, added = whole.Root.StructTreeRoot, whole.copy_foreign(part.Root.StructTreeRoot)
    document = tree.K[0]
    for child in added.K[0].K:
        child.P = document
        document.K.append(child)
    numbers = list(added.ParentTree.Nums)
    for key, tags in zip(numbers[::2], numbers[1::2], strict=True):
        tree.ParentTree.Nums.append(int(key) + before)
        tree.ParentTree.Nums.append(tags)
    if "/IDTree" in added and "/IDTree" in tree:
        names = [*_pairs(tree.IDTree.Names), *_pairs(added.IDTree.Names)]
        tree.IDTree.Names = Array(
            half for pair in sorted(names, key=lambda pair: bytes(pair[0])) for half in pair
        )


def _next_key(whole: Pdf) -> int:
    """The first number that the table of tags does not have yet."""
    numbers = whole.Root.StructTreeRoot.ParentTree.Nums
    return 1 + max((int(numbers[at]) for at in range(0, len(numbers), 2)), default=-1)


def _tag_holders(part: Pdf) -> Iterator[Object]:
    """Pages and links, which point into the table of tags."""
    for page in part.pages:
        if "/StructParents" in page.obj:
            yield page.obj
        for note in page.obj.get("/Annots", ()):
            if "/StructParent" in note:
                yield note


def _key_of(holder: Object) -> str:
    return "/StructParents" if "/StructParents" in holder else "/StructParent"


def _pairs(names: Iterable[Object]) -> Iterator[tuple[Object, Object]]:
    listed = list(names)
    return zip(listed[::2], listed[1::2], strict=True)


def _share(pages: Iterable[Page], seen: dict[bytes, Object]) -> None:
    """Have the same font file and the same picture stand in the file once. seen: by digest of their bytes."""
    done = set()
    for page in pages:
        resources = page.obj.get("/Resources")
        if resources is None or resources.objgen in done:
            continue
        done.add(resources.objgen)
        for font in resources.get("/Font", Dictionary()).values():
            for inner in font.get("/DescendantFonts", (font,)):
                if (descriptor := inner.get("/FontDescriptor")) is not None:
                    _share_in(descriptor, ONCE, seen)
        if (pictures := resources.get("/XObject")) is not None:
            _share_in(pictures, list(pictures.keys()), seen)


def _share_in(holder: Object, names: Iterable[str], seen: dict[bytes, Object]) -> None:
    for name in names:
        stream = holder.get(name)
        if (
            not isinstance(stream, pikepdf.Stream)
            or "/SMask" in stream
            or stream.get("/Subtype") == Name.Form
        ):
            continue
        digest = (
            hashlib.sha256(stream.read_raw_bytes()).digest() + str(stream.get("/ColorSpace", "")).encode()
        )
        kept = seen.setdefault(digest, stream)
        if kept.objgen != stream.objgen:
            holder[name] = kept


def _entitle(whole: Pdf, title: str) -> None:
    with whole.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:title"] = title
    whole.docinfo["/Title"] = title
