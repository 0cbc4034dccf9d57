"""What the engine is made of: made again it is the same bytes, and the server serves what it holds."""

import hashlib
import io
import json
import re
import zipfile

import brotli
import pytest

from server import engine
from server.app import create_app
from server.assets import TYPES
from tests.engine import interpreter, make, script
from tests.engine.__main__ import addresses
from tests.engine.left_out import ENCODINGS, PACKAGES, STDLIB, is_left_out

WEB = make.REPO / "web"
FOLDER = WEB / engine.FOLDER
MANIFEST = json.loads((FOLDER / "manifest.json").read_text("utf-8"))
PUBLISHED = [WEB / "vendor" / make.pyodide() / "python_stdlib.zip", *make.wheels()]

entries = pytest.mark.parametrize("entry", MANIFEST, ids=lambda entry: entry["path"])


@pytest.fixture(scope="module")
def python(browser):
    with make.python(browser) as page:
        yield page


def kept(name):
    return brotli.decompress((FOLDER / f"{name}.br").read_bytes())


def members(archive):
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        return {one.filename: opened.read(one) for one in opened.infolist()}


def test_the_archives_made_again_are_the_same_bytes(python):
    """Calculations that were changed since are left out: they go to the browser as source until they are made."""
    sources = json.loads(members(kept("calc.zip"))[engine.SOURCES])
    again = members(make.calculations(python, only=sources))
    unchanged = {path for path in again if path != engine.SOURCES}
    assert {path: body for path, body in members(kept("calc.zip")).items() if path in unchanged} == {
        path: again[path] for path in unchanged
    }
    assert make.packages(python) == kept("packages.zip")
    assert make.stdlib(python) == kept("stdlib.zip")


def test_compiled_files_say_nothing_of_themselves_and_check_what_their_sources_check(python):
    source = b'''"""The module."""

def told(number):
    """The function."""

class Kept:
    """The class."""

    def asked(self):
        """The method."""
        assert not self
        return 1
'''
    made = make.compiled(python, {"one.py": source})["one.pyc"]
    assert [text for text in (b"module", b"function", b"class", b"method") if b"The %s." % text in made] == [b"class"]
    found = python.evaluate(
        "(text) => python.runPython(text)",
        f"""
import marshal
names = {{}}
exec(marshal.loads(bytes.fromhex("{made.hex()}")[16:]), names)
try:
    names["Kept"]().asked()
    found = "not checked"
except AssertionError as one:
    found = f"line {{one.__traceback__.tb_next.tb_lineno}}, {{names['told'](1)}}"
found
""",
    )
    assert found == "line 11, None"


def test_the_interpreter_made_again_is_the_same_bytes():
    assert make.interpreter() == {name: kept(name) for name in ("pyodide.asm.wasm", "pyodide.mjs")}


def published(name):
    return (WEB / "vendor" / make.pyodide() / name).read_bytes()


def exported(wasm):
    return {name for name, _ in interpreter.exports(wasm)}


def test_of_the_webassembly_nothing_but_names_is_left_out():
    whole, left = published("pyodide.asm.wasm"), kept("pyodide.asm.wasm")
    unnamed = [[one for one in interpreter.sections(wasm) if one[0] != interpreter.EXPORTS] for wasm in (whole, left)]
    assert unnamed[0] == unnamed[1]
    assert exported(left) < exported(whole)
    assert len(exported(left)) < 300 < 8000 < len(exported(whole))


def test_every_name_that_its_script_or_the_loader_says_is_still_there():
    """As published they take all names there are: one that is said again is one that is used."""
    taken = re.compile(r'=wasmExports\["([\w$]+)"\]')
    whole, left = (script.decode("utf-8") for script in (published("pyodide.asm.mjs"), kept("pyodide.mjs")))
    there = exported(kept("pyodide.asm.wasm"))
    gone = exported(published("pyodide.asm.wasm")) - there
    assert set(taken.findall(whole)) - set(taken.findall(left)) <= gone
    said = left
    for begin, end in (
        ("function assignWasmExports(", "}"),
        ("function applySignatureConversions(", "return wasmExports}"),
    ):
        start = said.index(begin)
        said = said[:start] + said[said.index(end, start) :]
    words = set(re.findall(r"[A-Za-z_$][\w$]*", said)) - {f"_{name}" for name in there}
    assert words & (gone | {f"_{name}" for name in gone}) == set()


def test_the_loader_stands_in_front_of_the_script_as_published():
    loader, _, _ = published("pyodide.mjs").decode("utf-8").partition("//# sourceMappingURL")
    assert (
        kept("pyodide.mjs").decode("utf-8").startswith(f"{loader}export default (async function _createPyodideModule(")
    )


def test_of_the_script_no_more_is_left_than_half():
    """WebGL is what there is most of, and nothing of it may be asked for: its functions have no address."""
    left = kept("pyodide.mjs").decode("utf-8")
    assert 2 * len(left) < len(published("pyodide.asm.mjs"))
    assert set(re.findall(r"emscripten_gl\w*", left)) == {"emscripten_gl"}


@pytest.mark.parametrize(
    ("body", "needed", "left"),
    [
        ("var a=1,b=2;function c(){}", "", ""),
        ("var a=1,b=2;function c(){}", "b", "var b=2;"),
        ("var a=1,b=a;function c(){return b}", "c", "var a=1,b=a;function c(){return b}"),
        ("var a=1;var b={a:2};run(b)", "", "var a=1;var b={a:2};run(b)"),
        ("var a=1;run('a')", "", "var a=1;run('a')"),
        ("var a=run(),b=()=>run(),c=new Map;", "", "var a=run(),c=new Map;"),
        ("function a(){}a.sig='v';function b(){}b.sig='v';", "b", "function b(){}b.sig='v';"),
        ('var a=1;Module["a"]=a;var b=1;Module["b"]=b;', "a", 'var a=1;Module["a"]=a;'),
        ("var wasmImports={a:_a,b};function _a(){}function b(){}", "b", "var wasmImports={b};function b(){}"),
        ("let a=1;if(a){b=2}", "", "let a=1;if(a){b=2}"),
    ],
)
def test_what_is_needed_of_a_script(body, needed, left):
    around = "async function made(){{{}}}export default made;"
    assert script.used(around.format(body), needed.split()) == around.format(left)


@pytest.mark.parametrize("other", ["export default 1;", "function a(){}function b(){}", "function a(){"])
def test_a_script_of_another_form_is_refused(other):
    with pytest.raises(ValueError, match="known form"):
        script.used(other, ())


@pytest.mark.parametrize(
    ("part", "old", "new"),
    [
        (0, b"\0asm\1", b"\0asm\2"),
        (0, b"\x0ePyErr_Occurred", b"\x0eemscripten_out"),  # exported as what it wants an address of
        (1, "function assignWasmExports", "function assign"),
        (1, '=wasmExports["set_method_docstring"]', "=0"),
        (1, "updateGOT(origExports);", ""),
        (1, "export default _createPyodideModule", "export default 1"),
    ],
)
def test_an_interpreter_of_another_form_is_refused(part, old, new):
    given = [published("pyodide.asm.wasm"), published("pyodide.asm.mjs").decode(), published("pyodide.mjs").decode()]
    assert old in given[part]
    given[part] = given[part].replace(old, new)
    with pytest.raises(ValueError, match=r"form|WebAssembly|gives out"):
        interpreter.leaner(*given)


def test_the_folder_holds_what_its_manifest_names_and_nothing_else():
    on_disk = sorted(path.name for path in FOLDER.iterdir())
    assert on_disk == sorted(["manifest.json", *(entry["path"] for entry in MANIFEST)])


@entries
def test_every_packed_form_is_of_what_it_says(entry):
    small = (FOLDER / entry["path"]).read_bytes()
    body = brotli.decompress(small)
    assert (hashlib.sha256(small).hexdigest(), len(small)) == (entry["sha256"], entry["bytes"])
    assert (hashlib.sha256(body).hexdigest(), len(body)) == (entry["of_sha256"], entry["of_bytes"])


@entries
def test_it_is_made_of_what_is_there(entry):
    assert entry["made_of"]
    for path in entry["made_of"]:
        assert (make.REPO / path if path == "calc" else WEB / path).exists()


def test_the_worker_is_told_where_they_are():
    script = (WEB / "scripts" / "engine_files.js").read_text("utf-8")
    assert script == addresses(MANIFEST, f"vendor/{make.pyodide()}")
    client = create_app().test_client()
    named = re.findall(r'"(/engine/[^"]+)"', script)
    assert {url.rsplit("/", 1)[1] for url in named} == {one["of"] for one in MANIFEST} - {"calc.zip"}
    for url in named:
        reply = client.get(url)
        assert (reply.status_code, reply.content_type) == (200, TYPES[f".{url.rsplit('.', 1)[1]}"])
        assert reply.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        packed = client.get(url, headers={"Accept-Encoding": "br"})
        assert packed.data == (FOLDER / f"{url.rsplit('/', 1)[1]}.br").read_bytes()


@pytest.mark.parametrize("name", ["stdlib.zip", "packages.zip", "calc.zip"])
def test_an_archive_is_stored_sorted_and_without_time_or_place(name):
    with zipfile.ZipFile(io.BytesIO(kept(name))) as opened:
        names = opened.namelist()
        assert names == sorted(names)
        assert {(one.compress_type, one.date_time) for one in opened.infolist()} == {
            (zipfile.ZIP_STORED, (1980, 1, 1, 0, 0, 0))
        }
        for one in names:
            body = opened.read(one)
            assert str(make.REPO).encode() not in body
            if one.endswith(".pyc"):
                assert body[4:8] == b"\1\0\0\0", "hash-based and unchecked, PEP 552"
                assert one.removesuffix("c").encode() in body, "the file's name in it is the one in the archive"


def test_the_archives_hold_everything_that_is_not_named_to_stay_out():
    there = {}
    for one in PUBLISHED:
        with zipfile.ZipFile(one) as opened:
            there |= {name: opened.read(name) for name in opened.namelist() if not name.endswith("/")}
    wanted = {f"{name}c" if name.endswith(".py") else name for name in there if not is_left_out(name)}
    packed = members(kept("stdlib.zip")) | members(kept("packages.zip"))
    assert set(packed) == wanted
    assert {name: body for name, body in packed.items() if not name.endswith(".pyc")} == {
        name: body for name, body in there.items() if not name.endswith(".py") and not is_left_out(name)
    }


def test_every_package_has_its_licence_with_it():
    names = [name.lower() for name in members(kept("packages.zip"))]
    for wheel in make.wheels():
        home = "-".join(wheel.name.split("-")[:2]).lower()
        assert any(name.startswith(f"{home}.dist-info/") and "licen" in name for name in names), wheel.name


def test_every_name_that_stays_out_is_one_that_was_published():
    published = set()
    for one in PUBLISHED:
        with zipfile.ZipFile(one) as opened:
            published |= {name.removesuffix(".py") for name in opened.namelist()}
    whole = {name[: end.start()] for name in published for end in re.finditer("/", name)} | published
    assert [name for name in (*STDLIB, *PACKAGES) if name not in whole] == []
    assert [name for name in ENCODINGS if f"encodings/{name}" not in whole] == []


def test_an_altered_archive_stops_the_start(tmp_path):
    folder = tmp_path / engine.FOLDER
    folder.mkdir()
    for path in FOLDER.iterdir():
        (folder / path.name).write_bytes(path.read_bytes())
    assert engine.read(tmp_path).archives.keys() == {one["of"] for one in MANIFEST} - {"calc.zip"}
    (folder / "stdlib.zip.br").write_bytes(b"x")
    with pytest.raises(engine.AlteredFile, match=r"web/engine/stdlib\.zip\.br"):
        engine.read(tmp_path)
