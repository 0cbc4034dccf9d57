"""What stays out of the archives: a module or a package by its path without ending, nothing under it is taken.

Only what nothing here can come to need. Every question to every calculation is asked of an engine made this way, so
a name that is missing shows there as a ModuleNotFoundError: take its line out and make the archives again.
"""


def _names(text: str) -> tuple[str, ...]:
    return tuple(text.split())


#: Tools for developing, other processes, servers, mail, other systems, databases, formats that nothing here reads, and
#: what the standard library itself does without when it is not there: bz2, lzma, ssl, zstd.
STDLIB = _names("""
    __hello__ __phello__ _py_abc _pydatetime _pyio _pyrepl _ssl _strptime
    _sysconfigdata__emscripten_wasm32-emscripten antigravity argparse
    asyncio/__main__ asyncio/proactor_events asyncio/tools asyncio/windows_events asyncio/windows_utils
    bdb bz2 cProfile calendar cmd code colorsys compileall compression/bz2 compression/lzma compression/zstd
    concurrent/futures/interpreter concurrent/futures/process concurrent/interpreters configparser ctypes
    difflib doctest email/mime filecmp fileinput ftplib getopt getpass graphlib html
    http/cookiejar http/cookies http/server imaplib logging/config logging/handlers lzma mailbox modulefinder
    multiprocessing netrc nturl2path optparse pathlib/types pdb pickletools plistlib poplib profile pstats pty
    py_compile pyclbr pydoc pyodide/_nodesock_transport pyodide/console pyodide/http rlcompleter
    runpy sched shelve shlex site-packages smtplib socketserver sqlite3 sre_compile sre_constants sre_parse ssl
    statistics stringprep symtable sysconfig tabnanny tarfile this timeit trace tty unittest urllib/robotparser
    uuid wave webbrowser wsgiref xml/dom xml/etree xml/parsers xmlrpc zipapp zipfile/__main__ zoneinfo
""")

#: Of encodings/ only these are taken: those of Unicode, of zip directories and of host names.
ENCODINGS = _names("""
    __init__ aliases ascii charmap cp437 idna latin_1 punycode raw_unicode_escape undefined unicode_escape
    utf_16 utf_16_be utf_16_le utf_32 utf_8 utf_8_sig
""")

#: Tests, command lines, other systems, and pint's own units: ours are declared in calc/kinds.py.
PACKAGES = _names("""
    flexcache/testsuite flexparser/testsuite pint/constants_en.txt pint/default_en.txt pint/pint_convert
    pint/testsuite pint/xtranslated.txt platformdirs/__main__ platformdirs/android platformdirs/macos
    platformdirs/testing platformdirs/windows segno/cli
""")


def is_left_out(path: str) -> bool:
    """Whether the file `path` of the standard library or of a wheel stays out."""
    folder, _, name = path.partition("/")
    if folder == "encodings":
        return name.removesuffix(".py") not in ENCODINGS
    if folder.endswith(".dist-info"):
        return not (name == "METADATA" or name.startswith("licenses/") or name.startswith("LICENSE"))
    stem = path.removesuffix(".py")
    return any(stem == one or stem.startswith(f"{one}/") for one in (*STDLIB, *PACKAGES))
