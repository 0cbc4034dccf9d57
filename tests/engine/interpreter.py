"""The interpreter without what only compiled extension modules would be linked to.

As published, WebAssembly and script of Pyodide name every function and datum of CPython, and at each start a wrapper,
an entry in two tables and three properties are made for each of some eight thousand, so that extension modules could
be linked in while it runs. There are none here. Of WebAssembly only names are left out: its functions stay. Of the
script only what is needed is left; the loader is put in front of it, so that both come as one file.
"""

import re
from collections.abc import Iterator

from tests.engine.script import used

#: What web/scripts/snapshot.js asks of the script, besides what the loader asks.
ASKED = ("HEAP8", "growMemory")

_NAME = re.compile(r"[A-Za-z_$][\w$]*")
#: Where the script takes what WebAssembly exports, and each statement there.
_TAKING = re.compile(r"(?P<head>function assignWasmExports\(wasmExports\)\{)(?P<each>[^{}]*)\}")
_TAKEN = re.compile(r'(?P<as>[\w$]+)=Module\["[\w$]+"\].*=wasmExports\["(?P<name>[\w$]+)"\](?:\.value>>>0)?')
#: Where it puts wrappers around some of them.
_WRAPPING = re.compile(
    r"(?P<head>function applySignatureConversions\(wasmExports\)\{.*?)"
    r'(?P<each>wasmExports\["[^{}]*);return wasmExports\}'
)
_WRAPPED = re.compile(r'wasmExports\["(?P<name>[\w$]+)"\]=makeWrapper_\w+\(wasmExports\["(?P=name)"\]\)')
_WEBGL = "emscripten_gl"
#: What it does at each start for the sake of extension modules, and what is done instead: all that is exported is given
#: an address; so is WebGL, which nothing here draws with, and to look for them all addresses there are are read.
_LINKING = {
    "updateGOT(origExports);": "",
    "for(var[symName,entry]of Object.entries(GOT)){": (
        f'for(var[symName,entry]of Object.entries(GOT)){{if(symName.startsWith("{_WEBGL}")){{entry.value=0;continue}}'
    ),
    "if(!functionsInTableMap){functionsInTableMap=new WeakMap;updateTableMap(0,wasmTable.length)}": (
        "functionsInTableMap??=new WeakMap;"
    ),
}

EXPORTS = 7  # the section of WebAssembly that names what is exported
_IMPORTS = 2
_FUNCTION, _TABLE, _MEMORY, _GLOBAL, _TAG = range(5)


def leaner(wasm: bytes, script: str, loader: str) -> tuple[bytes, str]:
    """Of `pyodide.asm.wasm`, `pyodide.asm.mjs` and the `loader`, `pyodide.mjs`: the first without the exports that
    neither of the others names, and a module of both others, whose default export is the script's function.

    ValueError when they are not of the form that is known here.
    """
    taking, wrapping = _only(_TAKING, script), _only(_WRAPPING, script)
    imported = set(imports(wasm))
    if linked := {name for module, name in imported if module.startswith("GOT.")} & {name for name, _ in exports(wasm)}:
        raise ValueError(f"the interpreter is not of the known form: it links to its own {min(linked)}")
    for linking, instead in _LINKING.items():
        script = script.replace(_only(re.compile(re.escape(linking)), script)[0], instead)
    script = script.replace(taking["each"], "").replace(wrapping["each"], "")
    needed = {name for _, name in imported if not name.startswith(_WEBGL)}
    script = used(script, needed.union(_NAME.findall(loader), ASKED))
    words = set(_NAME.findall(script + loader))
    kept = {name for name, _ in exports(wasm) if name in words or f"_{name}" in words}
    taken, wrapped = (
        [one for one in _each(form, found["each"]) if one["name"] in kept]
        for form, found in ((_TAKEN, taking), (_WRAPPED, wrapping))
    )
    declared = ",".join(one["as"] for one in taken)
    script = _filled(script, taking["head"], taken).replace(taking["head"], f"var {declared};{taking['head']}")
    script = _filled(script, wrapping["head"], wrapped)
    return _with_exports(wasm, kept), _in_front(loader) + _in_brackets(script)


def _only(form: re.Pattern[str], script: str) -> re.Match[str]:
    found = list(form.finditer(script))
    if len(found) != 1:
        raise ValueError(f"the script is not of the known form: {len(found)} times {form.pattern[:60]!r}")
    return found[0]


def _each(form: re.Pattern[str], statements: str) -> list[re.Match[str]]:
    found = []
    for statement in statements.split(";"):
        one = form.fullmatch(statement)
        if not one:
            raise ValueError(f"what takes the exports is not of the known form: {statement[:80]!r}")
        found.append(one)
    return found


def _filled(script: str, head: str, statements: list[re.Match[str]]) -> str:
    """With these statements behind `head`, where they were taken out."""
    return script.replace(head, head + ";".join(one[0] for one in statements))


def _in_front(loader: str) -> str:
    """The loader without the address of a map that is not there."""
    text, _, _ = loader.partition("//# sourceMappingURL=")
    return text


def _in_brackets(script: str) -> str:
    """The script with its one function in brackets, so that a browser reads it once: it is called at once anyway."""
    begin, end = "async function _createPyodideModule(", "}export default _createPyodideModule;\n"
    if not (script.startswith(begin) and script.endswith(end)):
        raise ValueError("the script is not one function that it gives out")
    return f"export default ({script.removesuffix(end)}}});\n"


def _with_exports(wasm: bytes, kept: set[str]) -> bytes:
    """The module with those exports only."""
    made = bytearray(wasm[:8])
    for section, body in sections(wasm):
        if section == EXPORTS:
            entries = [entry for name, entry in exports(wasm) if name in kept]
            body = _counted(len(entries)) + b"".join(entries)
        made += bytes([section]) + _counted(len(body)) + body
    return bytes(made)


# ------------------------------------------------------------------- the binary form (WebAssembly Core 2.0, chapter 5)


def sections(wasm: bytes) -> Iterator[tuple[int, bytes]]:
    """Number and content of each section."""
    if wasm[:8] != b"\0asm\1\0\0\0":
        raise ValueError("this is no WebAssembly module")
    at = 8
    while at < len(wasm):
        section = wasm[at]
        size, start = _number(wasm, at + 1)
        at = start + size
        yield section, wasm[start:at]


def exports(wasm: bytes) -> Iterator[tuple[str, bytes]]:
    """Name of each export and its whole entry."""
    (body,) = (body for section, body in sections(wasm) if section == EXPORTS)
    count, at = _number(body, 0)
    for _ in range(count):
        start = at
        name, at = _name(body, at)
        _, at = _number(body, at + 1)  # a byte for its sort, then its number
        yield name, body[start:at]


def imports(wasm: bytes) -> Iterator[tuple[str, str]]:
    """Module and name of each import."""
    (body,) = (body for section, body in sections(wasm) if section == _IMPORTS)
    count, at = _number(body, 0)
    for _ in range(count):
        module, at = _name(body, at)
        name, at = _name(body, at)
        at = _after_import(body, at)
        yield module, name


def _after_import(body: bytes, at: int) -> int:
    sort = body[at]
    if sort == _FUNCTION:
        return _number(body, at + 1)[1]
    if sort == _GLOBAL:
        return at + 3  # its type and whether it changes
    if sort == _TAG:
        return _number(body, at + 2)[1]
    if sort not in (_TABLE, _MEMORY):
        raise ValueError(f"an import of an unknown sort: {sort}")
    limits = at + (2 if sort == _TABLE else 1)  # a table has the type of its elements first
    _, end = _number(body, limits + 1)
    return _number(body, end)[1] if body[limits] & 1 else end  # a most, if it has one


def _name(body: bytes, at: int) -> tuple[str, int]:
    size, start = _number(body, at)
    return body[start : start + size].decode("utf-8"), start + size


def _number(body: bytes, at: int) -> tuple[int, int]:
    """An unsigned number in LEB128, and where it ends."""
    value = shift = 0
    while True:
        byte = body[at]
        at += 1
        value |= (byte & 0x7F) << shift
        shift += 7
        if byte < 0x80:
            return value, at


def _counted(value: int) -> bytes:
    """A number in LEB128."""
    made = bytearray()
    while value > 0x7F:
        made.append(value & 0x7F | 0x80)
        value >>= 7
    return bytes([*made, value])
