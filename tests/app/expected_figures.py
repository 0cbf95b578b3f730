#!/usr/bin/python3
"""Compares headline figures of the shipped cases with those written down beside them.

    expected_figures.py PROGRAM CASES              exit 0: all as expected; 1: some are not; 2: none
    expected_figures.py --rewrite PROGRAM CASES    puts today's values into cases/*/expected.toml

A figure of cases/NAME/expected.toml names its place in the result document of `trade`: keys with
dots between, and [key=value] or [key=value,key=value] for the entry of a list with these values.
`relative` or `absolute` is its tolerance. A text or a truth is compared as it is.
"""

import json
import pathlib
import re
import subprocess
import sys
import tomllib


def at(document, place):
    """The value at a place such as variants[id=plain].budget[point=cruise].own_W.mid."""
    node = document
    for step in re.findall(r"[^.\[\]]+|\[[^\]]+\]", place):
        if not step.startswith("["):
            node = node[step]
            continue
        wanted = dict(pair.split("=", 1) for pair in step[1:-1].split(","))
        found = [n for n in node if all(str(n[key]) == value for key, value in wanted.items())]
        if len(found) != 1:
            raise LookupError(f"{len(found)} entries fit {step}")
        node = found[0]
    return node


def agrees(actual, figure):
    expected = figure["value"]
    if isinstance(expected, (str, bool)):
        return actual == expected
    if isinstance(actual, bool) or not isinstance(actual, (int, float)):
        return False
    allowed = figure["absolute"] if "absolute" in figure else figure["relative"] * abs(expected)
    return abs(actual - expected) <= allowed


def as_toml(value):
    return f"{value:.5g}" if isinstance(value, float) else json.dumps(value, ensure_ascii=False)


def rewritten(text, document):
    """The text with every value replaced by what stands at the place before it."""
    place = None
    lines = []
    for line in text.splitlines():
        if match := re.fullmatch(r'at = "(.*)"', line):
            place = match[1]
        elif line.startswith("value = "):
            value = at(document, place)
            if value is None:
                raise SystemExit(f"{place} has no value now: choose another figure")
            line = f"value = {as_toml(value)}"
        lines.append(line)
    return "\n".join(lines) + "\n"


def main(arguments):
    rewrite = "--rewrite" in arguments
    program, folder = [a for a in arguments if a != "--rewrite"]
    root = pathlib.Path(folder)
    checked = wrong = 0
    for case in sorted(root.glob("*/case.toml")):
        file = case.parent / "expected.toml"
        run = subprocess.run([program, "trade", str(case), "--json", "--quiet"],
                             capture_output=True, check=True)
        document = json.loads(run.stdout)
        text = file.read_text(encoding="utf-8")
        if rewrite:
            file.write_text(rewritten(text, document), encoding="utf-8")
            continue
        for figure in tomllib.loads(text)["figure"]:
            checked += 1
            try:
                actual = at(document, figure["at"])
            except (LookupError, TypeError) as problem:
                actual = f"nothing there: {problem!r}"
            if not agrees(actual, figure):
                wrong += 1
                print(f"{case.parent.name}: {figure['at']}\n"
                      f"  expected {figure['value']!r}, found {actual!r}\n  {figure['why']}")
    if rewrite:
        return 0
    print(f"{checked} figures, {wrong} not as expected")
    return 2 if checked == 0 else int(wrong > 0)


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1:]))
