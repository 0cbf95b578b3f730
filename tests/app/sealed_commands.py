#!/usr/bin/python3
"""Every command that prints results, for a reader who may not see everything.

    sealed_commands.py PROGRAM CASE RUN    exit 0: nothing leaks; 1: something does

The case of sealed_report.py. Explain, ask, size, sweep, compare and fit either show bands or refuse
with the key alone; no byte of their output, of their refusals or of their notes holds a value.
"""

import json
import pathlib
import re
import sys
import tempfile

import sealed_report as sealed
from sealed_report import check, leaks_in, run

FORCE = "variant.dense-ring.grounding.line_force"
FEW = ("--set", "study.samples=16")


def told(program, what, *arguments):
    """What the command says for a customer, searched."""
    done = run(program, *arguments, "--for", "customer")
    check(done.returncode == 0, f"{what}: {done.stderr}")
    leaks_in(what, done.stdout.encode())
    leaks_in(what + ", notes", done.stderr.encode())
    return done.stdout


def refused(program, what, names, *arguments, reader="customer"):
    done = run(program, *arguments, "--for", reader)
    check(done.returncode == 2 and not done.stdout, f"{what} is not refused")
    check(names in done.stderr, f"{what}: {done.stderr}")
    leaks_in(what, done.stderr.encode())


def check_explain(program, case):
    figures = json.loads(told(program, "explain", "explain", case, "--json"))["figures"]
    names = [row["figure"] for row in figures]
    for name in names:
        if ":dense-ring" not in name or "@city" in name or "@cruise" in name:
            continue
        whole = json.loads(run(program, "explain", case, name, "--json").stdout)
        part = json.loads(told(program, name, "explain", case, name, "--json"))
        values = {line["symbol"]: line["value"] for line in whole["lines"]}
        for line in part["lines"]:
            check(line["value"] == (None if line["sealed"] else values[line["symbol"]]),
                  f"{name}: {line['symbol']}")
            check(line["kind"] != "step" or line["expression"], f"{name}: no formula")
    text = told(program, "text of net_W", "explain", case, "net_W:dense-ring@motorway")
    check("net_W is sealed here" in text, "an answer that gives the force away is shown")
    text = told(program, "text of a threshold", "explain", case, "threshold_V:plain@cruise")
    check("threshold_V is sealed here" not in text, "what hangs on nothing sealed is sealed")


def check_ask(program, case):
    document = json.loads(told(program, "ask", "ask", case, "--closely", "3", "--json", *FEW))
    for row in document["questions"]:
        if row["key"] in sealed.SECRETS:
            check(row["value"].startswith("sealed"), f"ask shows {row['value']}")
            check(all(at["value"] is None for at in row["known"]), "ask shows where it turns")
    told(program, "text of ask", "ask", case, "--closely", "3", *FEW)


def check_size(program, case, folder):
    refused(program, "size", "dense-ring", "size", case, "--variant", "dense-ring", *FEW)
    refused(program, "size under a sealed limit", "requirement.discharge-path.max", "size", case,
            "--variant", "sparse-ring", *FEW)
    # Without the sealed limit there is a window to show.
    mild = folder / "mild.toml"
    mild.write_text(case.read_text("utf-8").replace('max = { value = "417.83 ohm", share = "internal"',
                                                    'max = { value = "400 ohm"'), "utf-8")
    told(program, "a window", "size", mild, "--variant", "sparse-ring", "--json", *FEW)


def check_sweep(program, case):
    refused(program, "sweep over a force", FORCE, "sweep", case, "--axis",
            f"{FORCE}=0.015317 N/mm; 0.02 N/mm")
    text = told(program, "sweep", "sweep", case, "--axis", "sump.ambient=20 degC; 30 degC", "--set",
                f"{FORCE}=0.015317 N/mm")
    check(f"# set: {FORCE}=[sealed]" in text, "the head of the sweep shows a --set")
    check(len(text.splitlines()) > 15, "the sweep has no rows")
    told(program, "a refused row", "sweep", case, "--axis", "sump.ambient=20 degC; 20000 degC")


def check_compare(program, case):
    arguments = ("compare", case, case, "--set-after", f"{FORCE}=0.015318 N/mm", "--set-after",
                 "sump.ambient=30 degC", *FEW)
    document = json.loads(told(program, "compare", *arguments, "--json"))
    changes = {row["key"]: row for row in document["changes"]}
    check(changes[FORCE]["before"] == "sealed, 0.01 … 0.1 N/mm", f"compare: {changes[FORCE]}")
    check("15318" not in json.dumps(document), "compare shows the other side")
    check(changes["sump.ambient"]["after"] == '"30 degC"', "compare hides what is not sealed")
    told(program, "text of compare", *arguments)


def check_fit(program, rig_run, shipped, folder):
    check(run(program, "fit", rig_run, "--for", "customer").returncode == 0, "fit refuses a run")
    refused(program, "fit for all the world", "sealed for open readers", "fit", rig_run, reader="open")
    closed = folder / "closed.toml"
    text = pathlib.Path(rig_run).read_text(encoding="utf-8")
    absolute = pathlib.Path(rig_run).resolve()
    for named, where in (("[run]", '[run]\nshare = "internal"'),
                         ("../parcel-van/case.toml", str(pathlib.Path(shipped).resolve())),
                         ("warm-up.csv", str(absolute.with_suffix(".csv")))):
        check(named in text, f"the run has no {named}")
        text = text.replace(named, where, 1)
    closed.write_text(text, "utf-8")
    refused(program, "fit of a closed run", "sealed for customer readers", "fit", closed)


def check_open(program, shipped, folder):
    """What says nothing is for customers: all the world sees bands of it."""
    done = run(program, "trade", shipped, "--for", "open", "--html", "--out", folder / "open", "--quiet",
               *FEW)
    check(done.returncode == 0, done.stderr)
    page = (folder / "open" / "report.html").read_text(encoding="utf-8")
    embedded = re.search(r'<code data-file="[^"]*case.toml">(.*?)</code>', page, re.S)
    check(embedded is not None, "the open page carries no case")
    for typed in ("280000 km", "62 kWh", "190 N", "45 mm", "110 pF", "800 V", "0.95", "12 mm x 10 mm"):
        check(typed in pathlib.Path(shipped).read_text(encoding="utf-8"), f"the case has no {typed}")
        check(embedded is None or f'"{typed}' not in embedded.group(1), f"open page: {typed}")
    check(embedded is None or "10 … 100 kWh" in embedded.group(1), "the open page shows no band")


def main():
    program, shipped, rig_run = sys.argv[1:]
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        case = folder / "case.toml"
        case.write_text(sealed.sealed_case(pathlib.Path(shipped).read_text(encoding="utf-8")), "utf-8")
        check_open(program, shipped, folder)
        check_explain(program, case)
        check_ask(program, case)
        check_size(program, case, folder)
        check_sweep(program, case)
        check_compare(program, case)
        check_fit(program, rig_run, shipped, folder)
        telling = folder / "telling.toml"
        telling.write_text(case.read_text("utf-8").replace("dense-ring", "ring-15317"), "utf-8")
        done = run(program, "check", telling, "--for", "customer")
        check(done.returncode == 2 and "digits of sealed numbers" in done.stderr, "an id tells")
    for failure in sealed.failures[:30]:
        print("FAILED", failure)
    print(f"{len(sealed.failures)} failures")
    return 1 if sealed.failures else 0


if __name__ == "__main__":
    sys.exit(main())
