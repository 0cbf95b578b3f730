#!/usr/bin/env python3
"""Every grounding element with every seal, on one shaft.

    combinations.py BINARY

At rest nothing may take power, both directions take the same, and at 40 000 1/min every figure is
one.
"""

import itertools
import json
import pathlib
import subprocess
import sys
import tempfile

SPEEDS_RPM = [0, 3000, -3000, 40000]
HEAD = """[study]
title = "Every element with every seal"
baseline = "v0"
[service]
hours = "2000 h"
[sump]
lubricant = "thin-axle-oil"
heat_capacity = "5 kJ/K"
conductance = "10 W/K"
ambient = "30 degC"
[[shaft]]
id = "s"
diameter = "40 mm"
fit = "h11"
"""


def kinds(binary):
    """Built-in contacts and rules by kind; fibres make a force of their own."""
    listed = {}
    for what in ("contacts", "rules"):
        run = subprocess.run([binary, "list", what, "--json"], capture_output=True, check=True)
        for row in json.loads(run.stdout)["rows"]:
            name = row["key"].split(".")[1]
            entry = listed.setdefault(name, {"rule": what == "rules", "fibres": False})
            if row["name"] == "kind":
                entry["kind"] = row["written"].strip('"')
            entry["fibres"] |= row["name"].startswith("fibres.")
    return listed


def variants(listed):
    seals = [i for i, e in listed.items() if e["rule"] or e["kind"] in ("lip", "face-seal")]
    grounds = [(i, e) for i, e in listed.items() if e.get("kind") in ("ring", "brush")]
    return list(itertools.product(seals + [None], grounds + [None]))


def case_of(pairs):
    text = HEAD
    for n, speed in enumerate(SPEEDS_RPM):
        text += f'[[operating_point]]\nid = "p{n}"\nshaft_speed = "{speed} rpm"\n'
        text += 'oil_temperature = "80 degC"\n'
    for n, (seal, ground) in enumerate(pairs):
        text += f'[[variant]]\nid = "v{n}"\n'
        if seal:
            text += f'[variant.seal]\nelement = "{seal}"\nshaft = "s"\nposition = "12 mm"\n'
        if ground:
            name, entry = ground
            text += f'[variant.grounding]\nelement = "{name}"\nshaft = "s"\nposition = "20 mm"\n'
            text += 'path = "none"\n'
            if entry["kind"] == "ring" and not entry["fibres"]:
                text += 'line_force = "0.008 N/mm"\n'
    return text


def problems_of(variant):
    total = [0.0] * len(SPEEDS_RPM)
    for row in variant.get("budget", []):
        for name in ("own_W", "net_W", "torque_Nm"):
            if any(bound is None for bound in row[name].values()):
                yield f'{row["component"]} at {row["point"]}: {name} {row[name]}'
        if row["own_W"]["low"] < 0.0:
            yield f'{row["component"]} at {row["point"]}: negative watts'
        total[int(row["point"][1:])] += row["own_W"]["mid"]
    if total[0] != 0.0:
        yield f"{total[0]} W at rest"
    if abs(total[1] - total[2]) > 1e-9 * max(1.0, total[1]):
        yield f"{total[1]} W forwards, {total[2]} W backwards"
    if variant.get("budget") and not total[3] > total[1]:
        yield "no more watts at 40 000 1/min than at 3000"


def main(binary):
    pairs = variants(kinds(binary))
    with tempfile.TemporaryDirectory() as folder:
        case = pathlib.Path(folder) / "case.toml"
        case.write_text(case_of(pairs), encoding="utf-8")
        run = subprocess.run([binary, "budget", str(case), "--json"], capture_output=True)
    if run.returncode:
        print(run.stderr.decode())
        return 1
    bad = 0
    for variant, pair in zip(json.loads(run.stdout)["variants"], pairs, strict=True):
        for problem in problems_of(variant):
            bad += 1
            print(f"{pair[0]} with {pair[1] and pair[1][0]}: {problem}")
    print(f"{len(pairs)} combinations, {bad} problems")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
