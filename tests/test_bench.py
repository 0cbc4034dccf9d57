"""The measurements' own arithmetic, on samples that were made up, and one short run of the command."""

import itertools
import json
import subprocess
import sys
from itertools import pairwise

import pytest

from calc import answer_json, catalogue
from server.launch import REPO
from tests.bench import load, native, throughput, typed, wire
from tests.bench.kit import LEAST
from tests.bench.table import Bar, Row, figure, median, median_and_p95, printed, quantile, ratio, records

ONE_TO_HUNDRED = [float(one) for one in range(100, 0, -1)]


@pytest.mark.parametrize(("share", "found"), [(0.5, 50), (0.95, 95), (0.99, 99), (1.0, 100), (0.001, 1), (0.0, 1)])
def test_a_quantile_is_a_sample_with_that_share_at_or_below_it(share, found):
    assert quantile(ONE_TO_HUNDRED, share) == found


def test_few_samples_have_their_worst_for_a_p95():
    assert quantile([3.0, 1.0, 2.0], 0.95) == 3.0
    assert quantile([7.0], 0.5) == 7.0


def test_nothing_measured_is_no_figure():
    with pytest.raises(ValueError, match="nothing was measured"):
        quantile([], 0.95)


def test_the_median_lies_between_the_middle_two():
    assert median([4.0, 1.0, 3.0, 2.0]) == 2.5
    assert median([100.0, 1.0, 2.0]) == 2.0


def test_a_ratio_is_of_medians_so_that_one_hiccup_does_not_count():
    row = ratio("start", "offline", [600.0, 9000.0, 400.0], [1500.0, 1600.0, 1400.0], Bar(0.4))
    assert (row.figure, row.unit, row.standing) == (0.4, "×", "within")


def test_a_bar_is_on_the_p95_and_not_on_the_median():
    middle, worst = median_and_p95("paint", "fit", ONE_TO_HUNDRED, Bar(50))
    assert (middle.figure, middle.standing) == (50.5, "")
    assert (worst.figure, worst.standing) == (95.0, "beyond")


@pytest.mark.parametrize(
    ("bar", "number", "standing"),
    [
        (Bar(16.7), 16.7, "within"),
        (Bar(16.7), 16.71, "beyond"),
        (Bar(0.5, least=True), 0.5, "within"),
        (Bar(0.5, least=True), 0.49, "beyond"),
        (None, 1.0, ""),
    ],
)
def test_a_bar_itself_is_within(bar, number, standing):
    assert Row("paint", "fit", number, "ms", bar).standing == standing


@pytest.mark.parametrize(
    ("number", "unit", "shown"),
    [
        (1.234, "ms", "1.23"),
        (12.34, "ms", "12.3"),
        (1634.5, "ms", "1 634.5"),
        (3227.4, "/s", "3 227"),
        (0.404, "×", "0.40"),
        (5.2049, "MB", "5.20"),
        (150.0, "kB", "150.0"),
        (41, "", "41"),
    ],
)
def test_a_figure_has_the_decimals_of_its_unit(number, unit, shown):
    assert figure(number, unit) == shown


ROWS = [
    Row("native", "fit, JSON, median", 0.5, "ms", samples=200),
    Row("server", "fit, new link: to the empty view", 0.31, "×", Bar(0.5, least=True)),
    Row("wire", "shell of one page, gzip", 75.0, "kB", Bar(150), "of one page"),
]


def test_the_table_has_a_line_for_each_row_under_the_heading_of_its_group():
    assert printed(ROWS).splitlines() == [
        "what                              figure unit      bar          samples",
        "--------------------------------  ------ ----  -------  ------  -------",
        "",
        "NATIVE",
        "fit, JSON, median                   0.50 ms                         200",
        "",
        "SERVER",
        "fit, new link: to the empty view    0.31 ×      ≥ 0.50  beyond",
        "",
        "WIRE",
        "shell of one page, gzip             75.0 kB    ≤ 150.0  within  (of one page)",
    ]


def test_the_records_carry_figures_as_measured():
    first, second, _ = json.loads(json.dumps(records(ROWS)))
    assert (first["bar"], first["sense"], first["standing"]) == (None, None, "")
    assert second == {
        "group": "server",
        "what": "fit, new link: to the empty view",
        "figure": 0.31,
        "unit": "×",
        "bar": 0.5,
        "sense": "at least",
        "standing": "beyond",
        "note": "",
        "samples": 0,
    }


def test_a_group_that_takes_too_long_makes_do_with_a_few_samples():
    inputs = [{"size": str(size)} for size in range(30, 60)]
    assert len(native.timed(answer_json, "fit", inputs, 0)) == LEAST
    assert len(native.timed(answer_json, "fit", inputs, 60)) == len(inputs)


# ------------------------------------------------------------------------------------- what is measured on


@pytest.mark.parametrize("name", catalogue())
def test_the_clock_runs_on_inputs_that_are_answered_and_differ(name):
    inputs = typed.answered(name, 20)
    assert len(inputs) == 20
    assert len({tuple(one.items()) for one in inputs}) == 20
    assert all(typed.is_answered(name, one) for one in inputs)


@pytest.mark.parametrize("name", catalogue())
def test_every_key_changes_the_field(name):
    field, texts = typed.keyed(name, 30)
    assert len(texts) == 30
    assert all(one != following for one, following in pairwise(texts))
    assert all(typed.is_answered(name, {field: one}) for one in texts)


@pytest.mark.parametrize(
    ("url", "shell"),
    [
        (wire.PAGE, True),
        ("/v/0123456789ab/scripts/main.js", True),
        ("/v/0123456789ab/styles/sheet.css", True),
        ("/v/0123456789ab/icons/icon.svg", True),
        ("/manifest.webmanifest", True),
        ("/vendor/idb-8.0.4/index.js", True),
        ("/v/0123456789ab/calc.zip", False),
        ("/vendor/pyodide-314.0.7/pyodide.asm.wasm", False),
        ("/", False),
        ("/shop", False),
    ],
)
def test_the_shell_is_one_page_without_the_engine(url, shell):
    assert wire.of_shell(url) is shell


def test_the_list_is_read_out_of_the_worker():
    assert wire.listing('self.OFFLINE = {"files":[]};\nconst other = 1;\n') == '{"files":[]}'


def test_a_server_that_refuses_is_not_counted(own_server_port):
    with pytest.raises(ConnectionError, match="404"):
        throughput.burst(own_server_port, lambda: "/nowhere", "", 0.2)
    waits, spent = throughput.burst(own_server_port, lambda: "/empty", "gzip", 0.2)
    assert waits
    assert min(waits) > 0
    assert spent >= 0.2


def test_an_error_under_load_is_counted_and_is_not_the_end_of_it(own_server_port):
    found = load.Load()
    paths = itertools.cycle(("/empty", "/nowhere"))
    load.press(found, (own_server_port, own_server_port), lambda: next(paths), 0.3)
    assert found.waits
    assert set(found.errors) == {"the server answered b'http/1.1 404 not found'"}
    assert found.rate == pytest.approx(len(found.waits) / found.seconds)
    told = {row.what: row for row in load.rows("here", found, found)}
    assert told["here: errors"].standing == "beyond"


def test_a_stated_pace_is_kept_and_not_passed(own_server_port):
    found = load.Load(pace=40)
    load.press(found, (own_server_port,), lambda: "/empty", 0.5)
    assert found.errors == []
    assert len(found.waits) <= 24


def test_clients_that_never_finish_keep_nobody_waiting(own_server_port):
    found = load.Load()
    with load.trickling(own_server_port, 20):
        load.press(found, (own_server_port,), lambda: "/empty", 0.5)
    assert found.waits
    assert found.errors == []


def test_the_mix_asks_every_calculation_for_its_page_its_pieces_and_its_json():
    asked = {address.partition("?")[0] for address in load.mix()}
    assert asked == {f"/{where}/{name}" for where in ("c", "part/sheet", "api") for name in catalogue()}


@pytest.fixture
def own_server_port():
    """The port of what the server is compared with."""
    command = [sys.executable, "-m", "tests.bench.plain"]
    with subprocess.Popen(command, cwd=REPO, stdout=subprocess.PIPE, text=True) as process:
        yield int(process.stdout.readline().rsplit(":", 1)[1])
        process.terminate()


# -------------------------------------------------------------------------------------------- the command


def bench(*arguments):
    line = [sys.executable, "-m", "tests.bench", *arguments]
    return subprocess.run(line, cwd=REPO, capture_output=True, encoding="utf-8", timeout=120)


def test_a_short_run_prints_a_row_for_every_calculation(tmp_path):
    file = tmp_path / "rows.json"
    result = bench("--quick", "--only", "native", "--json", str(file))
    assert (result.returncode, result.stderr) == (0, "measuring: native\n")
    wanted = [
        f"{name}, {way}, {which}" for name in catalogue() for way in ("JSON", "sheet") for which in ("median", "p95")
    ]
    assert [one for one in wanted if f"\n{one} " not in result.stdout] == []
    kept = json.loads(file.read_text("utf-8"))
    assert [row["what"] for row in kept["rows"]] == wanted
    assert all(row["figure"] > 0 for row in kept["rows"])
    assert kept["conditions"]["quick"] is True


def test_a_group_that_is_none_is_refused():
    result = bench("--only", "luck")
    assert result.returncode == 2
    assert "invalid choice: 'luck'" in result.stderr
