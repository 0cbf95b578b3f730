#!/usr/bin/python3
"""A report for a reader who may not see everything.

    sealed_report.py PROGRAM CASE    exit 0: nothing leaks; 1: something does

Seals numbers of the case (a force, a limit, an allocation, a spread speed, a whole table) by giving
them values that nothing else has, writes every report for a customer and looks for these values in
all its bytes, parts of the workbook and data of the page included: as the case wrote them, in SI, in
every power of a thousand, with exponent, with a comma. The owner's second run has the same hashes.
"""

import io
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import zipfile

SEAL = "a phrase that nobody outside the house has read"
# key: its value, and the number in SI
SECRETS = {
    "variant.dense-ring.grounding.line_force": ("0.015317 N/mm ± 20 %", 15.317),
    "requirement.discharge-path.max": ("417.83 ohm", 417.83),
    "allocation.1.max": ("7.1391 W", 7.1391),
    "operating_point.motorway.road_speed": ("109.37 km/h", 109.37 / 3.6),
    "coupling.winding_rotor": ("113.29 pF ± 30 %", 113.29e-12),
    "service.distance": ("283170 km", 283170e3),
    "shaft.rotor.diameter": ("45.137 mm", 45.137e-3),
}
failures = []


def check(holds, what):
    if not holds:
        failures.append(what)


def sealed_case(text):
    """The shipped case with the values in place of its own, each with a level."""
    def put(old, new, count=1):
        nonlocal text
        check(old in text, f"the case has no {old}")
        text = text.replace(old, new, count)

    def secret(key):
        return f'{{ value = "{SECRETS[key][0]}", share = "internal", basis = "measured", ' \
               f'source = "rig report of {SECRETS[key][0]}" }}'

    put('seed = 7', f'seed = 7\nsamples = 16\nseal = "{SEAL}"')
    put('line_force = "0.015 N/mm ± 20 %"',
        f'line_force = {secret("variant.dense-ring.grounding.line_force")}')
    put('max = "400 ohm"', f'max = {secret("requirement.discharge-path.max")}')
    put('max = "7 W"', f'max = {secret("allocation.1.max")}')
    put('road_speed = "110 km/h"', f'road_speed = {secret("operating_point.motorway.road_speed")}')
    put('winding_rotor = "110 pF ± 30 %"',
        f'winding_rotor = {secret("coupling.winding_rotor")}   # 113.29 from the rig')
    put('distance = "280000 km"', f'distance = {secret("service.distance")}')
    put('diameter = "45 mm"', f'diameter = {secret("shaft.rotor.diameter")}')
    put('title = "Same lip, dense conductive textile ring"',
        'title = "Same lip, dense ring at 0.015317 N/mm"')
    return text


def spellings(typed, si):
    """The digits of a number wherever its point stands, without its trailing zeros."""
    out = {typed.split()[0]}
    spread = float(typed.split("±")[1].split()[0]) / 100.0 if "%" in typed else 0.0
    ends = (1.0, 1.0 - spread, 1.0 + spread)
    for factor in (unit * end for unit in (1.0, 3.6, 60.0, 100.0) for end in ends):
        digits = f"{si * factor:.15e}".split("e")[0].replace(".", "").rstrip("0")
        digits = digits if len(digits) < 12 else f"{si * factor:.5e}".split("e")[0].replace(".", "")
        out.add(digits.rstrip("0"))
    return {text for text in out if len(text.replace(".", "")) >= 5}


def numbers_in(text):
    """Every run of digits with a point or a comma in it, as its digits alone."""
    for match in re.finditer(r"\d[\d.,]*\d", text):
        yield match.group(), re.sub(r"[.,]", "", match.group()).lstrip("0").rstrip("0")


def leaks_in(name, content):
    text = content.decode("utf-8", errors="replace")
    # Hashes and the libraries of the page hold any digits.
    text = re.sub(r"\b[0-9a-f]{64}\b", "", text)
    found = {digits: written for written, digits in numbers_in(text)}
    for key, (typed, si) in SECRETS.items():
        check(typed not in text, f"{name}: {key} as it was typed")
        for spelling in spellings(typed, si):
            digits = re.sub(r"[.,]", "", spelling).lstrip("0")
            check(digits not in found, f"{name}: {key} as {found.get(digits)}")
    check(SEAL not in text, f"{name}: the seal")


def contents(folder):
    for file in sorted(p for p in folder.rglob("*") if p.is_file()):
        data = file.read_bytes()
        if file.suffix == ".xlsx":
            with zipfile.ZipFile(io.BytesIO(data)) as parts:
                for part in parts.namelist():
                    yield f"{file.name}:{part}", parts.read(part)
        elif file.suffix == ".html":
            yield file.name, re.sub(rb"<script(?! type=.?application/(json|toml)).*?</script>", b"",
                                    data, flags=re.S)
        else:
            yield file.name, data


def run(program, *arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True,
                          check=False)


def main():
    program, shipped = sys.argv[1:]
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        case = folder / "case.toml"
        case.write_text(sealed_case(pathlib.Path(shipped).read_text(encoding="utf-8")), "utf-8")
        set_force = ["--set", "variant.dense-ring.grounding.line_force=0.015318 N/mm"]

        whole = run(program, "trade", case, "--json", "--quiet")
        check("0.015317" in whole.stdout or "15.317" in whole.stdout, "the values are not used")

        first = run(program, "trade", case, "--for", "customer", "--out", folder / "first")
        check(first.returncode == 0, first.stderr)
        count = 0
        for name, content in contents(folder / "first"):
            leaks_in(name, content)
            count += 1
        leaks_in("standard output", first.stdout.encode())
        leaks_in("standard error", first.stderr.encode())
        check(count > 30, f"only {count} parts were searched")
        for key in ("variant.dense-ring.grounding.line_force", "requirement.discharge-path.max"):
            check(f"note: {key} can be computed back" in first.stderr, f"no warning of {key}")

        document = json.loads((folder / "first" / "result.json").read_text(encoding="utf-8"))
        edition = document["edition"]
        check(set(SECRETS) <= set(edition["sealed_keys"]), f"sealed: {edition['sealed_keys']}")
        check(re.fullmatch(r"[0-9a-f]{64}", edition["sealed_sha256"] or ""), "no hash")
        for row in document["assumptions"]:
            if row["name"] in SECRETS:
                check(row["value"].startswith("sealed, ") and row["basis"] == "measured", str(row))
                middle = SECRETS[row["name"]]
                check(row["interval"]["mid"] is None, f"{row['name']} of {middle}")

        run(program, "trade", case, "--for", "customer", "--out", folder / "second", "--quiet")
        again = json.loads((folder / "second" / "result.json").read_text(encoding="utf-8"))
        check(again == document, "the owner's second run differs")
        found = document["sensitivity"]
        for row in found["opened"]:
            check(row["name"] not in SECRETS or row["stated"] == row["range"] == "sealed",
                  f"opened: {row}")
        for flip in [found["stress"]["nearest"], *found["stress"]["single"]]:
            for moved in flip["inputs"] if flip else []:
                check(moved["name"] not in SECRETS or moved["from"] == moved["to"] == "sealed",
                      f"moved: {moved}")
        for sentence in [found["argument_against"], *found["stress"]["sentences"]]:
            check("0.0153" not in sentence and "418 Ω" not in sentence, f"told: {sentence}")
        changed = run(program, "trade", case, "--for", "customer", "--json", "--quiet", *set_force)
        check("15318" not in {digits for _, digits in numbers_in(changed.stdout)}, "--set leaks")
        check("[sealed]" in changed.stdout, "--set shows its value")

        for command in ("check", "budget", "ground"):
            done = run(program, command, case, "--for", "customer", "--json")
            check(done.returncode == 0, done.stderr)
            leaks_in(command, done.stdout.encode())
        broken = run(program, "check", case, "--for", "customer", "--set", "sump.ambient=1 kg", "--set",
                     "variant.dense-ring.grounding.line_force=0.015317 kg")
        check(broken.returncode == 2, "a wrong case is accepted")
        leaks_in("complaint", broken.stderr.encode())

        page = (folder / "first" / "report.html").read_text(encoding="utf-8")
        embedded = re.search(r'<code data-file="[^"]*case.toml">(.*?)</code>', page, re.S)
        check(embedded is not None, "the page carries no case")
        if embedded:
            text = embedded.group(1).replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
            (folder / "open").mkdir()
            (folder / "open" / "case.toml").write_text(text, "utf-8")
            opened = run(program, "check", folder / "open" / "case.toml")
            check(opened.returncode == 0, "the open part is no case: " + opened.stderr)
            check("0.01 … 0.1 N/mm" in text, "no band in the open part")
    for failure in failures[:30]:
        print("FAILED", failure)
    print(f"{len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
