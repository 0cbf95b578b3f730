#!/usr/bin/python3
"""Validates result documents against the JSON Schema that ships with the program.

    validate.py SCHEMA FILE-OR-FOLDER...    exit 0: all valid; 1: some are not; 2: nothing to read
    validate.py SCHEMA -                    one document from standard input
    validate.py --strict SCHEMA FOLDER...   also: every damaged copy must be refused

A damaged copy lacks one required key, has one key too many, or carries text for a figure.
"""

import copy
import json
import pathlib
import sys

import jsonschema


def refuse_constant(word):
    raise ValueError(f"{word} is not JSON")


def documents(arguments):
    for argument in arguments:
        if argument == "-":
            yield "standard input", sys.stdin.read()
            continue
        path = pathlib.Path(argument)
        for file in sorted(path.glob("*.json")) if path.is_dir() else [path]:
            yield str(file), file.read_text(encoding="utf-8")


def objects(node, place=()):
    """Every object in the document with its place; of an array the first element stands for all."""
    if isinstance(node, dict):
        yield place, node
        for key, value in node.items():
            yield from objects(value, place + (key,))
    elif isinstance(node, list) and node:
        yield from objects(node[0], place + (0,))


def at(node, place):
    for step in place:
        node = node[step]
    return node


def damaged(document):
    optional = {"budget", "account", "split", "service", "harm", "energy", "energy_totals", "trips",
                "courses", "watts_over_speed", "window", "voltage", "strike_map", "current_density_statements",
                "life", "life_system", "years", "requirements", "watt_worth",
                "parts", "stability", "first_order", "no_first_order"}
    fit = document["schema"].startswith("ohmdrag-fit/")
    for place, node in objects(document):
        if fit and "rows" in place:
            continue  # columns of a run's own
        named_by_run = fit and place in (("parameters",), ("tables",))
        where = "/".join(map(str, place)) or "document"
        extra = copy.deepcopy(document)
        at(extra, place)["surplus"] = 1
        yield f"{where} with a key too many", extra
        for key, value in node.items():
            needed = key not in optional and not named_by_run
            if needed and not (key == "trade" and document["command"] != "trade"):
                lacking = copy.deepcopy(document)
                del at(lacking, place)[key]
                yield f"{where} without {key}", lacking
            if isinstance(value, (int, float)):
                worded = copy.deepcopy(document)
                at(worded, place)[key] = "many"
                yield f"{where} with text in {key}", worded


def main(arguments):
    strict = "--strict" in arguments
    schema_file, *rest = [a for a in arguments if a != "--strict"]
    schema = json.loads(pathlib.Path(schema_file).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    read = bad = 0
    refused = set()  # what one document has shown needs no second one
    for name, text in documents(rest):
        read += 1
        try:
            document = json.loads(text, parse_constant=refuse_constant)
        except ValueError as problem:
            print(f"{name}: {problem}")
            bad += 1
            continue
        problems = list(validator.iter_errors(document))
        for problem in problems:
            print(f"{name}: {'/'.join(map(str, problem.absolute_path))}: {problem.message[:200]}")
        bad += bool(problems)
        for what, copy_ in damaged(document) if strict and not problems else ():
            if what in refused:
                continue
            refused.add(what)
            if validator.is_valid(copy_):
                print(f"{name}: accepted {what}")
                bad += 1
    print(f"{read} documents, {len(refused)} damaged copies, {bad} problems")
    return 2 if read == 0 else int(bad > 0)


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1:]))
