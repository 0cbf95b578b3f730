#!/usr/bin/python3
"""Holds what `trade --out` writes against its own result document, read by other programs.

    report_formats.py PROGRAM CASE [--office]    exit 0: all agree; 1: something differs

- every table of csv/ by Python's csv module: each figure, flag and text of the document, number by
  number the same double (RFC 4180, section 2, for the form);
- report.xlsx by openpyxl: the same cells as the CSV, no cell a formula, heads in view, three charts,
  no date of today inside; with --office also by LibreOffice, sheet by sheet converted to CSV;
- report.md by cmark-gfm (the reference of GitHub Flavored Markdown 0.29): no link, no markup that is
  not the report's own, the whole register;
- hostile text as title, question and titles of variants, shown as text by all of them;
- two runs, the same bytes.
"""

import csv
import html.parser
import json
import math
import pathlib
import shutil
import subprocess
import sys
import tempfile
import zipfile

import openpyxl

RUN = ["--set", "study.samples=16", "--quiet"]
HOSTILE = [
    '=HYPERLINK("http://evil.example","x")',
    "<script>alert(1)</script> <img src=x onerror=alert(2)>",
    "+1+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(1;1)",
    'quotes " and \' and ; and , and a | bar',
    "`code` **bold** [link](http://evil.example) ~~gone~~ &amp; www.evil.example a@b.example",
    "1. no list",
    "# no heading",
    "right to left \u202e and back",
    "emoji \U0001f600\U0001f469\u200d\U0001f527 and \u05e2\u05d1\u05e8\u05d9\u05ea",
    "x" * 10000,
]
failures = []


def check(holds, what):
    if not holds:
        failures.append(what)


def run(program, case, folder, *more):
    subprocess.run([program, "trade", case, "--out", str(folder), "--csv", "--markdown", "--xlsx",
                    *RUN, *more], check=True, stdout=subprocess.DEVNULL)
    return json.loads((folder / "result.json").read_text(encoding="utf-8"))


# The document as tables, a second time and by other means than the program's own.
def is_interval(node):
    return isinstance(node, dict) and set(node) == {"low", "mid", "high"}


def flat(row, prefix=""):
    """Columns of a row and the lists of rows below it."""
    columns, below = {}, {}
    for key, value in row.items():
        name = prefix + key
        if is_interval(value):
            columns.update({f"{name}_{end}": value[end] for end in ("low", "mid", "high")})
        elif isinstance(value, dict):
            inner, more = flat(value, name + "_")
            columns.update(inner)
            below.update(more)
        elif isinstance(value, list) and value and isinstance(value[0], dict) and key != "flags":
            below[name] = value
        elif isinstance(value, list):
            texts = [item["text"] if isinstance(item, dict) else item for item in value]
            columns[name] = "; ".join(t if isinstance(t, str) else json.dumps(t) for t in texts)
        else:
            columns[name] = value
    return columns, below


def expected_tables(document):
    tables = {}

    def add(name, row):
        columns, below = flat(row)
        tables.setdefault(name, []).append(columns)
        for key, rows in below.items():
            for inner in rows:
                if is_interval(inner):
                    inner = {key.removesuffix("_by_point"): inner}
                add(f"{name}_{key}", inner)

    for variant in document["variants"]:
        for key, value in variant.items():
            if key == "strike_map":
                continue
            if key == "courses":
                for row in course_rows(value):
                    add(key, row)
            elif isinstance(value, list):
                for row in value:
                    add(key, row)
            elif isinstance(value, dict):
                add(key, value)
    for row in document["trade"]["exchange"]:
        add("exchange", row)
    for row in document["assumptions"]:
        add("assumptions", row)
    return tables


def course_rows(courses):
    """A row a time and contact."""
    for duty in courses:
        for contact in duty["contacts"] or [{}]:
            for i, time_s in enumerate(duty["time_s"]):
                row = {"duty": duty["duty"], "time_s": time_s, "oil_degC": duty["oil_degC"][i]}
                if contact:
                    row |= {"component": contact["component"], "mean_degC": contact["mean_degC"][i],
                            "highest_degC": contact["highest_degC"][i]}
                yield row


def strike_cells(document):
    for variant in document["variants"]:
        grid = variant.get("strike_map")
        if not grid:
            continue
        for r, oil in enumerate(grid["oil_temperatures_degC"]):
            for c, speed in enumerate(grid["shaft_speeds_rpm"]):
                yield variant["id"], oil, speed, grid["held_V"][r][c], grid["verdict"][r][c]


def same(cell, value):
    if value is None or value == "":
        return cell in ("", None)
    if isinstance(value, bool):
        return cell == ("true" if value else "false")
    if isinstance(value, (int, float)):
        return float(cell) == float(value)
    plain = shown(value)
    return cell == (plain if plain[0] not in "=+-@" or is_number(plain) else "'" + plain)


def is_number(text):
    try:
        float(text)
        return " " not in text
    except ValueError:
        return False


def read_csv(folder):
    out = {}
    for file in sorted(folder.glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as text:
            rows = list(csv.reader(text, strict=True))
        check(len({len(row) for row in rows}) == 1, f"{file.name}: lines of unequal length")
        out[file.stem] = rows
    return out


def check_csv(document, tables):
    figures = 0
    for name, rows in expected_tables(document).items():
        filled = [row for row in rows if any(v not in (None, "") for v in row.values())]
        if not filled:
            continue
        head, *lines = tables.get(name, [[]])
        check(len(lines) == len(rows), f"{name}.csv: {len(lines)} lines for {len(rows)} rows")
        for line, row in zip(lines, rows):
            for key, value in row.items():
                if key not in head:
                    check(value in (None, "") or not lines, f"{name}.csv: no column {key}")
                    continue
                figures += isinstance(value, (int, float)) and not isinstance(value, bool)
                check(same(line[head.index(key)], value), f"{name}.csv: {key} of {line[:3]}")
    head, *lines = tables["strike_map"]
    at = [head.index(k) for k in ("variant", "oil_temperature_degC", "shaft_speed_rpm", "held_V",
                                  "verdict")]
    for line, cell in zip(lines, strike_cells(document), strict=True):
        check(all(same(line[i], value) for i, value in zip(at, cell)), "strike_map.csv differs")
    check(figures > 1000, f"only {figures} figures were compared")
    print(f"csv: {len(tables)} tables, {figures} figures equal to the document's")


def sheet_name(table):
    return table.replace("_", " ")[:31]


def check_workbook(file, tables):
    book = openpyxl.load_workbook(file)
    sheets = {sheet.title: sheet for sheet in book.worksheets}
    numbers = 0
    for name, rows in tables.items():
        sheet = sheets.get(sheet_name(name))
        if sheet is None:
            check(any(title.startswith(sheet_name(name)[:28]) for title in sheets), f"no sheet {name}")
            continue
        check(sheet.freeze_panes is not None, f"{name}: heads scroll away")
        for cells, line in zip(sheet.iter_rows(min_row=2), rows[1:], strict=True):
            for cell, text in zip(cells, line):
                check(cell.data_type != "f", f"{name}: a formula")
                if isinstance(cell.value, (int, float)):
                    numbers += 1
                    # The workbook's library writes sixteen digits.
                    check(text != "" and math.isclose(cell.value, float(text), rel_tol=1e-15),
                          f"{name}: {cell.coordinate}: {cell.value} for {text}")
                elif cell.value in ("yes", "no"):
                    check(text in ("true", "false", cell.value), f"{name}: {cell.coordinate}")
                else:
                    check((cell.value or "") == text.removeprefix("'"), f"{name}: {cell.coordinate}")
    formats = {cell.number_format for row in sheets["budget"].iter_rows(min_row=2) for cell in row}
    check({"0", "0.0", "0.00"} & formats, f"number formats: {formats}")
    check("W" in "".join(str(cell.value) for cell in sheets["budget"][1]), "no units in heads")
    with zipfile.ZipFile(file) as parts:
        names = parts.namelist()
        check({i.date_time for i in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}, "dates of the zip")
    charts = [name for name in names if name.startswith("xl/charts/chart")]
    check(len(charts) == 3, f"{len(charts)} charts")
    print(f"xlsx: {len(sheets)} sheets, {len(charts)} charts, {numbers} numbers equal")


def check_by_office(file, tables, folder):
    """Token 8 of the filter: cells as they are, not as shown; 12: every sheet."""
    csv_filter = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"
    subprocess.run(["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless",
                    "--convert-to", csv_filter, "--outdir", str(folder), str(file)],
                   check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300)
    numbers = 0
    for name, rows in tables.items():
        converted = folder / f"{file.stem}-{sheet_name(name)}.csv"
        if not converted.exists():
            check(len(name) > 31, f"LibreOffice wrote no {converted.name}")
            continue
        with converted.open(encoding="utf-8", newline="") as text:
            lines = list(csv.reader(text))
        check(len(lines) == len(rows), f"LibreOffice: {name} has {len(lines)} lines")
        for line, ours in zip(lines[1:], rows[1:]):
            for theirs, cell in zip(line, ours):
                if is_number(cell):
                    numbers += 1
                    # It writes no more than twenty decimals.
                    check(is_number(theirs) and math.isclose(float(theirs), float(cell),
                                                             rel_tol=1e-12, abs_tol=1e-20),
                          f"LibreOffice: {name}: {theirs} for {cell}")
    check(numbers > 1000, f"LibreOffice: only {numbers} numbers")
    print(f"LibreOffice: {numbers} numbers equal")


class Rendered(html.parser.HTMLParser):
    own = {"h1", "h2", "p", "strong", "ul", "li", "table", "thead", "tbody", "tr", "th", "td", "pre",
           "code", "details", "summary"}

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.strangers, self.rows, self.title, self.words, self.open = set(), 0, "", "", []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        if tag not in self.own or any(name != "align" for name, _ in attrs):
            self.strangers.add(tag)
        self.rows += tag == "tr" and "details" in self.open
        self.open.append(tag)

    def handle_endtag(self, tag):
        while self.open and self.open.pop() != tag:
            pass

    def handle_data(self, data):
        self.words += data
        if "h1" in self.open:
            self.title += data


def check_markdown(file, document):
    rendered = Rendered(subprocess.run(
        ["cmark-gfm", "--unsafe", "-e", "table", "-e", "strikethrough", "-e", "autolink", str(file)],
        check=True, capture_output=True, text=True).stdout)
    check(not rendered.strangers, f"report.md renders {rendered.strangers}")
    check(rendered.rows == len(document["assumptions"]) + 1, "report.md: the register is not whole")
    check(rendered.title == shown(document["case"]["title"]), "report.md: the title differs")
    for variant in document["variants"]:
        check(shown(variant["title"]) in rendered.words, "report.md: a variant's title differs")
    check(document["trade"]["reason"] in rendered.words, "report.md: no reason")
    check(rendered.words.index("Answer") < rendered.words.index("Watts at"), "report.md: answer first")
    return rendered


def shown(text):
    """What a terminal could obey is replaced; nothing in these texts is but direction marks."""
    return text.replace("\u202e", "\ufffd")


def main():
    program, case, *flags = sys.argv[1:]
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        document = run(program, case, folder / "a")
        tables = read_csv(folder / "a" / "csv")
        check_csv(document, tables)
        check_workbook(folder / "a" / "report.xlsx", tables)
        check_markdown(folder / "a" / "report.md", document)
        if "--office" in flags:
            if shutil.which("soffice"):
                check_by_office(folder / "a" / "report.xlsx", tables, folder)
            else:
                check(False, "--office, but there is no soffice")
        run(program, case, folder / "b")
        for file in sorted(p for p in (folder / "a").rglob("*") if p.is_file()):
            again = folder / "b" / file.relative_to(folder / "a")
            check(file.read_bytes() == again.read_bytes(), f"{file.name}: another run, other bytes")

        # Title, question and the titles of the variants take the texts in turn.
        places = ["study.title", "study.question"]
        places += [f"variant.{variant['id']}.title" for variant in document["variants"]]
        for first in range(0, len(HOSTILE), len(places)):
            texts = dict(zip(places, HOSTILE[-1:] * len(places) if first else HOSTILE))
            texts.update(zip(places, HOSTILE[first:]))
            where = folder / f"hostile-{first}"
            sets = [f"--set={place}={json.dumps(text, ensure_ascii=False)}" for place, text in texts.items()]
            told = run(program, case, where, *sets)
            check(told["case"]["title"] == texts["study.title"], "the document's title differs")
            tables = read_csv(where / "csv")
            check_workbook(where / "report.xlsx", tables)
            check_markdown(where / "report.md", told)
            study = dict(zip(*tables["study"]))
            for key in ("title", "question"):
                check(same(study[key], texts[f"study.{key}"]), f"study.csv: {study[key][:40]}")
    for failure in failures[:20]:
        print("FAILED", failure)
    print(f"{len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
