"""The page on the job file, made from the models that read it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from loomwright.rig import known
from loomwright.rig.schema import job_schema
from tools.stated_defaults import BY_FUNCTION, anchor, by_function, shown

Node = dict[str, Any]
WIRE = "JobWire"
ONLY = {"vehicle.feed.lamps": ", where the trailer shares the wires of a 12 V vehicle's lamps"}
"""When the default of a key is taken at all."""

WITHIN = {"kind": "Its kind", "FUNCTION.current": "An LED's current", "FUNCTION.form": "Its form"}
"""What a text may leave out that has a default of its own."""

HEAD = """\
# The job file

A job file describes one rig: vehicle, sockets, converter, trailer. It is a
[TOML](https://toml.io/en/v1.0.0) file that reads like notes. `loomwright new KIND` writes one to
fill in; `loomwright schema` prints the JSON Schema that editors complete from.

- **Quantities** are text with their unit: `"19 ft"`, `"4 ft 3 in"`, `"5.8 m"`, `"2.5 mm2"`. A bare
  number is refused. Write any unit you like; `units` says which you want to read.
- **Wire sizes** name their system: `14 AWG`, `14 SAE` (vehicle primary wire, which holds less
  copper), `2.5 mm2`.
- **Colours** are written as the manual has them: `GN/VT`, `LT GRN w/ BLK`, `brown/white`; base
  first, stripe second.
- **What you leave out** is filled with a stated default and listed by
  `loomwright check FILE --assumptions`. A default is a guess about somebody else's truck: measure
  where it matters.
- Every bad value is told at once, with file, line and mend. A key that is not on this page is
  refused, so a spelling mistake is never passed over.

After each key: what it means, how it is written, and what is taken if it is left out, with the
standing and the source of that value ([standings](../sources.md)). Where nothing is said of leaving
it out, nothing is taken for it. Defaults differ by family of
rigs, told by the socket the trailer plugs into: light US (the seven-way blade and what is alike),
metric, heavy, flat (the bonded four- and five-way), and by voltage where 24 V is named.
"""


def job_file_page() -> str:
    """Return the page."""
    schema = job_schema()
    return "\n".join([HEAD, *_tables(schema), *_wire(schema), *_by_function(), *_lists()])


def paths(node: Node | None = None, path: str = "") -> Iterator[str]:
    """Yield the place of every key of a job file, such as ``trailer.lamp.back``."""
    schema = job_schema()
    table = schema if node is None else node
    for key, child in table["properties"].items():
        place = f"{path}{key}"
        yield place
        if inner := _named(schema, child):
            yield from paths(inner, f"{place}.")


def _tables(schema: Node) -> Iterator[str]:
    for key in schema["properties"]:
        yield from _table(schema, schema, key, key)


def _table(schema: Node, parent: Node, key: str, path: str) -> Iterator[str]:
    child = parent["properties"][key]
    node = _named(schema, child)
    if node is None:
        return
    many = child.get("type") == "array"
    heading = f"[[{path}]]" if many else f"[{path}]"
    yield f"## `{heading}`\n"
    needed = " It must be there." if key in parent.get("required", ()) else ""
    yield f"{_sentence(child.get('description') or node['description'])}{needed}\n"
    required = node.get("required", ())
    for name, each in node["properties"].items():
        yield from _key(schema, f"{path}.{name}", each, is_required=name in required)
    yield from _any_function(node, path)
    yield ""
    for name in node["properties"]:
        yield from _table(schema, node, name, f"{path}.{name}")


def _key(schema: Node, path: str, node: Node, *, is_required: bool) -> Iterator[str]:
    name = path.rpartition(".")[2]
    must = " (must be there)" if is_required else ""
    says = node.get("description") or schema["$defs"][_reference(node) or ""]["description"]
    yield f"- **`{name}`**{must}: {_sentence(says)}"
    yield f"  *Written:* {_written(schema, node, path)}."
    default = shown(path) or shown(f"{path}.FUNCTION")
    if default and not ("Left out" in says and default.startswith("worked out")):
        yield f"  *Left out:* {default}{ONLY.get(path, '')}."
    for part, words in WITHIN.items():
        if within := shown(f"{path}.{part}"):
            yield f"  *{words}, left out:* {within}."


def _any_function(node: Node, path: str) -> Iterator[str]:
    """A line for keys that are functions, as a lead has them."""
    extra = node.get("additionalProperties")
    if not isinstance(extra, dict):
        return
    place = f"{path}.FUNCTION"
    if _reference(extra) == WIRE:
        yield "- **any function** of the connector, such as `brake`: what differs there."
        yield '  *Written:* a [wire](#a-wire), such as `{ size = "12 AWG" }`.'
        sized = shown(f"{place}.size")
        yield f"  *Size, left out everywhere:* {sized}."
        yield "  A size that was found in the connector's own standard comes before it."
    else:
        yield "- **any function**, such as `brake`: the size of that conductor."
        yield f"  *Written:* {_examples(extra)}. *Left out:* {shown(place)}."


def _written(schema: Node, node: Node, path: str) -> str:
    kind, name = node.get("type"), _reference(node)
    if kind == "array":
        return f"a list, each {_written(schema, node['items'], path)}"
    if name == WIRE:
        return "a [wire](#a-wire)"
    if name is not None:
        return f"a table of its own, [below](#{anchor(path)})"
    if kind == "object":
        shape = _examples(node) or f"each {_examples(node['additionalProperties'])}"
        return f"an inline table by [function](#function), {shape}"
    return _plain(node)


def _plain(node: Node) -> str:
    if "enum" in node:
        return _choice(node["enum"])
    match node.get("type"):
        case "boolean":
            return "`true` or `false`"
        case "integer":
            return f"a whole number of {node['minimum']} to {node['maximum']}"
    return _examples(node) or "text"


def _choice(words: Sequence[str]) -> str:
    for name, known_words in _word_lists().items():
        if tuple(words) == tuple(known_words):
            return f"one of [{name}](#{anchor(name)})"
    return " or ".join(_code(f'"{word}"') for word in words)


def _examples(node: Node) -> str:
    return ", ".join(_code(_toml(each)) for each in node.get("examples", ()))


def _toml(value: object) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(each)}" for key, each in value.items()) + " }"
    return f'"{value}"'


def _wire(schema: Node) -> Iterator[str]:
    node = schema["$defs"][WIRE]
    yield "## A wire\n"
    yield f"{_sentence(node['description'])} Written as an inline table.\n"
    for name, each in node["properties"].items():
        yield f"- **`{name}`**: {_sentence(each['description'])}"
        yield f"  *Written:* {_written(schema, each, name)}."
    yield "\nWhat is taken where one is left out; for the size of `socket.ground_wire`, that of the"
    yield "lead's ground:\n"
    for path in paths():
        told = [(key, shown(f"{path}.{key}")) for key in ("size", "length", "insulation")]
        if _is_wire(schema, path) and any(default for _, default in told):
            yield f"- `{path}`"
            yield from (f"  - {key}: {default}" for key, default in told if default)
    yield ""


def _is_wire(schema: Node, path: str) -> bool:
    node, child = schema, schema
    for word in path.split("."):
        child = node["properties"][word]
        node = _named(schema, child) or {}
    return _reference(child) == WIRE


def _by_function() -> Iterator[str]:
    yield "## Defaults by function\n"
    yield "`other` is every function that has no row of its own in that family.\n"
    for path in BY_FUNCTION:
        yield f"### {path}\n"
        yield "| rigs | functions | value | what it is (standing: source) |"
        yield "| --- | --- | --- | --- |"
        for rigs, functions, value, origin in by_function(path):
            yield f"| {rigs} | {functions} | `{value}` | {origin} |"
        yield ""


def _lists() -> Iterator[str]:
    yield "## Lists of words\n"
    for name, words in _word_lists().items():
        yield f"### {name}\n"
        yield ", ".join(f"`{word}`" for word in words) + "\n"


def _word_lists() -> dict[str, Sequence[str]]:
    return {
        "function": known.functions(),
        "function, or nothing": (*known.functions(), "nothing"),
        "connector": known.connectors(),
        "colour convention": known.conventions_or_unknown(),
        "joint": known.joints(),
        "insulation": known.insulations(),
        "lamp kind": known.lamp_kinds(),
        "chemistry": known.chemistries(),
        "jurisdiction": known.jurisdictions(),
        "colour legend": known.legends(),
        "fuse kind": known.fuse_kinds(),
        "LED form": known.led_forms(),
    }


def _named(schema: Node, child: Node) -> Node | None:
    """The table a key opens, save a wire, which is told once."""
    name = _reference(child.get("items", child))
    return None if name in (None, WIRE) else schema["$defs"][name]


def _reference(node: Node) -> str | None:
    found = node.get("$ref")
    return None if found is None else str(found).rpartition("/")[2]


def _sentence(text: str) -> str:
    flat = " ".join(text.split())
    return flat if flat.endswith(".") else f"{flat}."


def _code(text: str) -> str:
    return f"`{text}`"
