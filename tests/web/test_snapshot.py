"""The kept memory of an engine: the next start comes out of it and answers the same; whatever is wrong with it, a start
does without.

Starts are those of the app's own worker, on a page that has nothing else.
"""

import re

import pytest

from calc import catalogue
from calc.qr import qr
from calc.sheet import callout_sheet, sheet
from tests.web.conftest import ENGINE, Watch, scripts

#: A worker as the page starts it: `begin()` -> whether it came out of the memory, `ask(op, args)` -> text,
#: `kept()` -> length of the memory once it is kept.
HARNESS = """
({ script, limit }) => {
  const late = (what) => new Promise((_, fail) => setTimeout(() => fail(new Error(`${what} did not come`)), limit));
  let worker, waiting, memory;
  window.begin = () => {
    worker?.terminate();
    worker = new Worker(script, { type: "module" });
    waiting = new Map();
    const up = new Promise((ready, failed) => {
      memory = new Promise((keep) => {
        worker.onmessage = ({ data }) => {
          if (data.ready) ready(data.restored);
          else if (data.failed) failed(new Error(data.failed));
          else if (data.kept) keep(data.kept);
          else waiting.get(data.id)(data);
        };
      });
    });
    return Promise.race([up, late("the engine")]);
  };
  let next = 0;
  window.ask = (op, args) => Promise.race([late("an answer"), new Promise((settle, fail) => {
    waiting.set(next, ({ text, problem }) => (problem ? fail(new Error(problem)) : settle(text)));
    worker.postMessage({ id: next++, op, args });
  })]);
  window.kept = () => Promise.race([memory, late("a snapshot")]);
  return caches.open("swarfbook-0123456789ab");
}
"""
#: `change(memory)` gives other bytes for the memory; with `proved` their proof is put right as well.
CHANGE = """
async ([change, proved]) => {
  const cache = await caches.open("swarfbook-snapshot");
  const file = await (await navigator.storage.getDirectory()).getFileHandle("swarfbook-memory");
  const memory = new Uint8Array(await (await file.getFile()).arrayBuffer());
  const proof = await (await cache.match("/snapshot/proof")).json();
  let other = memory;
  if (change === "bit") memory[memory.length - 1000] ^= 1;
  if (change === "short") other = memory.slice(0, -4096);
  if (change === "nought") memory.fill(0, 4096);
  if (proved) {
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", other));
    proof.sha256 = [...digest].map((one) => one.toString(16).padStart(2, "0")).join("");
    await cache.put("/snapshot/proof", new Response(JSON.stringify(proof)));
  }
  const writing = await file.createWritable();
  await writing.write(other);
  await writing.close();
}
"""
#: The names of the origin's own files.
FILES = """
async () => {
  const names = [];
  for await (const name of (await navigator.storage.getDirectory()).keys()) names.push(name);
  return names;
}
"""
RECORD = """
async () => (await (await (await caches.open("swarfbook-snapshot")).match("/snapshot/record")).json())
"""
INITIAL = 30 * 2**20  # bytes of heap that Pyodide begins with


@pytest.fixture
def page(browser, server):
    """A page of the app's origin with nothing on it, beside what looks like an offline copy."""
    context = browser.new_context(base_url=server.address, service_workers="block")
    watch = Watch()
    watch.allow(r"/favicon\.ico$")
    watch.over(context, server.address)
    page = context.new_page()
    script = f"{scripts(page)}worker.js"
    page.goto("/healthz")
    page.evaluate(f"async (given) => void (await ({HARNESS})(given))", {"script": script, "limit": ENGINE})
    yield page
    context.close()
    assert watch.complaints == []


@pytest.fixture
def kept(page):
    """The page with a snapshot kept."""
    assert page.evaluate("begin()") is False
    assert page.evaluate("ask('sheet', {name: 'fit', typed: {}})") == sheet("fit", {})
    assert page.evaluate("kept()") > INITIAL
    return page


def test_the_next_start_comes_out_of_it_and_answers_the_same(kept):
    assert kept.evaluate("begin()") is True
    assert kept.evaluate(RECORD)["failures"] == kept.evaluate(RECORD)["begun"] == 0
    for name in catalogue():
        assert kept.evaluate("(name) => ask('sheet', {name, typed: {}})", name) == sheet(name, {})
    assert kept.evaluate("ask('callout', {text: '30 H7/k6'})") == callout_sheet("30 H7/k6")
    assert kept.evaluate("ask('qr', {link: 'http://127.0.0.1/'})") == qr("http://127.0.0.1/")


def test_it_answers_before_its_files_are_there_and_what_needs_them_is_asked_again(kept):
    kept.context.route(re.compile(r"\.zip$"), lambda route: route.abort())
    assert kept.evaluate("begin()") is True
    assert kept.evaluate("ask('sheet', {name: 'fit', typed: {size: '52'}})") == sheet("fit", {"size": "52"})
    question = "ask('qr', {link: 'http://127.0.0.1/'})"
    assert "fetch" in kept.evaluate(f"{question}.then(() => '', (problem) => problem.message)")
    kept.context.unroute_all()
    assert kept.evaluate(question) == qr("http://127.0.0.1/")


def test_a_heap_that_has_grown_is_kept_and_read_back(page):
    page.evaluate("begin()")
    page.evaluate("ask('sheet', {name: 'fit', typed: {size: '9'.repeat(12e6)}})")
    assert page.evaluate("kept()") > 1.5 * INITIAL
    assert page.evaluate("begin()") is True
    assert page.evaluate("ask('sheet', {name: 'fit', typed: {}})") == sheet("fit", {})


@pytest.mark.parametrize(("change", "proved"), [("bit", False), ("short", False), ("nought", True)])
def test_one_that_is_spoilt_is_not_used_and_goes(kept, change, proved):
    kept.evaluate(CHANGE, [change, proved])
    assert kept.evaluate("begin()") is False
    assert kept.evaluate("ask('sheet', {name: 'fit', typed: {}})") == sheet("fit", {})
    assert kept.evaluate(RECORD)["failures"] == 1
    assert kept.evaluate("kept()") > INITIAL
    kept.evaluate(CHANGE, [change, proved])
    assert kept.evaluate("begin()") is False
    assert kept.evaluate(RECORD)["failures"] == 2
    assert kept.evaluate(FILES) == []


def test_a_device_that_has_filled_up_starts_all_the_same(kept, server):
    devtools = kept.context.new_cdp_session(kept)
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": server.address, "quotaSize": 1000})
    put = "caches.open('full').then((cache) => cache.put('/x', new Response('x')))"
    assert kept.evaluate(f"{put}.then(() => '', (problem) => problem.name)") == "QuotaExceededError"
    kept.evaluate("begin()")
    assert kept.evaluate("ask('sheet', {name: 'fit', typed: {}})") == sheet("fit", {})


def test_files_of_the_origin_that_are_refused_are_done_without(shelf):
    shelf.evaluate("() => { navigator.storage.getDirectory = () => Promise.reject(new DOMException('no')) }")
    assert (
        shelf.evaluate("snapshot.read().then((kept) => kept.heap).then(() => 'there', () => 'not there')")
        == "not there"
    )
    shelf.evaluate("snapshot.failed()")
    assert shelf.evaluate("snapshot.record()")["failures"] == 1
    assert shelf.evaluate("read()") is None


def test_chance_and_time_do_not_come_out_of_it(kept):
    """Two starts out of one memory draw the same until they are seeded anew, as the worker does; the clock goes on."""
    where = scripts(kept)
    drawn = kept.evaluate(
        """async (scripts) => {
          const { HOME, INTERPRETER, LOCK, PACKAGES, SCRIPT, STDLIB } = await import(`${scripts}engine_files.js`);
          const { Snapshot, settings } = await import(`${scripts}snapshot.js`);
          const archive = new URL(`${scripts}../calc.zip`, location.href).href;
          const home = new URL(HOME, location.href).href;
          const interpreter = await WebAssembly.compileStreaming(fetch(INTERPRETER));
          WebAssembly.instantiateStreaming = async (_, imports) => (
            { module: interpreter, instance: await WebAssembly.instantiate(interpreter, imports) }
          );
          const { default: factory, loadPyodide } = await import(SCRIPT);
          const given = { indexURL: home, packageBaseUrl: home, stdLibURL: STDLIB, lockFileContents: LOCK };
          const found = [];
          for (let start = 0; start < 2; start++) {
            const kept = await new Snapshot(HOME, INTERPRETER, SCRIPT, STDLIB, PACKAGES, archive).read();
            const python = await loadPyodide({ ...given, ...settings(kept, factory) });
            const draw = () => python.runPython("import random; random.random()");
            const before = draw();
            python.runPython("random.seed()");
            found.push([before, draw(), Math.abs(python.runPython("import time; time.time()") - Date.now() / 1000)]);
          }
          return found;
        }""",
        where,
    )
    (before, seeded, behind), (again, seeded_again, behind_again) = drawn
    assert before == again
    assert seeded != seeded_again
    assert max(behind, behind_again) < 5
    assert "random.seed()" in kept.request.get(f"{where}worker.js").text()


@pytest.fixture
def shelf(page):
    """The page with a `snapshot` of a heap of three bytes kept; `read()` puts it into an interpreter's heap that is
    full of something else and gives that, null when it is not to be used.
    """
    page.evaluate(
        """async (scripts) => {
          const { Snapshot, settings } = await import(`${scripts}snapshot.js`);
          window.Snapshot = Snapshot;
          window.snapshot = new Snapshot("a");
          window.read = async () => {
            const kept = await snapshot.read();
            if (!kept) return null;
            const heap = new Uint8Array(await kept.heap.then(({ bytes }) => bytes)).fill(5);
            const { _loadSnapshot, createPyodideModule } = settings(kept, async () => ({ HEAP8: heap }));
            await createPyodideModule({});
            return [..._loadSnapshot.subarray(16), ...heap];
          };
          // as Pyodide makes it: a mark, where the heap begins, and more of the head in front of it
          window.memory = (heap) => {
            const made = new Uint8Array(16 + heap.length);
            new Uint32Array(made.buffer, 0, 2).set([7, 16]);
            made.set(heap, 16);
            return made;
          };
          await snapshot.keep(memory([1, 2, 3]));
        }""",
        scripts(page),
    )
    return page


def test_it_is_read_back_as_it_was_kept_and_not_made_twice(shelf):
    assert shelf.evaluate("read()") == [1, 2, 3]
    assert shelf.evaluate("snapshot.wanted()") is False


def test_blocks_of_zeros_are_not_kept_and_are_there_again(shelf):
    sums, kept = shelf.evaluate(
        """async () => {
          const heap = new Uint8Array(5 * 65536 + 100);
          heap[70_000] = 7;
          heap[heap.length - 1] = 9;
          await caches.delete("swarfbook-snapshot");
          await snapshot.keep(memory(heap));
          const again = await read();
          const differing = again.filter((byte, place) => byte !== heap[place]).length;
          const kept = await (await navigator.storage.getDirectory()).getFileHandle("swarfbook-memory");
          return [[again.length - heap.length, differing], (await kept.getFile()).size];
        }"""
    )
    assert sums == [0, 0]
    assert kept == 65536 + 100


def test_another_version_does_not_read_it_and_makes_its_own(shelf):
    assert shelf.evaluate("new Snapshot('b').read()") is None
    assert shelf.evaluate("new Snapshot('b').wanted()") is True


def test_after_two_failures_the_version_does_without_until_there_is_another(shelf):
    for failures in (1, 2):
        assert shelf.evaluate("read()") == [1, 2, 3]
        shelf.evaluate("snapshot.failed()")
        assert shelf.evaluate("snapshot.record()")["failures"] == failures
        assert shelf.evaluate("snapshot.wanted()") is (failures < 2)
        shelf.evaluate("snapshot.keep(memory([1, 2, 3]))")
    assert shelf.evaluate("read()") is None
    assert shelf.evaluate("new Snapshot('b').wanted()") is True


def test_a_start_that_works_clears_the_record_and_starts_that_never_end_do_not_go_on(shelf):
    for _ in range(5):
        assert shelf.evaluate("read()") == [1, 2, 3]
    shelf.evaluate("snapshot.worked()")
    for _ in range(6):
        assert shelf.evaluate("read()") == [1, 2, 3]
    assert shelf.evaluate("read()") is None


def test_without_an_offline_copy_none_is_made(shelf):
    assert shelf.evaluate("new Snapshot('b').wanted()") is True
    shelf.evaluate("caches.delete('swarfbook-0123456789ab')")
    assert shelf.evaluate("new Snapshot('b').wanted()") is False
