#!/usr/bin/env python3
"""Check which part of the tree includes which.

  check.py [ROOT]      ROOT is the top of the source tree (default: two folders above this file)

Prints one line for each violation and ends with 1 if there is any:
  layer   includes run tools -> sim -> model, never the other way
  order   a room includes only rooms that come before it in the lists below
  cycle   no chain of includes leads from a room back to itself
  size    a room folder holds at most 35 sources; X.h and X.cpp count as one
  path    an include names a file of the tree by its full path, and the file exists
"""

import re
import sys
from collections import defaultdict
from pathlib import Path

LAYERS = ["model", "sim", "tools"]
LARGEST_ROOM = 35

# A room may include the rooms of all lines before its own, but not the other rooms of its line.
SIM_ORDER = [
    ["base"],
    ["run"],
    ["input"],
    ["verdict"],
    ["trajectory"],
    ["report"],
    ["export"],
    ["advice"],
    ["place", "trim", "arrange", "fit"],
    ["batch"],
]
MODEL_ORDER = [["base"], ["reef"], ["light", "flow"], ["sediment"], ["growth"], ["contact"]]
MONTE_CARLO_INCLUDES = {"growth", "light", "reef", "base"}

INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')


def rooms_before(order):
    """Map each room to the set of rooms it may include."""
    allowed = {}
    before = set()
    for line in order:
        for room in line:
            allowed[room] = set(before)
        before.update(line)
    return allowed


ALLOWED = {"sim": rooms_before(SIM_ORDER), "model": rooms_before(MODEL_ORDER)}
ALLOWED["model"]["monte_carlo"] = MONTE_CARLO_INCLUDES


def sources(root):
    for layer in LAYERS:
        for path in sorted((root / layer).rglob("*")):
            if path.is_file() and re.search(r"\.(cpp|h|cpp\.in)$", path.name) and "node_modules" not in path.parts:
                yield path.relative_to(root)


def includes(root, path):
    """Yield line number and included path of each include of a file of the tree."""
    text = (root / path).read_text(encoding="utf-8", errors="replace")
    for number, line in enumerate(text.splitlines(), start=1):
        match = INCLUDE.match(line)
        if match:
            yield number, match.group(1)


def room_of(path):
    """The layer and room of a path: sim/input/text/csv.h is in room input of sim."""
    parts = Path(path).parts
    return parts[0], parts[1] if len(parts) > 2 else ""


def includes_of_tree(root, problems):
    """All includes of files of the tree as (file, line, included path); reports those that name no file."""
    found = []
    for path in sources(root):
        for number, target in includes(root, path):
            if target.split("/")[0] in LAYERS:
                if not (root / target).is_file():
                    problems.append(f'{path}:{number}: path: #include "{target}": there is no such file')
                found.append((path, number, target))
            elif (root / path.parent / target).is_file():
                problems.append(f'{path}:{number}: path: #include "{target}" is not a path from the top of the tree')
    return found


def check_order(found, problems):
    for path, number, target in found:
        layer, room = room_of(path)
        target_layer, target_room = room_of(target)
        where = f'{path}:{number}: {{}}: #include "{target}": {{}}'
        if LAYERS.index(target_layer) > LAYERS.index(layer):
            problems.append(where.format("layer", f"{layer} may not include {target_layer}"))
            continue
        if target_layer != layer or layer not in ALLOWED or target_room == room:
            continue
        if room not in ALLOWED[layer]:
            problems.append(where.format("order", f"{layer}/{room} is not in the list of rooms"))
        elif target_room not in ALLOWED[layer][room]:
            problems.append(where.format("order", f"{layer}/{room} may not include {layer}/{target_room}"))


def find_cycle(graph):
    """One cycle of a graph as a list of nodes whose last is its first, or None."""
    state = {}
    chain = []

    def visit(node):
        state[node] = "open"
        chain.append(node)
        for following in sorted(graph.get(node, {})):
            if state.get(following) == "open":
                return chain[chain.index(following):] + [following]
            if following not in state:
                cycle = visit(following)
                if cycle:
                    return cycle
        chain.pop()
        state[node] = "done"
        return None

    for node in sorted(graph):
        if node not in state:
            cycle = visit(node)
            if cycle:
                return cycle
    return None


def check_cycles(found, problems):
    """Report cycles of the room graph, each with one include for every edge, until none is left."""
    for layer in ALLOWED:
        graph = defaultdict(dict)
        for path, number, target in found:
            source_layer, room = room_of(path)
            target_layer, target_room = room_of(target)
            if source_layer == target_layer == layer and room != target_room:
                graph[room].setdefault(target_room, f'{path}:{number}: #include "{target}"')
        while cycle := find_cycle(graph):
            edges = list(zip(cycle, cycle[1:]))
            problems.append(f"{layer}: cycle: {' -> '.join(cycle)}")
            problems.extend(f"    {graph[room][following]}" for room, following in edges)
            upward = [edge for edge in edges if edge[1] not in ALLOWED[layer].get(edge[0], set())]
            room, following = (upward or edges)[0]
            del graph[room][following]


def check_sizes(root, problems):
    names = defaultdict(set)
    for path in sources(root):
        if path.parts[0] in ALLOWED:
            names[path.parent].add(path.name.split(".")[0])
    for folder, stems in sorted(names.items()):
        if len(stems) > LARGEST_ROOM:
            problems.append(f"{folder}: size: {len(stems)} sources; a room folder holds at most {LARGEST_ROOM}")


def main():
    if len(sys.argv) > 2 or (len(sys.argv) == 2 and sys.argv[1].startswith("-")):
        print(__doc__, end="")
        return 0 if sys.argv[1] in ("-h", "--help") else 2
    root = Path(sys.argv[1]) if len(sys.argv) == 2 else Path(__file__).resolve().parents[2]
    if not all((root / layer).is_dir() for layer in LAYERS):
        print(f"check.py: {root} holds no folders {', '.join(LAYERS)}", file=sys.stderr)
        return 2
    problems = []
    found = includes_of_tree(root, problems)
    check_order(found, problems)
    check_cycles(found, problems)
    check_sizes(root, problems)
    for problem in problems:
        print(problem)
    if not problems:
        print(f"{len(found)} includes checked: no violation")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
