"""What nobody types and anybody may send: texts, inputs and addresses, drawn from the declarations; and what to look
for in an answer."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from urllib.parse import quote, quote_plus, urlencode

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from calc import catalogue, kinds
from calc.run import longest
from calc.shop import SHOP
from tests import edges

MARKUP = (
    "<script>alert(1)</script>", "</p></textarea></select>\"'><img src=x onerror=alert(1)><!--",
    "<svg/onload=alert(1)>",
    "javascript:alert(1)", "' onfocus=alert(1) autofocus x='", '" style="background:url(//x.invalid)', "]]>", "<!--",
    "<base href=//x.invalid/>", "<iframe srcdoc='<script>alert(1)</script>'>", "&lt;b&gt;&#60;&NotEqualTilde;",
    "{{7*7}}", "{% raw %}", "${7*7}", "%3Cscript%3E", "%s%n", "../../etc/passwd", "'; DROP TABLE x--", "\\u003cscript>",
)  # fmt: skip
FIGURES = (
    "1e400", "-1e-400", "1e99", "1E+9", "5e", "e5", "9" * 60, "9**9", "0x10", "1_000", "1 1/0", "0/5", "1/3/5", "--5",
    "+-5", "−5", "∓5", ".5.", ",", "1,000.5", "1.000,5", "nan", "-Infinity", "∞", "None", "true", "1e5 in", "0", "-0",
    "٣٠", "３０．５", "৩০ mm", "30²", "Ⅷ", "½", "1½½", "①", "𝟛𝟘", "㎜", "30 ㎜", "1 3/16″", "30\u20e3", "Ø", "±0.01",
    "H7/h6/g5",
)  # fmt: skip
SPACES = tuple("\t\n\v\f\r\x1c\x1f\x85\xa0\u1680\u2003\u2009\u2028\u2029\u202f\u205f\u3000\u200b\u2060\ufeff\u180e")
BIDI = tuple("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")
CONTROL = (*map(chr, (*range(9), 14, 27, 127, 128, 133, 155, 159)), "\x1b[31m", "\x1b]0;x\x07", "\r\nX-Own: 1")
LETTERS = (
    "ß", "ﬃ", "İ", "ŉ", "ΐ", "ſ", "K", "e\u0301" * 9, "\u0336" * 30, "👩\u200d🔧", "🇬🇧", "\ufffd", "\ufffe",
    "\U0010ffff",
)  # fmt: skip
ODD = (*MARKUP, *FIGURES, *SPACES, *BIDI, *CONTROL, *LETTERS)
#: Half of a pair, which no address can carry but a keyboard or a command line can.
HALVES = ("\ud800", "\udfff", "\udcff")

ENCODINGS = ("plain", "spaces as %20", "every byte", "raw", "Latin-1", "UTF-16", "twice", "cut short", "semicolons")
LONGEST_TEXT = 2500  # characters, more than any field takes


@dataclass(frozen=True)
class Asked:
    """One request: path and query as bytes on the wire, and what was put into it."""

    path: str
    query: bytes
    pairs: tuple[tuple[str, str], ...] = ()
    sent: tuple[tuple[str, str], ...] = ()

    @property
    def environ(self) -> dict[str, str]:
        """As WSGI wants it, past whatever a client would put right."""
        return {"PATH_INFO": self.path.encode("utf-8").decode("latin-1"), "QUERY_STRING": self.query.decode("latin-1")}


# ------------------------------------------------------------------------------------------------- one text


@cache
def likely(name: str) -> tuple[edges.Typed, ...]:
    """Inputs of a calculation that could have been typed, most of which are answered."""
    return (*edges.every_edge(name), *edges.at_random(name, 60))


@cache
def usual(name: str) -> Mapping[str, tuple[str, ...]]:
    """Texts for each input of a calculation that could have been typed."""
    found: dict[str, dict[str, None]] = {
        one.name: dict.fromkeys((one.default or "",)) for one in catalogue()[name].inputs
    }
    for typed in likely(name):
        for field, text in typed.items():
            found[field][text] = None
    return {field: tuple(texts) for field, texts in found.items()}


def _odd(*more: str) -> st.SearchStrategy[str]:
    return st.one_of(st.sampled_from((*ODD, *more)), st.text(st.characters(exclude_categories=["Cs"]), max_size=70))


def _put_in(text: str, place: int, odd: str, cut: int) -> str:
    at = place % (len(text) + 1)
    return text[:at] + odd + text[at + cut :]


def _over_and_over(text: str, first: int, length: int, count: int, tail: str) -> str:
    at = first % (len(text) + 1)
    piece = text[at : at + length] or "1"
    return (piece * count)[:LONGEST_TEXT] + tail


def _figure(sign: str, digits: str, power: int, unit: str) -> str:
    return f"{sign}{digits}e{power}{unit}" if power else f"{sign}{digits}{unit}"


UNITS = (
    "",
    " ",
    *(f" {one}" for one in kinds.SYMBOLS.values()),
    *(alias for all_ in kinds.ALIASES.values() for alias in all_),
)
FIGURE = st.builds(
    _figure,
    st.sampled_from(("", "", "-", "+", "−", "Ø")),
    st.one_of(st.integers(0, 10**6).map(str), st.decimals(0, 1000, places=4).map(str), st.sampled_from(FIGURES)),
    st.sampled_from((0, 0, 0, 1, -3, 9, 15, 16, 99, -99, 308, -324, 999)),
    st.sampled_from(UNITS),
)  # fmt: skip


@cache
def texts(known: tuple[str, ...], most: int) -> st.SearchStrategy[str]:
    """Texts for a field that takes such as `known`, up to `most` characters: odd, nearly right, and far too long."""
    base = st.sampled_from(known)
    number, long = st.integers(0, 40), st.integers(1, most + 3)
    return st.one_of(
        _odd(),
        FIGURE,
        st.builds(_put_in, base, number, _odd(), st.integers(0, 3)),
        st.builds(
            _over_and_over, base, number, st.integers(1, 9), long, st.sampled_from(("", "!", "x", " ", "/", "@"))
        ),
        st.lists(base, min_size=1, max_size=60).map("; ".join),
        st.lists(st.one_of(base, _odd()), min_size=1, max_size=9).map(" ".join),
    )


# ---------------------------------------------------------------------------------------------- many texts


@st.composite
def inputs(draw: st.DrawFn, name: str) -> tuple[tuple[str, str], ...]:
    """Fields of a calculation with what is typed in them; some odd, some unknown, some given twice."""
    known = usual(name)
    typed = dict(draw(st.sampled_from(likely(name))))
    for one in draw(st.lists(st.sampled_from(catalogue()[name].inputs), max_size=3)):
        typed[one.name] = draw(texts(known[one.name], longest(one)))
    pairs = list(typed.items())
    if draw(st.integers(0, 9)) == 0:
        pairs.append((draw(_odd("", "size", "__class__", "name", "typed")), draw(_odd())))
    if pairs and draw(st.integers(0, 9)) == 0:
        again = draw(st.sampled_from(pairs))
        pairs += [(again[0], draw(st.one_of(st.just(again[1]), _odd())))] * draw(st.integers(1, 3))
    return tuple(pairs)


def encoded(pairs: tuple[tuple[str, str], ...], how: str) -> bytes:
    """The pairs as a query, in one of ENCODINGS."""
    match how:
        case "spaces as %20":
            return urlencode(pairs, quote_via=quote).encode()
        case "every byte":
            return b"&".join(b"=".join(_every_byte(one.encode()) for one in pair) for pair in pairs)
        case "raw":
            return "&".join("=".join(pair) for pair in pairs).encode()
        case "Latin-1":
            return "&".join(
                "=".join(quote(one, encoding="latin-1", errors="replace") for one in pair) for pair in pairs
            ).encode()
        case "UTF-16":
            return b"&".join(quote(name).encode() + b"=" + _every_byte(text.encode("utf-16")) for name, text in pairs)
        case "twice":
            return "&".join(f"{quote(name)}={quote_plus(quote_plus(text))}" for name, text in pairs).encode()
        case "cut short":
            return urlencode(pairs).encode()[:-1]
        case "semicolons":
            return urlencode(pairs).replace("&", ";").encode() + b"&&=&%&%f&%zz=%u0041&%00=%ff%fe#x"
    return urlencode(pairs).encode()


def _every_byte(text: bytes) -> bytes:
    return "".join(f"%{one:02x}" for one in text).encode()


#: Plain more often than not: an odd encoding hides what is in it from the calculation.
HOW = st.sampled_from((*["plain"] * 9, *ENCODINGS))
HEADERS = st.sampled_from(
    (
        *[()] * 6,
        (("Accept-Encoding", "br"),),
        (("Accept-Encoding", "gzip;q=1e9, br;q=nan, *;q=-1"), ("If-None-Match", "\"x, W/'")),
        (("If-None-Match", "*"), ("Range", "bytes=0-1"), ("Cookie", "a=" + "b" * 999)),
        (("Host", "x.invalid:99999"), ("X-Forwarded-Host", "<script>"), ("Referer", "javascript:alert(1)")),
        (("Host", "[::1"), ("Accept", "\xff"), ("Accept-Language", "x" * 400)),
    )
)
CALCULATED = ("/c/{}", "/api/{}", "/part/sheet/{}")


@st.composite
def calculated(draw: st.DrawFn, name: str, paths: tuple[str, ...] = CALCULATED) -> Asked:
    """A page or an answer of that calculation."""
    pairs = draw(inputs(name))
    path = draw(st.sampled_from(paths)).format(name)
    return Asked(path, encoded(pairs, draw(HOW)), pairs, draw(HEADERS))


@st.composite
def callouts(draw: st.DrawFn) -> str:
    """What might stand in the line of the Bench: the patterns of a calculation filled with anything, or anything."""
    one = draw(st.sampled_from([each for each in catalogue().values() if each.callouts]))
    pattern = draw(st.sampled_from(one.callouts))
    known = usual(one.name)

    def filled(match: "re.Match[str]") -> str:
        if "=" in match[0]:
            return ""
        return draw(st.one_of(st.sampled_from(known[match[1]]), texts(known[match[1]], 20)))

    written = re.sub(r"\{(\w+)=?[^}]*\}", filled, pattern)
    return draw(st.one_of(st.just(written), st.just(written[:64]), texts((written[:64],), 64)))


ELSEWHERE = ("/", "/part/callout", "/part/shop/{}", "/part/qr", "/c/{}", "/{}", "/v/{}", "/vendor/{}")


@st.composite
def elsewhere(draw: st.DrawFn, paths: tuple[str, ...] = ELSEWHERE) -> Asked:
    """Call-outs, things of the Shop, QR codes, and addresses that lead nowhere."""
    pairs: tuple[tuple[str, str], ...]
    where = draw(st.sampled_from(paths))
    if where in ("/", "/part/callout"):
        pairs = (("text", draw(callouts())),)
        if draw(st.booleans()):
            pairs += draw(inputs(draw(st.sampled_from(list(catalogue())))))
        return Asked(where, encoded(pairs, draw(HOW)), pairs, draw(HEADERS))
    if where == "/part/shop/{}":
        thing = draw(st.sampled_from(list(SHOP.values())))
        fields = draw(st.lists(st.sampled_from(thing.inputs), max_size=5))
        pairs = tuple((one.name, draw(texts((one.default or "0.1 to 0.4",), longest(one)))) for one in fields)
        return Asked(where.format(thing.name), encoded(pairs, draw(HOW)), pairs, draw(HEADERS))
    odd = draw(
        st.one_of(_odd("", "fit", "//x.invalid", "..%2f..%2f", ".", "x.js"), st.lists(_odd(), max_size=9).map("".join))
    )
    pairs = (("link", odd),) if where == "/part/qr" else ()
    return Asked(where.format(odd), encoded(pairs, draw(HOW)), pairs, draw(HEADERS))


def drawn(strategy: st.SearchStrategy[Asked], count: int) -> list[Asked]:
    """So many of them, the same in every run, to be sent later."""
    found: list[Asked] = []

    @settings(
        max_examples=count, derandomize=True, deadline=None, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(strategy)
    def draw(one: Asked) -> None:
        found.append(one)

    draw()
    return found


# ------------------------------------------------------------------------------------------ what is answered

TAG = re.compile(r'<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z][-\w:]*(?:="[^"<>]*")?)*)\s*(/?)>')
ATTRIBUTE = re.compile(r'([a-zA-Z][-\w:]*)(?:="([^"]*)")?')
VOID = frozenset(("br", "hr", "img", "input", "link", "meta"))
SCRIPT = re.compile(r'(?: type="module")? src="/v/[0-9a-f]{12}/scripts/\w+\.js"(?: defer)?')


def flaws(markup: str) -> Iterator[str]:
    """What is wrong with markup of ours: not well formed, or something in it that could act."""
    unclosed: list[str] = []
    end = 0
    for match in TAG.finditer(markup):
        between, end = markup[end : match.start()], match.end()
        if "<" in between or ">" in between:
            yield f"stray bracket in {between[:80]!r}"
        closing, name, attributes, itself = match.groups()
        if closing:
            if not unclosed or unclosed.pop() != name:
                yield f"</{name}> closes nothing"
            continue
        if name not in VOID and not itself:
            unclosed.append(name)
        if name in ("iframe", "object", "embed", "style", "base"):
            yield f"an element that we do not make: {match[0]}"
        if name == "script" and not SCRIPT.fullmatch(attributes):
            yield f"a script: {match[0]}"
        for attribute, text in ATTRIBUTE.findall(attributes):
            if attribute.startswith("on") or attribute in ("style", "srcdoc"):
                yield f"an attribute that acts: {match[0]}"
            if attribute in ("href", "src", "action") and not re.match(r"[/#](?!/)", text):
                yield f"leads elsewhere: {match[0]}"
    if "<" in markup[end:] or ">" in markup[end:] or unclosed:
        yield f"not closed: {unclosed}, {markup[end:][:80]!r}"
