"""The interpreter's script without what nothing in it needs.

As published it brings along what any extension module might want: WebGL, SDL, file systems of other kinds. What stays
is found by name, in favour of staying: a part of the script stays when it does something by itself, or when its name
stands in another that stays, as a variable, as a property or as a text.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import tree_sitter_javascript
from tree_sitter import Language, Node, Parser

_LANGUAGE = Language(tree_sitter_javascript.language())
_NAMES = {"identifier", "property_identifier", "shorthand_property_identifier", "shorthand_property_identifier_pattern",
          "string_fragment"}  # fmt: skip
#: What does something when it is come to; within a function it is not come to yet.
_DOING = {"call_expression", "new_expression", "assignment_expression", "augmented_assignment_expression",
          "update_expression", "await_expression"}  # fmt: skip
_LATER = {"function_expression", "arrow_function", "generator_function", "method_definition"}
_IMPORTED = b"wasmImports"  # the script's table of what WebAssembly may ask of it: each entry is a part


@dataclass(frozen=True)
class Part:
    """What stays or goes as one: it stays if `name` is needed, always without one, and then needs `names`."""

    text: bytes
    name: str | None
    names: frozenset[str]


def used(script: str, needed: Iterable[str]) -> str:
    """`script`, a module of one function, with what is needed of that function's body for itself and for the names
    `needed` by others. ValueError when it is of another form.
    """
    source = script.encode()
    statements = [(one, list(_parts(one))) for one in _body(source).named_children]
    names = _needed([part for _, parts in statements for part in parts], needed)
    made, at = bytearray(), 0
    for statement, parts in statements:
        staying = [part for part in parts if part.name is None or part.name in names]
        if len(staying) < len(parts):
            made += source[at : statement.start_byte] + _again([part.text for part in staying])
            at = statement.end_byte
    return bytes(made + source[at:]).decode()


def _body(source: bytes) -> Node:
    root = Parser(_LANGUAGE).parse(source).root_node
    functions = [one for one in root.named_children if one.type == "function_declaration"]
    if root.has_error or len(functions) != 1:
        raise ValueError("the script is not of the known form: a module of one function")
    body = functions[0].child_by_field_name("body")
    assert body is not None
    return body


def _parts(statement: Node) -> Iterator[Part]:
    match statement.type:
        case "function_declaration" | "generator_function_declaration":
            yield _part(statement, statement.child_by_field_name("name"))
        case "variable_declaration":
            for one in statement.named_children:
                yield from _declared(one)
        case "expression_statement" if statement.named_children[0].type == "assignment_expression":
            yield _part(statement, _owner(statement.named_children[0]))
        case _:
            yield _part(statement)


def _part(node: Node, name: Node | None = None) -> Part:
    return Part(_text(node), None if name is None else _text(name).decode().strip("\"'"), _names(node))


def _declared(one: Node) -> Iterator[Part]:
    """The parts of a `name = value`."""
    name, value = one.child_by_field_name("name"), one.child_by_field_name("value")
    if value is not None and name is not None and _text(name) == _IMPORTED:
        yield Part(_IMPORTED + b"={", None, frozenset())
        for entry in value.named_children:
            yield _part(entry, entry.child_by_field_name("key") or entry)
    elif name is None or name.type != "identifier" or (value is not None and _does(value)):
        yield _part(one)
    else:
        yield _part(one, name)


def _owner(assignment: Node) -> Node | None:
    """Whose property it sets, where that is all it does: of `_f.sig = "vi"` it is _f, of `Module["f"] = f` "f"."""
    left, right = assignment.child_by_field_name("left"), assignment.child_by_field_name("right")
    assert left is not None
    assert right is not None
    of, index = left.child_by_field_name("object"), left.child_by_field_name("index")
    if of is None or of.type != "identifier" or _does(right):
        return None
    if _text(of) != b"Module":
        return of if left.type == "member_expression" else None
    return index if index is not None and index.type == "string" and right.type == "identifier" else None


def _does(node: Node) -> bool:
    if node.type in _LATER:
        return False
    return node.type in _DOING or any(_does(one) for one in node.named_children)


def _names(node: Node) -> frozenset[str]:
    found = set()
    coming = [node]
    while coming:
        one = coming.pop()
        if one.type in _NAMES:
            found.add(_text(one).decode())
        coming += one.named_children
    return frozenset(found)


def _text(node: Node) -> bytes:
    assert node.text is not None
    return node.text


def _needed(parts: list[Part], needed: Iterable[str]) -> set[str]:
    """All names that are needed, once it is known what needs what."""
    called: defaultdict[str, list[Part]] = defaultdict(list)
    found, coming = set(), list(needed)
    for part in parts:
        if part.name is None:
            coming += part.names
        else:
            called[part.name].append(part)
    while coming:
        name = coming.pop()
        if name not in found:
            found.add(name)
            coming += (other for part in called[name] for other in part.names)
    return found


def _again(texts: list[bytes]) -> bytes:
    """What stays of a list of declarations, or of the entries of a table; nothing for anything else."""
    if not texts:
        return b""
    if texts[0].startswith(_IMPORTED):
        return b"var " + texts[0] + b",".join(texts[1:]) + b"};"
    return b"var " + b",".join(texts) + b";"
