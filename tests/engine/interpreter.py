"""The interpreter without what only compiled extension modules would be linked to.

As published, WebAssembly and script of Pyodide name every function and datum of CPython, and at each start a wrapper,
an entry in two tables and three properties are made for each of some eight thousand, so that extension modules could
be linked in while it runs. There are none here. What is left out is named and nothing else: the functions stay.
"""

import re
from collections.abc import Iterator

_NAME = re.compile(r"[A-Za-z_$][\w$]*")
#: Where the script takes what WebAssembly exports: `var _a,_b;function assignWasmExports(..){_a=..["a"];_b=..["b"]}`.
_TAKING = re.compile(r"var (?P<declared>[\w$,]+);function assignWasmExports\(wasmExports\)\{(?P<taken>[^{}]*)\}")
_ONE = re.compile(r'[\w$]+=Module\["[\w$]+"\].*=wasmExports\["(?P<name>[\w$]+)"\](?:\.value>>>0)?')
#: Where each function of the script that WebAssembly calls by address gets a module of its own to be wrapped in.
_WRAPPED = re.compile(r"var bytes=(Uint8Array\.of\([^;]*\));var module=new WebAssembly\.Module\(bytes\);")
#: The wrappers around some of them, whether they are there or not.
_WRAPPING = re.compile(r"function applySignatureConversions\(wasmExports\)\{.*?return wasmExports\}")

EXPORTS = 7  # the section of WebAssembly that names what is exported
_IMPORTS = 2
_FUNCTION, _TABLE, _MEMORY, _GLOBAL, _TAG = range(5)


def leaner(wasm: bytes, script: str, loader: str) -> tuple[bytes, str]:
    """`pyodide.asm.wasm` and `pyodide.asm.mjs` without the exports that neither the script nor the `loader` names.

    ValueError when they are not of the form that is known here.
    """
    taking, wrapping = _only(_TAKING, script), _only(_WRAPPING, script)
    spoken = script.replace(taking[0], "").replace(wrapping[0], "") + loader
    words = set(_NAME.findall(spoken)) | _linked(wasm)
    kept = {name for name, _ in exports(wasm) if name in words or f"_{name}" in words}
    script = script.replace(taking[0], _taking(taking, kept))
    wrapped = _only(_WRAPPED, script)
    once = f"var module=convertJsFunctionToWasm[sig]??=new WebAssembly.Module({wrapped[1]});"
    return _with_exports(wasm, kept), _in_brackets(script.replace(wrapped[0], once))


def _only(form: re.Pattern[str], script: str) -> re.Match[str]:
    found = list(form.finditer(script))
    if len(found) != 1:
        raise ValueError(f"the script is not of the known form: {len(found)} times {form.pattern[:60]!r}")
    return found[0]


def _taking(taking: re.Match[str], kept: set[str]) -> str:
    """The part of the script that takes the exports, without those that are not there any more."""
    left_out = set()
    statements = []
    for statement in taking["taken"].split(";"):
        one = _ONE.fullmatch(statement)
        if not one:
            raise ValueError(f"what takes the exports is not of the known form: {statement[:80]!r}")
        if one["name"] in kept:
            statements.append(statement)
        else:
            left_out.add(statement.partition("=")[0])
    declared = ",".join(name for name in taking["declared"].split(",") if name not in left_out)
    return f"var {declared};function assignWasmExports(wasmExports){{{';'.join(statements)}}}"


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


def _linked(wasm: bytes) -> set[str]:
    """The names that the module itself wants to have linked by address."""
    (body,) = (body for section, body in sections(wasm) if section == _IMPORTS)
    count, at = _number(body, 0)
    found = set()
    for _ in range(count):
        module, at = _name(body, at)
        name, at = _name(body, at)
        at = _after_import(body, at)
        if module.startswith("GOT."):
            found.add(name)
    return found


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
